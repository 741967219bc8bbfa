"""The buy list to Parts in one press, and from a part that came onto the shelf in another."""

from collections.abc import Iterator
from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.build.edited import Edited
from webapp.build.limits import MOST_DAYS_AWAY
from webapp.pages import addresses
from webapp.pages.forms.shown import Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.plumbing.seen import Named, Seen
from webapp.pages.words import plumbing_parts as said
from webapp.plumbing.arrivals import brought_to_shelf
from webapp.plumbing.lacking import Lacking
from webapp.plumbing.parts_to_buy import (
    USUAL_LEAD_DAYS,
    Wanted,
    differing_parts,
    loose_part_of,
    over_ordered,
    put_into_parts,
    usual_lead_days,
    wanted_parts,
    with_wanted,
)

LEAD = "lead_days"


@dataclass(frozen=True, slots=True, kw_only=True)
class WouldBe:
    """One part as the press would make it, or change it; `no_task`: no task waits for it."""

    name: str
    is_new: bool
    brings: str
    no_task: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ToPartsView:
    """What one press would do; `lead` says where the days are from, "" where nothing is new."""

    sentence: str
    parts: tuple[WouldBe, ...]
    lead: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CameView:
    """A part that is here, and what it brings lies not on the shelf yet."""

    key: str
    name: str
    address: str
    brings: str


def lead_shown(build: BuildInput) -> Shown:
    """The form of the press: how many days until what is bought comes."""
    return Shown().number(LEAD, usual_lead_days(build) or USUAL_LEAD_DAYS)


def to_parts_view(lacking: Lacking) -> ToPartsView | None:
    """What the press would do; None where the parts say already what lacks."""
    build, wanted = lacking.build, wanted_parts(lacking)
    after = with_wanted(build, wanted, lead_days=USUAL_LEAD_DAYS)
    changed = set(differing_parts(build, after))
    would = [one for one in wanted if _differs(build, one, changed)]
    if not would:
        return None
    parts = tuple(_would_be(build, one) for one in would)
    new = sum(part.is_new for part in parts)
    return ToPartsView(
        sentence=said.made_said(new) if new else said.UPDATES,
        parts=parts,
        lead=said.lead_said(usual_lead_days(build)) if new else "",
        words="Put what lacks into Parts" if new else "Bring the parts up to date",
    )


def _differs(build: BuildInput, wanted: Wanted, changed: set[str]) -> bool:
    part = loose_part_of(build, wanted.circuit)
    return part is None or part.key in changed


def _would_be(build: BuildInput, wanted: Wanted) -> WouldBe:
    part = loose_part_of(build, wanted.circuit)
    circuit = find_by_key(build.plumbing.circuits, wanted.circuit)
    named = part or circuit
    assert named is not None
    return WouldBe(
        name=named.name,
        is_new=part is None,
        brings=said.brings_said(wanted.lines) or said.NOTHING_MORE,
        no_task=bool(wanted.lines) and not wanted.serves,
    )


def in_parts_of(seen: Seen, what: str) -> Iterator[tuple[Named, str]]:
    """The parts that are to bring a thing, with how much, and whether they are ordered."""
    build = seen.build
    for line in build.plumbing.ordered:
        part = find_by_key(build.parts, line.part)
        if line.what == what and part is not None and not part.arrived:
            is_ordered = part.ordered_on is not None
            link = Named(name=part.name, address=addresses.part(seen.slug, part.key))
            yield link, said.amount_in_part(line, is_ordered=is_ordered)


def over_ordered_said(lacking: Lacking) -> tuple[str, ...]:
    """Things of which more is ordered than is wanted by now."""
    return tuple(map(said.over_said, over_ordered(lacking)))


def came_views(seen: Seen) -> tuple[CameView, ...]:
    """Parts that are here and of which what they bring is not on the shelf yet."""
    lines = seen.build.plumbing.ordered
    bringing = {line.part for line in lines if line.litres is None}
    return tuple(
        CameView(
            key=part.key,
            name=part.name,
            address=addresses.part(seen.slug, part.key),
            brings=said.brings_said(line for line in lines if line.part == part.key),
        )
        for part in seen.build.parts
        if part.arrived and part.key in bringing
    )


# --- what a press does ------------------------------------------------------------------------


def put_list_into_parts(form: TypedForm, build: BuildInput) -> Edited[tuple[str, ...]]:
    """All that lacks now is in parts; a second press finds nothing to do."""
    days = form.decimal(LEAD, said.WRONG_DAYS, at_most=MOST_DAYS_AWAY)
    usual = usual_lead_days(build) or USUAL_LEAD_DAYS
    return put_into_parts(build, lead_days=usual if days is None else days)


def put_on_the_shelf(form: TypedForm, build: BuildInput) -> Edited[str]:
    """What a part brings lies on the shelf; one that brings nothing any more is left alone."""
    key = form.typed("key")
    part = find_by_key(build.parts, key)
    if part is not None and not any(line.part == key for line in build.plumbing.ordered):
        return Edited(build=build, made=key)
    return brought_to_shelf(build, key)
