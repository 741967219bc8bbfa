"""Live a build: its person does, hour by hour, what the plan of each morning says.

Everything that happens goes through the verbs that the pages use. What the person does not know,
how long a task really takes, a session that will be missed, a part that comes late, is in
`Truth`; it shows when it happens. Beginnings and finishes are kept as moments, hours as worked.
"""

import datetime as dt
from collections.abc import Callable, Collection
from copy import copy
from dataclasses import dataclass, field, replace

import numpy as np

from webapp.build.build_input import BuildInput, LogEntry, Part, Task
from webapp.build.by_key import get_by_key, replaced_by_key
from webapp.build.hours_to_go import planned_seconds
from webapp.build.moments import moment_at_start
from webapp.build.shop import DayException
from webapp.build.time.shop_calendar import NEVER, Seconds, sessions_on
from webapp.build.verbs.work import (
    Stop,
    begun_build,
    finished_build,
    needs_hands,
    stopped_build,
)
from webapp.planning.chances.pace import AS_ESTIMATED, Pace, PaceOf, keeps_its_hours
from webapp.planning.simulator.house_rules import rank_tasks
from webapp.planning.simulator.simulate import Schedule, simulate
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import WorkArrays, lay_out

DAY = dt.timedelta(days=1)
Verb = Callable[[BuildInput], BuildInput]
Event = tuple[int, int, int, Callable[[], None]]
"""When, ends before begins, in which turn, and what it does."""


@dataclass(frozen=True, slots=True, kw_only=True)
class News:
    """Something the person learns or decides at a moment, and what it does to the build."""

    at: dt.datetime
    verb: Verb


@dataclass(frozen=True, slots=True, kw_only=True)
class Truth:
    """What really happens, where it is not as the build says.

    hours : by task key, so many times its hours
    missed : dates on which nobody comes
    outside_days : by task key, what outside work really takes
    arrivals : by part key, when it really comes
    news : what is learnt or decided on the way, in order
    pace : of every hour the plan at this pace has, as many are worked as the attendance says
    """

    hours: dict[str, float] = field(default_factory=dict)
    missed: frozenset[dt.date] = frozenset()
    outside_days: dict[str, float] = field(default_factory=dict)
    arrivals: dict[str, dt.datetime] = field(default_factory=dict)
    news: tuple[News, ...] = ()
    pace: Pace = AS_ESTIMATED


AS_PLANNED = Truth()


def lived(build: BuildInput, until: dt.datetime, truth: Truth = AS_PLANNED) -> BuildInput:
    """The build at a later moment, lived stretch by stretch; each is planned anew."""
    return lived_at(build, [until], truth)[until]


def lived_at(
    build: BuildInput, moments: Collection[dt.datetime], truth: Truth = AS_PLANNED
) -> dict[dt.datetime, BuildInput]:
    """The build at each of several later moments, as if it were lived up to that one alone.

    What such lives share is lived once: each leaves it at the last break before its own end.
    """
    life = _Life(build, truth)
    breaks = _breaks(build, max(moments), truth)
    told: dict[dt.datetime, BuildInput] = {}
    for until in sorted(moments):
        while breaks and breaks[0] <= until:
            life.live_until(breaks.pop(0))
        last = life.leaving()
        if last.build.now < until:
            last.live_until(until)
        told[until] = replace(last.build, on_bench=None)
    return told


def _breaks(build: BuildInput, until: dt.datetime, truth: Truth) -> list[dt.datetime]:
    """Midnights before and after open days, arrivals and news: after each there is a new plan."""
    dates = (build.now.date() + DAY * i for i in range((until - build.now).days + 2))
    # A day on which the shop is closed needs no plan of its own.
    midnights = (
        moment_at_start(day)
        for day in dates
        if sessions_on(build, day) or sessions_on(build, day - DAY)
    )
    came = (truth.arrivals.get(p.key) or _promised(p.arrives_on) for p in build.parts)
    moments = {*midnights, *came, *(news.at for news in truth.news)}
    return sorted(moment for moment in moments if moment and build.now < moment <= until)


def _promised(arrives_on: dt.date | None) -> dt.datetime | None:
    return None if arrives_on is None else moment_at_start(arrives_on)


