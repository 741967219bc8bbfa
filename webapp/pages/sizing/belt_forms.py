"""The form of a belt: its pulleys in the order in which it meets them."""

from dataclasses import replace

from webapp.build.build_input import BuildInput, Fault
from webapp.build.by_key import find_by_key, replaced_by_key
from webapp.build.data_sheet import DRIVES, Belt, Drives, Pulley
from webapp.build.edited import Edited, Lost
from webapp.pages.forms.picking import new_key
from webapp.pages.forms.settled_field import quoted
from webapp.pages.forms.shown import Rows, Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.sizing.amounts import needed, reader_of, show_amount

BLANK_ROWS = 3
DRIVES_WORDS: dict[Drives, str] = {
    "crank": "crank",
    "alternator": "alternator",
    "other": "something else",
    "idler": "nothing: idler or tensioner",
}
ROWS = (Rows(stems=("pulley", "x", "y", "diameter", "drives", "back"), identity="pulley"),)
MM = "mm"


def belt_shown(belt: Belt | None) -> Shown:
    """The form of a belt as it is opened; of a new one without a belt."""
    belt = belt or Belt(key="", name="")
    shown = Shown().text("name", belt.name)
    show_amount(shown, "length", belt.length_mm, MM)
    show_amount(shown, "take_up", belt.take_up_mm, MM)
    for row, one in enumerate(belt.pulleys):
        shown.text(f"pulley-{row}", one.name)
        show_amount(shown, f"x-{row}", one.x_mm, MM)
        show_amount(shown, f"y-{row}", one.y_mm, MM)
        show_amount(shown, f"diameter-{row}", one.diameter_mm, MM)
        shown.choice(f"drives-{row}", one.drives)
        shown.tick(f"back-{row}", one.is_back)
    for row in range(len(belt.pulleys), len(belt.pulleys) + BLANK_ROWS):
        shown.blank(f"pulley-{row}", f"x-{row}", f"y-{row}", f"diameter-{row}")
        shown.choice(f"drives-{row}", "other")
        shown.tick(f"back-{row}", False)
    return shown


def edit_belt(key: str) -> FormEdit[TypedForm]:
    """The edit that stores a belt, a new one without a key, or takes it out where it is ticked."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[TypedForm]:
        sheet = build.data_sheet
        stored = find_by_key(sheet.belts, key)
        if key and stored is None:
            return Edited(build=build, made=form, lost=Lost(kind="belt", key=key))
        shown = belt_shown(stored)
        if stored is not None and form.takes_out("remove", shown, ROWS, what=quoted(stored.name)):
            belts = tuple(one for one in sheet.belts if one is not stored)
        elif not form.settle(shown, ROWS) and stored is not None:
            return Edited(build=build, made=form)
        else:
            taken = {one.key for one in sheet.wires} | {one.key for one in sheet.belts}
            belt = _read(form, key or new_key(form.typed("name"), taken))
            belts = (*sheet.belts, belt) if stored is None else replaced_by_key(sheet.belts, belt)
        return Edited(build=replace(build, data_sheet=replace(sheet, belts=belts)), made=form)

    return edit


def _read(form: TypedForm, key: str) -> Belt:
    return Belt(
        key=key,
        name=form.text("name", "The name of the belt", needed=True),
        length_mm=form.read("length", "Length of the belt", reader_of(MM)),
        take_up_mm=form.read("take_up", "Take-up of the tensioner", reader_of(MM)),
        pulleys=tuple(
            _pulley(form, row) for row in form.row_numbers("pulley") if _is_filled(form, row)
        ),
    )


def _is_filled(form: TypedForm, row: int) -> bool:
    return any(form.typed(f"{stem}-{row}").strip() for stem in ("pulley", "x", "y", "diameter"))


def _pulley(form: TypedForm, row: int) -> Pulley:
    name = form.text(f"pulley-{row}", f"Pulley {row + 1}, its name", needed=True)
    called = name or f"Pulley {row + 1}"
    drives = form.one_of(f"drives-{row}", f"{called}, what it drives", DRIVES)
    return Pulley(
        name=called,
        x_mm=needed(form, f"x-{row}", f"{called}, to the right", reader_of(MM)),
        y_mm=needed(form, f"y-{row}", f"{called}, up", reader_of(MM)),
        diameter_mm=needed(form, f"diameter-{row}", f"{called}, diameter", reader_of(MM)),
        is_back=form.ticked(f"back-{row}"),
        drives=next((each for each in DRIVES if each == drives), "other"),
    )


def place_of_fault(form: TypedForm, fault: Fault) -> str:
    """Which field of the form a fault of the build belongs to."""
    if fault.kind != "belt":
        return ""
    own = {"name": "name", "length_mm": "length", "take_up_mm": "take_up"}
    if fault.field in own:
        return own[fault.field]
    for row in form.row_numbers("pulley"):
        name = form.typed(f"pulley-{row}").strip()
        if name and f"pulley {name}" in fault.text:
            return f"diameter-{row}"
    return ""
