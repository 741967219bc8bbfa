"""The form of a battery cable or a wire."""

from dataclasses import replace

from webapp.build.build_input import BuildInput, Fault
from webapp.build.by_key import find_by_key, replaced_by_key
from webapp.build.data_sheet import WIRE_USES, Wire, WireUse
from webapp.build.edited import Edited, Lost
from webapp.pages.forms.picking import new_key
from webapp.pages.forms.settled_field import quoted
from webapp.pages.forms.shown import Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.sizing.amounts import needed, read_area, reader_of, show_amount

USE_WORDS: dict[WireUse, str] = {
    "feed": "a feed: lamp, fan, pump, relay",
    "starter": "the starter's cable",
}
FIELDS = {
    "current_a": "A",
    "area_mm2": "mm²",
    "out_and_back_m": "m",
    "celsius": "°C",
    "fuse_a": "A",
    "carries_a": "A",
}
"""Numbers of a wire, with what each is in."""


def wire_shown(wire: Wire | None) -> Shown:
    """The form of a wire as it is opened; of a new one without a wire."""
    shown = Shown().text("name", "" if wire is None else wire.name)
    shown.choice("use", "feed" if wire is None else wire.use)
    for name, unit in FIELDS.items():
        show_amount(shown, name, None if wire is None else getattr(wire, name), unit)
    return shown


def edit_wire(key: str) -> FormEdit[TypedForm]:
    """The edit that stores a wire, a new one without a key, or takes it out where it is ticked."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[TypedForm]:
        sheet = build.data_sheet
        stored = find_by_key(sheet.wires, key)
        if key and stored is None:
            return Edited(build=build, made=form, lost=Lost(kind="wire", key=key))
        shown = wire_shown(stored)
        if stored is not None and form.takes_out("remove", shown, what=quoted(stored.name)):
            wires = tuple(one for one in sheet.wires if one is not stored)
        elif not form.settle(shown) and stored is not None:
            return Edited(build=build, made=form)
        else:
            taken = {one.key for one in sheet.wires} | {one.key for one in sheet.belts}
            wire = _read(form, key or new_key(form.typed("name"), taken))
            wires = (*sheet.wires, wire) if stored is None else replaced_by_key(sheet.wires, wire)
        return Edited(build=replace(build, data_sheet=replace(sheet, wires=wires)), made=form)

    return edit


def _read(form: TypedForm, key: str) -> Wire:
    use = form.one_of("use", "What it is for", WIRE_USES)
    return Wire(
        key=key,
        name=form.text("name", "The name of the wire", needed=True),
        use=next((each for each in WIRE_USES if each == use), "feed"),
        current_a=needed(form, "current_a", "Current", reader_of("A")),
        area_mm2=needed(form, "area_mm2", "Copper", read_area),
        out_and_back_m=needed(form, "out_and_back_m", "Length out and back", reader_of("m")),
        celsius=form.read("celsius", "How warm it is there", reader_of("°C")),
        fuse_a=form.read("fuse_a", "Fuse", reader_of("A")),
        carries_a=form.read("carries_a", "What it carries", reader_of("A")),
    )


def place_of_fault(form: TypedForm, fault: Fault) -> str:
    """Which field of the form a fault of the build belongs to."""
    del form
    return fault.field if fault.kind == "wire" and fault.field in ("name", "use", *FIELDS) else ""
