"""Shop hours in which work for first start could be done, date by date, as the facts were lived.

Hours are those the shop was in use (see `logged_hours`), so that promised, workable, worked and
lost can be compared. How the facts are read:

- A finish given as a date counts from that day's last closing, a beginning given as a date from
  00:00. What has been begun could be worked from that moment on, whatever holds it on paper.
- A part that is here came at its arrival moment, and without one was always here; a part that
  is not here has not come yet.
- Outside work and work without hands make no hour workable; what follows waits for their finish.
- A task that is set aside could be worked until that date, and holds what follows it.
- Stations and setups hold only in the replay by the house rules.
- Hours a task takes are those it took: all that was logged, and what is left where it is open.
- The session that runs now is left out of the promised and workable hours: it is not lost.
"""

import datetime as dt
from dataclasses import dataclass, replace

from webapp.build.build_input import BuildInput, DayHours, Part, Task
from webapp.build.hours_to_go import LEAST_HOURS_LEFT, hours_to_go
from webapp.build.logged_hours import logged_hours, worked_by_day
from webapp.build.moments import date_of, moment_at_start
from webapp.build.precedence import needed_for
from webapp.build.time.shop_calendar import last_closing, sessions_on
from webapp.build.time_units import DAY
from webapp.planning.order.job_order import make_plan

Stretch = tuple[dt.datetime, dt.datetime]


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkableDay:
    """One date: hours promised, workable, worked, and workable ones that were not worked."""

    date: dt.date
    promised_hours: float
    workable_hours: float
    worked_hours: float

    @property
    def lost_hours(self) -> float:
        """Workable hours less those worked; never below 0."""
        return max(0.0, self.workable_hours - self.worked_hours)


def workable_days(build: BuildInput, first: dt.date, last: dt.date) -> tuple[WorkableDay, ...]:
    """Every date from `first` to `last`, both with, none later than the build's `now`."""
    last = min(last, build.now.date())
    lived = _Lived(build)
    worked = worked_by_day(build, build.log)
    return tuple(
        lived.day(first + DAY * i, worked.get(first + DAY * i, 0.0))
        for i in range((last - first).days + 1)
    )


