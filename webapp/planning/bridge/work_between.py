"""What was worked between two moments of one build: hours by task and date, at a pace.

Two frozen builds are compared, `earlier` and `later`, the second with the later (or the same)
`now`. Log entries that the later one has and the earlier one has not, and that are dated within
the two, are what was worked between them.
"""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import replace

from webapp.build.build_input import BuildInput
from webapp.build.hours_to_go import hours_to_go_of
from webapp.build.logged_hours import logged_hours
from webapp.build.moments import date_of
from webapp.build.time.promised_days import PromisedDays, minute_of_day
from webapp.build.time_units import DAY
from webapp.planning.bridge.worked import NO_HOURS, Worked, setup_hours_of, told_apart, worked_by
from webapp.planning.chances.pace import PaceOf


class WorkBetween:
    """Hours worked between the two `now`s; hours of hands are told at the earlier build's pace.

    entries : in the order of the later log, as logged; before : those of the earlier one
    dates : every date that has a moment between the two
    hand_minutes : minutes of hands by date, getting out among them
    minutes_in_use : minutes the shop was in use by date: those of hands over the people there are,
        at least those of the longest task
    """

    def __init__(self, earlier: BuildInput, later: BuildInput, pace: PaceOf) -> None:
        self.since, self.until = earlier.now, later.now
        self._later = later
        self._promised = PromisedDays(later)
        self.dates = _dates(self.since, self.until)
        tasks = {task.key: task for task in (*later.tasks, *earlier.tasks)}
        setups, people = setup_hours_of(earlier, later), earlier.shop.people
        rest: dict[str, float] = {}
        self.before = told_apart(
            worked_by(earlier.log), tasks, setups, out=(), people=people, rest=rest
        )
        new = self._within_the_day(_new_entries(earlier, later, self.dates))
        entries = told_apart(
            new, tasks, setups, out=earlier.shop.setups_out, people=people, rest=rest
        )
        self.entries = entries + self._finished_without_a_log(earlier, entries)
        self._tasks = {task.key: task for task in later.tasks}
        self._sum_up(pace)

    def _sum_up(self, pace: PaceOf) -> None:
        self.hand_minutes = dict.fromkeys(self.dates, 0.0)
        by_task: dict[tuple[dt.date, str], float] = defaultdict(float)
        for entry in self.entries:
            task = self._tasks.get(entry.task)
            if task is None:
                minutes, hands = 60 * (entry.hours + entry.setup_hours), 1
            else:
                minutes = 60 * (pace.hours_of_worked(task, entry.hours) + entry.setup_hours)
                hands = 1 if task.outside_days is not None else task.people
            self.hand_minutes[entry.on] += minutes * hands
            by_task[entry.on, entry.task] += minutes if hands else 0.0
        people = max(1, self._later.shop.people)
        self.minutes_in_use = {day: m / people for day, m in self.hand_minutes.items()}
        for (day, _), minutes in by_task.items():
            self.minutes_in_use[day] = max(self.minutes_in_use[day], minutes)

    def hours(self) -> dict[str, float]:
        """Hours at the bench by task key."""
        hours: dict[str, float] = defaultdict(float)
        for entry in self.entries:
            hours[entry.task] += entry.hours + entry.setup_hours
        return hours

    def _within_the_day(self, entries: list[Worked]) -> list[Worked]:
        """Entries cut down where a date has not as many hours between the two moments."""
        worked: dict[dt.date, float] = defaultdict(float)
        people = max(1, self._later.shop.people)
        for entry in entries:
            worked[entry.on] += (entry.hours + entry.setup_hours) / people
        room = {
            d: (minute_of_day(self.until, d) - minute_of_day(self.since, d)) / 60 for d in worked
        }
        return [
            replace(e, hours=e.hours * share, setup_hours=e.setup_hours * share)
            for e in entries
            if (share := min(1.0, room[e.on] / worked[e.on]))
        ]

    def _finished_without_a_log(self, earlier: BuildInput, entries: list[Worked]) -> list[Worked]:
        """Hours of tasks that were finished with nothing logged on them.

        They are taken to have used the hours that were still to go, in promised hours that no
        other work used, from the day they were finished on backward.
        """
        before, after = logged_hours(earlier.log), logged_hours(self._later.log)
        open_before = {task.key: task for task in earlier.tasks if task.is_open}
        known = {task.key for task in earlier.tasks}
        free = self._free_hours(entries)
        assumed: list[Worked] = []
        for task in self._later.tasks:
            if task.finished_on is None or task.outside_days is not None or not task.people:
                continue
            if after.get(task.key, 0.0) > before.get(task.key, 0.0):
                continue
            as_known = open_before.get(task.key)
            if as_known is None and task.key in known:
                continue
            to_go = hours_to_go_of(earlier, as_known) if as_known else task.hours.expected
            for day in reversed(self.dates):
                if day > date_of(task.finished_on) or to_go <= 0:
                    continue
                taken = min(to_go, max(0.0, free[day]))
                if taken > 0:
                    assumed.append(Worked(task=task.key, on=day, hours=taken))
                    free[day] -= taken
                    to_go -= taken
        return assumed

    def _free_hours(self, entries: Iterable[Worked]) -> dict[dt.date, float]:
        """Promised hours of each date that nothing was logged for."""
        free = {
            day: self._promised.hours(day, since=self.since, until=self.until) for day in self.dates
        }
        for entry in entries:
            free[entry.on] -= entry.hours + entry.setup_hours
        return free


def _dates(since: dt.datetime, until: dt.datetime) -> list[dt.date]:
    """Every date that has a moment between the two; none where they are the same."""
    if since >= until:
        return []
    last = (until - dt.timedelta(minutes=1)).date()
    return [since.date() + DAY * i for i in range((last - since.date()).days + 1)]


def _new_entries(earlier: BuildInput, later: BuildInput, dates: Iterable[dt.date]) -> list[Worked]:
    """What was logged more on each task and date, for dates within the stretch, in its order."""
    within = set(dates)
    known: dict[tuple[dt.date, str], list[float]] = defaultdict(lambda: [0.0, 0.0])
    for entry in worked_by(earlier.log):
        known[entry.on, entry.task][0] += entry.hours
        known[entry.on, entry.task][1] += entry.setup_hours
    entries = []
    for entry in worked_by(later.log):
        before = known[entry.on, entry.task]
        hours, setup = max(0.0, entry.hours - before[0]), max(0.0, entry.setup_hours - before[1])
        before[0] = max(0.0, before[0] - entry.hours)
        before[1] = max(0.0, before[1] - entry.setup_hours)
        if entry.on in within and hours + setup > NO_HOURS:
            entries.append(replace(entry, hours=hours, setup_hours=setup))
    return sorted(entries, key=lambda entry: entry.on)
