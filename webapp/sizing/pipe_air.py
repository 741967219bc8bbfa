"""Charge and intake pipes: how fast the air goes in them, and what they take from its pressure."""

from dataclasses import dataclass
from typing import Literal

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
from webapp.sizing.gas_flow import (
    MOST_MACH,
    GasFlow,
    TooFast,
    flow_outside,
    lost_kpa,
    mach,
    speed_m_s,
)
from webapp.sizing.pipe_loss import Stretch, goes_down_and_up
from webapp.sizing.state_of_air import KPA_IN_A_BAR

PIPE_SPEED = Limit(
    ok=61.0,
    tight=91.0,
    origin="published",
    source="a turbo maker's published note, 200 to 300 ft/s",
)
CHARGE_LOSS = Limit(ok=8.0, tight=10.0)
"""Of the whole charge circuit with its cooler, in kPa."""
INTAKE_LOSS = Limit(
    ok=3.7,
    tight=6.2,
    origin="published",
    source="TM 5-3820-256-24-5 (25 in of water, dirty) and a maker's workshop page (15 in, clean)",
)
"""From the open air to the compressor with a clean filter, in kPa."""
LARGER_THAN_NEEDED_M_S = 15.0
LARGER = "Larger than needed: slower to fill and harder to fit."
DOWN_AND_UP = "The bore goes down and up again on the way."
TOO_FAST = "So fast that the formula holds no more: no number is given."

SpeedCheck = Literal["charge_speed", "intake_speed"]
LossCheck = Literal["charge_loss", "intake_loss"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PipeSpeed:
    """Air through the narrowest bore of a run; pressure absolute."""

    kg_s: float
    kpa: float
    celsius: float
    bore_mm: float

    @property
    def flow(self) -> GasFlow:
        """The air that goes through."""
        return GasFlow(kg_s=self.kg_s, kpa=self.kpa, celsius=self.celsius)


def pipe_speed(check: SpeedCheck, at: str, inputs: PipeSpeed, limit: Limit = PIPE_SPEED) -> Answer:
    """How fast the air goes in m/s: flow / (density x area). Valid below Mach 0.3."""
    outside = flow_outside(inputs.flow) or first_outside(_bore(inputs.bore_mm))
    if outside is not None:
        return not_checked(check, at, outside)
    speed, of_sound = (one(inputs.flow, inputs.bore_mm) for one in (speed_m_s, mach))
    used = (*_air(inputs.flow), Figure(name="narrowest bore", value=inputs.bore_mm, unit="mm"))
    if of_sound > MOST_MACH:
        return Answer(
            check=check, at=at, word="too small", limit=limit, used=used, remarks=(TOO_FAST,)
        )
    is_large = check == "charge_speed" and speed < LARGER_THAN_NEEDED_M_S
    return Answer(
        check=check,
        at=at,
        word=most(speed, limit),
        value=speed,
        unit="m/s",
        limit=limit,
        used=used,
        also=(Figure(name="Mach number", value=of_sound),),
        remarks=(LARGER,) if is_large else (),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class PipeLeg:
    """A run on the way of the air, with the air as it comes into it; pressure absolute."""

    kg_s: float
    kpa: float
    celsius: float
    stretches: tuple[Stretch, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WayLoss:
    """All runs on the way, and what makers say that a cooler or a filter takes on top."""

    legs: tuple[PipeLeg, ...]
    fitted_kpa: float
    fitted_name: str = "intercooler's loss"


def way_loss(check: LossCheck, at: str, inputs: WayLoss, limit: Limit = CHARGE_LOSS) -> Answer:
    """What the pipes and what is fitted between them take together, in kPa; see `lost_kpa`."""
    total, used = inputs.fitted_kpa, _way(inputs)
    for leg in inputs.legs:
        lost = lost_kpa(GasFlow(kg_s=leg.kg_s, kpa=leg.kpa, celsius=leg.celsius), leg.stretches)
        if isinstance(lost, Outside):
            return not_checked(check, at, lost, used)
        if isinstance(lost, TooFast):
            return Answer(
                check=check, at=at, word="too small", limit=limit, used=used, remarks=(TOO_FAST,)
            )
        total += lost
    narrowing = any(goes_down_and_up(leg.stretches) for leg in inputs.legs)
    return Answer(
        check=check,
        at=at,
        word=most(total, limit),
        value=total,
        unit="kPa",
        limit=limit,
        used=used,
        also=(Figure(name="pipes alone", value=total - inputs.fitted_kpa, unit="kPa"),),
        remarks=(DOWN_AND_UP,) if narrowing else (),
    )


def _bore(bore_mm: float) -> Range:
    return Range(name="bore", value=bore_mm, least=1, most=500, unit="mm")


def _air(flow: GasFlow) -> tuple[Figure, ...]:
    return (
        Figure(name="air", value=flow.kg_s, unit="kg/s"),
        Figure(name="temperature", value=flow.celsius, unit="°C"),
        Figure(name="absolute pressure", value=flow.kpa / KPA_IN_A_BAR, unit="bar"),
    )


def _way(inputs: WayLoss) -> tuple[Figure, ...]:
    stretches = [stretch for leg in inputs.legs for stretch in leg.stretches]
    turned = sum(stretch.turn_deg for stretch in stretches)
    return (
        Figure(name="air", value=inputs.legs[0].kg_s if inputs.legs else 0.0, unit="kg/s"),
        Figure(
            name="length", value=sum(stretch.length_mm for stretch in stretches) / 1000, unit="m"
        ),
        Figure(name="bends together", value=turned, unit="°"),
        Figure(name=inputs.fitted_name, value=inputs.fitted_kpa, unit="kPa"),
    )
