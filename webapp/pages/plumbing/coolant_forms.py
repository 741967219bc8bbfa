"""The form of the coolant of a circuit: what is mixed is kept with it, and put into Parts."""

from dataclasses import replace
from typing import Any, cast

from webapp.build.build_input import BuildInput, Fault
from webapp.build.by_key import find_by_key
from webapp.build.edited import Edited, Lost
from webapp.build.limits import MOST_DAYS_AWAY
from webapp.build.plumbing import ANTIFREEZES, Antifreeze, Circuit
from webapp.build.units import Quantity
from webapp.build.verbs.circuits import change_circuit
from webapp.pages.forms.shown import Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.plumbing.piece_fields import Reader, amount_reader, amount_shown
from webapp.pages.plumbing.to_parts import LEAD
from webapp.pages.words import coolant as said
from webapp.pages.words.plumbing_parts import WRONG_DAYS
from webapp.plumbing.coolant import Mixture, NoMixture, Refusal, mixture_of
from webapp.plumbing.coolant_to_buy import kept_fill, kind_of, poured_in, put_coolant_into_parts
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.parts_to_buy import USUAL_LEAD_DAYS, usual_lead_days
from webapp.sizing.sheet import Sheet

PRESS, PARTS, POURED = "press", "parts", "poured"
"""The name of the buttons, and what they say where they do more than keep the mixture."""
PERCENT = 100.0
_MINUS = "\N{MINUS SIGN}"
_FIELD: dict[Refusal, str] = {"no volume": "full", "more than it holds": "there"}
_FIELDS = {
    "frost_c": "frost",
    "full_litres": "full",
    "there_litres": "there",
    "there_percent": "share",
}


def coolant_shown(build: BuildInput, circuit: Circuit) -> Shown:
    """The form as it is opened: as it is kept, else as the data sheet has it."""
    frost = frost_of_sheet(build) if circuit.frost_c is None else circuit.frost_c
    shown = Shown()
    for name, value, quantity in (
        ("frost", frost, "temperature"),
        ("full", circuit.full_litres, "volume"),
        ("there", circuit.there_litres, "volume"),
    ):
        shown.add(name, amount_shown(value, cast(Quantity, quantity)), value)
    shown.choice("kind", kind_of(build.data_sheet, circuit))
    shown.number("share", circuit.there_percent)
    return shown.number(LEAD, usual_lead_days(build) or USUAL_LEAD_DAYS)


def frost_of_sheet(build: BuildInput) -> float | None:
    """The frost that the data sheet mixes for: where its share freezes, else the frost itself."""
    sheet = Sheet(build.data_sheet)
    share, frost_c = sheet.number("antifreeze_percent"), sheet.number("frost_c")
    if share is None:
        return frost_c if frost_c is not None and frost_c <= 0 else None
    kind = next((one for one in ANTIFREEZES if one == sheet.word("antifreeze")), ANTIFREEZES[0])
    found = mixture_of(share / PERCENT, kind)
    return round(found.freezes_at_c, 1) if isinstance(found, Mixture) else None


def mix(key: str) -> FormEdit[str]:
    """The edit that keeps a mixture with its circuit, and does what its button says beyond it."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str]:
        stored = find_by_key(build.plumbing.circuits, key)
        if stored is None or stored.medium != "water":
            return Edited(build=build, made=key, lost=Lost(kind="circuit", key=key))
        if form.typed(PRESS) == POURED:
            return poured_in(build, key)
        form.settle(coolant_shown(build, stored))
        mixed = _as_typed(form, stored)
        lead_days = form.decimal(LEAD, WRONG_DAYS, at_most=MOST_DAYS_AWAY)
        if form.faults:
            return Edited(build=build, made=key)
        done = change_circuit(build, mixed)
        if done.faults:
            return done
        _refuse_what_is_no_mixture(form, done.build, mixed)
        if form.typed(PRESS) != PARTS:
            return done
        if mixed.frost_c is None:
            form.fault("frost", said.NAME_A_FROST)
        usual = usual_lead_days(build) or USUAL_LEAD_DAYS
        lead_days = usual if lead_days is None else lead_days
        put = put_coolant_into_parts(done.build, key, lead_days=lead_days)
        return Edited(build=put.build, made=key, faults=put.faults)

    return edit


def place_of_fault(_made: str, fault: Fault) -> str:
    """Which field a fault of the build belongs to."""
    return _FIELDS.get(fault.field, "") if fault.kind == "circuit" else ""


def _refuse_what_is_no_mixture(form: TypedForm, build: BuildInput, circuit: Circuit) -> None:
    fill = kept_fill(build, Drawing(build), circuit)
    if isinstance(fill, NoMixture):
        form.fault(_FIELD.get(fill.why, "frost"), said.NO_MIXTURE[fill.why])


def _as_typed(form: TypedForm, stored: Circuit) -> Circuit:
    frost = form.read("frost", "Hardest frost", _reader("temperature"))
    if frost is not None and frost > 0:
        form.fault("frost", said.no_frost())
    litres = {}
    for name, label in (("full", "The circuit holds"), ("there", "Of it in there already")):
        litres[name] = form.read(name, label, _reader("volume"))
        if litres[name] is not None and litres[name] < 0:
            form.fault(name, "It can not be below zero. Enter what it holds.")
    kind = form.one_of("kind", "Kind of concentrate", ANTIFREEZES)
    return replace(
        stored,
        frost_c=frost,
        antifreeze=stored.antifreeze if frost is None else cast(Antifreeze | None, kind),
        full_litres=litres["full"],
        there_litres=litres["there"],
        there_percent=form.decimal("share", "The share of concentrate", at_most=PERCENT),
    )


def _reader(quantity: Quantity) -> Reader:
    read = amount_reader(quantity)

    def with_any_minus(text: str) -> tuple[Any, str]:
        return read(text.replace(_MINUS, "-")[:60])

    return with_any_minus
