"""What is said of joints: how they fit, by how much, what they ask for."""

from webapp.build.plumbing import Arrow
from webapp.pages.words import sizes
from webapp.plumbing.drawing import Joint
from webapp.plumbing.fits import FitWord
from webapp.plumbing.flow import RunFlow
from webapp.plumbing.needs import Need, gathered
from webapp.plumbing.plumbed import LookWord

FITS: dict[FitWord, str] = {
    "ok": "fits",
    "tight": "fits, tight",
    "loose": "fits, loose",
    "weld": "to be welded",
    "no": "does not fit",
    "not measured": "not measured",
}
FLOWS: dict[RunFlow, str] = {
    "on": "it flows from the first to the second",
    "back": "it flows from the second to the first",
    "both": "it may flow either way",
    "none": "nothing can flow: the ends or an arrow stand against one another",
}
ARROWS: dict[Arrow, str] = {
    "to": "its arrow points the way the run was drawn",
    "from": "its arrow points against the way the run was drawn",
}
_HALF_A_TENTH = 0.05


def seals_of(seals: tuple[str, ...]) -> tuple[Need, ...]:
    """The seals of a joint, each kind once."""
    return gathered(Need(what=name, count=1) for name in seals)


def clamp_asked(over_mm: float) -> str:
    """The clamp that a joint asks for, by what it has to hold."""
    return f"a clamp that holds {sizes.diameter(over_mm)}"


def step_said(joint: Joint) -> str:
    """By how much two measured ends differ; "" where they are known by name."""
    left, right = joint.left.end.size, joint.right.end.size
    if not isinstance(left, int | float) or not isinstance(right, int | float):
        return ""
    apart = abs(left - right)
    if apart < _HALF_A_TENTH:
        return "same size"
    return f"{sizes.diameter(apart)} apart"


def look_said(why: LookWord, joint: int | None) -> str:
    """What is worth a look and keeps nothing open."""
    if why == "tight":
        return f"Joint {joint} is tight: warm the hose or wet it, and do not cut it."
    if why == "loose":
        return f"Joint {joint} is loose: look at it again when it is under pressure."
    return "Its tasks are finished, and it is not clamped."
