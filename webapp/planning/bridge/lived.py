"""The days between two builds as they were lived: what could be worked, and what would have been.

*Workable* is the open shop time in which a task for hands that first start needs could be worked
by the facts as they were lived: accepted, its before-tasks finished and their waits over, its
parts here, helper and room for work in one go there, itself not yet finished.
"""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

import numpy as np

from webapp.build.build_input import BuildInput, Part, Task
from webapp.build.moments import moment_at_start
from webapp.build.precedence import needed_for
from webapp.build.shop import DayException, DayHours
from webapp.build.time.promised_days import PromisedDays, minute_of_day
from webapp.build.time.shop_calendar import ShopCalendar
from webapp.build.time.stretches import Stretch, joined
from webapp.build.time_units import DAY
from webapp.planning.bridge.tasks_between import TasksBetween
from webapp.planning.network.outside_holds import finished_at
from webapp.planning.order.order_that_holds import ranking_that_holds
from webapp.planning.simulator.simulate import simulate
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import lay_out

NEVER = dt.datetime.max


@dataclass(frozen=True, slots=True, kw_only=True)
class LivedTask:
    """A task and the stretch of time in which it could be worked: `since` up to `until`.

    `could_begin` is when all that it waits for was over, whenever it was begun.
    """

    task: Task
    could_begin: dt.datetime
    since: dt.datetime
    until: dt.datetime


