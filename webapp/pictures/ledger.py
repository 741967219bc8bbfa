"""The scope ledger over time, measured: hours of the first plan, and those added on top.

Hours stand from nothing up, so that the share that was added is seen as it is.
"""

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from webapp.pictures.time_scale import MONTHS

WIDTH, HEIGHT = 760.0, 280.0
LEFT, RIGHT, TOP, BOTTOM = 56.0, 600.0, 24.0, 244.0
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
    """Path data and labels in units of a view box of `width` x `height`."""

    width: float
    height: float
    plan_area: str
    added_area: str
    total_line: str
    baseline: str
    hour_lines: tuple[LedgerLabel, ...]
    days: tuple[LedgerLabel, ...]
    ends: tuple[LedgerLabel, ...]


def ledger_picture(
    points: Sequence[LedgerPoint], *, baseline_hours: float, now: dt.datetime
) -> LedgerPicture:
    """The picture of a ledger whose first point is the baseline itself; one point at least."""
    first = points[0].at
    last = max(now, points[-1].at, first + LEAST_SPAN)
    span = (last - first).total_seconds()
    most = max(max(p.plan_hours + p.added_hours for p in points), baseline_hours, 1.0) * ROOM_ABOVE

    def x(at: dt.datetime) -> float:
        return LEFT + (RIGHT - RUN_ON - LEFT) * (at - first).total_seconds() / span

    def y(hours: float) -> float:
        return BOTTOM - (BOTTOM - TOP) * hours / most

    plan = _steps([(x(p.at), y(p.plan_hours)) for p in points])
    total = _steps([(x(p.at), y(p.plan_hours + p.added_hours)) for p in points])
    added = total + list(reversed(plan))
    return LedgerPicture(
        width=WIDTH,
        height=HEIGHT,
        plan_area=_path([*plan, (RIGHT, BOTTOM), (LEFT, BOTTOM)]) + "Z",
        added_area=_path(added) + "Z" if any(p.added_hours for p in points) else "",
        total_line=_path(total),
        baseline=f"M{LEFT:.1f} {y(baseline_hours):.1f}H{RIGHT:.1f}",
        hour_lines=_hour_lines(most, y),
        days=(
            LedgerLabel(x=LEFT, y=BOTTOM + 22, text=_day(first)),
            LedgerLabel(x=RIGHT, y=BOTTOM + 22, text=_day(last)),
        ),
        ends=_ends(points[-1], y),
    )


def _steps(corners: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Corners as a staircase that holds each value until the next, up to the right edge."""
    stairs: list[tuple[float, float]] = []
    for at, level in corners:
        if stairs:
            stairs.append((at, stairs[-1][1]))
        stairs.append((at, level))
    stairs.append((RIGHT, stairs[-1][1]))
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
    ends = [LedgerLabel(x=RIGHT + 10, y=plan_y, text=f"first plan {last.plan_hours:,.1f} h")]
    if last.added_hours > 0:
        middle = y(last.plan_hours + last.added_hours / 2) + 4
        at = min(middle, plan_y - LABEL_PITCH)
        ends.append(LedgerLabel(x=RIGHT + 10, y=at, text=f"added {last.added_hours:,.1f} h"))
    return tuple(ends)


def _day(at: dt.datetime) -> str:
    return f"{at.day} {MONTHS[at.month - 1]}"
