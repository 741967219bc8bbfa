"""What is open in a circuit, in words: where it is, what is wrong, what it needs."""

from webapp.build.plumbing import EndKind, Stop
from webapp.pages.words import sizes
from webapp.pages.words.amounts import listed
from webapp.pages.words.how import How
from webapp.plumbing.ends import HARD_ENDS
from webapp.plumbing.needs import Need, gathered
from webapp.plumbing.open_list import OpenWord
from webapp.plumbing.plumbed import PlumbedRun
from webapp.plumbing.proposals import Proposal
from webapp.plumbing.states import RunState

STATES: dict[RunState, str] = {
    "drawn": "drawn",
    "on hand": "on hand",
    "cut": "cut",
    "fitted": "fitted, not clamped",
    "clamped": "clamped",
}
NOTHING_IN_IT = "nothing in it yet"


def is_empty(run: PlumbedRun) -> bool:
    """Whether two ports are joined that do not go together and no piece is between them."""
    return not run.run.pieces and not all(joint.fit.is_joined for joint in run.joints)


def state_said(run: PlumbedRun) -> str:
    """How far a run is; a run still empty needs nothing of the shelf, and is not on hand."""
    return NOTHING_IN_IT if run.state == "on hand" and is_empty(run) else STATES[run.state]


SHORT: dict[OpenWord, str] = {
    "not measured": "not measured",
    "not joined": "not joined",
    "cap missing": "cap is not on",
    "part missing": "part is not in",
    "cover still on": "cover still on",
    "not here": "not here",
    "against the flow": "against the flow",
    "does not fit": "does not fit",
    "pieces missing": "pieces missing",
    "to make": "to make",
    "not fitted": "not fitted",
    "not clamped": "not clamped",
    "no vent": "no vent at the top",
    "no drain": "no drain",
    "no way": "no way through",
    "stands apart": "stands apart",
    "goes nowhere": "goes nowhere",
    "no way when shut": "no way when the thermostat is shut",
}
"""As it stands in the picture, beside the gap."""
DO: dict[OpenWord, str] = {
    "not measured": "Measure it",
    "not joined": "Join or cap it",
    "cap missing": "Put on what shuts it",
    "part missing": "Put in what closes it",
    "cover still on": "Take the cover out",
}
"""What the task of an open port is called that has none."""
OF_THE_WHOLE: dict[OpenWord, str] = {
    "no vent": "Nothing lets the air out at its highest point: say which port is the highest, and"
    " give it a vent, a bleed or a filler.",
    "no drain": "Nothing lets it be drained: give a low port the role of a drain.",
    "no way": "Nothing leads with the flow from where it begins to where it ends: look for an"
    " inlet that should be an outlet, or a way through a component that is not drawn.",
    "no way when shut": "With the thermostat shut nothing comes back to the pump: it needs a"
    " bypass.",
}
WAIVED: dict[str, str] = {
    "no vent": "without a vent",
    "no drain": "without a drain",
    "no way when shut": "without a way when the thermostat is shut",
}
ALIKE_LEAD = "They look alike and must not meet"


def why_no_fit(left: EndKind, right: EndKind) -> str:
    """Why two ends of any size never go together; "" where it is their sizes, or a name."""
    if left == right == "hose":
        return "neither hose goes over the other"
    if left in HARD_ENDS and right in HARD_ENDS:
        return "a hose goes over each of them, neither goes over the other"
    return ""


def of_run(why: OpenWord, *, name: str) -> str:
    """What is wrong with a run that could be made as it is drawn."""
    match why:
        case "pieces missing":
            return f"{name} is drawn, and not all it needs is here"
        case "to make":
            return f"{name} can be made: everything is here"
        case "not fitted":
            return f"{name} is cut and not fitted"
        case "not clamped":
            return f"{name} is on and not clamped"
        case "goes nowhere":
            return f"{name} lies on no way from where the circuit begins to where it ends"
        case _:
            return (
                f"{name} stands against the flow: an outlet meets an outlet, an inlet an inlet,"
                " or an arrow on a piece points the other way"
            )


