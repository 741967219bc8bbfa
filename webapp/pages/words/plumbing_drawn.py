"""What can be picked where plumbing is drawn: kinds of ends and pieces, flows, roles, stops."""

from collections.abc import Iterable

from webapp.build.build_input import MEDIA, Medium
from webapp.build.plumbing import (
    END_KINDS,
    FLOWS,
    PIECE_KINDS,
    ROLES,
    SHELF_KINDS,
    STOP_KINDS,
    WAIVABLE,
    EndKind,
    Flow,
    PieceKind,
    Role,
    StopKind,
)
from webapp.pages.words.media import MEDIUM_WORDS
from webapp.pages.words.sizes import END_WORDS, keypad

Choices = tuple[tuple[str, str], ...]
"""What a list offers: what is stored, and how it is said."""

OWN_END_WORDS: dict[EndKind, str] = {
    "spigot": "plain spigot",
    "bead": "spigot with a bead",
    "nipple": "push-on nipple",
    "hose": "hose end",
    "socket": "socket, slips over",
    "banjo": "banjo",
    "flange": "flange",
    "open": "open to the air",
}
PIECE_WORDS: dict[PieceKind, str] = {
    "hose": "hose",
    "elbow": "elbow",
    "reducer": "reducer",
    "coupler": "coupler",
    "tube": "tube",
    "bend": "bend",
    "step": "step",
    "joiner": "joiner",
    "sleeve": "sleeve",
    "adapter": "adapter",
    "inline": "valve or filter",
    "line": "made-up line",
}
FLOW_WORDS: dict[Flow, str] = {
    "in": "in, to the component",
    "out": "out of the component",
    "both": "both ways",
    "none": "nothing flows: a sender or switch",
}
ROLE_WORDS: dict[Role, str] = {
    "vent": "vent",
    "bleed": "bleed",
    "drain": "drain",
    "fill": "filler",
    "signal": "signal",
}
STOP_WORDS: dict[StopKind, str] = {
    "cap": "a cap, plug or blank, for good",
    "part": "a part: sender, switch, filter",
    "air": "nothing: open to the air on purpose",
    "cover": "a cover for now: rag, tape",
}
NUMBER_WORDS: tuple[tuple[str, tuple[PieceKind, ...]], ...] = (
    ("Length", ("hose", "tube", "line", "inline")),
    ("Angle, degrees", ("elbow", "bend")),
    ("Size of the other end", ("reducer", "step", "adapter")),
    ("Size, where it is another", ("coupler", "joiner", "sleeve")),
)
"""What the one number says that is typed for a piece; a length has its unit behind it."""


def number_keypads() -> dict[str, str]:
    """By kind of piece the keypad for its one number: a length, an angle, or the size of an end,
    which may be a thread or a dash."""
    pads: dict[str, str] = dict.fromkeys(PIECE_WORDS, "text")
    for words, kinds in NUMBER_WORDS:
        if words == "Length":
            pads |= dict.fromkeys(kinds, keypad("length"))
        elif words.startswith("Angle"):
            pads |= dict.fromkeys(kinds, "decimal")
    return pads


SHORT_FLOW: dict[Flow, str] = {
    "in": "in",
    "out": "out",
    "both": "both ways",
    "none": "nothing flows",
}


def end_word(kind: EndKind) -> str:
    """A kind of end as a list offers it."""
    return OWN_END_WORDS.get(kind, END_WORDS.get(kind, kind).rstrip(","))


def choices(words: Iterable[tuple[str, str]], none: str = "") -> Choices:
    """What a list offers, `none` first where nothing may be picked."""
    found = tuple(words)
    return (("", none), *found) if none else found


ENDS = choices((kind, end_word(kind)) for kind in END_KINDS)
ENDS_OR_USUAL = (("", "as usual"), *ENDS)
PIECES = choices((kind, PIECE_WORDS[kind]) for kind in PIECE_KINDS)
THINGS = choices((kind, dict(PIECES).get(kind, kind)) for kind in SHELF_KINDS)
FLOW_CHOICES = choices((flow, FLOW_WORDS[flow]) for flow in FLOWS)
ROLE_CHOICES = choices(((role, ROLE_WORDS[role]) for role in ROLES), none="none of these")
STOP_CHOICES = choices(((kind, STOP_WORDS[kind]) for kind in STOP_KINDS), none="nothing")
ARROW_CHOICES = choices(
    (("to", "an arrow the way it was drawn"), ("from", "an arrow the other way")),
    none="none: it lets through both ways",
)
MEDIUM_CHOICES: tuple[tuple[Medium, str], ...] = tuple(
    (medium, MEDIUM_WORDS[medium]) for medium in MEDIA if medium != "none"
)
WAYS_INSIDE: Choices = (
    ("all", "every way in leads to every way out"),
    ("some", "only those that are ticked below"),
)
"""How a component is told to be joined inside."""
WITHOUT_WORDS = {
    "no vent": "without a vent",
    "no drain": "without a drain",
    "no way when shut": "without a way when the thermostat is shut",
}
WITHOUT_CHOICES = choices((why, WITHOUT_WORDS[why]) for why in WAIVABLE)
