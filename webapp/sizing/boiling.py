"""Where coolant boils under its cap at a height above sea; whether the cap suits the circuit."""

import math
from dataclasses import dataclass, replace

from webapp.sizing.answers import (
    Answer,
    Figure,
    Limit,
    Outside,
    Range,
    first_outside,
    least,
    most,
    no_sum,
    not_checked,
)
from webapp.sizing.state_of_air import absolute_kpa, height_range, kelvin

BOILING_MARGIN = Limit(ok=15.0, tight=8.0, at_least=True)
"""K between the hottest coolant and boiling."""
MARGIN_CAUTION = "Never open it hot."
OLD_CORE = (
    "Brass cores of 1950 to 1965 were made for caps of 0.25 to 0.5 bar: where the old radiator"
    " stays, that is its rating until somebody says another."
)
OLD_RADIATOR_CAP_BAR = (0.25, 0.5)
"""What brass cores of 1950 to 1965 were made for (4 to 7 psi): common practice, no source."""
NO_TABLE = "no sourced table says where propylene glycol boils, and as water it is not ok"
_WATER_KG_MOL, _GLYCOL_KG_MOL = 0.018015, 0.062068
_WATER_KG_M3, _GLYCOL_KG_M3 = 998.2, 1113.0
_MMHG_KPA = 101.325 / 760
LEAST_BOILING_C, MOST_BOILING_C = 99.0, 199.0
_HALVINGS = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Cap:
    """A pressure cap (gauge, in bar), the height above sea, and the share of ethylene glycol by
    volume (0 to 1)."""

    cap_bar: float
    height_m: float
    share: float


def glycol_moles(share: float) -> float:
    """The mole fraction of ethylene glycol in a mixture by volume, from the densities at 20 °C."""
    glycol = share * _GLYCOL_KG_M3 / _GLYCOL_KG_MOL
    water = (1 - share) * _WATER_KG_M3 / _WATER_KG_MOL
    return glycol / (glycol + water)


def vapour_kpa(moles: float, celsius: float) -> float:
    """Pressure of the vapour over a mixture: (1 - x) water + x glycol, Raoult's law.

    Water: log10(mmHg) = 8.14019 - 1810.94 / (244.485 + °C), 99 to 374 °C, Antoine's equation as
    handbooks print it. Ethylene glycol: log10(bar) = 4.97012 - 1914.951 / (K - 84.996), 323 to
    473 K, Jones and Tamplin in the NIST WebBook. Both cited.
    """
    water = 10 ** (8.14019 - 1810.94 / (244.485 + celsius)) * _MMHG_KPA
    glycol = 10 ** (4.97012 - 1914.951 / (kelvin(celsius) - 84.996)) * 100
    return float((1 - moles) * water + moles * glycol)


def boils_at_c(cap: Cap) -> float | Outside:
    """Where the mixture boils under its cap, in °C: where its vapour has the pressure of the air
    and the cap together. Valid from 99 to 199 °C and to 60 % of glycol."""
    outside = first_outside(
        Range(name="cap", value=cap.cap_bar, least=0, most=3, unit="bar"),
        height_range(cap.height_m),
        Range(name="share of antifreeze", value=100 * cap.share, least=0, most=60, unit="%"),
    )
    if outside is not None:
        return outside
    pressed, moles = absolute_kpa(cap.cap_bar, cap.height_m), glycol_moles(cap.share)
    low, high = LEAST_BOILING_C, MOST_BOILING_C
    if not vapour_kpa(moles, low) <= pressed <= vapour_kpa(moles, high):
        return Outside(name="boiling point", least=low, most=high, unit="°C")
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if vapour_kpa(moles, middle) < pressed else (low, middle)
    return math.fsum((low, high)) / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class BoilingMargin:
    """A cap, and the hottest that the coolant may get."""

    cap: Cap
    hottest_c: float


def boiling(at: str, inputs: BoilingMargin, limit: Limit = BOILING_MARGIN) -> Answer:
    """How many K lie between the hottest coolant and boiling: 15 are ok, 8 to 15 tight."""
    boils = boils_at_c(inputs.cap)
    if isinstance(boils, Outside):
        return not_checked("boiling", at, boils)
    return Answer(
        check="boiling",
        at=at,
        word=least(boils - inputs.hottest_c, limit, "too hot"),
        value=boils - inputs.hottest_c,
        unit="K",
        limit=limit,
        used=(
            Figure(name="pressure cap", value=inputs.cap.cap_bar, unit="bar"),
            Figure(name="height above sea", value=inputs.cap.height_m, unit="m"),
            Figure(name="share of antifreeze", value=100 * inputs.cap.share, unit="%"),
            Figure(name="hottest coolant", value=inputs.hottest_c, unit="°C"),
        ),
        also=(Figure(name="boils at", value=boils, unit="°C"),),
        remarks=(MARGIN_CAUTION,),
    )


AS_WATER = (
    "No table of boiling for propylene glycol could be looked up: reckoned as plain water, which"
    " boils sooner than any mixture with it."
)


def boiling_as_water(at: str, inputs: BoilingMargin, limit: Limit = BOILING_MARGIN) -> Answer:
    """The same for propylene glycol, which has no table here: whatever is dissolved in water and
    boils higher than it raises its boiling point, so that of water is the least. Ok where even
    that is; else not checked, for the mixture may well be."""
    share = Range(
        name="share of antifreeze", value=100 * inputs.cap.share, least=0, most=60, unit="%"
    )
    outside = first_outside(share)
    if outside is not None:
        return not_checked("boiling", at, outside)
    water = boiling(at, replace(inputs, cap=replace(inputs.cap, share=0.0)), limit)
    used = tuple(one for one in water.used if one.name != "share of antifreeze")
    if water.value is None or water.word == "ok":
        return replace(water, used=used, remarks=(*water.remarks, AS_WATER))
    answer = no_sum("boiling", at, NO_TABLE, MARGIN_CAUTION, AS_WATER)
    return replace(answer, used=used, also=water.also)


@dataclass(frozen=True, slots=True, kw_only=True)
class CapOnCircuit:
    """A cap, and the lowest pressure that anything in its circuit is rated for."""

    cap_bar: float
    weakest_bar: float


def cap_rating(at: str, inputs: CapOnCircuit, source: str) -> Answer:
    """Whether anything in the circuit is rated for less than the cap: then it is too high, wherever
    the coolant boils."""
    limit = Limit(ok=inputs.weakest_bar, tight=inputs.weakest_bar, origin="typed", source=source)
    return Answer(
        check="cap",
        at=at,
        word=most(inputs.cap_bar, limit, "too high"),
        value=inputs.cap_bar,
        unit="bar",
        limit=limit,
        used=(
            Figure(
                name="lowest rating in the coolant circuit", value=inputs.weakest_bar, unit="bar"
            ),
        ),
        remarks=(MARGIN_CAUTION, OLD_CORE),
    )