class _Lived:
    """What is asked of a build for every date, worked out once."""

    def __init__(self, build: BuildInput) -> None:
        self._build = build
        target = build.first_start
        known = any(task.key == target for task in build.tasks)
        needed = needed_for(build, target) if target is not None and known else frozenset()
        self._logged = logged_hours(build.log)
        self._tasks = {task.key: task for task in build.tasks}
        self._hands = {
            task.key: task
            for task in build.tasks
            if task.key in needed and task.outside_days is None and task.people > 0
        }
        ready = ((task, self._ready(task)) for task in self._hands.values())
        self._spans = [(task, begin, self._end(task)) for task, begin in ready if begin is not None]

    def day(self, date: dt.date, worked: float) -> WorkableDay:
        """One date, on which so many hours were worked."""
        stretches = self._open(date)
        promised = _hours(stretches)
        workable = _hours(_union(self._could(stretches)))
        if worked < workable:
            workable = max(worked, min(workable, self._by_house_rules(date, stretches)))
        else:
            workable = worked
        return WorkableDay(
            date=date, promised_hours=promised, workable_hours=workable, worked_hours=worked
        )

    def _open(self, date: dt.date) -> list[tuple[dt.datetime, dt.datetime, bool]]:
        """The sessions of a date that have closed by now: opening, closing, helper there."""
        build, midnight = self._build, dt.datetime.combine(date, dt.time())
        minute = dt.timedelta(minutes=1)
        sessions: list[DayHours] = list(sessions_on(build, date))
        stretches = [
            (midnight + minute * s.opens_minute, midnight + minute * s.closes_minute, s.helper)
            for s in sessions
        ]
        return [stretch for stretch in stretches if stretch[1] <= build.now]

    def _ready(self, task: Task) -> dt.datetime | None:
        """When a task could first be worked; None where that has not come yet."""
        clears = [dt.datetime.min]
        held = False
        for dependency in self._build.dependencies:
            before = self._tasks.get(dependency.before)
            if dependency.after == task.key and before is not None:
                held |= before.finished_on is None
                if before.finished_on is not None:
                    wait = dt.timedelta(hours=dependency.wait_hours)
                    clears.append(self._end(before) + wait)
        for part in self._build.parts:
            if task.key in part.serves:
                held |= not part.arrived
                if part.arrived and part.arrives_on is not None:
                    clears.append(moment_at_start(part.arrives_on))
        if task.begun_on is not None:
            begun = moment_at_start(task.begun_on)
            return begun if held else min(begun, max(clears))
        return None if held else max(clears)

    def _end(self, task: Task) -> dt.datetime:
        """When a task was finished or set aside; the end of time where it is open."""
        done = task.finished_on
        if isinstance(done, dt.datetime):
            return done
        if done is not None:
            return last_closing(self._build.shop, done)
        aside = task.set_aside_on
        return dt.datetime.max if aside is None else moment_at_start(aside)

    def _took(self, task: Task) -> float:
        """Hours of work a task took, and is thought to take still."""
        logged = self._logged.get(task.key, 0.0)
        if task.finished_on is not None:
            return logged or task.hours.expected
        return logged + hours_to_go(task, logged)

    def _could(self, stretches: list[tuple[dt.datetime, dt.datetime, bool]]) -> list[Stretch]:
        """Every stretch of the sessions in which some task for first start could be worked."""
        could = []
        for task, ready, end in self._spans:
            fit = dt.timedelta(hours=self._took(task) if task.in_one_go else 0)
            for opens, closes, helper in stretches:
                begin = max(opens, ready)
                inside = begin < min(closes, end) and begin + fit <= closes
                if inside and (helper or not task.helper):
                    could.append((begin, min(closes, end)))
        return could

    def _by_house_rules(
        self, date: dt.date, stretches: list[tuple[dt.datetime, dt.datetime, bool]]
    ) -> float:
        """Hours the house rules would have kept the shop in use on a date, from its morning."""
        plan = make_plan(self._morning(date))
        by_task = {
            planned.key: _hours(
                [(max(a, planned.begins), min(b, planned.ends)) for a, b, _ in stretches]
            )
            for planned in plan.tasks
            if planned.key in self._hands
        }
        hands = sum(hours * self._hands[key].people for key, hours in by_task.items())
        return max(hands / max(1, self._build.shop.people), *by_task.values(), 0.0)

    def _morning(self, date: dt.date) -> BuildInput:
        """The build as it stood at 00:00 of a date, with the hours that its work then took."""
        build = self._build
        log = tuple(entry for entry in build.log if entry.on < date)
        logged = logged_hours(log)
        in_turn = sorted(log, key=lambda entry: entry.on)
        setups = [self._tasks[e.task].setup for e in in_turn if e.task in self._tasks]
        out = next((setup for setup in reversed(setups) if setup is not None), None)
        return replace(
            build,
            now=dt.datetime.combine(date, dt.time()),
            log=log,
            on_bench=None,
            shop=replace(build.shop, setup_out=out),
            tasks=tuple(
                self._task_at(task, date, logged.get(task.key, 0.0)) for task in build.tasks
            ),
            parts=tuple(_part_at(part, date) for part in build.parts),
        )

    def _task_at(self, task: Task, date: dt.date, logged: float) -> Task:
        """A task as it stood that morning."""
        begun, done, aside = task.begun_on, task.finished_on, task.set_aside_on
        began = begun is not None and date_of(begun) < date
        finished = done is not None and date_of(done) < date
        hours = max(LEAST_HOURS_LEFT, self._took(task) - logged) if self._took(task) else 0.0
        days = task.outside_days
        if days is not None and begun is not None and done is not None:
            days = max(0.0, (self._end(task) - moment_at_start(begun)) / DAY)
        return replace(
            task,
            begun_on=begun if began else None,
            finished_on=done if finished else None,
            set_aside_on=aside if aside is not None and aside <= date else None,
            hours_left=hours if began and days is None else None,
            hours=replace(task.hours, optimistic=hours, most_likely=hours, pessimistic=hours),
            outside_days=days,
        )


def _part_at(part: Part, date: dt.date) -> Part:
    """A part as it stood that morning; one that has come by now comes at its own moment."""
    if not part.arrived or part.arrives_on is None:
        return part
    return replace(part, arrived=moment_at_start(part.arrives_on).date() < date)


def _union(stretches: list[Stretch]) -> list[Stretch]:
    """The same time without overlaps."""
    joined: list[Stretch] = []
    for begin, end in sorted(stretches):
        if joined and begin <= joined[-1][1]:
            joined[-1] = joined[-1][0], max(joined[-1][1], end)
        else:
            joined.append((begin, end))
    return joined


def _hours(stretches: list[Stretch] | list[tuple[dt.datetime, dt.datetime, bool]]) -> float:
    """Hours of all stretches together; one that ends before it begins has none."""
    none = dt.timedelta()
    return sum(max(none, s[1] - s[0]) / dt.timedelta(hours=1) for s in stretches)
