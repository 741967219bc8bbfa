"""Amounts of wires, belts and limits as their fields show and read them, in the shop's units."""

from typing import Any

from webapp.build.typed_figures import figure_text, read_in, shop_unit, wire_mm2
from webapp.pages.forms.shown import Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.plumbing.piece_fields import Reader
from webapp.pages.words import sizes


def unit_here(unit: str) -> str:
    """What a bare number is read in on this page."""
    return shop_unit(unit, sizes.shop_units())


def show_amount(shown: Shown, name: str, value: float | None, unit: str) -> None:
    """A number in the unit of the shop; nothing for None."""
    text = "" if value is None else figure_text(value, unit, unit_here(unit))
    shown.add(name, text, value)


def reader_of(unit: str) -> Reader:
    """Reads so many of a unit, typed in the shop's own or with its unit; nothing typed is None."""

    def read(text: str) -> tuple[Any, str]:
        if not text:
            return None, ""
        found = read_in(text, unit, unit_here(unit))
        return found.value, found.fault

    return read


def read_area(text: str) -> tuple[Any, str]:
    """Copper in mm², or as a gauge, which has to say that it is one: "4 AWG" is 21.2 mm²."""
    if not text:
        return None, ""
    if any(mark in text.lower() for mark in ("awg", "ga", "/0")):
        area_mm2 = wire_mm2(text)
        if area_mm2 is None:
            return None, f"“{text[:60]}” is no gauge. Write AWG 4, or the copper in mm²."
        return round(area_mm2, 3), ""
    found = read_in(text.lower().replace("mm²", "").replace("mm2", ""), "", "")
    return found.value, found.fault and f"“{text[:60]}” is no area. Write 50, or AWG 4."


def needed(form: TypedForm, name: str, label: str, reader: Reader) -> float:
    """A number that has to be typed; 1 stands in where it is not, and the fault is noted."""
    value = form.read(name, label, reader)
    if value is None:
        if not form.faults_at(name):
            form.fault(name, f"{label}: nothing is typed. Type it in.")
        return 1.0
    return float(value)
