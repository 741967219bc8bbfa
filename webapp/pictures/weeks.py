"""Hours by week, measured: promised as an open column, worked as a full one in it, earned as a
line across both.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

HOUR_STEPS = (1, 2, 5, 10, 20, 50, 100, 200)
MOST_HOUR_LINES = 4
ROOM_ABOVE = 1.06
MOST_LABELS_BROAD, MOST_LABELS_UPRIGHT = 13, 5


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekColumn:
    """Hours of one week; `earned` is None where nothing can be told. `chosen`: the sheet's own."""

    text: str
    promised: float
    worked: float
    earned: float | None
    chosen: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A rectangle of the picture."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True, slots=True, kw_only=True)
class HourText:
    x: float
    y: float
    text: str
    chosen: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class WeeksPicture:
    """Everything in units of a view box of `width` x `height`; lines as path data."""

    upright: bool
    width: float
    height: float
    hour_lines: str
    hours: tuple[HourText, ...]
    promised: tuple[Column, ...]
    worked: tuple[Column, ...]
    earned: str
    floor: str
    weeks: tuple[HourText, ...]


def weeks_picture(weeks: Sequence[WeekColumn], *, upright: bool = False) -> WeeksPicture:
    """The picture of some weeks in a row, one at least."""
    width, height = (360.0, 210.0) if upright else (760.0, 220.0)
    left, right, top, bottom = 44.0, width - 12, 14.0, height - 30
    most = max(max(w.promised, w.worked, w.earned or 0.0) for w in weeks)
    most = max(most, 1.0) * ROOM_ABOVE
    pitch = (right - left) / len(weeks)
    column = min(pitch * 0.62, 44.0)

    def y(hours: float) -> float:
        return bottom - (bottom - top) * max(hours, 0.0) / most

    def middle(place: int) -> float:
        return left + pitch * (place + 0.5)

    def columns(hours: Sequence[float], share: float) -> tuple[Column, ...]:
        return tuple(
            Column(
                x=middle(i) - column * share / 2,
                y=y(value),
                width=column * share,
                height=bottom - y(value),
            )
            for i, value in enumerate(hours)
        )

    step = next((s for s in HOUR_STEPS if most / s <= MOST_HOUR_LINES), math.ceil(most))
    lines = range(0, int(most) + 1, step)
    every = math.ceil(len(weeks) / (MOST_LABELS_UPRIGHT if upright else MOST_LABELS_BROAD))
    return WeeksPicture(
        upright=upright,
        width=width,
        height=height,
        hour_lines="".join(f"M{left:.1f} {y(h):.1f}H{right:.1f}" for h in lines if h),
        hours=tuple(HourText(x=left - 8, y=y(h) + 4, text=f"{h} h") for h in lines),
        promised=columns([week.promised for week in weeks], 1.0),
        worked=columns([week.worked for week in weeks], 0.62),
        earned="".join(
            f"M{middle(i) - column * 0.68:.1f} {y(week.earned):.1f}h{column * 1.36:.1f}"
            for i, week in enumerate(weeks)
            if week.earned is not None
        ),
        floor=f"M{left:.1f} {bottom:.1f}H{right:.1f}",
        # counted from the last week back, so that the one that is looked at is named
        weeks=tuple(
            HourText(x=middle(i), y=bottom + 19, text=week.text, chosen=week.chosen)
            for i, week in enumerate(weeks)
            if (len(weeks) - 1 - i) % every == 0
        ),
    )
