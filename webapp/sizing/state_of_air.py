"""Air as a gas: its density, toughness, speed of sound, and its pressure by height.

Gauge and absolute pressure meet here and nowhere else.
"""

import math

from webapp.sizing.answers import Range

GAS_J_KG_K = 287.05
"""Specific gas constant of dry air."""
HEAT_RATIO = 1.4
KELVIN = 273.15
SEA_LEVEL_KPA = 101.325
KPA_IN_A_BAR = 100.0


def kelvin(celsius: float) -> float:
    """An absolute temperature in K."""
    return celsius + KELVIN


def air_kpa(height_m: float) -> float:
    """Pressure of the air in kPa, absolute, at a height above sea.

    101.325 (1 - 0.0065 h / 288.15)^5.25588, troposphere of the International Standard Atmosphere
    (ISO 2533, US Standard Atmosphere 1976).
    """
    return SEA_LEVEL_KPA * float((1 - 0.0065 * height_m / 288.15) ** 5.25588)


def height_range(height_m: float) -> Range:
    """From the lowest roads to the highest; the formula of `air_kpa` holds to 11000 m."""
    return Range(name="height above sea", value=height_m, least=-500.0, most=6000.0, unit="m")


def absolute_kpa(gauge_bar: float, height_m: float = 0.0) -> float:
    """A gauge pressure in bar as an absolute one in kPa: the air's own pressure goes on top."""
    return air_kpa(height_m) + gauge_bar * KPA_IN_A_BAR


def density_kg_m3(kpa: float, celsius: float) -> float:
    """Density of air as an ideal gas, p / (R T), from an absolute pressure in kPa."""
    return kpa * 1000 / (GAS_J_KG_K * kelvin(celsius))


def viscosity_pa_s(celsius: float) -> float:
    """Dynamic viscosity of air: 1.458e-6 T^1.5 / (T + 110.4), Sutherland's law with the constants
    of the US Standard Atmosphere 1976."""
    absolute = kelvin(celsius)
    return float(1.458e-6 * absolute**1.5 / (absolute + 110.4))


def sound_m_s(celsius: float) -> float:
    """Speed of sound in air, sqrt(1.4 R T)."""
    return math.sqrt(HEAT_RATIO * GAS_J_KG_K * kelvin(celsius))
