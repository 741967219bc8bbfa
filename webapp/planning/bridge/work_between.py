"""What was worked between two moments of one build: hours by task, and the sessions they took.

Two frozen builds are compared, `earlier` and `later`, the second with the later (or the same)
`now`. Log entries that the later one has and the earlier one has not, and that are dated within
the two, are what was worked between them.
"""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import replace

from webapp.build.build_input import BuildInput, DayException, DayHours, LogEntry
from webapp.build.hours_to_go import hours_to_go_of
from webapp.build.logged_hours import logged_hours, worked_by_day
from webapp.build.moments import date_of
from webapp.build.time.promised_days import PromisedDays, minute_of_day
from webapp.build.time.shop_calendar import sessions_on
from webapp.build.time_units import DAY, DAY_MINUTES

CLOSED_DAY_BEGINS_MINUTE = 8 * 60
"""Work on a day the shop was closed is taken to have begun at 8:00."""


class WorkBetween:
    """Hours worked between the two `now`s.

    hours : by task key, what of the log counts as worked between them
    by_day : hours the shop was in use on each date
    promised : hours the shop week of the later build promised on each date of the stretch
    """

    def __init__(self, earlier: BuildInput, later: BuildInput) -> None:
        self.since, self.until = earlier.now, later.now
        self._later = later
        days = PromisedDays(later)
        self.dates = _dates(self.since, self.until)
        self.promised = {
            day: days.hours(day, since=self.since, until=self.until) for day in self.dates
        }
        entries = self._within_the_day(_new_entries(earlier, later, self.dates))
        entries += self._finished_without_a_log(earlier, entries)
        self.hours: dict[str, float] = defaultdict(float)
        for entry in entries:
            self.hours[entry.task] += entry.hours
        worked = worked_by_day(later, entries)
        self.by_day = {day: worked.get(day, 0.0) for day in self.dates}

    def sessions(self, day: dt.date) -> tuple[DayHours, ...]:
        """The stretches of a date that were worked, and those still promised after `until`.

        Hours are taken from the promised sessions in order; what is more goes on after the last
        closing, and before it where the day is too short.
        """
        first, last = minute_of_day(self.since, day), minute_of_day(self.until, day)
        promised = sessions_on(self._later, day)
        stretches = [cut for s in promised if (cut := _cut(s, first, last))]
        left = round(self.by_day[day] * 60)
        worked: list[DayHours] = []
        for s in stretches:
            taken = min(left, s.closes_minute - s.opens_minute)
            if taken:
                worked.append(replace(s, closes_minute=s.opens_minute + taken))
            left -= taken
        worked += _beyond(stretches, left, first, last)
        ahead = [cut for s in promised if (cut := _cut(s, last, DAY_MINUTES))]
        return tuple(sorted([*worked, *ahead], key=lambda s: s.opens_minute))

    def exceptions(self) -> tuple[DayException, ...]:
        """One exception for each date of the stretch: its worked sessions."""
        return tuple(DayException(date=d, sessions=self.sessions(d)) for d in self.dates)

    def _within_the_day(self, entries: list[LogEntry]) -> list[LogEntry]:
        """Entries cut down where a date has not as many hours between the two moments."""
        worked = worked_by_day(self._later, entries)
        room = {
            d: (minute_of_day(self.until, d) - minute_of_day(self.since, d)) / 60 for d in worked
        }
        return [
            replace(e, hours=e.hours * min(1.0, room[e.on] / worked[e.on]))
            for e in entries
            if worked[e.on]
        ]

    def _finished_without_a_log(
        self, earlier: BuildInput, entries: list[LogEntry]
    ) -> list[LogEntry]:
        """Hours of tasks that were finished with nothing logged on them.

        They are taken to have used the hours that were still to go, in promised hours that no
        other work used, from the day they were finished on backward.
        """
        before, after = logged_hours(earlier.log), logged_hours(self._later.log)
        open_before = {task.key: task for task in earlier.tasks if task.is_open}
        used = worked_by_day(self._later, entries)
        free = {day: hours - used.get(day, 0.0) for day, hours in self.promised.items()}
        assumed: list[LogEntry] = []
        for task in self._later.tasks:
            if task.finished_on is None or task.outside_days is not None or not task.people:
                continue
            if after.get(task.key, 0.0) > before.get(task.key, 0.0):
                continue
            as_known = open_before.get(task.key)
            if as_known is None and any(t.key == task.key for t in earlier.tasks):
                continue
            to_go = hours_to_go_of(earlier, as_known) if as_known else task.hours.expected
            for day in reversed(self.dates):
                if day > date_of(task.finished_on) or to_go <= 0:
                    continue
                taken = min(to_go, max(0.0, free[day]))
                if taken > 0:
                    assumed.append(LogEntry(task=task.key, on=day, hours=taken))
                    free[day] -= taken
                    to_go -= taken
        return assumed


def _dates(since: dt.datetime, until: dt.datetime) -> list[dt.date]:
    """Every date that has a moment between the two; none where they are the same."""
    if since >= until:
        return []
    last = (until - dt.timedelta(minutes=1)).date()
    return [since.date() + DAY * i for i in range((last - since.date()).days + 1)]


def _new_entries(
    earlier: BuildInput, later: BuildInput, dates: Iterable[dt.date]
) -> list[LogEntry]:
    """What was logged more on each task and date, for dates within the stretch."""
    more: dict[tuple[dt.date, str], float] = defaultdict(float)
    for entry in later.log:
        more[entry.on, entry.task] += entry.hours
    for entry in earlier.log:
        more[entry.on, entry.task] -= entry.hours
    within = set(dates)
    return [
        LogEntry(task=task, on=day, hours=hours)
        for (day, task), hours in sorted(more.items())
        if day in within and hours > 1e-9
    ]


def _cut(session: DayHours, first: int, last: int) -> DayHours | None:
    opens, closes = max(session.opens_minute, first), min(session.closes_minute, last)
    if opens >= closes:
        return None
    return replace(session, opens_minute=opens, closes_minute=closes)


def _beyond(promised: list[DayHours], minutes: int, first: int, last: int) -> list[DayHours]:
    """Where work beyond the promised sessions went: after the last of them, then before."""
    begins = promised[-1].closes_minute if promised else CLOSED_DAY_BEGINS_MINUTE
    begins = min(max(begins, first), last)
    after = min(minutes, last - begins)
    found = [DayHours(opens_minute=begins, closes_minute=begins + after)] if after > 0 else []
    minutes -= max(0, after)
    gap_ends = begins
    for session in [*reversed(promised), None]:
        gap_begins = session.closes_minute if session else first
        taken = min(minutes, gap_ends - gap_begins)
        if taken > 0:
            found.append(DayHours(opens_minute=gap_ends - taken, closes_minute=gap_ends))
            minutes -= taken
        gap_ends = session.opens_minute if session else first
    return found
