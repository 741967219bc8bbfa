"""The tasks between two builds: their hours and days as they were known, and as they went.

Hours are shop hours at the earlier build's pace.
"""

import datetime as dt
from collections.abc import Mapping

from webapp.build.build_input import BuildInput, Task
from webapp.build.hours_to_go import planned_seconds
from webapp.build.moments import moment_at_start
from webapp.build.setups_out import SetupKeys
from webapp.build.time_units import DAY_MINUTES, seconds_of
from webapp.planning.bridge.getting_out import half_out, hours_beside, setups_left_out
from webapp.planning.bridge.work_between import WorkBetween
from webapp.planning.bridge.worked import setup_hours_of
from webapp.planning.chances.pace import PaceOf
from webapp.planning.network.outside_holds import finished_at

SAME_DAYS = 1 / DAY_MINUTES


class TasksBetween:
    """Hours and days of any replay between two builds (see `replay`); `old`, `new` tasks by key.

    "Off" is as the earlier build knew, "on" as it went. Work without hands, which nobody logs,
    keeps the hours that were known.
    """

    def __init__(
        self,
        earlier: BuildInput,
        later: BuildInput,
        between: WorkBetween,
        pace: PaceOf,
        old: Mapping[str, Task],
        new: Mapping[str, Task],
    ) -> None:
        self._earlier, self._later, self._pace = earlier, later, pace
        self._old, self._new = old, new
        self._known, self._left = planned_seconds(earlier), planned_seconds(later)
        self._tasks = {**new, **old}
        self._setups = setup_hours_of(earlier, later)
        self._before, self._entries = between.before, between.entries
        self._on_since_earlier = self.seconds_on_since(None)

    def estimate_differs(self, key: str) -> bool:
        """Whether shop work of the later build took other hours than were known."""
        old, new = self._old.get(key), self._new[key]
        if old is not None and old.finished_on is not None:
            return new.finished_on is None
        if not self.is_shop_work(key):
            return False
        return abs(self.seconds_off(key) - self.seconds_on(key)) > 1

    def outside_differs(self, key: str) -> bool:
        """Whether outside work of the later build took other days than were known."""
        old = self._old.get(key)
        if self.is_shop_work(key) or (old is not None and old.finished_on is not None):
            return False
        return abs(self.days_longer(key)) > SAME_DAYS

    def is_shop_work(self, key: str) -> bool:
        """Whether a task of the later build is done in the shop."""
        return key in self._new and self._new[key].outside_days is None

    def known_seconds(self, key: str) -> int:
        """Seconds of a task by its estimate, as the earlier build knew; expected of a new one."""
        if key in self._old:
            return self._known.get(key, 0)
        return seconds_of(self._new[key].hours.expected)

    def seconds_off(self, key: str) -> int:
        """Shop seconds of a task as the earlier build knew; those expected where it is new."""
        return self._pace.seconds_to_go(self._tasks[key], self.known_seconds(key))

    def seconds_on(self, key: str) -> int:
        """Shop seconds worked on a task between the two, and left in the later build."""
        return self._on_since_earlier[key]

    def seconds_on_since(self, day: dt.date | None) -> dict[str, int]:
        """Shop seconds worked on each task from a date on, and left in the later build."""
        before = [e for e in self._entries if day is not None and e.on < day]
        since = [e for e in self._entries if day is None or e.on >= day]
        beside = hours_beside(
            since,
            self._tasks,
            self._setups,
            out=self.setups_out_on(day),
            half=half_out((*self._before, *before)),
            people=self._earlier.shop.people,
        )
        for entry in since:
            if entry.task in self._tasks:
                worked = self._pace.hours_of_worked(self._tasks[entry.task], entry.hours)
                beside[entry.task] = beside.get(entry.task, 0.0) + worked
        return {
            key: self._seconds_on(task, beside.get(key, 0.0)) for key, task in self._tasks.items()
        }

    def seconds_left(self, key: str) -> int:
        """Seconds of a task that are left in the later build, by its estimate."""
        return self._left.get(key, 0)

    def setups_out_on(self, day: dt.date | None) -> SetupKeys:
        """The setups that were out on the morning of a date; without one, in the earlier build."""
        before = (e for e in self._entries if day is not None and e.on < day)
        shop = self._earlier.shop
        return setups_left_out(before, self._tasks, shop.setups_out, shop.people)

    def _seconds_on(self, task: Task, worked_hours: float) -> int:
        if not task.people or task.outside_days is not None:
            return self.seconds_off(task.key)
        left = self._pace.seconds_to_go(task, self._left.get(task.key, 0))
        return max(0, seconds_of(worked_hours) + left)

    def hours_longer(self, key: str) -> float:
        """By how many hours at the bench a task took longer than was known."""
        return (self.seconds_on(key) - self.seconds_off(key)) / 3600

    def days_longer(self, key: str) -> float:
        """By how many days outside work took longer than was known."""
        return (self.days_on(key) or 0.0) - (self.days_off(key) or 0.0)

    def days_off(self, key: str) -> float | None:
        """Days of outside work as the earlier build knew; begun work is not back before it."""
        old, new = self._old.get(key), self._new.get(key)
        if old is None or old.outside_days is None:
            return new.outside_days if new is not None else None
        if old.begun_on is None:
            return old.outside_days
        gone_by = (self._earlier.now - moment_at_start(old.begun_on)) / dt.timedelta(days=1)
        return max(old.outside_days, gone_by)

    def days_on(self, key: str) -> float | None:
        """Days that outside work took, or takes at least if it is not back."""
        new = self._new.get(key)
        if new is None or new.outside_days is None:
            return self.days_off(key)
        if new.begun_on is None:
            return new.outside_days
        begun = moment_at_start(new.begun_on)
        if new.finished_on is not None:
            back = moment_at_start(new.finished_on)
            return max(0.0, (back - begun) / dt.timedelta(days=1))
        return max(new.outside_days, (self._later.now - begun) / dt.timedelta(days=1))

    def done_before(self, key: str) -> bool:
        """Whether a task that is new was already finished when the earlier build was frozen."""
        new = self._new[key]
        return new.finished_on is not None and finished_at(self._later, new) <= self._earlier.now
