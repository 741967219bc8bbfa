"""A build laid out as arrays: what the simulator runs on.

Only open tasks that can be planned are in it, in the order they were entered. Times are whole
seconds from the build's `now`; see `shop_calendar` for the two clocks.
"""

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from webapp.build.build_input import BuildInput, Task
from webapp.build.due_days import due_of
from webapp.build.hours_to_go import planned_seconds
from webapp.build.moments import moment_at_start, workable_from
from webapp.build.precedence import needed_for
from webapp.build.time.shop_calendar import Seconds, ShopCalendar, calendar_of
from webapp.build.time.shop_weeks import last_change
from webapp.build.time_units import DAY_SECONDS, WEEK_SECONDS, seconds_of
from webapp.planning.network.network import DatesAsked
from webapp.planning.network.outside_holds import arrivals, back_at, outside_seconds, waits_over
from webapp.planning.network.standing import standing_in_the_way
from webapp.planning.simulator.house_rules import HouseRules
from webapp.planning.simulator.longest_way import longest_ways

Flags = NDArray[np.bool_]
Indices = NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WorkArrays:
    """n tasks as columns of facts.

    work_seconds : (n,) hands-on shop seconds; 0 for tasks that take none
    wall_only : (n,) outside work and tasks of no hours: they run on the wall clock, no hands
    outside_seconds, earliest_end : (n,) wall seconds of outside work; of begun outside work
        the wall second before which it does not end
    people : (n,) hands needed, 0 for tasks that run by themselves
    setup : (n,) 0 for none, else 1 + its place in `setup_keys`; setup_seconds (S + 1,)
    setups_out : those that are out at the beginning, the one last used last
    stations : (m, n) so many of each station; station_counts (m,)
    arrival : (n,) wall second at which the last of its parts is there
    wait_until : (n,) wall second at which the last wait after finished work is over
    successors, waits : (n, d) places of the tasks after, -1 where none, and wall seconds between
    predecessor_counts : (n,)
    first_start : place of the first-start task, -1 where it is finished or can not be planned
    for_first_start : (n,) whether first start needs it
    dates : critical-path dates and floats, without work that has no session left
    longest_way : (n,) wall seconds of the longest way still to go to first start
    rules : those of the build
    """

    keys: tuple[str, ...]
    calendar: ShopCalendar
    work_seconds: Seconds
    wall_only: Flags
    outside_seconds: Seconds
    earliest_end: Seconds
    people: Indices
    people_count: int
    setup: Indices
    setup_keys: tuple[str, ...]
    setup_seconds: Seconds
    setups_out: tuple[int, ...]
    helper: Flags
    in_one_go: Flags
    stations: Indices
    station_keys: tuple[str, ...]
    station_counts: tuple[int, ...]
    arrival: Seconds
    wait_until: Seconds
    successors: Indices
    waits: Seconds
    predecessor_counts: Indices
    first_start: int
    for_first_start: Flags
    begun: Flags
    working_order: Indices
    space_litres: NDArray[np.float64]
    dates: DatesAsked
    longest_way: Seconds
    rules: HouseRules

    def __len__(self) -> int:
        return len(self.keys)


