"""Checks of the coolant, from the drawing and the data sheet."""

from collections.abc import Iterator
from dataclasses import replace

from webapp.build.data_sheet import FigureName, SheetFigure
from webapp.build.plumbing import ANTIFREEZES, Antifreeze, Circuit
from webapp.plumbing.coolant import Mixture, mixture_for
from webapp.plumbing.coolant_to_buy import RADIATOR, kind_of
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.plumbed import PlumbedCircuit
from webapp.sizing.answers import Answer, Figure, Gap, Missing, Outside, held, no_sum, not_checked
from webapp.sizing.boiling import (
    BOILING_MARGIN,
    BoilingMargin,
    Cap,
    CapOnCircuit,
    boiling,
    boiling_as_water,
    cap_rating,
)
from webapp.sizing.coolant_flow import CoolantHeat, CoolantHose, coolant_flow, coolant_speed
from webapp.sizing.coolant_heat import (
    COMPARED,
    Compared,
    FuelHeat,
    RadiatorCompared,
    coolant_kw,
    radiator,
)
from webapp.sizing.coolant_properties import Coolant
from webapp.sizing.expansion import EXPANSION_ROOM, ExpansionRoom, expansion
from webapp.sizing.liquid_flow import LiquidFlow
from webapp.sizing.mixture import MixtureForFrost, mixture
from webapp.sizing.of_air import NO_WAY
from webapp.sizing.sheet import Sheet, missing
from webapp.sizing.way import Leg, is_behind, kinds_in, legs_of, narrowest_mm

OF_COOLANT: tuple[FigureName, ...] = ("antifreeze", "antifreeze_percent")


def water_checks(drawing: Drawing, sheet: Sheet, one: PlumbedCircuit) -> Iterator[Answer]:
    """What is checked of a circuit of water that has a radiator in it."""
    if RADIATOR not in kinds_in(drawing, one.circuit):
        return
    sheet = as_mixed(sheet, one.circuit)
    heat = heat_kw(sheet)
    legs, flow = legs_of(drawing, one.way), _flow(sheet, heat)
    for leg in legs:
        yield _speed_check(sheet, leg, flow, heat)
    if not legs:
        yield no_sum("coolant_speed", one.circuit.key, NO_WAY)
    placed = drawing.ports_by_circuit[one.circuit.key]
    for key in dict.fromkeys(p.component.key for p in placed if p.component.kind == RADIATOR):
        yield _radiator_check(sheet, key, heat)
    yield _mixture_check(sheet, one.circuit.key)
    yield _expansion_check(drawing, sheet, one)
    yield _boiling_check(sheet, one.circuit.key)
    yield _cap_check(sheet, one.circuit.key)


def heat_kw(sheet: Sheet) -> float | Gap:
    """Heat into the coolant: as its maker says, else a share of that in the fuel."""
    said = sheet.number("coolant_heat_kw")
    if said is not None:
        return said
    fuel = sheet.fuel
    power: tuple[FigureName, ...] = () if sheet.number("power_kw") is not None else ("power_kw",)
    if fuel is None or power:
        return missing(*power, *(() if fuel else ("fuel",)))
    burnt = sheet.numbers("power_kw", "fuel_g_kwh", "heat_share_percent")
    if isinstance(burnt, Missing):
        return burnt
    return coolant_kw(
        FuelHeat(
            power_kw=burnt["power_kw"],
            fuel_g_kwh=burnt["fuel_g_kwh"],
            fuel=fuel,
            coolant_share=burnt["heat_share_percent"] / 100,
        )
    )


KEPT = "the coolant of the circuit"
"""Where a figure is from that is kept with a circuit."""


def as_mixed(sheet: Sheet, circuit: Circuit) -> Sheet:
    """The sheet with the coolant that is kept with a circuit in place of what it says of that."""
    if circuit.frost_c is None:
        return sheet
    kind = kind_of(sheet.sheet, circuit)
    found = mixture_for(circuit.frost_c, kind)
    kept: dict[FigureName, float | str] = {"antifreeze": kind, "frost_c": circuit.frost_c}
    if isinstance(found, Mixture):
        kept["antifreeze_percent"] = 100 * found.share
    own = (SheetFigure(name=name, value=value, source=KEPT) for name, value in kept.items())
    gone = {*kept, "antifreeze_percent"}
    figures = tuple(one for one in sheet.sheet.figures if one.name not in gone)
    return Sheet(replace(sheet.sheet, figures=(*figures, *own)))


def antifreeze_of(sheet: Sheet) -> Antifreeze:
    """What is mixed in; ethylene glycol where nobody said."""
    said = sheet.word("antifreeze")
    return next((one for one in ANTIFREEZES if one == said), "ethylene")


def _flow(sheet: Sheet, heat: float | Gap) -> LiquidFlow | Gap:
    said = sheet.numbers("antifreeze_percent", "coolant_rise_k")
    if not isinstance(heat, float):
        return heat
    if isinstance(said, Missing):
        return said
    coolant = Coolant(share=said["antifreeze_percent"] / 100, antifreeze=antifreeze_of(sheet))
    return coolant_flow(CoolantHeat(heat_kw=heat, rise_k=said["coolant_rise_k"], coolant=coolant))


