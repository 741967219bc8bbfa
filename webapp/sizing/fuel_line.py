"""Fuel: what the line takes from the pump on its suction side, and whether the return is wide
enough. Injection lines and rails are as their maker made them: nothing of them is worked out."""

from dataclasses import dataclass
from typing import Literal

from webapp.sizing.answers import (
    Answer,
    Figure,
    Limit,
    Outside,
    Range,
    first_outside,
    held,
    least,
    most,
    not_checked,
)
from webapp.sizing.coolant_heat import Fuel
from webapp.sizing.liquid_flow import LiquidFlow, is_between, lift_kpa, lost_kpa
from webapp.sizing.pipe_loss import Stretch

PumpKind = Literal["mechanical", "electric"]
PUMP_KINDS: tuple[PumpKind, ...] = ("mechanical", "electric")
SUCTION: dict[PumpKind, Limit] = {
    "mechanical": Limit(ok=10.0, tight=20.0),
    "electric": Limit(ok=2.0, tight=3.0),
}
"""kPa: a lift pump sucks, an electric one away from the tank hardly does. The pump maker's own
figure goes before both."""
FLOW_OVER_BURN = 2.0
"""The line carries the pump's flow, burn and return: twice the burn where nobody says."""
DENSITY_KG_M3: dict[Fuel, float] = {"diesel": 835.0, "petrol": 745.0}
"""EN 590 and EN 228, middle of the range, cited."""
COLD_VISCOSITY_MM2_S: dict[Fuel, float] = {"diesel": 8.0, "petrol": 0.7}
"""At a cold start; EN 590 has 2 to 4.5 at 40 °C. Common practice."""
BORE_STEPS_MM = (6.0, 8.0, 10.0, 12.0)
KIND_OF_HOSE = (
    "The kind of hose is the usual fault, not its size: it says what fuel and pressure it is for. "
    "On injection pressure no worm clamps: crimped, a quick end, or the fuel clamp without slots."
)
NO_LIFT = "Petrol: pump low and cool, hose away from the exhaust; an injection pump lifts nothing."
RETURN_HEAT = (
    "A common rail's return runs at 60 to 100 °C: hose and tank are rated for it, a small tank "
    "wants a cooler in the return. No valve in it."
)
EITHER = (
    "The flow is between laminar and turbulent, and nobody can say which: reckoned as turbulent,"
    " which loses more. It may be half of that."
)
_LITRES_HOUR = 3_600_000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class FuelSuction:
    """Fuel from the tank to the first pump: the pump's flow, the way, and how high it is lifted."""

    flow_l_h: float
    stretches: tuple[Stretch, ...]
    fuel: Fuel = "diesel"
    lift_m: float = 0.0
    viscosity_mm2_s: float = 8.0
    density_kg_m3: float = 835.0

    @property
    def flow(self) -> LiquidFlow:
        """The fuel that goes through."""
        return LiquidFlow(
            m3_s=self.flow_l_h / _LITRES_HOUR,
            density_kg_m3=self.density_kg_m3,
            viscosity_m2_s=self.viscosity_mm2_s * 1e-6,
        )


def suction_kpa(inputs: FuelSuction) -> float | Outside:
    """What line and lift take together, in kPa: see `liquid_flow`; a filter comes on top."""
    outside = first_outside(
        Range(name="pump's flow", value=inputs.flow_l_h, least=0.5, most=2000, unit="l/h"),
        Range(name="lift of the fuel", value=inputs.lift_m, least=-3, most=3, unit="m"),
        Range(name="viscosity", value=inputs.viscosity_mm2_s, least=0.3, most=50, unit="mm²/s"),
    )
    if outside is not None:
        return outside
    lost = lost_kpa(inputs.flow, inputs.stretches)
    if isinstance(lost, Outside):
        return lost
    return lost + lift_kpa(inputs.density_kg_m3, inputs.lift_m)


def fuel_suction(at: str, inputs: FuelSuction, limit: Limit = SUCTION["mechanical"]) -> Answer:
    """Whether the pump still sucks what the line takes from it."""
    suction = suction_kpa(inputs)
    if isinstance(suction, Outside):
        return not_checked("fuel_suction", at, suction)
    length_m = sum(stretch.length_mm for stretch in inputs.stretches) / 1000
    return Answer(
        check="fuel_suction",
        at=at,
        word=most(suction, limit),
        value=suction,
        unit="kPa",
        limit=limit,
        used=(
            Figure(name="fuel pump's flow", value=inputs.flow_l_h, unit="l/h"),
            Figure(
                name="narrowest bore",
                value=min(stretch.bore_mm for stretch in inputs.stretches),
                unit="mm",
            ),
            Figure(name="length", value=length_m, unit="m"),
            Figure(name="lift of the fuel", value=inputs.lift_m, unit="m"),
            Figure(name="fuel's viscosity, cold", value=inputs.viscosity_mm2_s, unit="mm²/s"),
        ),
        remarks=(
            KIND_OF_HOSE,
            *((NO_LIFT,) if inputs.fuel == "petrol" else ()),
            *((EITHER,) if is_between(inputs.flow, inputs.stretches) else ()),
        ),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class FuelReturn:
    """The narrowest bores of the feed and of the return."""

    feed_bore_mm: float
    return_bore_mm: float


def fuel_return(at: str, inputs: FuelReturn, limit: Limit | None = None) -> Answer:
    """Whether the return is as wide as the feed (ok), or one step narrower (tight): common
    practice."""
    narrower = [step for step in BORE_STEPS_MM if step < inputs.feed_bore_mm]
    one_step = narrower[-1] if narrower else inputs.feed_bore_mm
    against = held(limit, Limit(ok=inputs.feed_bore_mm, tight=one_step, at_least=True))
    bore_mm = inputs.return_bore_mm
    return Answer(
        check="fuel_return",
        at=at,
        word=least(bore_mm, against),
        value=bore_mm,
        unit="mm",
        limit=against,
        used=(Figure(name="narrowest bore of the feed", value=inputs.feed_bore_mm, unit="mm"),),
        remarks=(RETURN_HEAT,),
    )
