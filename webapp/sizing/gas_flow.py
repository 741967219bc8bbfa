"""Gas through a pipe: how fast it goes, and what it loses, by the isothermal form.

The plain sum of Darcy and Weisbach falls short by a twentieth where a fortieth of the pressure is
lost, by a quarter where a tenth is: gas grows as it loses pressure.
"""

import math
from dataclasses import dataclass, replace

from webapp.sizing.answers import Outside, Range, first_outside
from webapp.sizing.pipe_loss import (
    SMOOTH_MM,
    Stretch,
    area_m2,
    bend_loss,
    friction_factor,
    step_losses,
)
from webapp.sizing.state_of_air import (
    GAS_J_KG_K,
    density_kg_m3,
    kelvin,
    sound_m_s,
    viscosity_pa_s,
)

MOST_MACH = 0.3
MOST_LOST = 0.10
"""Share of the absolute pressure. Beyond either no number is given: it is too small."""
_STEPS = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class GasFlow:
    """So much air or burnt gas at the beginning of a way; pressure absolute."""

    kg_s: float
    kpa: float
    celsius: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TooFast:
    """The pipe is so small that the formula holds no more."""

    bore_mm: float


def speed_m_s(flow: GasFlow, bore_mm: float) -> float:
    """How fast it goes, mass flow / (density x area)."""
    return flow.kg_s / (density_kg_m3(flow.kpa, flow.celsius) * area_m2(bore_mm))


def mach(flow: GasFlow, bore_mm: float) -> float:
    """Its speed over that of sound."""
    return speed_m_s(flow, bore_mm) / sound_m_s(flow.celsius)


def flow_outside(flow: GasFlow) -> Outside | None:
    """What of a flow lies outside of what these formulas hold for."""
    return first_outside(
        Range(name="flow of gas", value=flow.kg_s, least=1e-5, most=10, unit="kg/s"),
        Range(name="absolute pressure", value=flow.kpa, least=30, most=1000, unit="kPa"),
        Range(name="temperature", value=flow.celsius, least=-50, most=1100, unit="°C"),
    )


def lost_kpa(
    flow: GasFlow, stretches: tuple[Stretch, ...], roughness_mm: float = SMOOTH_MM
) -> float | Outside | TooFast:
    """Pressure lost along a way in kPa, stretch by stretch.

    p1² - p2² = G² R T (f L / D + K + 2 ln(p1 / p2)), G the flow over the area: isothermal flow in
    a pipe of one bore (White, Fluid Mechanics, chapter 9, cited), solved by fixed-point steps.
    Valid to Mach 0.3 and a tenth of the pressure lost.
    """
    outside = flow_outside(flow)
    if outside is not None:
        return outside
    here = flow
    for stretch, steps in zip(stretches, step_losses(stretches), strict=True):
        left = _kpa_behind(here, stretch, steps, roughness_mm)
        if not isinstance(left, float):
            return left
        if left < flow.kpa * (1 - MOST_LOST):
            return TooFast(bore_mm=stretch.bore_mm)
        here = replace(here, kpa=left)
    return flow.kpa - here.kpa


def _kpa_behind(
    flow: GasFlow, stretch: Stretch, steps: float, roughness_mm: float
) -> float | Outside | TooFast:
    if mach(flow, stretch.bore_mm) > MOST_MACH:
        return TooFast(bore_mm=stretch.bore_mm)
    bore_m, flux = stretch.bore_mm / 1000, flow.kg_s / area_m2(stretch.bore_mm)
    factor = friction_factor(
        flux * bore_m / viscosity_pa_s(flow.celsius), roughness_mm / stretch.bore_mm
    )
    if isinstance(factor, Outside):
        return factor
    losses = factor * stretch.length_mm / stretch.bore_mm + steps
    if stretch.turn_deg:
        losses += bend_loss(stretch.bore_mm, stretch.turn_deg)
    behind = _isothermal_kpa(flow, flux, losses)
    return TooFast(bore_mm=stretch.bore_mm) if behind is None else behind


def _isothermal_kpa(flow: GasFlow, flux_kg_s_m2: float, losses: float) -> float | None:
    before = flow.kpa * 1000
    push = flux_kg_s_m2**2 * GAS_J_KG_K * kelvin(flow.celsius)
    behind = before
    for _ in range(_STEPS):
        square = before**2 - push * (losses + 2 * math.log(before / behind))
        if square < (before * (1 - 2 * MOST_LOST)) ** 2:
            return None
        last, behind = behind, math.sqrt(square)
        if abs(last - behind) < 1e-13 * before:
            break
    return behind / 1000
