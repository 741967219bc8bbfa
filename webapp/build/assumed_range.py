"""The range of hours that is assumed where somebody said the likely hours alone.

A single number is not certainty. Until a kind of work has a record of its own, its hours run from
0.75 to 2 times the likely ones (common practice, no source). With eight finished tasks of the kind
they run from the 5th to the 95th percentile of actual over likely hours, each over its median: how
far such work falls round its own middle. Where that middle lies is what calibration says, and it
is not counted twice.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from webapp.build.build_input import BuildInput, Task
from webapp.build.limits import MOST_HOURS
from webapp.build.logged_hours import logged_hours
from webapp.build.three_point import ThreePoint

LEAST_FINISHED = 8
"""So many finished tasks of a kind make a record of how far its hours fall apart."""
LOW_PERCENTILE, HIGH_PERCENTILE = 0.05, 0.95


@dataclass(frozen=True, slots=True, kw_only=True)
class RangeShares:
    """The ends of an assumed range as shares of the likely hours; `tasks` is the record's size.

    `low` is at most 1 and `high` at least 1; no tasks: common practice.
    """

    low: float
    high: float
    tasks: int = 0

    def round(self, likely: float) -> ThreePoint:
        """The three points round some likely hours, the ends to the minute."""
        return ThreePoint(
            optimistic=min(_to_the_minute(likely * self.low), likely),
            most_likely=likely,
            pessimistic=max(min(_to_the_minute(likely * self.high), MOST_HOURS), likely),
        )


COMMON_SHARES = RangeShares(low=0.75, high=2.0)
"""If all goes well three quarters of the likely hours, if it fights you twice as many. Common
practice, no source."""


def shares_of_kind(build: BuildInput, setup: str | None) -> RangeShares:
    """How far hours of a kind of work (the setup it needs, or none) are assumed to run."""
    own = [task for task in build.tasks if task.setup == setup and _counts(task)]
    if len(own) < LEAST_FINISHED:
        return COMMON_SHARES
    logged = logged_hours(build.log)
    worked = [(logged.get(task.key, 0.0), task.hours.most_likely) for task in own]
    ratios = [actual / likely for actual, likely in worked if actual > 0]
    return _of_record(ratios) if len(ratios) >= LEAST_FINISHED else COMMON_SHARES


def _counts(task: Task) -> bool:
    done = task.finished_on is not None and task.outside_days is None
    return done and task.hours.most_likely > 0


def _of_record(ratios: Sequence[float]) -> RangeShares:
    ordered = sorted(ratios)
    middle = _percentile(ordered, 0.5)
    return RangeShares(
        low=min(_percentile(ordered, LOW_PERCENTILE) / middle, 1.0),
        high=max(_percentile(ordered, HIGH_PERCENTILE) / middle, 1.0),
        tasks=len(ratios),
    )


def _percentile(ordered: Sequence[float], share: float) -> float:
    """Straight between the two values next to it, the first at 0 and the last at 1."""
    place = share * (len(ordered) - 1)
    below = math.floor(place)
    above = min(below + 1, len(ordered) - 1)
    return ordered[below] + (ordered[above] - ordered[below]) * (place - below)


def _to_the_minute(hours: float) -> float:
    return round(hours * 60) / 60
