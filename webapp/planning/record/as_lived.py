"""The facts of a build as they were lived, asked for any date gone by.

How facts are read: a finish given as a date counts from that day's last closing, a beginning from
00:00; what has been begun could be worked from that moment on, whatever holds it on paper. A part
that is here came on the day that was said for it, and without one was always here. A task of a
wish could be worked from the day after its decision. Work set aside could be worked until then.
"""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from webapp.build.build_input import BuildInput, Part, Task
from webapp.build.hours_to_go import planned_seconds
from webapp.build.moments import date_of, moment_at_start
from webapp.build.precedence import needed_for
from webapp.build.setups_out import SetupKeys, out_after
from webapp.build.shop import DayHours
from webapp.build.three_point import ThreePoint
from webapp.build.time.promised_days import minute_of_day
from webapp.build.time.shop_calendar import sessions_on
from webapp.build.time.stretches import joined
from webapp.build.time_units import DAY
from webapp.planning.network.outside_holds import finished_at
from webapp.planning.simulator.longest_way import longest_ways
from webapp.planning.simulator.simulate import simulate
from webapp.planning.simulator.variants import as_it_is
from webapp.planning.simulator.work_arrays import lay_out

NEVER = dt.datetime.max


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stood:
    """A task for hands, the stretch of time in which it could be worked, and what it took."""

    task: Task
    since: dt.datetime
    until: dt.datetime
    hours: float


class AsLived:
    """The facts of a build, asked for any date gone by."""

    def __init__(self, build: BuildInput) -> None:
        self.build = build
        self.over = {t.key: finished_at(build, t) for t in build.tasks if t.finished_on is not None}
        self.came = _parts_came(build)
        self.before: dict[str, list[tuple[str, dt.timedelta]]] = defaultdict(list)
        known = {task.key for task in build.tasks}
        for link in build.dependencies:
            if link.before in known:
                wait = dt.timedelta(hours=link.wait_hours)
                self.before[link.after].append((link.before, wait))
        self.accepted = _accepted(build)
        self.logged = _logged_by_date(build)
        setups = {task.key: task.setup for task in build.tasks}
        self.used = [
            (entry.on, setup)
            for entry in sorted(build.log, key=lambda entry: entry.on)
            if (setup := setups.get(entry.task)) is not None
        ]
        first = build.first_start
        needed = needed_for(build, first) if first in known and first else frozenset(known)
        left = planned_seconds(build)
        self.stood = {
            task.key: self._stood(task, left)
            for task in build.tasks
            if task.key in needed and task.people and task.outside_days is None
        }

    @cached_property
    def ways(self) -> dict[str, int]:
        """What the house rules rank by; most dates are known without laying anything out."""
        return _ways(self.build)

    def _stood(self, task: Task, left: Mapping[str, int]) -> _Stood:
        over = [
            self.over[key] + wait if key in self.over else NEVER
            for key, wait in self.before.get(task.key, ())
        ]
        since = max([*over, self.came.get(task.key, dt.datetime.min), self._accepted_at(task)])
        if task.begun_on is not None:
            since = min(since, moment_at_start(task.begun_on))
        until = self.over.get(task.key, NEVER)
        if task.set_aside_on is not None and task.finished_on is None:
            until = moment_at_start(task.set_aside_on)
        logged = sum(self.logged.get(task.key, {}).values())
        if task.finished_on is not None and not logged:
            logged = task.hours.expected  # nobody wrote down what it took
        hours = logged + left.get(task.key, 0) / 3600
        return _Stood(task=task, since=since, until=until, hours=hours)

    def _accepted_at(self, task: Task) -> dt.datetime:
        return self.accepted.get(task.wish or "", dt.datetime.min)

    def _hours_over(self, day: dt.date) -> float:
        """Hours of the sessions of a date that are over."""
        sessions = [s for s in sessions_on(self.build, day) if self._is_over(day, s)]
        return sum(s.closes_minute - s.opens_minute for s in sessions) / 60

    def hours(self, day: dt.date) -> float:
        """Hours of a date in which the house rules would have kept the shop in use."""
        over = self._hours_over(day)
        if not over:
            return 0.0
        ready = self._ready(day)
        if self._fills(ready, day) >= over:
            return over
        reached = self._reached(ready, day)
        return self._by_house_rules(list(reached.values()), day, over) if reached else 0.0

    def reached(self, day: dt.date) -> list[str]:
        """The keys of what was there to work on, in the order of entry."""
        reached = self._reached(self._ready(day), day)
        return [key for key in self.stood if key in reached]

    def _ready(self, day: dt.date) -> list[_Stood]:
        return [
            one
            for one in self.stood.values()
            if minute_of_day(one.since, day) < minute_of_day(one.until, day)
            and self._rest(one, day) > 0
        ]

    def _fills(self, ready: Iterable[_Stood], day: dt.date) -> float:
        """Hours for which the shop is in use at least, whatever is taken up first.

        Work that can be begun in the morning and laid down at any moment, shared out among all
        hands: as long as some of it is left, nobody stands idle. Most dates need no more than
        this, and so no laying out.
        """
        morning, people = moment_at_start(day), self.build.shop.people
        whole = sum(
            one.task.people * self._rest(one, day)
            for one in ready
            if one.since <= morning
            and not (one.task.in_one_go or one.task.helper or one.task.stations)
        )
        return whole / max(people, 1)

    def _is_over(self, day: dt.date, session: DayHours) -> bool:
        """Whether a session of a date lies behind `now`: the one that runs is not lost yet."""
        closes = dt.timedelta(minutes=session.closes_minute)
        return moment_at_start(day) + closes <= self.build.now

    def _reached(self, ready: Iterable[_Stood], day: dt.date) -> dict[str, _Stood]:
        """What was there to work on a date: what was ready, and what follows it at once.

        What follows is ready as soon as all before it is done, unless a wait or a part stood
        between.
        """
        reached, morning = {one.task.key: one for one in ready}, moment_at_start(day)
        again = bool(reached)
        while again:
            again = False
            for key, one in self.stood.items():
                if key in reached or one.until <= morning:
                    continue
                if self.came.get(key, dt.datetime.min) > morning:
                    continue
                befores = self.before.get(key, ())
                if befores and all(self._is_done(b, w, morning, reached) for b, w in befores):
                    reached[key] = one
                    again = True
        return reached

    def _by_house_rules(self, there: list[_Stood], day: dt.date, over: float) -> float:
        """Hours in which the shop would have been in use, of those of a date that are over."""
        morning = moment_at_start(day)
        keys = {one.task.key for one in there}
        build = replace(
            self.build,
            now=morning,
            first_start=None,
            starts_on=None,
            tasks=tuple(self._of_morning(one, day) for one in there),
            dependencies=tuple(
                link for link in self.build.dependencies if {link.before, link.after} <= keys
            ),
            parts=tuple(
                Part(key=one.task.key, name="", serves=(one.task.key,), arrives_on=one.since)
                for one in there
                if morning < one.since < morning + DAY
            ),
            log=(),
            wishes=(),
            kept_order=(),
            on_bench=None,
            shop=replace(self.build.shop, setups_out=self._setups_out(day)),
        )
        work = lay_out(build)
        ways = np.array([self.ways[key] for key in work.keys], np.int64)
        work = replace(work, longest_way=ways)
        schedule = simulate(work, as_it_is(work))
        seconds = round(3600 * over)
        stretches = [
            (begin, min(end, seconds))
            for begin, end, hands in zip(
                schedule.begin[:, 0].tolist(),
                schedule.end[:, 0].tolist(),
                work.people.tolist(),
                strict=True,
            )
            if hands and begin < seconds
        ]
        return sum(ends - begins for begins, ends in joined(stretches)) / 3600

    def _of_morning(self, one: _Stood, day: dt.date) -> Task:
        """A task as it stood on the morning of a date, with the hours that it still took."""
        begun = one.task.begun_on is not None and date_of(one.task.begun_on) < day
        rest = self._rest(one, day)
        return replace(
            one.task,
            hours=ThreePoint.certain(rest),
            hours_left=rest if begun else None,
            begun_on=one.task.begun_on if begun else None,
            finished_on=None,
            set_aside_on=None,
            wish=None,
        )

    def _setups_out(self, day: dt.date) -> SetupKeys:
        """The setups that were out on a morning: those of the last work before it."""
        used = (setup for on, setup in self.used if on < day)
        return out_after((), used, self.build.shop.people)

    def _is_done(
        self, key: str, wait: dt.timedelta, morning: dt.datetime, reached: Mapping[str, _Stood]
    ) -> bool:
        if key in self.over and self.over[key] + wait <= morning:
            return True
        return key in reached and not wait

    def _rest(self, one: _Stood, day: dt.date) -> float:
        """Hours that a task still took from the morning of a date on."""
        before = sum(h for on, h in self.logged.get(one.task.key, {}).items() if on < day)
        return max(0.0, one.hours - before)