def lay_out(
    build: BuildInput,
    *,
    spare_hours: float = 0.0,
    spare_weeks: int = 0,
    work_seconds: Mapping[str, int] | None = None,
) -> WorkArrays:
    """Lay a faultless build out as arrays.

    `spare_hours` and `spare_weeks` more stand on the calendar for variants that take longer.

    `work_seconds` are shop seconds of work by key, for some or all tasks, in place of those still
    to go by the estimates. The house rules rank by the estimates all the same, so that the order
    does not change with the pace.
    """
    standing = standing_in_the_way(build)
    tasks = [t for t in build.tasks if t.is_open and t.key not in standing]
    place = {task.key: i for i, task in enumerate(tasks)}
    estimated = planned_seconds(build)
    seconds_by_key = estimated | dict(work_seconds or {})
    work = [0 if t.outside_days is not None else seconds_by_key[t.key] for t in tasks]
    calendar = _long_enough(build, tasks, work, spare_hours, spare_weeks)
    wall_only = np.array([t.outside_days is not None for t in tasks], bool)
    wall_only |= np.array(work, np.int64) == 0
    successors, waits, counts = _edges(build, place)
    setups = {setup.key: i + 1 for i, setup in enumerate(build.shop.setups)}
    needed = needed_for(build, build.first_start) if build.first_start else frozenset()
    ways = longest_ways(build, estimated, needed)
    return WorkArrays(
        keys=tuple(place),
        calendar=calendar,
        work_seconds=np.array(work, np.int64),
        wall_only=wall_only,
        outside_seconds=np.array([outside_seconds(t) for t in tasks], np.int64),
        earliest_end=np.array([back_at(t, calendar) for t in tasks], np.int64),
        people_count=build.shop.people,
        setup_keys=tuple(setups),
        setup_seconds=np.array([0, *(seconds_of(s.hours) for s in build.shop.setups)], np.int64),
        setups_out=tuple(setups[key] for key in build.shop.setups_out)[-build.shop.people :],
        station_keys=tuple(s.key for s in build.shop.stations),
        station_counts=tuple(s.count for s in build.shop.stations),
        arrival=_latest(place, calendar, arrivals(build)),
        wait_until=_latest(place, calendar, waits_over(build)),
        successors=successors,
        waits=waits,
        predecessor_counts=counts,
        first_start=place.get(build.first_start or "", -1),
        for_first_start=np.array([t.key in needed for t in tasks], bool),
        dates=DatesAsked(build, calendar, seconds_by_key),
        longest_way=np.array([ways[t.key] for t in tasks], np.int64),
        rules=HouseRules(order=build.house_rules),
        **_needs(build, tasks, setups, hands_on=~wall_only),
        **_ranked_by(build, tasks),
    )


def _needs(
    build: BuildInput, tasks: list[Task], setups: Mapping[str, int], *, hands_on: Flags
) -> dict[str, Any]:
    """The columns that say what a task needs to be worked on; nothing where it takes no hands."""
    return {
        "people": np.array([t.people for t in tasks], np.int64) * hands_on,
        "setup": np.array([setups.get(t.setup or "", 0) for t in tasks], np.int64) * hands_on,
        "helper": np.array([t.helper for t in tasks], bool) & hands_on,
        "in_one_go": np.array([t.in_one_go for t in tasks], bool) & hands_on,
        "stations": _station_needs(build, tasks) * hands_on,
    }


def _ranked_by(build: BuildInput, tasks: list[Task]) -> dict[str, Any]:
    """The columns that only the house rules look at."""
    ranks = {subsystem.key: subsystem.order for subsystem in build.subsystems}
    last_rank = max(ranks.values(), default=0) + 1
    orders = [ranks.get(t.subsystem or "", last_rank) for t in tasks]
    return {
        "begun": np.array([t.begun_on is not None for t in tasks], bool),
        "working_order": np.array(orders, np.int64),
        "space_litres": np.array([t.space_litres for t in tasks], float),
    }


def for_first_start_only(work: WorkArrays) -> WorkArrays:
    """The part of the work that first start needs; the rest never delays it."""
    kept = np.flatnonzero(work.for_first_start)
    if len(kept) == len(work):
        return work
    place = np.full(len(work) + 1, -1, np.int64)
    place[kept] = np.arange(len(kept))
    # Work after first start falls out of the lists of successors: pack them to the left again.
    successors = place[work.successors[kept]]
    packed = np.argsort(successors < 0, axis=1, kind="stable")
    columns = {
        name: getattr(work, name)[kept]
        for name in (
            *("work_seconds", "wall_only", "outside_seconds", "earliest_end", "people"),
            *("setup", "helper", "in_one_go", "arrival", "wait_until", "predecessor_counts"),
            *("for_first_start", "begun", "working_order", "space_litres", "longest_way"),
        )
    }
    return replace(
        work,
        **columns,
        keys=tuple(work.keys[i] for i in kept),
        stations=work.stations[:, kept],
        successors=np.take_along_axis(successors, packed, axis=1),
        waits=np.take_along_axis(work.waits[kept], packed, axis=1),
        first_start=int(place[work.first_start]),
    )


