"""Pressure that a pipe takes from what flows through it: friction, bends, steps of bore."""

import math
from dataclasses import dataclass
from itertools import pairwise

from webapp.sizing.answers import Outside, Range, first_outside

SMOOTH_MM = 0.0015
"""Roughness of drawn tube, moulded hose."""
STEEL_MM = 0.05
"""Of welded steel, new."""
_CRANE_STEEL_MM = 0.045
LAMINAR_TO_RE = 2300.0
LEAST_TURBULENT_RE, MOST_RE = 5_000.0, 1e8
MOST_ROUGHNESS = 2e-3
"""Over the bore. Beyond it the formula strays further than 2 % from the implicit one."""
BEND_FACTORS = 14.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A piece of the way: its bore, its length along the middle, and by how much it turns."""

    bore_mm: float
    length_mm: float = 0.0
    turn_deg: float = 0.0


def area_m2(bore_mm: float) -> float:
    """The area of a bore."""
    return math.pi / 4 * (bore_mm / 1000) ** 2


def friction_factor(reynolds: float, roughness: float) -> float | Outside:
    """Darcy's friction factor; `roughness` is over the bore.

    64 / Re below 2300 (Hagen-Poiseuille); 0.25 / log10(e / 3.7 + 5.74 / Re^0.9)² from 5000 to 1e8
    and for a roughness to 0.002: Swamee and Jain, Journal of the Hydraulics Division ASCE 102
    (1976), cited. Between 2300 and 5000 flow may be either. There it is taken as turbulent, which
    loses more, by the turbulent part of the formula that spans all flow: Churchill, Chemical
    Engineering 91 (1977), read in the documentation of a library that cites it. At most that of
    5000, where the two meet, so that more flow never loses less.
    """
    if 0 < reynolds < LAMINAR_TO_RE:
        return 64 / reynolds
    outside = first_outside(
        Range(name="Reynolds number", value=reynolds, least=LAMINAR_TO_RE, most=MOST_RE),
        Range(name="roughness over the bore", value=roughness, least=0, most=MOST_ROUGHNESS),
    )
    if outside is not None:
        return outside
    if reynolds >= LEAST_TURBULENT_RE:
        return _turbulent(reynolds, roughness)
    met = _turbulent(LEAST_TURBULENT_RE, roughness) * (LEAST_TURBULENT_RE / reynolds) ** 2
    return min(_taken_as_turbulent(reynolds, roughness), met)


def may_be_either(reynolds: float) -> bool:
    """Whether flow is between laminar and turbulent, where nobody can say which it is."""
    return LAMINAR_TO_RE <= reynolds < LEAST_TURBULENT_RE


def _turbulent(reynolds: float, roughness: float) -> float:
    return float(0.25 / math.log10(roughness / 3.7 + 5.74 / reynolds**0.9) ** 2)


def _taken_as_turbulent(reynolds: float, roughness: float) -> float:
    rough = 2.457 * math.log(1 / ((7 / reynolds) ** 0.9 + 0.27 * roughness))
    return float(8 / rough**2)


def bend_loss(bore_mm: float, turn_deg: float) -> float:
    """Loss number of a smooth bend, radius one and a half bores: 14 times the friction factor of
    rough flow in new steel for 90 degrees (Crane TP-410, cited), in proportion for others.

    Methods differ by a fifth, so of what is made with it no more than two figures are worth
    anything.
    """
    rough = 0.25 / math.log10(_CRANE_STEEL_MM / bore_mm / 3.7) ** 2
    return BEND_FACTORS * rough * turn_deg / 90


def step_up_loss(from_mm: float, to_mm: float) -> float:
    """Loss number of a sudden widening, on the narrow side: (1 - A1/A2)², Borda and Carnot."""
    return float((1 - (from_mm / to_mm) ** 2) ** 2)


def step_down_loss(from_mm: float, to_mm: float) -> float:
    """Loss number of a sudden narrowing, on the narrow side: (1 - A2/A1) / 2, textbooks. Newer
    methods give a quarter to two fifths more."""
    return 0.5 * (1 - (to_mm / from_mm) ** 2)


def step_losses(stretches: tuple[Stretch, ...]) -> tuple[float, ...]:
    """By stretch, the loss numbers of the steps that are narrowest in it."""
    found = [0.0] * len(stretches)
    for at, (one, other) in enumerate(pairwise(stretches)):
        if one.bore_mm < other.bore_mm:
            found[at] += step_up_loss(one.bore_mm, other.bore_mm)
        elif other.bore_mm < one.bore_mm:
            found[at + 1] += step_down_loss(one.bore_mm, other.bore_mm)
    return tuple(found)


def goes_down_and_up(stretches: tuple[Stretch, ...]) -> bool:
    """Whether the way gets narrower and wide again: 51, 45, 51."""
    bores = [stretch.bore_mm for stretch in stretches]
    narrowest = bores.index(min(bores)) if bores else 0
    return bool(bores) and max(bores[: narrowest + 1]) > bores[narrowest] < max(bores[narrowest:])
