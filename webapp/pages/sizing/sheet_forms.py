"""The engine's data sheet as a form: every figure with where it was read, typed once."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from webapp.build.build_input import BuildInput, Fault
from webapp.build.data_sheet import FIGURE_NAMES, FIGURES, DataSheet, FigureName, SheetFigure
from webapp.build.edited import Edited
from webapp.build.typed_figures import doubt_of, figure_text, outside_of, own_unit, read_figure
from webapp.pages.forms.hours_asked import sure_of
from webapp.pages.forms.shown import Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.words import sizes
from webapp.pages.words.amounts import sentence

READ_IN, SURE = "from", "sure"


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPart:
    """Figures that belong together, and are folded together."""

    key: str
    name: str
    figures: tuple[FigureName, ...]


PARTS: tuple[SheetPart, ...] = (
    SheetPart(
        key="engine",
        name="Engine",
        figures=(
            *("fuel", "displacement_l", "full_power_rpm", "power_kw", "boost_bar", "strokes"),
            *("volumetric_efficiency", "fuel_g_kwh", "battery_v"),
        ),
    ),
    SheetPart(
        key="air",
        name="Air and charge",
        figures=(
            *("height_m", "intake_c", "filter_m3_h", "filter_loss_kpa", "cooler_loss_kpa"),
            *("charge_hose_c", "cooler_tanks", "cooler_tank_c", "compressor_efficiency"),
            "cooler_effectiveness",
        ),
    ),
    SheetPart(
        key="coolant",
        name="Coolant",
        figures=(
            *("antifreeze", "antifreeze_percent", "frost_c", "cap_bar", "weakest_coolant_bar"),
            *("hottest_coolant_c", "tank_room_l", "coolant_l", "radiator_core", "radiator_air"),
            *("coolant_heat_kw", "heat_share_percent", "coolant_rise_k"),
        ),
    ),
    SheetPart(
        key="fuel",
        name="Fuel",
        figures=("fuel_pump", "pump_flow_l_h", "fuel_lift_m", "fuel_mm2_s"),
    ),
    SheetPart(
        key="exhaust",
        name="Exhaust",
        figures=(
            *("exhaust_gas_c", "silencers_kpa", "exhaust_bore_mm", "exhaust_length_m"),
            *("exhaust_bends_deg", "exhaust_metal", "exhaust_joint"),
        ),
    ),
)
"""Every figure once, in the order in which it is asked for."""


def sheet_shown(sheet: DataSheet) -> Shown:
    """The form as it is opened, in the units of the shop."""
    typed = {figure.name: figure for figure in sheet.figures}
    shown = Shown()
    for part in PARTS:
        for name in part.figures:
            _show(shown, name, typed.get(name))
    return shown


def _show(shown: Shown, name: FigureName, figure: SheetFigure | None) -> None:
    kind = FIGURES[name]
    value = None if figure is None else figure.value
    if kind.choices:
        shown.choice(name, value if isinstance(value, str) else None)
    elif isinstance(value, str):
        shown.add(name, value, value)
    else:
        own = own_unit(name, sizes.shop_units())
        shown.add(name, "" if value is None else figure_text(value, kind.unit, own), value)
    shown.text(f"{READ_IN}-{name}", "" if figure is None else figure.source)
    shown.called(sentence(kind.words), name)
    shown.called(f"{sentence(kind.words)}, where it was read", f"{READ_IN}-{name}")


def edit_sheet(form: TypedForm, build: BuildInput) -> Edited[TypedForm]:
    """The edit that stores what was typed; figures keep their order, new ones come behind."""
    if not form.settle(sheet_shown(build.data_sheet)):
        return Edited(build=build, made=form)
    read = {figure.name: figure for figure in _read_all(form)}
    stored = [figure.name for figure in build.data_sheet.figures]
    order = (*stored, *(name for name in FIGURE_NAMES if name not in stored))
    figures = tuple(read[name] for name in order if name in read)
    sheet = replace(build.data_sheet, figures=figures)
    return Edited(build=replace(build, data_sheet=sheet), made=form)


def _read_all(form: TypedForm) -> Iterator[SheetFigure]:
    fuel = form.one_of("fuel", "Fuel", FIGURES["fuel"].choices) or ""
    for name in FIGURE_NAMES:
        label = sentence(FIGURES[name].words)
        source = form.text(f"{READ_IN}-{name}", f"{label}, where it was read")
        value = _read(form, name, label, fuel)
        if value is not None:
            yield SheetFigure(name=name, value=value, source=source)
        elif source and not form.faults_at(name):
            form.fault(name, f"{label}: it is said where it was read, and not what it is. Type it.")


def _read(form: TypedForm, name: FigureName, label: str, fuel: str) -> float | str | None:
    if FIGURES[name].choices:
        return form.one_of(name, label, FIGURES[name].choices)
    value: float | str | None = form.read(name, label, _reader(name))
    if isinstance(value, float | int) and not form.is_as_stored(name):
        _ask(form, name, label, float(value), fuel)
    return value


def _reader(name: FigureName) -> Any:
    """Reads a number in the units of the shop; what can not be is told with the usual slip."""

    def read(text: str) -> tuple[Any, str]:
        if not text:
            return None, ""
        found = read_figure(text, name, sizes.shop_units())
        if found.value is None:
            return None, found.fault
        why_not = outside_of(name, found.value, sizes.shop_units())
        return (None, why_not) if why_not else (found.value, "")

    return read


def _ask(form: TypedForm, name: FigureName, label: str, value: float, fuel: str) -> None:
    """A figure that is unlikely is asked about, once: it is taken where it is ticked as right."""
    doubt = doubt_of(name, value, fuel)
    if not doubt:
        return
    sure = f"{SURE}-{name}"
    if not form.ticked(sure):
        form.put(sure, "")
        form.fault(name, f"{label}: {sure_of(doubt)}")


def place_of_fault(form: TypedForm, fault: Fault) -> str:
    """Which field of the form a fault of the build belongs to."""
    del form
    if fault.kind != "figure":
        return ""
    return f"{READ_IN}-{fault.key}" if fault.field == "source" else fault.key