class _Life:
    """A build as it stands, and what is truly left of every task, in shop seconds."""

    def __init__(self, build: BuildInput, truth: Truth) -> None:
        self.build, self.truth = build, truth
        self.pace = PaceOf(build, truth.pace)
        self.left: dict[str, float] = {}
        self._look_at_new_tasks()

    def leaving(self) -> "_Life":
        """Another that goes on from here by itself."""
        other = copy(self)
        other.left = dict(self.left)
        return other

    def _learn(self) -> None:
        """What there is to learn at this moment."""
        for news in self.truth.news:
            if news.at == self.build.now:
                self.build = news.verb(self.build)
                self._look_at_new_tasks()

    def _look_at_new_tasks(self) -> None:
        for key, seconds in planned_seconds(self.build).items():
            if key not in self.left:
                task = get_by_key(self.build.tasks, key)
                truly = self.truth.hours.get(key, 1.0) * seconds
                self.left[key] = self.pace.seconds_to_go(task, round(truly))

    def live_until(self, until: dt.datetime) -> None:
        """One stretch, within one date: begin, stop and finish as its first plan says."""
        self._learn()
        work = self._as_it_will_be()
        schedule = simulate(work, self._true(work))
        happened: list[Event] = []
        span = work.calendar.wall_of(until)
        for i in range(len(work)):
            begins, ends = int(schedule.begin_wall(i)[0]), int(schedule.end_wall(i)[0])
            if begins >= span and not (begins == ends == span):
                continue
            turn = int(schedule.turn[i, 0])
            # What ends at a moment ends before anything else begins at it.
            happened.append((begins, 1, turn, self._begin(work, i, begins)))
            stop = self._stop(work, schedule, i, min(ends, span), done=ends <= span)
            happened.append((min(ends, span), 2 if begins == ends else 0, turn, stop))
        for *_, do in sorted(happened, key=lambda event: event[:3]):
            do()
        self.build = replace(self.build, now=until, on_bench=None, parts=self._parts(until))

    def _as_it_will_be(self) -> WorkArrays:
        """The build laid out, missed sessions left out of the shop."""
        missed = tuple(DayException(date=day) for day in sorted(self.truth.missed))
        kept = tuple(day for day in self.build.shop.days if day.date not in self.truth.missed)
        shop = replace(self.build.shop, days=(*missed, *kept))
        tasks = tuple(
            replace(t, outside_days=self.truth.outside_days.get(t.key, t.outside_days))
            for t in self.build.tasks
        )
        return lay_out(replace(self.build, shop=shop, tasks=tasks))

    def _true(self, work: WorkArrays) -> Variants:
        seconds = np.array([round(self.left[key]) for key in work.keys], np.int64)
        seconds = np.where(work.wall_only, 0, seconds)
        return Variants(
            count=1,
            rankings=(rank_tasks(work),),
            work_seconds=seconds[:, np.newaxis],
            arrival=self._arrivals(work)[:, np.newaxis],
        )

    def _arrivals(self, work: WorkArrays) -> Seconds:
        place = {key: i for i, key in enumerate(work.keys)}
        arrival = np.zeros(len(work), np.int64)
        for part in self.build.parts:
            if part.arrived:
                continue
            comes = self.truth.arrivals.get(part.key) or _promised(part.arrives_on)
            for key in part.serves:
                if key in place and get_by_key(self.build.tasks, key).begun_on is None:
                    at = NEVER if comes is None else work.calendar.wall_of(comes)
                    arrival[place[key]] = max(arrival[place[key]], at)
        return arrival

    def _begin(self, work: WorkArrays, i: int, begins: int) -> Callable[[], None]:
        def do() -> None:
            key, at = work.keys[i], work.calendar.moment(begins)
            self.build = begun_build(self.build, key, now=at)

        return do

    def _stop(
        self, work: WorkArrays, schedule: Schedule, i: int, until: int, *, done: bool
    ) -> Callable[[], None]:
        def do() -> None:
            key, at = work.keys[i], work.calendar.moment(until)
            task = get_by_key(self.build.tasks, key)
            if task.outside_days is not None:
                if done:
                    self.build = finished_build(self.build, key, now=at)
                return
            shop_until = int(work.calendar.shop_of(until))
            elapsed = shop_until - int(schedule.begin[i, 0]) if not work.wall_only[i] else 0
            getting_out = min(elapsed, int(schedule.setup_seconds[i, 0]))
            still_out = int(schedule.setup_seconds[i, 0]) - getting_out
            worked = elapsed - getting_out
            left = 0.0 if done else round(self.left[key]) - worked + still_out
            self.left[key] = left
            if left:
                left = self._as_estimated(task, left - still_out) + still_out
            at_bench = worked / self.pace.hours_of_worked(task, 1.0)
            self._write(task, at, at_bench / 3600, getting_out / 3600, left / 3600, done=done)

        return do

    def _as_estimated(self, task: Task, seconds: float) -> float:
        """The seconds of an estimate that take so many at the pace."""
        if keeps_its_hours(task):
            return seconds
        return seconds * 3600 / self.pace.seconds_to_go(task, 3600)

    def _write(
        self, task: Task, at: dt.datetime, worked: float, setup: float, left: float, *, done: bool
    ) -> None:
        stop = Stop(outcome="finished" if done else "stopped", worked_hours=0.0, left_hours=left)
        day = self.build.now.date()
        self.build = stopped_build(self.build, task.key, stop, on=day, now=at)
        if needs_hands(task) and worked + setup > 0:
            said = 0.0 if done else left
            entry = LogEntry(task=task.key, on=day, hours=worked, setup_hours=setup, left=said)
            self.build = replace(self.build, log=(*self.build.log, entry))

    def _parts(self, until: dt.datetime) -> tuple[Part, ...]:
        parts = self.build.parts
        for part in parts:
            comes = self.truth.arrivals.get(part.key) or _promised(part.arrives_on)
            if not part.arrived and comes is not None and comes <= until:
                parts = replaced_by_key(parts, replace(part, arrived=True))
        return parts