def _ways(build: BuildInput) -> dict[str, int]:
    """The longest way to first start from each task, by the estimates: what ranks them."""
    tasks = tuple(
        replace(task, begun_on=None, finished_on=None, set_aside_on=None, hours_left=None)
        for task in build.tasks
    )
    as_entered = replace(build, tasks=tasks, log=())
    return longest_ways(as_entered, planned_seconds(as_entered))


def _parts_came(build: BuildInput) -> dict[str, dt.datetime]:
    """When the last part of each task was there; of one that has come the day that was said."""
    came: dict[str, dt.datetime] = {}
    for part in build.parts:
        at = dt.datetime.min if part.arrived else NEVER
        if part.arrived and part.arrives_on is not None:
            at = moment_at_start(part.arrives_on)
        for key in part.serves:
            came[key] = max(came.get(key, at), at)
    return came


def _accepted(build: BuildInput) -> dict[str, dt.datetime]:
    """By wish the moment from which its work counts: the day after its decision."""
    return {
        wish.key: moment_at_start(wish.decision.decided_on + DAY)
        for wish in build.wishes
        if wish.decision is not None
    }


def _logged_by_date(build: BuildInput) -> dict[str, dict[dt.date, float]]:
    logged: dict[str, dict[dt.date, float]] = defaultdict(lambda: defaultdict(float))
    for entry in build.log:
        logged[entry.task][entry.on] += entry.hours
    return logged