def of_port(why: OpenWord, stop: Stop | None) -> str:
    """What is wrong with a port."""
    match why:
        case "not measured":
            return "its size is not measured"
        case "cap missing":
            return "what shuts it for good is not on"
        case "part missing":
            return "what closes it (a sender, a switch, a plug of its own) is not in"
        case "cover still on":
            return "its cover is still on under the run: take it out first"
        case _ if stop is not None:
            return "nothing is joined to it, and a cover counts as nothing"
        case _:
            return "nothing is joined to it, and it is not capped"


def of_component(why: OpenWord) -> str:
    """What is wrong with a component."""
    return "is not here yet" if why == "not here" else "is joined, but not to where it begins"


# --- needs ------------------------------------------------------------------------------------


def needs_said(from_shelf: tuple[Need, ...], lacking: tuple[Need, ...]) -> str:
    """What something needs, and what of it is not on the shelf; "" where it needs nothing."""
    needs = gathered((*lacking, *from_shelf))
    if not needs:
        return ""
    return f"Needs: {', '.join(map(sizes.so_many, needs))}{_on_the_shelf(needs, lacking)}."


def _on_the_shelf(needs: tuple[Need, ...], lacking: tuple[Need, ...]) -> str:
    are = "are" if len(needs) == 1 and needs[0].count > 1 else "is"
    it = "they" if are == "are" else "it"
    if not lacking:
        return ": all of it is on the shelf" if len(needs) > 1 else f": {it} {are} on the shelf"
    missing = {need.what for need in lacking}
    if len(missing) == len(needs):
        return (
            ": none of it is on the shelf" if len(needs) > 1 else f": {it} {are} not on the shelf"
        )
    if len(lacking) > 1:
        return f". Not on the shelf: {listed([sizes.so_many(need) for need in lacking])}"
    lacks = "are" if lacking[0].count > 1 else "is"
    return f": {sizes.so_many(lacking[0])} {lacks} not on the shelf"


def mend_said(mend: Proposal) -> str:
    """What would mend a joint that does not fit."""
    names = listed([sizes.called(name) for name in mend.pieces])
    if not mend.pieces:
        return f"Mend: leave piece {mend.instead_of} out: the rest fits."
    where = (
        f"put {names} between the two"
        if mend.instead_of is None
        else f"put {names} in the place of piece {mend.instead_of}"
    )
    is_one = len(mend.pieces) == 1
    if mend.source == "shelf":
        return f"Mend: {where}. {'It lies' if is_one else 'They lie'} on the shelf."
    return (
        f"Mend: {where}. {'It has' if is_one else 'They have'} to be bought: take"
        f" {'it' if is_one else 'them'} into the run first."
    )


MEND_HOW = How(
    figures=("mend",),
    of="what would mend a joint",
    sentences=(
        "A mend is the shortest chain of whole pieces that joins the two ends, from what lies"
        " unused on the shelf, at most four; where none does, what to buy. Each thing on the shelf"
        " is given once, run by run.",
    ),
)


# --- circuits ---------------------------------------------------------------------------------


def open_count(count: int) -> str:
    """How much is open: "closed", "1 thing open"."""
    if count == 0:
        return "closed"
    return f"{count} open"


def unfit_said(count: int) -> str:
    """How many joints are none yet."""
    return f"{count} {'does' if count == 1 else 'do'} not fit yet"


def bay_said(closed: int, all_of_them: int, things: int) -> str:
    """The bay in one sentence."""
    if closed == all_of_them:
        return "Every circuit is closed." if all_of_them > 1 else "It is closed."
    if closed == 0:
        head = "None is closed yet" if all_of_them > 1 else "It is not closed yet"
    else:
        head = f"{closed} of {all_of_them} {'is' if closed == 1 else 'are'} closed"
    return f"{head}; {things} {'thing is' if things == 1 else 'things are'} open."