def _long_enough(
    build: BuildInput, tasks: list[Task], work: list[int], spare_hours: float, spare_weeks: int
) -> ShopCalendar:
    """A calendar long enough that only work that has no session at all falls off its end."""
    setup_hours = {setup.key: setup.hours for setup in build.shop.setups}
    hours = sum(work) / 3600 + spare_hours
    hours += sum(setup_hours.get(t.setup or "", 0.0) for t in tasks)
    wall = sum(seconds_of(d.wait_hours) for d in build.dependencies)
    wall += sum(round((t.outside_days or 0) * DAY_SECONDS) for t in tasks)
    # Work that must fit a session or the helper may pass over a whole week to find one.
    wall += WEEK_SECONDS * (1 + spare_weeks + sum(t.in_one_go or t.helper for t in tasks))
    dues = (due_of(part, build.now.date()) for part in build.parts)
    arrivals = [moment_at_start(due.on) for due in dues if due]
    changes = [day.date for day in build.shop.days]
    changes += [day for day in (last_change(build.shop),) if day is not None]
    exceptions = [moment_at_start(day) for day in changes]
    latest = max([workable_from(build), *arrivals, *exceptions])
    until = latest + dt.timedelta(seconds=min(wall, 300 * 365 * DAY_SECONDS))
    return calendar_of(build, shop_hours=hours, until=until)


def _edges(build: BuildInput, place: dict[str, int]) -> tuple[Indices, Seconds, Indices]:
    """Successors and waits, padded to the widest, and the number of predecessors."""
    after: list[list[tuple[int, int]]] = [[] for _ in place]
    counts = np.zeros(len(place), np.int64)
    for dependency in build.dependencies:
        before, later = place.get(dependency.before), place.get(dependency.after)
        if before is not None and later is not None:
            after[before].append((later, seconds_of(dependency.wait_hours)))
            counts[later] += 1
    return *padded_edges(after), counts


def padded_edges(after: Sequence[Sequence[tuple[int, int]]]) -> tuple[Indices, Seconds]:
    """Tasks and waits (n, widest) of each task's (other task, wait); -1 where there is none."""
    width = max(map(len, after), default=0)
    successors = np.full((len(after), width), -1, np.int64)
    waits = np.zeros((len(after), width), np.int64)
    for i, edges in enumerate(after):
        for d, (later, wait) in enumerate(edges):
            successors[i, d], waits[i, d] = later, wait
    return successors, waits


def predecessors(work: WorkArrays) -> tuple[Indices, Seconds]:
    """Tasks before and waits (n, widest), those without a wait first; -1 where there is none."""
    before: list[list[tuple[int, int]]] = [[] for _ in range(len(work))]
    for i, (row, waits) in enumerate(zip(work.successors, work.waits, strict=True)):
        for j, wait in zip(row.tolist(), waits.tolist(), strict=True):
            if j >= 0:
                before[j].append((wait, i))
    return padded_edges([[(i, wait) for wait, i in sorted(edges)] for edges in before])


def in_order(work: WorkArrays) -> list[int]:
    """The places of the tasks, each behind all that it comes after."""
    waiting = work.predecessor_counts.tolist()
    order = [i for i, count in enumerate(waiting) if not count]
    for i in order:
        for j in work.successors[i].tolist():
            if j < 0:
                break
            waiting[j] -= 1
            if not waiting[j]:
                order.append(j)
    return order


def _station_needs(build: BuildInput, tasks: list[Task]) -> Indices:
    row = {station.key: m for m, station in enumerate(build.shop.stations)}
    needs = np.zeros((len(row), len(tasks)), np.int64)
    for i, task in enumerate(tasks):
        for need in task.stations:
            needs[row[need.station], i] = need.count
    return needs


def _latest(
    place: dict[str, int], calendar: ShopCalendar, moments: Iterable[tuple[str, dt.datetime]]
) -> Seconds:
    """The last of the moments given for each task, as wall seconds; 0 without one."""
    seconds = np.zeros(len(place), np.int64)
    for key, moment in moments:
        if key in place:
            seconds[place[key]] = max(seconds[place[key]], calendar.wall_of(moment))
    return seconds
