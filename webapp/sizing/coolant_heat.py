"""Heat that goes into the coolant, and whether the radiator is one that got rid of so much."""

from dataclasses import dataclass
from typing import Literal

from webapp.sizing.answers import Answer, Figure, Outside, Range, first_outside

Fuel = Literal["diesel", "petrol"]
FUELS: tuple[Fuel, ...] = ("diesel", "petrol")
HEAT_MJ_KG: dict[Fuel, float] = {"diesel": 42.7, "petrol": 43.5}
"""Lower heating values, common practice."""
COOLANT_SHARE: dict[Fuel, tuple[float, float]] = {"diesel": (0.16, 0.35), "petrol": (0.17, 0.26)}
"""From where to where the share of the fuel's heat lies that the coolant takes at full power:
Heywood, table 12.1, cited from memory."""
Compared = Literal["same or more", "less"]
COMPARED: tuple[Compared, ...] = ("same or more", "less")
NOBODY_CAN_TELL = "Nobody can tell from size alone."
NEVER_SHUT = (
    "With the thermostat shut a loop must still be open (bypass or heater), else the head boils"
    " while the radiator is cold; the heater core is not the only bypass. The heater is fed from"
    " the head, before the thermostat, and goes back to the pump's suction."
)
AIR_IN_FRONT = "A condenser and an intercooler in front heat its air by 10 to 20 K."


@dataclass(frozen=True, slots=True, kw_only=True)
class FuelHeat:
    """An engine at full power: its shaft power, the fuel for it, and the coolant's share (0 to
    1)."""

    power_kw: float
    fuel_g_kwh: float
    fuel: Fuel = "diesel"
    coolant_share: float = 0.25


def fuel_kg_h(power_kw: float, fuel_g_kwh: float) -> float:
    """Fuel burnt in kg/h, power x specific consumption."""
    return power_kw * fuel_g_kwh / 1000


def fuel_kw(engine: FuelHeat) -> float | Outside:
    """Heat in the fuel in kW, power x specific consumption x lower heating value."""
    outside = first_outside(
        Range(name="power", value=engine.power_kw, least=0.5, most=2000, unit="kW"),
        Range(name="fuel for power", value=engine.fuel_g_kwh, least=180, most=500, unit="g/kWh"),
    )
    if outside is not None:
        return outside
    return fuel_kg_h(engine.power_kw, engine.fuel_g_kwh) * HEAT_MJ_KG[engine.fuel] * 1000 / 3600


def coolant_kw(engine: FuelHeat) -> float | Outside:
    """Heat into the coolant in kW: a share of that in the fuel, which lies where Heywood has it."""
    low, high = COOLANT_SHARE[engine.fuel]
    outside = first_outside(
        Range(name="share into the coolant", value=engine.coolant_share, least=low, most=high)
    )
    burnt = outside or fuel_kw(engine)
    return burnt if isinstance(burnt, Outside) else burnt * engine.coolant_share


@dataclass(frozen=True, slots=True, kw_only=True)
class RadiatorCompared:
    """A radiator beside that which the engine had: its core (face and rows), and its air (fan,
    shroud, grille, nothing new in front)."""

    core: Compared
    air: Compared


def radiator(at: str, inputs: RadiatorCompared, heat_kw: float | None = None) -> Answer:
    """Whether the core and its air are those that the engine was cooled by, or more: common
    practice. It is never worked out from size."""
    is_less = "less" in (inputs.core, inputs.air)
    remarks = (NOBODY_CAN_TELL,) if is_less else ()
    return Answer(
        check="radiator",
        at=at,
        word="tight" if is_less else "ok",
        used=(
            Figure(name="core beside the donor's", value=inputs.core),
            Figure(name="air beside the donor's", value=inputs.air),
        ),
        also=()
        if heat_kw is None
        else (Figure(name="heat into the coolant", value=heat_kw, unit="kW"),),
        remarks=(*remarks, *((AIR_IN_FRONT,) if inputs.air == "less" else ()), NEVER_SHUT),
    )
