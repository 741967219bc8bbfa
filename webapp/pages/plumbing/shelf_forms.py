"""Things on the shelf: put there, changed, taken away. A line is told by what it says."""

from typing import Any

from webapp.build.build_input import BuildInput, Fault
from webapp.build.edited import Edited, Lost
from webapp.build.limits import MOST_ON_THE_SHELF
from webapp.build.plumbing import ShelfThing
from webapp.build.verbs.shelf import change_on_shelf, put_on_shelf, take_from_shelf
from webapp.pages.forms.posted import whole_number
from webapp.pages.forms.shown import Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.plumbing.piece_fields import (
    amount_reader,
    amount_shown,
    place_of_piece_fault,
    read_any_piece,
    shown_piece,
)
from webapp.pages.plumbing.piece_forms import digest_of
from webapp.plumbing.names import piece_name

NEW = ShelfThing(piece="hose")


def shown_thing(thing: ShelfThing) -> Shown:
    """The form of a line of the shelf as it is opened."""
    low, high = thing.range_mm or (None, None)
    return (
        shown_piece(thing)
        .whole("count", thing.count)
        .add("low", amount_shown(low, "length"), low)
        .add("high", amount_shown(high, "length"), high)
    )


def line_of(build: BuildInput, place: int, digest: str) -> int | None:
    """Where a line of the shelf stands now; None where there is none like it any more."""
    shelf = build.plumbing.shelf
    if place < len(shelf) and digest_of(shelf[place]) == digest:
        return place
    alike = [at for at, thing in enumerate(shelf) if digest_of(thing) == digest]
    return alike[0] if alike else None


def enter_thing(form: TypedForm, build: BuildInput) -> Edited[None]:
    """One thing more on the shelf."""
    return put_on_shelf(build, _as_typed(form))


def line_or_like(build: BuildInput, place: int, digest: str, name: str) -> int | None:
    """The same; where there is none like it, the one of its name that stands in its place."""
    at, shelf = line_of(build, place, digest), build.plumbing.shelf
    if at is None and place < len(shelf) and piece_name(shelf[place]) == name:
        return place
    return at


def edit_thing(place: int, digest: str, name: str) -> FormEdit[None]:
    """The edit that gives a line of the shelf what its form says."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[None]:
        at = line_or_like(build, place, digest, name)
        if at is None:
            return Edited(build=build, made=None, lost=Lost(kind="line of the shelf", key=name))
        stored = build.plumbing.shelf[at]
        if not form.settle(shown_thing(stored)):
            return Edited(build=build, made=None)
        return change_on_shelf(build, at, stored, _as_typed(form))

    return edit


def take_away(form: TypedForm, build: BuildInput) -> Edited[None]:
    """A line of the shelf taken away."""
    place, digest = whole_number(form.typed("at")), form.typed("key")
    at = line_of(build, place, digest)
    if at is None:
        return Edited(build=build, made=None)
    return take_from_shelf(build, at, build.plumbing.shelf[at])


def _as_typed(form: TypedForm) -> ShelfThing:
    said: dict[str, Any] = read_any_piece(form)
    count = form.whole("count", "How many", at_least=1, at_most=MOST_ON_THE_SHELF, default=1)
    low, high = (
        form.read(field, f"Clamp, {words}", amount_reader("length"))
        for field, words in (("low", "from"), ("high", "to"))
    )
    if (low is None) != (high is None):
        field = "low" if low is None else "high"
        form.fault(field, "Clamp: say from which to which diameter it goes, both of them.")
    range_mm = None if low is None or high is None else (low, high)
    return ShelfThing(**said, count=count or 1, range_mm=range_mm)


def place_of_fault(_made: None, fault: Fault) -> str:
    """Which field of a line of the shelf a fault belongs to."""
    if fault.kind != "shelf":
        return ""
    own = {"count": "count", "range": "low", "ends": "end_a"}
    return own.get(fault.field, "") or place_of_piece_fault(fault)
