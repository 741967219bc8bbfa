"""The form of a room: a measured space, and the pieces and gaps that are stacked in it."""

from dataclasses import replace

from webapp.build.build_input import BuildInput, Fault
from webapp.build.by_key import find_by_key, replaced_by_key
from webapp.build.edited import Edited, Lost
from webapp.build.room import HELD_KINDS, InRoom, Room
from webapp.pages.forms.picking import new_key
from webapp.pages.forms.settled_field import quoted
from webapp.pages.forms.shown import Rows, Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.plumbing.piece_fields import amount_reader, amount_shown

BLANK_ROWS = 5
ROWS = (Rows(stems=("thing", "mm", "give", "kind"), identity="thing"),)


def room_shown(room: Room | None) -> Shown:
    """The form of a room as it is opened; of a new one without a room."""
    room = room or Room(key="", name="")
    shown = Shown().text("name", room.name)
    shown.add("measured", amount_shown(room.measured_mm, "length"), room.measured_mm)
    shown.add("give", amount_shown(room.plus_minus_mm or None, "length"), room.plus_minus_mm)
    for row, one in enumerate(room.holds):
        shown.text(f"thing-{row}", one.name)
        shown.add(f"mm-{row}", amount_shown(one.mm, "length"), one.mm)
        shown.add(
            f"give-{row}", amount_shown(one.plus_minus_mm or None, "length"), one.plus_minus_mm
        )
        shown.choice(f"kind-{row}", one.kind)
    for row in range(len(room.holds), len(room.holds) + BLANK_ROWS):
        shown.blank(f"thing-{row}", f"mm-{row}", f"give-{row}")
        shown.choice(f"kind-{row}", "piece")
    return shown


def with_more_rows(form: TypedForm, first: int) -> TypedForm:
    """The form as it is typed, with more rows from that number on."""
    names = [
        f"{stem}-{row}"
        for row in range(first, first + BLANK_ROWS)
        for stem in ("thing", "mm", "give")
    ]
    more = form.with_blanks(*names)
    for row in range(first, first + BLANK_ROWS):
        more.put(f"kind-{row}", "piece")
    return more


def edit_room(key: str) -> FormEdit[TypedForm]:
    """The edit that stores a room, a new one without a key, or takes it out where it is ticked."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[TypedForm]:
        stored = find_by_key(build.rooms, key)
        if key and stored is None:
            return Edited(build=build, made=form, lost=Lost(kind="room", key=key))
        shown = room_shown(stored)
        if stored is not None and form.takes_out("remove", shown, ROWS, what=quoted(stored.name)):
            left = tuple(room for room in build.rooms if room is not stored)
            return Edited(build=replace(build, rooms=left), made=form)
        if not form.settle(shown, ROWS) and stored is not None:
            return Edited(build=build, made=form)
        room = _read(form, key or new_key(form.typed("name"), {one.key for one in build.rooms}))
        rooms = (*build.rooms, room) if stored is None else replaced_by_key(build.rooms, room)
        return Edited(build=replace(build, rooms=rooms), made=form)

    return edit


def _read(form: TypedForm, key: str) -> Room:
    name = form.text("name", "The name of the room", needed=True)
    return Room(
        key=key,
        name=name or "room",
        measured_mm=form.read("measured", "What was measured", amount_reader("length")),
        plus_minus_mm=form.read("give", "Give or take", amount_reader("length")) or 0.0,
        holds=tuple(
            _read_row(form, row) for row in form.row_numbers("thing") if _is_filled(form, row)
        ),
    )


def _is_filled(form: TypedForm, row: int) -> bool:
    return any(form.typed(f"{stem}-{row}").strip() for stem in ("thing", "mm"))


def _read_row(form: TypedForm, row: int) -> InRoom:
    name = form.text(f"thing-{row}", f"Row {row + 1}, its name", needed=True)
    called = name or f"Row {row + 1}"
    mm = form.read(f"mm-{row}", f"{called}, how deep", amount_reader("length"))
    if mm is None and not form.faults_at(f"mm-{row}"):
        form.fault(f"mm-{row}", f"{called}: nothing is measured. Enter how deep it is.")
    give = form.read(f"give-{row}", f"{called}, give or take", amount_reader("length"))
    typed = form.typed(f"kind-{row}")
    kind = next((each for each in HELD_KINDS if each == typed), HELD_KINDS[0])
    return InRoom(name=called, mm=mm or 0.0, plus_minus_mm=give or 0.0, kind=kind)


def place_of_fault(form: TypedForm, fault: Fault) -> str:
    """Which field of the form a fault of the build belongs to."""
    if fault.kind != "room":
        return ""
    own = {"name": "name", "measured_mm": "measured", "plus_minus_mm": "give"}
    if fault.field in own:
        return own[fault.field]
    for row in form.row_numbers("thing"):
        if form.typed(f"thing-{row}").strip() and form.typed(f"thing-{row}").strip() in fault.text:
            return f"mm-{row}"
    return ""
