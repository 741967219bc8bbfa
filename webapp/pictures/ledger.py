"""The scope ledger over time, measured: hours of the first plan, and those added on top.

Hours stand from nothing up, so that the share that was added is seen as it is.
"""

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from webapp.pictures.time_scale import MONTHS

WIDTH, HEIGHT = 760.0, 280.0
LEFT, RIGHT, TOP, BOTTOM = 56.0, 600.0, 24.0, 244.0
UPRIGHT_WIDTH, UPRIGHT_HEIGHT, UPRIGHT_RIGHT = 360.0, 320.0, 348.0
SWATCH = 12.0
"""The side of the square that tells an area where there is no room for words beside it."""
RUN_ON = 18.0
"""So far the last step runs on past its moment, so that what was added just now is seen."""
ROOM_ABOVE = 1.08
LEAST_SPAN = dt.timedelta(days=1)
LABEL_PITCH = 17.0
HOUR_STEPS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000, 100_000)
MOST_HOUR_TICKS = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerPoint:
    """From `at` on: expected hours of what is left of the first plan, and of what was added."""

    at: dt.datetime
    plan_hours: float
    added_hours: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerLabel:
    x: float
    y: float
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerPicture:
    """Path data and labels in units of a view box of `width` x `height`.

    Upright, for a phone, what the areas are stands below them, each behind its swatch.
    """

    upright: bool
    width: float
    height: float
    right: float
    plan_area: str
    added_area: str
    total_line: str
    baseline: str
    hour_lines: tuple[LedgerLabel, ...]
    days: tuple[LedgerLabel, ...]
    ends: tuple[LedgerLabel, ...]
    plan_swatch: str = ""
    added_swatch: str = ""


def ledger_picture(
    points: Sequence[LedgerPoint],
    *,
    baseline_hours: float,
    now: dt.datetime,
    upright: bool = False,
) -> LedgerPicture:
    """The picture of a ledger whose first point is the baseline itself; one point at least."""
    right = UPRIGHT_RIGHT if upright else RIGHT
    first = points[0].at
    last = max(now, points[-1].at, first + LEAST_SPAN)
    span = (last - first).total_seconds()
    most = max(max(p.plan_hours + p.added_hours for p in points), baseline_hours, 1.0) * ROOM_ABOVE

    def x(at: dt.datetime) -> float:
        return LEFT + (right - RUN_ON - LEFT) * (at - first).total_seconds() / span

    def y(hours: float) -> float:
        return BOTTOM - (BOTTOM - TOP) * hours / most

    plan = _steps([(x(p.at), y(p.plan_hours)) for p in points], right)
    total = _steps([(x(p.at), y(p.plan_hours + p.added_hours)) for p in points], right)
    added = total + list(reversed(plan))
    has_added = any(p.added_hours for p in points)
    ends = _ends_below(points[-1]) if upright else _ends(points[-1], y)
    return LedgerPicture(
        upright=upright,
        width=UPRIGHT_WIDTH if upright else WIDTH,
        height=UPRIGHT_HEIGHT if upright else HEIGHT,
        right=right,
        plan_area=_path([*plan, (right, BOTTOM), (LEFT, BOTTOM)]) + "Z",
        added_area=_path(added) + "Z" if has_added else "",
        total_line=_path(total),
        baseline=f"M{LEFT:.1f} {y(baseline_hours):.1f}H{right:.1f}",
        hour_lines=_hour_lines(most, y),
        days=(
            LedgerLabel(x=LEFT, y=BOTTOM + 22, text=_day(first)),
            LedgerLabel(x=right, y=BOTTOM + 22, text=_day(last)),
        ),
        ends=ends,
        plan_swatch=_swatch(ends[0]) if upright else "",
        added_swatch=_swatch(ends[1]) if upright and len(ends) > 1 else "",
    )


def _steps(corners: list[tuple[float, float]], right: float) -> list[tuple[float, float]]:
    """Corners as a staircase that holds each value until the next, up to the right edge."""
    stairs: list[tuple[float, float]] = []
    for at, level in corners:
        if stairs:
            stairs.append((at, stairs[-1][1]))
        stairs.append((at, level))
    stairs.append((right, stairs[-1][1]))
    return stairs


def _path(points: Sequence[tuple[float, float]]) -> str:
    return "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points)


def _hour_lines(most: float, y: Callable[[float], float]) -> tuple[LedgerLabel, ...]:
    step = next((s for s in HOUR_STEPS if most / s <= MOST_HOUR_TICKS), HOUR_STEPS[-1])
    return tuple(
        LedgerLabel(x=LEFT, y=y(hours), text=f"{hours:,} h")
        for hours in range(0, int(most) + 1, step)
    )


def _ends(last: LedgerPoint, y: Callable[[float], float]) -> tuple[LedgerLabel, ...]:
    """What the two areas are, at their right ends, far enough apart to be read."""
    plan_y = y(last.plan_hours / 2)
    middle = y(last.plan_hours + last.added_hours / 2) + 4
    heights = (plan_y, min(middle, plan_y - LABEL_PITCH))
    words = zip(heights, _words(last), strict=False)
    return tuple(LedgerLabel(x=RIGHT + 10, y=at, text=text) for at, text in words)


def _ends_below(last: LedgerPoint) -> tuple[LedgerLabel, ...]:
    """The same below the picture, line by line."""
    return tuple(
        LedgerLabel(x=LEFT, y=BOTTOM + 46 + LABEL_PITCH * 1.2 * place, text=text)
        for place, text in enumerate(_words(last))
    )


def _words(last: LedgerPoint) -> tuple[str, ...]:
    plan = f"first plan {last.plan_hours:,.1f} h"
    return (plan, f"added {last.added_hours:,.1f} h") if last.added_hours > 0 else (plan,)


def _swatch(label: LedgerLabel) -> str:
    left, top = label.x - SWATCH - 8, label.y - SWATCH + 1
    return f"M{left:.1f} {top:.1f}h{SWATCH}v{SWATCH}h-{SWATCH}Z"


def _day(at: dt.datetime) -> str:
    return f"{at.day} {MONTHS[at.month - 1]}"
