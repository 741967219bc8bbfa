"""Density, heat capacity and toughness of coolant: water, or glycol mixed with it by volume.

Surfaces laid through CoolProp's values (INCOMP::AEG and INCOMP::APG, fits of the ASHRAE tables,
MIT; water after IAPWS-95): within 0.05 % for density and heat capacity, 0.2 % for toughness. They
hold from 0 to 100 °C and for 20 to 60 % of glycol, or none of it.
"""

import math
from dataclasses import dataclass

from webapp.sizing.answers import Outside, Range, first_outside

LEAST_C, MOST_C = 0.0, 100.0

_Surface = tuple[tuple[float, ...], ...]
"""Coefficients by powers of (°C - 50) / 50, then of (share - 0.4) / 0.2."""
_DENSITY: dict[str, _Surface] = {
    "ethylene": (
        (1045.379, 26.40205, -1.754949),
        (-27.53213, -3.025976, -0.09349615),
        (-6.080512, -0.003586703, 0.007907524),
    ),
    "propylene": (
        (1019.073, 11.63785, -2.413172),
        (-32.49426, -4.933148, 0.4060289),
        (-6.431255, -0.031917, 0.1198373),
    ),
    "water": ((988.2102,), (-22.56874,), (-8.902668,), (1.667897,)),
}
_HEAT: dict[str, _Surface] = {
    "ethylene": (
        (3568.486, -334.5002, -19.51276),
        (167.7267, 51.44137, -1.131265),
        (-0.00302608, 0.1381856, 0.005837019),
    ),
    "propylene": (
        (3800.632, -283.3354, -46.19506),
        (165.1799, 55.57542, -0.2062885),
        (0.04551518, 0.04305238, -0.08398357),
    ),
    "water": ((4180.748,), (17.16514,), (21.0717,), (-18.02782,), (13.73327,)),
}
_LOG_VISCOSITY: dict[str, _Surface] = {
    "ethylene": (
        (-6.563163, 0.5111097, -0.09503288, -0.1416563, 0.07274359, 0.08091475),
        (-0.987962, -0.1340943, -0.0532187, -0.04996881, -0.02121186),
        (0.2790642, 0.0448045, 0.008501666, -0.0049542),
        (-0.1722188, -0.01869924, 0.04986732),
    ),
    "propylene": (
        (-6.382709, 0.5792255, -0.05349609, -0.01401378, 0.04756995, 0.01712281),
        (-1.319047, -0.2103836, 0.09851842, -0.0930173, -0.08989928),
        (0.5051021, 0.1249769, -0.04409574, -0.01314457),
        (-0.1510653, -0.02233816, 0.01615062),
    ),
    "water": (
        *((-7.511768,), (-0.8385563,), (0.2251263,), (-0.0737552,)),
        *((0.03568656,), (-0.01147644,)),
    ),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Coolant:
    """Water with so much glycol in it by volume, 0 to 1; `antifreeze` ethylene or propylene."""

    share: float
    antifreeze: str = "ethylene"


@dataclass(frozen=True, slots=True, kw_only=True)
class CoolantState:
    """What coolant is like at one temperature."""

    density_kg_m3: float
    heat_j_kg_k: float
    viscosity_pa_s: float


def coolant_at(coolant: Coolant, celsius: float) -> CoolantState | Outside:
    """What coolant is like at a temperature."""
    ranges = [Range(name="temperature", value=celsius, least=LEAST_C, most=MOST_C, unit="°C")]
    if coolant.share:
        share = 100 * coolant.share
        ranges.append(Range(name="share of antifreeze", value=share, least=20, most=60, unit="%"))
    outside = first_outside(*ranges)
    if outside is not None:
        return outside
    kind = coolant.antifreeze if coolant.share else "water"
    warm, strong = (celsius - 50) / 50, (coolant.share - 0.4) / 0.2
    density, heat, log_viscosity = (
        sum(
            number * warm**by_warmth * strong**by_strength
            for by_warmth, row in enumerate(surface[kind])
            for by_strength, number in enumerate(row)
        )
        for surface in (_DENSITY, _HEAT, _LOG_VISCOSITY)
    )
    return CoolantState(
        density_kg_m3=density, heat_j_kg_k=heat, viscosity_pa_s=math.exp(log_viscosity)
    )
