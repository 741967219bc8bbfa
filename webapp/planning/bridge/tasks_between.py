"""The tasks between two builds: their hours and days as they were known, and as they went."""

import datetime as dt
from collections.abc import Mapping

from webapp.build.build_input import BuildInput, Task
from webapp.build.hours_to_go import planned_seconds
from webapp.build.moments import moment_at_start
from webapp.planning.bridge.work_between import WorkBetween
from webapp.planning.network.outside_holds import finished_at


class TasksBetween:
    """Hours and days of any replay between two builds (see `replay`); `old`, `new` tasks by key.

    "Off" is as the earlier build knew, "on" as it went.
    """

    def __init__(
        self,
        earlier: BuildInput,
        later: BuildInput,
        between: WorkBetween,
        old: Mapping[str, Task],
        new: Mapping[str, Task],
    ) -> None:
        self._earlier, self._later, self._between = earlier, later, between
        self._old, self._new = old, new
        self._known_before, self._left_in_later = _hours_as_known(earlier), _hours_as_known(later)

    def estimate_differs(self, key: str) -> bool:
        """Whether a task of the later build took other hours or days than were known."""
        old, new = self._old.get(key), self._new[key]
        if old is not None and old.finished_on is not None:
            return new.finished_on is None
        if new.outside_days is not None:
            return self.days_off(key) != self.days_on(key)
        if self.gets_out_within(key):
            return True
        return abs(self.hours_off(key) - self.hours_on(key)) * 3600 >= 1

    def is_shop_work(self, key: str) -> bool:
        """Whether a task of the later build is done in the shop."""
        return key in self._new and self._new[key].outside_days is None

    def hours_off(self, key: str) -> float:
        """Hours of a task as the earlier build knew; those expected where it is new."""
        if key in self._old:
            return self._known_before.get(key, 0.0)
        return self._new[key].hours.expected

    def hours_on(self, key: str) -> float:
        """Hours worked on a task between the two, and left in the later build."""
        return self._between.hours.get(key, 0.0) + self._left_in_later.get(key, 0.0)

    def hours_longer(self, key: str) -> float:
        """By how many hours a task took longer than was known; outside work in wall time."""
        if self.is_shop_work(key):
            return self.hours_on(key) - self.hours_off(key)
        return 24 * ((self.days_on(key) or 0.0) - (self.days_off(key) or 0.0))

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

    def gets_out_within(self, key: str) -> bool:
        """Whether the logged hours of a later task hold the getting out of its setup."""
        new = self._new[key]
        was_open = key not in self._old or self._old[key].is_open
        worked = self._between.hours.get(key, 0.0) > 0
        return bool(new.setup and new.finished_on and was_open and worked)

    def done_before(self, key: str) -> bool:
        """Whether a task that is new was already finished when the earlier build was frozen."""
        new = self._new[key]
        return new.finished_on is not None and finished_at(self._later, new) <= self._earlier.now


def _hours_as_known(build: BuildInput) -> dict[str, float]:
    return {key: seconds / 3600 for key, seconds in planned_seconds(build).items()}
