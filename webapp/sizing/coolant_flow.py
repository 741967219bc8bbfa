"""Coolant: how much has to go round for the heat, and how fast it goes in a hose."""

from dataclasses import dataclass

from webapp.sizing.answers import Answer, Figure, Limit, Outside, Range, first_outside, held, most
from webapp.sizing.coolant_properties import Coolant, coolant_at
from webapp.sizing.liquid_flow import LiquidFlow, lost_kpa, speed_m_s
from webapp.sizing.pipe_loss import Stretch

PRESSURE_SIDE = Limit(ok=2.5, tight=3.5)
SUCTION_SIDE = Limit(ok=2.0, tight=2.5)
"""m/s. A pump that sucks through a thin hose boils what is in it."""
LITRES_MIN = 60_000.0
"""In a m³/s."""
USUAL = "Usual in engines' own outlets."
SUCKED_FLAT = "Between the radiator's foot and the pump take a shaped hose, or one with a spring."


@dataclass(frozen=True, slots=True, kw_only=True)
class CoolantHeat:
    """Heat to carry, by how much the coolant may warm up on the way, and what it is."""

    heat_kw: float
    rise_k: float
    coolant: Coolant
    coolant_c: float = 90.0


def coolant_flow(inputs: CoolantHeat) -> LiquidFlow | Outside:
    """The flow that carries so much heat: heat / (density x heat capacity x rise).

    A balance of energy; common practice for the rise is 5 to 10 K across the engine.
    """
    outside = first_outside(
        Range(name="heat into the coolant", value=inputs.heat_kw, least=0.5, most=1000, unit="kW"),
        Range(name="rise across the engine", value=inputs.rise_k, least=3, most=20, unit="K"),
    )
    state = outside or coolant_at(inputs.coolant, inputs.coolant_c)
    if isinstance(state, Outside):
        return state
    kg_s = inputs.heat_kw * 1000 / (state.heat_j_kg_k * inputs.rise_k)
    return LiquidFlow(
        m3_s=kg_s / state.density_kg_m3,
        density_kg_m3=state.density_kg_m3,
        viscosity_m2_s=state.viscosity_pa_s / state.density_kg_m3,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class CoolantHose:
    """A hose on the main way of the coolant; `is_suction` between the radiator and the pump."""

    flow: LiquidFlow
    stretches: tuple[Stretch, ...]
    is_suction: bool = False


def coolant_speed(at: str, inputs: CoolantHose, limit: Limit | None = None) -> Answer:
    """How fast the coolant goes where the hose is narrowest, in m/s, flow over area; beside it
    what the hose takes from the pump's pressure, where that can be said."""
    against = held(limit, SUCTION_SIDE if inputs.is_suction else PRESSURE_SIDE)
    bore_mm = min(stretch.bore_mm for stretch in inputs.stretches)
    speed = speed_m_s(inputs.flow, bore_mm)
    lost = lost_kpa(inputs.flow, inputs.stretches)
    word = most(speed, against)
    remarks = [USUAL] if word == "tight" and not inputs.is_suction and limit is None else []
    if inputs.is_suction:
        remarks.append(SUCKED_FLAT)
    return Answer(
        check="coolant_speed",
        at=at,
        word=word,
        value=speed,
        unit="m/s",
        limit=against,
        used=(
            Figure(name="coolant flow", value=inputs.flow.m3_s * LITRES_MIN, unit="l/min"),
            Figure(name="narrowest bore", value=bore_mm, unit="mm"),
            Figure(name="side", value="suction" if inputs.is_suction else "pressure"),
        ),
        also=()
        if isinstance(lost, Outside)
        else (Figure(name="pressure lost", value=lost, unit="kPa"),),
        remarks=tuple(remarks),
    )
