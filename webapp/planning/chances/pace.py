"""The person's own pace: the hours at which the plan that is shown is laid out.

Hours times the calibration of their kind, over attendance, times one further factor that brings
the end of the plan onto the day of the likely first start. So the plan and the forecast name one
date.
"""

import datetime as dt
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from webapp.build.build_input import BuildInput, Task
from webapp.build.hours_to_go import planned_seconds
from webapp.build.time.session_lengths import longest_session_minutes
from webapp.build.time.shop_calendar import NEVER, Seconds
from webapp.planning.chances.factors import LEAST_ATTENDANCE, NO_RECORD, Factors, kind_of
from webapp.planning.order.order_that_holds import ranking_that_holds
from webapp.planning.simulator.simulate import first_starts
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import WorkArrays, for_first_start_only, lay_out

Floats = NDArray[np.float64]
SLOWEST, FASTEST, TRIED = 1.3, 0.8, 101
"""Factors are looked for between these, in so many logarithmic steps."""
PLAIN = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """A person's factors, and the one more that brings the plan onto the likely day."""

    factors: Factors = NO_RECORD
    factor: float = PLAIN

    @property
    def attendance(self) -> float:
        """Hours worked over hours the shop was promised."""
        return max(self.factors.attendance.mean, LEAST_ATTENDANCE)


AS_ESTIMATED = Pace()
"""Every promised hour is worked and every estimate holds."""


class PaceOf:
    """One pace on the tasks of one build.

    Work in one go or with the helper keeps its hours times the factor of its kind, at most the
    longest session less the setup: it could not be laid out else.
    """

    def __init__(self, build: BuildInput, pace: Pace) -> None:
        self.pace = pace
        self._caps = _Caps(build)
        self._factors: dict[str, float] = {}

    def seconds_to_go(self, task: Task, seconds: int) -> int:
        """Whole shop seconds that so many seconds of estimated work take."""
        of_kind = seconds * self._factor_of(kind_of(task))
        if keeps_its_hours(task):
            return round(min(of_kind, max(seconds, self._caps.of(task))))
        stretched = of_kind * self.pace.factor / self.pace.attendance
        return max(round(stretched), min(1, seconds))

    def _factor_of(self, kind: str) -> float:
        if kind not in self._factors:
            self._factors[kind] = self.pace.factors.of_kind(kind).factor
        return self._factors[kind]

    def hours_of_worked(self, task: Task, hours: float) -> float:
        """Shop hours that hours at the bench stand for."""
        return hours if keeps_its_hours(task) else hours / self.pace.attendance


def paced_seconds(build: BuildInput, factors: Factors, factor: float = PLAIN) -> dict[str, int]:
    """Whole seconds of work of every open task at the person's pace, by key."""
    pace = PaceOf(build, Pace(factors=factors, factor=factor))
    tasks = {task.key: task for task in build.tasks}
    return {
        key: pace.seconds_to_go(tasks[key], seconds)
        for key, seconds in planned_seconds(build).items()
    }


def pace_of(build: BuildInput, factors: Factors, day: dt.date, *, last: float = PLAIN) -> float:
    """The factor nearest 1 at which the plan ends on a day; else the one that ends nearest to it.

    `last` is the factor of before, which stays while its day is still right. The build is
    faultless and has a first start.
    """
    work = for_first_start_only(
        lay_out(build, work_seconds=paced_seconds(build, factors, max(last, SLOWEST)))
    )
    if work.first_start < 0:
        return PLAIN
    search = _Search(build, factors, work, day)
    factors_tried = _factors_around_plain()
    # A plan more side by side costs next to nothing, one by itself as much as all of them.
    off_last, *off_tried = search.days_off(np.array([last, *factors_tried]))
    if off_last == 0:
        return last
    off = np.array(off_tried)
    if not (off == 0).any():
        factors_tried = _between(factors_tried, off)
        off = search.days_off(factors_tried)
    best = np.lexsort((np.abs(np.log(factors_tried)), np.abs(off)))[0]
    return float(factors_tried[best])


def _factors_around_plain() -> Floats:
    """Logarithmic steps, 1 among them."""
    steps = np.exp(np.linspace(np.log(FASTEST), np.log(SLOWEST), TRIED))
    steps[np.abs(np.log(steps)).argmin()] = PLAIN
    return steps


def _between(tried: Floats, off: Floats) -> Floats:
    """So many finer steps between the last factor that ends too early and the next too late."""
    early = np.flatnonzero(off < 0)
    at = int(early[-1]) if len(early) else 0
    low, high = tried[at], tried[min(at + 1, len(tried) - 1)]
    return np.exp(np.linspace(np.log(low), np.log(high), TRIED))


class _Search:
    """Plans at many factors, side by side."""

    def __init__(self, build: BuildInput, factors: Factors, work: WorkArrays, day: dt.date) -> None:
        self.work = work
        self.day = day
        self.ranking = ranking_that_holds(build, work)
        plain = paced_seconds(build, factors)
        kept = {task.key for task in build.tasks if keeps_its_hours(task)}
        self.plain = np.array([plain[key] for key in work.keys], np.int64) * (work.work_seconds > 0)
        self.scales = np.array([key not in kept for key in work.keys], bool)

    def days_off(self, factors: Floats) -> Floats:
        """By how many days each plan ends later than the day."""
        seconds: Seconds = np.rint(self.plain[:, np.newaxis] * factors).astype(np.int64)
        seconds = np.where(self.scales[:, np.newaxis], seconds, self.plain[:, np.newaxis])
        seconds = np.maximum(seconds, np.minimum(1, self.plain)[:, np.newaxis])
        variants = Variants(count=len(factors), rankings=(self.ranking,), work_seconds=seconds)
        ends = first_starts(self.work, variants).wall
        return np.array([self._off(int(end)) for end in ends.tolist()])

    def _off(self, end: int) -> float:
        if end >= NEVER:
            return np.inf
        return (self.work.calendar.minute(end).date() - self.day).days


def keeps_its_hours(task: Task) -> bool:
    """Whether attendance does not stretch a task: it is done in one stretch or not begun."""
    return task.in_one_go or task.helper


class _Caps:
    """The longest stretches that work in one go, or with the helper, can lie within."""

    def __init__(self, build: BuildInput) -> None:
        self._setups = {setup.key: setup.hours * 3600 for setup in build.shop.setups}
        asked = [task for task in build.tasks if keeps_its_hours(task)]
        self._longest = {
            helper: longest_session_minutes(build.shop, build.now, helper=helper) * 60
            for helper in {task.helper for task in asked}
        }

    def of(self, task: Task) -> float:
        """Seconds that the work of a task may take at most."""
        return self._longest.get(task.helper, 0.0) - self._setups.get(task.setup or "", 0.0)