class Lived:
    """The facts of a later build, told for any morning since an earlier one.

    tasks : all tasks as they were lived
    accepted : when a task that is new was accepted, by key
    parts : the parts each task waited for, one for each part and task
    """

    def __init__(
        self,
        earlier: BuildInput,
        later: BuildInput,
        between: TasksBetween,
        *,
        tasks: Iterable[Task],
        accepted: Mapping[str, dt.datetime],
        parts: Iterable[Part],
    ) -> None:
        self._earlier, self._later, self._between = earlier, later, between
        self._parts, self._accepted = tuple(parts), accepted
        self._tasks = {task.key: task for task in tasks}
        self._over = {t.key: finished_at(later, t) for t in later.tasks if t.finished_on}
        came: dict[str, dt.datetime] = {}
        for part in self._parts:
            at = NEVER if part.arrives_on is None else moment_at_start(part.arrives_on)
            for key in part.serves:
                came[key] = max(came.get(key, at), at)
        before: dict[str, list[dt.datetime]] = {}
        for link in later.dependencies:
            if link.before in self._tasks:
                over = self._over.get(link.before, NEVER)
                wait = dt.timedelta(hours=link.wait_hours)
                before.setdefault(link.after, []).append(over + wait if over != NEVER else NEVER)
        self.lived = [
            self._lived_task(task, (*before.get(key, ()), came.get(key, earlier.now)))
            for key, task in self._tasks.items()
        ]
        first_start = later.first_start
        needed = needed_for(later, first_start) if first_start in self._tasks else frozenset()
        in_shop = [o for o in self.lived if o.task.key in needed and o.task.outside_days is None]
        self._of_hands = [one for one in in_shop if one.task.people]
        self._without_hands = [one for one in in_shop if not one.task.people]

    def _lived_task(self, task: Task, over: Iterable[dt.datetime]) -> LivedTask:
        could_begin = max(self._accepted.get(task.key, self._earlier.now), *over)
        since = could_begin
        if task.begun_on is not None:
            since = max(min(since, moment_at_start(task.begun_on)), self._earlier.now)
        return LivedTask(
            task=task,
            could_begin=could_begin,
            since=since,
            until=self._over.get(task.key, NEVER),
        )

    # --- workable -----------------------------------------------------------------------------

    def workable(self, day: dt.date, sessions: tuple[DayHours, ...]) -> list[Stretch]:
        """Stretches of a date's sessions in which something could be worked, joined, in order."""
        found: list[Stretch] = []
        whole = joined(map(_stretch, sessions))
        helped = joined(_stretch(session) for session in sessions if session.helper)
        for one in self._of_hands:
            begins, ends = minute_of_day(one.since, day), minute_of_day(one.until, day)
            # Getting a setup out needs neither the helper nor room for the work.
            gets_out = one.task.setup is not None
            for opens, closes in helped if one.task.helper and not gets_out else whole:
                since, until = max(opens, begins), min(closes, ends)
                if since < until and self._has_room(one.task, day, since, closes):
                    found.append((since, until))
        return joined(found)

    def _has_room(self, task: Task, day: dt.date, since: int, closes: int) -> bool:
        if task.setup is not None or not (task.in_one_go or task.helper):
            return True
        if (
            task.begun_on is not None
            and minute_of_day(moment_at_start(task.begun_on), day) < closes
        ):
            return True
        return closes - since >= min(task.hours.expected, closes / 60) * 60

    def stood(self, day: dt.date, sessions: tuple[DayHours, ...]) -> bool:
        """Whether work without hands that first start needs stood still on a date.

        It runs while the shop is open and somebody is there: it could have been begun and was
        not, or took more open hours than its own, as many as this date has.
        """
        minutes = sum(ends - begins for begins, ends in joined(map(_stretch, sessions)))
        return minutes > 0 and any(
            self._stood(one, day, sessions, minutes) for one in self._without_hands
        )

    def _stood(
        self, one: LivedTask, day: dt.date, sessions: tuple[DayHours, ...], minutes: int
    ) -> bool:
        task, seconds = one.task, self._between.seconds_off(one.task.key)
        begun = None if task.begun_on is None else moment_at_start(task.begun_on)
        if seconds <= 0 or one.until <= moment_at_start(day):
            return False
        if begun is None or begun.date() > day:
            since = minute_of_day(one.could_begin, day)
            return not task.stations and any(since < s.closes_minute for s in sessions)
        if begun.date() == day:
            return False
        until = min(one.until, self._later.now)
        ran = seconds - self._between.seconds_left(task.key)
        opened = self._open_seconds(max(begun, self._earlier.now), until)
        return opened - ran >= 60 * minutes

    # --- what the house rules would have done -------------------------------------------------

    def hands_on(
        self, day: dt.date, sessions: tuple[DayHours, ...], until: dt.datetime
    ) -> list[tuple[int, int, int]]:
        """What the house rules would have worked on a date from that morning's lived state.

        From which to which minute of the day, and how many hands.
        """
        morning = max(moment_at_start(day), self._earlier.now)
        evening = min(moment_at_start(day) + DAY, until)
        build, seconds = self._as_of(morning, evening)
        own = DayException(date=day, sessions=sessions)
        days = (own, *(other for other in build.shop.days if other.date != day))
        build = replace(build, shop=replace(build.shop, days=days))
        work = lay_out(build, work_seconds=seconds)
        ranking = ranking_that_holds(self._earlier, work)
        schedule = simulate(work, Variants(count=1, rankings=(ranking,)))
        calendar = work.calendar
        span = int(calendar.shop_of(calendar.wall_of(evening)))
        since = calendar.wall_of(moment_at_start(day))
        found: list[tuple[int, int, int]] = []
        for i in range(len(work)):
            begin, end = int(schedule.begin[i, 0]), min(int(schedule.end[i, 0]), span)
            if work.people[i] and begin < end:
                hands = int(work.people[i])
                for opens, closes in _stretches(calendar, begin, end):
                    found.append(((opens - since) // 60, (closes - since) // 60, hands))
        return found

    def _as_of(
        self, morning: dt.datetime, evening: dt.datetime
    ) -> tuple[BuildInput, dict[str, int]]:
        """The build of a morning, and the seconds that each open task still took from then on."""
        tasks: list[Task] = []
        still = self._between.seconds_on_since(morning.date())
        for one in self.lived:
            task, key = one.task, one.task.key
            if self._accepted.get(key, morning) > morning:
                continue
            if one.until <= morning:
                tasks.append(replace(task, finished_on=one.until, hours_left=None))
                continue
            was_begun = task.begun_on is not None and moment_at_start(task.begun_on) < morning
            if task.outside_days is not None:
                task = replace(task, outside_days=self._between.days_on(key))
            begun = task.begun_on if was_begun else None
            tasks.append(replace(task, begun_on=begun, finished_on=None, hours_left=None))
            if not task.people and was_begun:
                # It stands until it was done: beyond the day where that was later.
                until = min(one.until, evening + DAY)
                still[key] = self._open_seconds(morning, until)
        shop = replace(self._earlier.shop, setups_out=self._between.setups_out_on(morning.date()))
        build = replace(
            self._later,
            now=morning,
            starts_on=self._earlier.starts_on,
            shop=shop,
            tasks=tuple(tasks),
            parts=self._parts,
            log=(),
        )
        return build, still

    def _open_seconds(self, since: dt.datetime, until: dt.datetime) -> int:
        """Open shop seconds, as the earlier build promised them, from one moment to another."""
        promised = PromisedDays(self._earlier)
        days = (until.date() - since.date()).days + 1
        dates = (since.date() + DAY * i for i in range(days))
        return round(3600 * sum(promised.hours(d, since=since, until=until) for d in dates))


def _stretches(calendar: ShopCalendar, begin: int, end: int) -> Iterable[Stretch]:
    """The wall seconds of work from one shop second to another, session by session."""
    place = int(np.searchsorted(calendar.shop_at_close, begin, side="right"))
    while place < len(calendar.opens) and calendar.shop_at_open[place] < end:
        before = int(calendar.opens[place]) - int(calendar.shop_at_open[place])
        until = min(end, int(calendar.shop_at_close[place]))
        yield before + max(begin, int(calendar.shop_at_open[place])), before + until
        place += 1


def _stretch(session: DayHours) -> Stretch:
    return session.opens_minute, session.closes_minute
