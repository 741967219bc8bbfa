"""Why each task begins when it does: what was last to clear before it could.

A constraint binds when no open shop hour lies between its clearing and the begin (work that runs
on the wall clock: no moment). Worked out from the finished schedule of one variant.
"""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import NamedTuple

from webapp.build.build_input import BuildInput
from webapp.build.due_days import due_of
from webapp.build.moments import moment_at_start
from webapp.build.time.shop_calendar import NEVER
from webapp.build.time_units import seconds_of
from webapp.planning.network.outside_holds import finished_waits, holding_parts
from webapp.planning.order.plan import Reason, ReasonKind
from webapp.planning.simulator.simulate import Schedule
from webapp.planning.simulator.work_arrays import Indices, WorkArrays


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """One thing that kept a task from beginning, cleared at a shop and a wall second.

    `after` is the place of the task it came from, -1 where it came from none.
    """

    kind: ReasonKind
    what: str
    shop: int
    wall: int
    after: int = -1

    @property
    def reason(self) -> Reason:
        """What the plan says of it."""
        return Reason(kind=self.kind, what=self.what)


class _Before(NamedTuple):
    """A dependency on a planned task, which holds the task behind it back until a shop and a wall
    second. Thousands of them are looked at, few are told: those become a `Hold`."""

    after: int
    shop: int
    wall: int
    is_wait: bool


