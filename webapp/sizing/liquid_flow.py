"""Liquid through a pipe: how fast it goes, and what it loses."""

from dataclasses import dataclass

from webapp.sizing.answers import Outside, Range, first_outside
from webapp.sizing.pipe_loss import (
    SMOOTH_MM,
    Stretch,
    area_m2,
    bend_loss,
    friction_factor,
    may_be_either,
    step_losses,
)

GRAVITY_M_S2 = 9.80665


@dataclass(frozen=True, slots=True, kw_only=True)
class LiquidFlow:
    """So much of a liquid; `viscosity_m2_s` is kinematic (1 mm²/s is 1e-6)."""

    m3_s: float
    density_kg_m3: float
    viscosity_m2_s: float


def speed_m_s(flow: LiquidFlow, bore_mm: float) -> float:
    """How fast it goes, flow over area."""
    return flow.m3_s / area_m2(bore_mm)


def reynolds_of(flow: LiquidFlow, bore_mm: float) -> float:
    """Speed x bore over viscosity: below 2300 flow is laminar, above 5000 turbulent."""
    return speed_m_s(flow, bore_mm) * bore_mm / 1000 / flow.viscosity_m2_s


def is_between(flow: LiquidFlow, stretches: tuple[Stretch, ...]) -> bool:
    """Whether the flow is somewhere between laminar and turbulent."""
    return any(may_be_either(reynolds_of(flow, stretch.bore_mm)) for stretch in stretches)


def lost_kpa(
    flow: LiquidFlow, stretches: tuple[Stretch, ...], roughness_mm: float = SMOOTH_MM
) -> float | Outside:
    """Pressure lost along a way in kPa: (f L / D + K) density x speed² / 2 of each stretch.

    Darcy and Weisbach, White, Fluid Mechanics, chapter 6, cited. Below a Reynolds number of 2300
    with f = 64 / Re that is 128 viscosity L V / (pi D^4) of Hagen and Poiseuille.
    """
    outside = first_outside(
        Range(name="flow", value=flow.m3_s, least=1e-9, most=1, unit="m³/s"),
        Range(name="density", value=flow.density_kg_m3, least=600, most=1300, unit="kg/m³"),
        Range(name="viscosity", value=flow.viscosity_m2_s, least=1e-7, most=1e-3, unit="m²/s"),
    )
    if outside is not None:
        return outside
    total = 0.0
    for stretch, steps in zip(stretches, step_losses(stretches), strict=True):
        speed = speed_m_s(flow, stretch.bore_mm)
        reynolds = reynolds_of(flow, stretch.bore_mm)
        factor = friction_factor(reynolds, roughness_mm / stretch.bore_mm)
        if isinstance(factor, Outside):
            return factor
        losses = factor * stretch.length_mm / stretch.bore_mm + steps
        if stretch.turn_deg:
            losses += bend_loss(stretch.bore_mm, stretch.turn_deg)
        total += losses * flow.density_kg_m3 * speed**2 / 2
    return total / 1000


def lift_kpa(density_kg_m3: float, height_m: float) -> float:
    """What it takes to lift a liquid, density x g x height."""
    return density_kg_m3 * GRAVITY_M_S2 * height_m / 1000
