"""Which hose clamp holds a diameter: from the shelf, else the smallest step to buy."""

from collections.abc import Iterable

from webapp.plumbing.names import clamp_name
from webapp.plumbing.sizes import mm_words

Range = tuple[float, float]
CLAMP_STEPS_MM: tuple[Range, ...] = (
    *((8, 12), (10, 16), (12, 22), (16, 27), (20, 32), (25, 40), (32, 50)),
    *((40, 60), (50, 70), (60, 80), (70, 90), (80, 100), (90, 110)),
)
"""Worm clamps as they are sold: common practice, DIN 3017-1 rules them (its table not read)."""
_OUTER_SHARE = 0.15
_FINE_MM = 1e-6


def holds(clamp: Range, over_mm: float) -> bool:
    """Whether the clamp goes round it at all."""
    low, high = clamp
    return low - _FINE_MM <= over_mm <= high + _FINE_MM


def holds_well(clamp: Range, over_mm: float) -> bool:
    """Whether it does so inside the middle 70 % of its range."""
    low, high = clamp
    edge = _OUTER_SHARE * (high - low)
    return holds((low + edge, high - edge), over_mm)


def picked(clamps: Iterable[Range], over_mm: float) -> Range | None:
    """The one of those that lie there to take: that holds well, the narrowest, the smallest."""
    there = [clamp for clamp in clamps if holds(clamp, over_mm)]
    return min(
        there,
        key=lambda clamp: (not holds_well(clamp, over_mm), clamp[1] - clamp[0], clamp),
        default=None,
    )


def to_buy(over_mm: float) -> str:
    """The name of the clamp to buy: the smallest step that holds well, else that holds."""
    for does in (holds_well, holds):
        for step in CLAMP_STEPS_MM:
            if does(step, over_mm):
                return clamp_name(*step)
    return f"clamp for {mm_words(round(over_mm, 1))}"