def _speed_check(sheet: Sheet, leg: Leg, flow: LiquidFlow | Gap, heat: float | Gap) -> Answer:
    at, stretches = leg.run.key, leg.stretches
    if isinstance(stretches, Missing):
        return not_checked("coolant_speed", at, stretches)
    if isinstance(flow, Missing | Outside):
        return not_checked("coolant_speed", at, flow)
    if narrowest_mm(stretches) is None:
        return no_sum("coolant_speed", at, "it is bolted straight together")
    hose = CoolantHose(flow=flow, stretches=stretches, is_suction=is_behind(leg, (RADIATOR,)))
    answer = coolant_speed(at, hose, sheet.limit("coolant_speed", at))
    answer = answer.marked("drawn", "narrowest bore", "side")
    if isinstance(heat, float):
        known = Figure(name="heat into the coolant", value=heat, unit="kW")
        answer = replace(answer, used=(known, *answer.used))
    return sheet.told(answer, *_of_heat(sheet), "coolant_rise_k", *OF_COOLANT)


def _of_heat(sheet: Sheet) -> tuple[FigureName, ...]:
    """What the heat into the coolant was worked out from."""
    if sheet.number("coolant_heat_kw") is not None:
        return ("coolant_heat_kw",)
    return ("fuel", "power_kw", "fuel_g_kwh", "heat_share_percent")


def _radiator_check(sheet: Sheet, at: str, heat: float | Gap) -> Answer:
    core, air = _compared(sheet.word("radiator_core")), _compared(sheet.word("radiator_air"))
    if core is None or air is None:
        compared: tuple[FigureName, ...] = ("radiator_core", "radiator_air")
        gone = [name for name in compared if sheet.word(name) is None]
        return not_checked("radiator", at, missing(*gone))
    known = heat if isinstance(heat, float) else None
    answer = radiator(at, RadiatorCompared(core=core, air=air), known)
    return answer.marked("typed", *(one.name for one in answer.used))


def _compared(said: str | None) -> Compared | None:
    return next((word for word in COMPARED if word == said), None)


def _mixture_check(sheet: Sheet, at: str) -> Answer:
    said = sheet.numbers("antifreeze_percent", "frost_c")
    if isinstance(said, Missing):
        return not_checked("mixture", at, said)
    inputs = MixtureForFrost(
        share=said["antifreeze_percent"] / 100,
        frost_c=said["frost_c"],
        antifreeze=antifreeze_of(sheet),
    )
    return sheet.told(mixture(at, inputs), *OF_COOLANT, "frost_c")


def _expansion_check(drawing: Drawing, sheet: Sheet, one: PlumbedCircuit) -> Answer:
    """By the volume of the drawing, and where that has holes by the one that was typed."""
    at, kept = one.circuit.key, one.circuit.full_litres
    whole = sheet.number("coolant_l") if kept is None else kept
    is_drawn = not one.litres.without and kept is None
    if not is_drawn and whole is None:
        unknown = tuple(f"volume of {_named(drawing, key)}" for key in one.litres.without)
        return not_checked("expansion", at, Missing(names=unknown, figures=("coolant_l",)))
    said = sheet.numbers("tank_room_l", "antifreeze_percent")
    if isinstance(said, Missing):
        return not_checked("expansion", at, said)
    litres = one.litres.litres if is_drawn or whole is None else whole
    room = ExpansionRoom(
        circuit_litres=litres,
        room_litres=said["tank_room_l"],
        coolant=Coolant(share=said["antifreeze_percent"] / 100, antifreeze=antifreeze_of(sheet)),
    )
    answer = expansion(at, room, held(sheet.limit("expansion", at), EXPANSION_ROOM))
    answer = answer.marked("drawn" if is_drawn else "typed", "circuit holds about")
    return sheet.told(answer, *OF_COOLANT, "tank_room_l")


def _named(drawing: Drawing, key: str) -> str:
    """A component or a run by its name."""
    names = {part.key: part.name for part in drawing.plumbing.components}
    names |= {run.key: run.name for run in drawing.plumbing.runs if run.name}
    return names.get(key, key)


def _boiling_check(sheet: Sheet, at: str) -> Answer:
    said = sheet.numbers("cap_bar", "antifreeze_percent", "hottest_coolant_c", "height_m")
    if isinstance(said, Missing):
        return not_checked("boiling", at, said)
    cap = Cap(
        cap_bar=said["cap_bar"],
        height_m=said["height_m"],
        share=said["antifreeze_percent"] / 100,
    )
    margin = BoilingMargin(cap=cap, hottest_c=said["hottest_coolant_c"])
    limit = held(sheet.limit("boiling", at), BOILING_MARGIN)
    says = boiling if antifreeze_of(sheet) == "ethylene" else boiling_as_water
    return sheet.told(
        says(at, margin, limit), "cap_bar", "height_m", "hottest_coolant_c", *OF_COOLANT
    )


def _cap_check(sheet: Sheet, at: str) -> Answer:
    said = sheet.numbers("cap_bar", "weakest_coolant_bar")
    if isinstance(said, Missing):
        return not_checked("cap", at, said)
    inputs = CapOnCircuit(cap_bar=said["cap_bar"], weakest_bar=said["weakest_coolant_bar"])
    answer = cap_rating(at, inputs, sheet.source("weakest_coolant_bar"))
    return sheet.told(answer, "cap_bar", "weakest_coolant_bar")
