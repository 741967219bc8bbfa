"""Exhaust: what its pipes take from the pressure behind the turbine, or behind the manifold."""

from dataclasses import dataclass

from webapp.sizing.answers import (
    Answer,
    Figure,
    Limit,
    Outside,
    Range,
    first_outside,
    most,
    not_checked,
)
from webapp.sizing.coolant_heat import Fuel
from webapp.sizing.gas_flow import GasFlow, TooFast, lost_kpa, speed_m_s
from webapp.sizing.pipe_loss import STEEL_MM, Stretch
from webapp.sizing.state_of_air import air_kpa

BACK_PRESSURE = Limit(ok=6.0, tight=10.0)
"""kPa. The engine maker's figure goes before it."""
FUEL_ON_AIR: dict[Fuel, float] = {"diesel": 1 / 25, "petrol": 1 / 14.7}
"""Mass of fuel on mass of air at full load."""
GAS_C: dict[Fuel, float] = {"diesel": 550.0, "petrol": 750.0}
"""What is reckoned with where nobody says: common practice."""
WITHOUT_SILENCERS = (
    "Silencers, catalyst and filter take more than the pipe: their makers' figures are not in "
    "this number."
)
KEEP_AWAY = (
    "Distance to fuel, brake lines, hoses and loom is a check to sign, not a sum: 100 mm without a "
    "shield, 150 mm beside turbo and downpipe to anything with fuel or brake fluid in it; 50 mm "
    "only behind a shield with air on both sides."
)
TOO_FAST = "So fast that the formula holds no more: no number is given."
_ROUNDS = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class ExhaustWay:
    """The engine's air, the fuel it burns with, the gas's temperature, and the pipes of the way.

    `fitted_kpa` is what silencers and filters take by their makers; None where nobody said."""

    air_kg_s: float
    stretches: tuple[Stretch, ...]
    fuel: Fuel = "diesel"
    gas_c: float = 550.0
    fitted_kpa: float | None = None
    height_m: float = 0.0


def gas_kg_s(air_kg_s: float, fuel: Fuel) -> float:
    """Burnt gas: the air and the fuel in it, air (1 + F/A)."""
    return air_kg_s * (1 + FUEL_ON_AIR[fuel])


def pipes_kpa(inputs: ExhaustWay) -> float | Outside | TooFast:
    """What the pipes take in kPa, so that the gas leaves at the pressure of the air.

    As for charge pipes (`gas_flow`), with the gas constant of air, and new steel.
    """
    outside = first_outside(
        Range(name="exhaust gas", value=inputs.gas_c, least=100, most=1050, unit="°C"),
        Range(name="silencers' loss", value=inputs.fitted_kpa or 0.0, least=0, most=60, unit="kPa"),
    )
    if outside is not None:
        return outside
    behind, lost = air_kpa(inputs.height_m) + (inputs.fitted_kpa or 0.0), 0.0
    for _ in range(_ROUNDS):
        found = lost_kpa(_gas(inputs, behind + lost), inputs.stretches, STEEL_MM)
        if not isinstance(found, float):
            return found
        if abs(found - lost) < 1e-6:
            break
        lost = found
    return lost


def exhaust_loss(at: str, inputs: ExhaustWay, limit: Limit = BACK_PRESSURE) -> Answer:
    """Back pressure in kPa: the pipes, and what was said of silencers and filters."""
    lost = pipes_kpa(inputs)
    if isinstance(lost, Outside):
        return not_checked("exhaust_loss", at, lost)
    used = _used(inputs)
    remarks = (*((WITHOUT_SILENCERS,) if inputs.fitted_kpa is None else ()), KEEP_AWAY)
    if isinstance(lost, TooFast):
        return Answer(
            check="exhaust_loss",
            at=at,
            word="too small",
            limit=limit,
            used=used,
            remarks=(TOO_FAST, *remarks),
        )
    total = lost + (inputs.fitted_kpa or 0.0)
    narrowest = min(stretch.bore_mm for stretch in inputs.stretches)
    behind = _gas(inputs, air_kpa(inputs.height_m) + total)
    return Answer(
        check="exhaust_loss",
        at=at,
        word=most(total, limit),
        value=total,
        unit="kPa",
        limit=limit,
        used=used,
        also=(
            Figure(name="pipes alone", value=lost, unit="kPa"),
            Figure(name="speed at the beginning", value=speed_m_s(behind, narrowest), unit="m/s"),
        ),
        remarks=remarks,
    )


def _gas(inputs: ExhaustWay, kpa: float) -> GasFlow:
    return GasFlow(kg_s=gas_kg_s(inputs.air_kg_s, inputs.fuel), kpa=kpa, celsius=inputs.gas_c)


def _used(inputs: ExhaustWay) -> tuple[Figure, ...]:
    fitted = inputs.fitted_kpa
    return (
        Figure(name="burnt gas", value=gas_kg_s(inputs.air_kg_s, inputs.fuel), unit="kg/s"),
        Figure(name="exhaust gas", value=inputs.gas_c, unit="°C"),
        Figure(
            name="length",
            value=sum(stretch.length_mm for stretch in inputs.stretches) / 1000,
            unit="m",
        ),
        Figure(
            name="bends together",
            value=sum(stretch.turn_deg for stretch in inputs.stretches),
            unit="°",
        ),
        *(() if fitted is None else (Figure(name="silencers' loss", value=fitted, unit="kPa"),)),
    )
