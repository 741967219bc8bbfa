"""Checks of the fuel lines, from the drawing and the data sheet."""

from collections.abc import Iterator

from webapp.build.data_sheet import FigureName
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.plumbed import PlumbedCircuit
from webapp.sizing.answers import Answer, Missing, held, no_sum, not_checked
from webapp.sizing.coolant_heat import fuel_kg_h
from webapp.sizing.fuel_line import (
    DENSITY_KG_M3,
    FLOW_OVER_BURN,
    PUMP_KINDS,
    SUCTION,
    FuelReturn,
    FuelSuction,
    fuel_return,
    fuel_suction,
)
from webapp.sizing.of_air import NO_WAY
from webapp.sizing.pipe_loss import Stretch
from webapp.sizing.sheet import Sheet, missing
from webapp.sizing.way import Leg, is_behind, legs_of, narrowest_mm

PUMPS = ("lift_pump", "fuel_pump", "injection_pump", "pump_aux")
BURNERS = ("common_rail", "injection_pump", "petrol_rail", "carburettor")
"""Where the feed ends and the return begins."""


def fuel_checks(drawing: Drawing, sheet: Sheet, one: PlumbedCircuit) -> Iterator[Answer]:
    """What is checked of a circuit of fuel: suction to the first pump, and the return."""
    legs = legs_of(drawing, one.way)
    if not legs:
        yield no_sum("fuel_suction", one.circuit.key, NO_WAY)
        return
    sucked = [leg for leg in legs if not is_behind(leg, (*PUMPS, *BURNERS))]
    if sucked:
        yield _suction_check(sheet, one, sucked)
    back = [leg for leg in legs if is_behind(leg, BURNERS)]
    if back:
        feed = [leg for leg in legs if not is_behind(leg, BURNERS)]
        yield _return_check(sheet, _place(one, back), feed, back)


def _place(one: PlumbedCircuit, legs: list[Leg]) -> str:
    """The run where there is one, else the circuit."""
    return legs[0].run.key if len(legs) == 1 else one.circuit.key


def _suction_check(sheet: Sheet, one: PlumbedCircuit, legs: list[Leg]) -> Answer:
    at, stretches = _place(one, legs), _all(legs)
    fuel, said = sheet.fuel, sheet.word("fuel_pump")
    pump = next((kind for kind in PUMP_KINDS if kind == said), None)
    own = sheet.limit("fuel_suction", at)
    if isinstance(stretches, Missing):
        return not_checked("fuel_suction", at, stretches)
    flow = pump_flow_l_h(sheet)
    numbers = sheet.numbers("fuel_lift_m")
    gone: tuple[FigureName, ...] = (
        *(("fuel",) if fuel is None else ()),
        *(("fuel_pump",) if pump is None and own is None else ()),
        *(("pump_flow_l_h",) if flow is None else ()),
    )
    viscosity = sheet.number("fuel_mm2_s")
    if gone or fuel is None or flow is None or viscosity is None or isinstance(numbers, Missing):
        return not_checked("fuel_suction", at, missing(*gone))
    inputs = FuelSuction(
        flow_l_h=flow,
        stretches=stretches,
        fuel=fuel,
        lift_m=numbers["fuel_lift_m"],
        viscosity_mm2_s=viscosity,
        density_kg_m3=DENSITY_KG_M3[fuel],
    )
    answer = fuel_suction(at, inputs, held(own, SUCTION[pump or "mechanical"]))
    answer = answer.marked("drawn", "narrowest bore", "length")
    return sheet.told(answer, *_of_flow(sheet), "fuel_pump", "fuel_lift_m", "fuel_mm2_s")


def _of_flow(sheet: Sheet) -> tuple[FigureName, ...]:
    """What the pump's flow was worked out from."""
    if sheet.number("pump_flow_l_h") is not None:
        return ("pump_flow_l_h",)
    return ("fuel", "power_kw", "fuel_g_kwh")


def pump_flow_l_h(sheet: Sheet) -> float | None:
    """The pump's flow as typed, else twice what the engine burns at full power."""
    said, power, fuel = sheet.number("pump_flow_l_h"), sheet.number("power_kw"), sheet.fuel
    if said is not None or power is None or fuel is None:
        return said
    burn = sheet.number("fuel_g_kwh")
    if burn is None:
        return None
    return FLOW_OVER_BURN * fuel_kg_h(power, burn) / DENSITY_KG_M3[fuel] * 1000


def _return_check(sheet: Sheet, at: str, feed: list[Leg], back: list[Leg]) -> Answer:
    stretches = _all(back)
    if isinstance(stretches, Missing):
        return not_checked("fuel_return", at, stretches)
    known = [leg.stretches for leg in feed]
    bores = [
        bore
        for each in known
        if not isinstance(each, Missing) and (bore := narrowest_mm(each)) is not None
    ]
    back_mm = narrowest_mm(stretches)
    if not bores or back_mm is None:
        return not_checked("fuel_return", at, Missing(names=("bore of the feed",)))
    inputs = FuelReturn(feed_bore_mm=min(bores), return_bore_mm=back_mm)
    answer = fuel_return(at, inputs, sheet.limit("fuel_return", at))
    return answer.marked("drawn", "narrowest bore of the feed")


def _all(legs: list[Leg]) -> tuple[Stretch, ...] | Missing:
    found = list[Stretch]()
    for leg in legs:
        stretches = leg.stretches
        if isinstance(stretches, Missing):
            return stretches
        found += stretches
    return tuple(found)
