"""What a part is for the plumbing, as its own page tells it, and where it is said to be used."""

from dataclasses import dataclass

from webapp.build.build_input import Part
from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.words import coolant as said
from webapp.pages.words.plumbing_parts import brings_said
from webapp.plumbing.coolant import CoolantFill
from webapp.plumbing.coolant_to_buy import circuit_of_coolant, kept_fill
from webapp.plumbing.drawing import Drawing


@dataclass(frozen=True, slots=True, kw_only=True)
class Brought:
    """What a part brings. `says` is "" for nothing.

    `mixture` is the page of the coolant that it is for, and `pour` whether it waits to be poured.
    """

    says: str
    mixture: str = ""
    circuit: str = ""
    pour: bool = False


def brought_by(page: PageContext, part: Part) -> Brought:
    """What a part brings, and whether that is here and is to be poured in."""
    says = brings_said(line for line in page.build.plumbing.ordered if line.part == part.key)
    circuit = None if page.faults else circuit_of_coolant(page.build, part)
    if circuit is None:
        return Brought(says=says)
    is_mixed = isinstance(kept_fill(page.build, Drawing(page.build), circuit), CoolantFill)
    return Brought(
        says=f"{says}, {said.HERE}" if part.arrived else says,
        mixture=addresses.coolant(page.slug, circuit.key),
        circuit=circuit.name,
        pour=part.arrived and is_mixed,
    )