class OneVariant:
    """The schedule of one variant as plain numbers, and what holds each of its tasks."""

    def __init__(self, build: BuildInput, work: WorkArrays, schedule: Schedule) -> None:
        self.work, self.calendar = work, work.calendar
        self.begin: list[int] = schedule.begin[:, 0].tolist()
        self.end: list[int] = schedule.end[:, 0].tolist()
        self.got_out: list[int] = schedule.setup_seconds[:, 0].tolist()
        self.turn: list[int] = schedule.turn[:, 0].tolist()
        self.on_wall: list[bool] = work.wall_only.tolist()
        places = range(len(work))
        self.begin_wall = [int(schedule.begin_wall(i)[0]) for i in places]
        self.end_wall = [int(schedule.end_wall(i)[0]) for i in places]
        self.openings = dict(
            zip(self.calendar.shop_at_open.tolist(), self.calendar.opens.tolist(), strict=True)
        )
        self.helper_from = set(self.calendar.helper_from.tolist())
        self.helper_to = {0, *self.calendar.helper_to.tolist()}
        self._fixed = self._fixed_holds(build)
        self._before = self._dependencies(build)
        self._ending_at: dict[int, list[int]] = defaultdict(list)
        for i in sorted(places, key=lambda i: self.turn[i]):
            if not self.on_wall[i] and self.turn[i] >= 0:
                self._ending_at[self.end[i]].append(i)

    def planned(self, place: int) -> bool:
        """Whether the task is ever done: it begins, and ends within the calendar."""
        return self.turn[place] >= 0 and self.end_wall[place] < NEVER

    def holds(self, place: int) -> Iterator[Hold]:
        """Everything that kept a task from beginning earlier, binding or not.

        Hands, stations, setups and the helper are among them only where they bind.
        """
        yield from self._holds(place, self._before[place])

    def _holds(self, place: int, before: Iterable[_Before]) -> Iterator[Hold]:
        yield from self._fixed[place]
        for one in before:
            kind: ReasonKind = "wait" if one.is_wait else "dependency"
            what = self.work.keys[one.after]
            yield Hold(kind=kind, what=what, shop=one.shop, wall=one.wall, after=one.after)
        if not self.on_wall[place]:
            yield from self._hands(place)
            yield from self._stations(place)
            yield from self._setup(place)
            yield from self._stretches(place)

    def binding(self, place: int) -> tuple[Hold, ...]:
        """The holds that were last to clear; none where the task begins at once."""
        if not self.begin_wall[place]:
            return ()
        before = [one for one in self._before[place] if self._clears_as_begins(one, place)]
        return tuple(hold for hold in self._holds(place, before) if self.binds(hold, place))

    def binds(self, hold: Hold, place: int) -> bool:
        """Whether the task could begin no earlier because of this hold."""
        if hold.kind in ("helper", "session"):
            return True
        return self._clears_as_begins(hold, place)

    def _clears_as_begins(self, hold: "Hold | _Before", place: int) -> bool:
        if self.on_wall[place]:
            return hold.wall == self.begin_wall[place]
        return hold.shop == self.begin[place] and hold.wall > 0

    # --- holds of each kind ---------------------------------------------------------------

    def _fixed_holds(self, build: BuildInput) -> list[list[Hold]]:
        """Parts on their way and waits that still run after finished work."""
        place = {key: i for i, key in enumerate(self.work.keys)}
        holds: list[list[Hold]] = [[] for _ in place]

        def add(key: str, kind: ReasonKind, what: str, until: dt.datetime) -> None:
            wall = self.calendar.wall_of(until)
            if key in place and wall > 0:
                shop = int(self.calendar.shop_of(wall))
                holds[place[key]].append(Hold(kind=kind, what=what, shop=shop, wall=wall))

        for part, key in holding_parts(build):
            due = due_of(part, build.now.date())
            if due is not None:
                add(key, "part", part.key, moment_at_start(due.on))
        for before, key, until in finished_waits(build):
            add(key, "wait", before, until)
        return holds

    def _dependencies(self, build: BuildInput) -> list[list[_Before]]:
        """For each task what its dependencies on planned tasks hold it back until."""
        place = {key: i for i, key in enumerate(self.work.keys)}
        links = [
            (i, j, seconds_of(dependency.wait_hours))
            for dependency in build.dependencies
            if (i := place.get(dependency.before)) is not None
            and (j := place.get(dependency.after)) is not None
            and self.planned(i)
        ]
        walls = [self.end_wall[i] + wait for i, _, wait in links]
        shops = self.calendar.shop_of(walls).tolist()
        before: list[list[_Before]] = [[] for _ in place]
        for (i, j, wait), wall, shop in zip(links, walls, shops, strict=True):
            before[j].append(_Before(i, shop if wait else self.end[i], wall, wait > 0))
        return before

    def _short_of(self, needs: Indices, place: int, count: int) -> bool:
        """Whether too few units were free in the last shop second before a task began.

        Asked only where a task that has some of them ends just then.
        """
        if count == 1:
            return True
        moment = self.begin[place]
        busy = sum(
            int(needs[i])
            for i in range(len(self.work))
            if needs[i] and self.planned(i) and self.begin[i] < moment <= self.end[i]
        )
        return busy + int(needs[place]) > count

    def _hold_of(self, kind: ReasonKind, what: str, before: int) -> Hold:
        wall = self.end_wall[before]
        return Hold(kind=kind, what=what, shop=self.end[before], wall=wall, after=before)

    def _ending_as_begins(self, place: int) -> list[int]:
        return [i for i in self._ending_at[self.begin[place]] if i != place]

    def _hands(self, place: int) -> Iterator[Hold]:
        people = self.work.people
        freed = [i for i in self._ending_as_begins(place) if people[i]] if people[place] else []
        if freed and self._short_of(people, place, self.work.people_count):
            for i in freed:
                yield self._hold_of("people", self.work.keys[i], i)

    def _stations(self, place: int) -> Iterator[Hold]:
        for m, key in enumerate(self.work.station_keys):
            needs = self.work.stations[m]
            if not needs[place]:
                continue
            freed = [i for i in self._ending_as_begins(place) if needs[i]]
            if freed and self._short_of(needs, place, self.work.station_counts[m]):
                yield self._hold_of("station", key, freed[-1])

    def _setup(self, place: int) -> Iterator[Hold]:
        """Another pair of hands had the setup in use."""
        setup = int(self.work.setup[place])
        if not setup or self.work.people_count == 1:
            return
        for i in self._ending_as_begins(place):
            if self.work.setup[i] == setup:
                yield self._hold_of("setup", self.work.setup_keys[setup - 1], i)

    def _stretches(self, place: int) -> Iterator[Hold]:
        """The session or the helper the task had to wait for."""
        begin, work_from = self.begin[place], self.begin[place] + self.got_out[place]
        at = work_from if self.work.in_one_go[place] and work_from in self.openings else begin
        opened = self.openings.get(at, 0)
        # Where the helper was there to the end of the session before, the session was waited for.
        is_always_there = opened > 0 and at == work_from and at in self.helper_to
        if self.work.helper[place] and not is_always_there:
            helped = [i for i in self._ending_at[work_from] if self.work.helper[i] and i != place]
            if work_from in self.helper_from or helped:
                wall = int(self.calendar.start_wall(work_from))
                after = helped[-1] if work_from not in self.helper_from else -1
                what = _written(self.calendar.moment(wall))
                yield Hold(kind="helper", what=what, shop=begin, wall=wall, after=after)
        if opened > 0:
            what = _written(self.calendar.moment(opened))
            yield Hold(kind="session", what=what, shop=begin, wall=opened)


def _written(moment: dt.datetime) -> str:
    return moment.isoformat(timespec="minutes")
