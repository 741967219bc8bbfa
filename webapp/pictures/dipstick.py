"""The dipstick of headroom, measured: MIN is none left, MAX all of it, a mark for each wish.

The blade lies along; the wet length is what is left. From MAX down each accepted wish takes off
its hours, and the last mark is the level.
"""

from collections.abc import Sequence
from dataclasses import dataclass

MIN_AT, MAX_AT = 64.0, 520.0
LEAST_LABEL_PITCH = 26.0
"""Two figures are so wide on a phone, where letters are largest in these units."""
LEAST_FULL_HOURS = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class DipMark:
    """One accepted wish: its place on the blade and its number in the list beside it."""

    x: float
    number_x: float
    number: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Dipstick:
    """Measurements in units of a view box of 560 x 84."""

    min_at: float
    max_at: float
    level_at: float
    marks: tuple[DipMark, ...]
    title: str


def dipstick(headroom_hours: float, wish_hours: Sequence[float], *, title: str) -> Dipstick:
    """The dipstick at a headroom, with what each accepted wish took, the first decided first.

    A headroom below none leaves the blade dry; MAX is then what the wishes took.
    """
    left = max(0.0, headroom_hours)
    full = max(left + sum(wish_hours), LEAST_FULL_HOURS)

    def at(hours: float) -> float:
        return MIN_AT + (MAX_AT - MIN_AT) * hours / full

    marks, level, last_label = [], full, MAX_AT + LEAST_LABEL_PITCH
    for number, hours in enumerate(wish_hours, start=1):
        middle = at(level - hours / 2)
        level -= hours
        fits = last_label - middle >= LEAST_LABEL_PITCH
        if fits:
            last_label = middle
        marks.append(DipMark(x=at(level), number_x=middle, number=str(number) if fits else ""))
    return Dipstick(
        min_at=MIN_AT, max_at=MAX_AT, level_at=at(left), marks=tuple(marks), title=title
    )
