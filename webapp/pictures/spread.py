"""The spread of first start, measured: a column for each day or few days, a line at each chance."""

import datetime as dt
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from webapp.pictures.time_scale import MONTHS

HEIGHT = 202.0
TOP, BOTTOM = 92.0, 172.0
MARGIN = 14.0
ROW = 18.0
COLUMN_WIDTH = 15.0
LABEL_ROOM = 92.0
CUT_SHARE = 0.005
"""The share of the draws at either end that lies outside the picture."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chance:
    """One mark: by `at` first start has come in that share of the draws."""

    share: float
    at: dt.datetime
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    x: float
    y: float
    width: float
    height: float
    late: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ChanceMark:
    """A line at a chance and its words, which end there where they would leave the picture."""

    x: float
    y: float
    text: str
    ends_here: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Spread:
    """Measurements in units of a view box of `width` x `height`."""

    width: float
    height: float
    broad: bool
    columns: tuple[Column, ...]
    marks: tuple[ChanceMark, ...]
    first_day: str
    last_day: str
    floor: float


def spread(
    days: Mapping[dt.date, int],
    chances: Sequence[Chance],
    *,
    firm: dt.datetime,
    width: float,
    broad: bool,
) -> Spread:
    """The picture of how many draws end on each day, with `chances` from early to late.

    Later lines begin lower, so that none runs through the words of an earlier one.

    Columns that begin after the firm moment are the late ones.
    """
    first, last = _shown_days(days, chances)
    span = (last - first).days + 1
    room = width - 2 * MARGIN
    step = max(1, math.ceil(span / (room / COLUMN_WIDTH)))
    counts = [0] * math.ceil(span / step)
    for day, draws in days.items():
        if first <= day <= last:
            counts[(day - first).days // step] += draws
    pitch = room / len(counts)
    firm_place = (firm.date() - first).days // step

    def x(at: dt.datetime) -> float:
        midnight = dt.datetime.combine(first, dt.time())
        return MARGIN + pitch * (at - midnight).total_seconds() / 86_400 / step

    return Spread(
        width=width,
        height=HEIGHT,
        broad=broad,
        columns=_columns(counts, pitch, firm_place),
        marks=tuple(
            ChanceMark(
                x=x(chance.at),
                y=16 + ROW * place,
                text=chance.words,
                ends_here=x(chance.at) > width - LABEL_ROOM,
            )
            for place, chance in enumerate(chances)
        ),
        first_day=_day(first),
        last_day=_day(last),
        floor=BOTTOM,
    )


def _columns(counts: Sequence[int], pitch: float, firm_place: int) -> tuple[Column, ...]:
    """A column for each count that is not 0, `pitch` apart; late are those behind `firm_place`."""
    most = max(counts)
    return tuple(
        Column(
            x=MARGIN + place * pitch + 1,
            y=BOTTOM - (BOTTOM - TOP) * number / most,
            width=pitch - 2,
            height=(BOTTOM - TOP) * number / most,
            late=place > firm_place,
        )
        for place, number in enumerate(counts)
        if number
    )


def _shown_days(days: Mapping[dt.date, int], chances: Sequence[Chance]) -> tuple[dt.date, dt.date]:
    """The first and the last day of the picture: every chance, all but the rarest draws."""
    cut = sum(days.values()) * CUT_SHARE
    ends = []
    for in_order in (sorted(days), sorted(days, reverse=True)):
        passed = 0
        for day in in_order:
            passed += days[day]
            if passed > cut:
                ends.append(day)
                break
    return min(ends[0], chances[0].at.date()), max(ends[1], chances[-1].at.date())


def _day(day: dt.date) -> str:
    return f"{day.day} {MONTHS[day.month - 1]}"
