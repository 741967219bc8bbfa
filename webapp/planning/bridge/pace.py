"""The pace at which the bridge lays builds out: the one the earlier date was shown at.

Hours to go are stretched by the calibration of their kind, over attendance, times one further
factor; hours worked since are told over attendance alone. Work in one go or with the helper keeps
its hours times the factor of its kind, at most the longest session less the setup.
"""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from webapp.build.build_input import BuildInput, Task
from webapp.build.by_key import find_by_key
from webapp.build.hours_to_go import planned_seconds
from webapp.build.moments import workable_from
from webapp.build.time.session_lengths import longest_session_minutes
from webapp.build.time.shop_calendar import NEVER
from webapp.planning.chances.factors import LEAST_ATTENDANCE, NO_RECORD, NO_SETUP, Factors
from webapp.planning.network.outside_holds import finished_at
from webapp.planning.order.order_that_holds import ranking_that_holds
from webapp.planning.simulator.simulate import first_starts
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import for_first_start_only, lay_out


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """A person's factors, and the one more that brings the plan onto the likely day."""

    factors: Factors = NO_RECORD
    factor: float = 1.0

    @property
    def attendance(self) -> float:
        """Hours worked over hours the shop was promised."""
        return max(self.factors.attendance.mean, LEAST_ATTENDANCE)


AS_ESTIMATED = Pace()
"""Every promised hour is worked and every estimate holds."""


class PaceOf:
    """One pace on the tasks of one build."""

    def __init__(self, build: BuildInput, pace: Pace) -> None:
        self.pace = pace
        self._setups = {setup.key: setup.hours for setup in build.shop.setups}
        bound = {task.helper for task in build.tasks if keeps_its_hours(task)}
        self._longest = {
            helper: longest_session_minutes(build.shop, workable_from(build), helper=helper) / 60
            for helper in bound
        }

    def seconds_to_go(self, task: Task, seconds: int) -> int:
        """Shop seconds that so many seconds of estimated work still take."""
        of_kind = seconds * self.pace.factors.of_kind(task.setup or NO_SETUP).factor
        if keeps_its_hours(task):
            return round(min(of_kind, max(seconds, self._most_seconds(task))))
        stretched = of_kind * self.pace.factor / self.pace.attendance
        return max(round(stretched), min(1, seconds))

    def worked(self, task: Task, hours: float) -> float:
        """Shop hours that hours at the bench stand for."""
        return hours if keeps_its_hours(task) else hours / self.pace.attendance

    def _most_seconds(self, task: Task) -> float:
        """The longest stretch that work in one go or with the helper can lie within."""
        longest = self._longest.get(task.helper, 0.0)
        return 3600 * (longest - self._setups.get(task.setup or "", 0.0))


def keeps_its_hours(task: Task) -> bool:
    """Whether attendance does not stretch a task: it is done in one stretch or not begun."""
    return task.in_one_go or task.helper


def paced_seconds(build: BuildInput, pace: Pace) -> Mapping[str, int]:
    """Shop seconds of work of every open task at a pace, by key."""
    of_pace = PaceOf(build, pace)
    tasks = {task.key: task for task in build.tasks}
    return {
        key: of_pace.seconds_to_go(tasks[key], seconds)
        for key, seconds in planned_seconds(build).items()
    }


def first_start_at(build: BuildInput, pace: Pace = AS_ESTIMATED) -> dt.datetime | None:
    """When the plan laid out at a pace reaches first start; when it was, once it is finished.

    To the minute; None where it has no date.
    """
    task = find_by_key(build.tasks, build.first_start)
    if task is not None and task.finished_on is not None:
        return finished_at(build, task)
    work = for_first_start_only(lay_out(build, work_seconds=paced_seconds(build, pace)))
    if work.first_start < 0:
        return None
    variants = Variants(count=1, rankings=(ranking_that_holds(build, work),))
    end = int(first_starts(work, variants).wall[0])
    return None if end >= NEVER else work.calendar.minute(end)
