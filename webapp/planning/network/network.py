"""The dates and floats of unlimited hands.

The dates are those of the critical path method (Kelley and Walker 1959): a forward pass for the
earliest, a backward pass for the latest, carried out on the shop calendar and the wall clock.
Plain lists and binary search: for a build of hundreds of tasks that is faster than arrays.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from webapp.build.build_input import BuildInput
from webapp.build.hours_to_go import planned_seconds
from webapp.build.precedence import (
    tasks_as_entered,
    topological_order,
)
from webapp.build.time.shop_calendar import ShopCalendar
from webapp.build.time_units import seconds_of
from webapp.planning.network.critical_path import (
    Clocks,
    Network,
    Passes,
    free_ends,
    leading_to,
    walk,
)
from webapp.planning.network.outside_holds import arrivals, back_at, outside_seconds, waits_over
from webapp.planning.network.standing import standing_in_the_way


@dataclass(frozen=True, slots=True, kw_only=True)
class DependencyDates:
    """Earliest and latest dates of an open task when hands are unlimited.

    Begins and ends are wall seconds since the build's `now`; floats are shop time. Tasks that
    lead to first start are measured against its finish, the others against the last finish.
    """

    key: str
    earliest_begin: int
    earliest_end: int
    latest_begin: int
    latest_end: int
    total_float_seconds: int
    free_float_seconds: int

    @property
    def total_float_hours(self) -> float:
        """Shop hours by which it may begin later without moving what it is measured against."""
        return self.total_float_seconds / 3600

    @property
    def free_float_hours(self) -> float:
        """Shop hours by which it may begin later without moving any task after it."""
        return self.free_float_seconds / 3600


def dependency_dates(
    build: BuildInput, calendar: ShopCalendar, work_seconds: Mapping[str, int] | None = None
) -> tuple[DependencyDates, ...]:
    """Earliest and latest dates and floats of every open task, as if hands were unlimited.

    Dependencies with their waits, outside days, part arrivals and the shop calendar count;
    people, stations, setups, the helper and in-one-go do not. Left out: tasks that can never
    begin, and tasks that would end beyond the calendar. In the order of entry. `work_seconds`
    are shop seconds of work by key of every open task, where they are not those still to go.

    Raises ValueError where the dependencies run in a loop.
    """
    network = network_of(build, calendar, work_seconds or planned_seconds(build))
    passes = walk(network)
    free = free_ends(passes)
    date_of = {
        key: _dates_of(i, passes, free[i]) for i, key in enumerate(network.keys) if passes.dated[i]
    }
    every = (date_of.get(task.key) for task in tasks_as_entered(build))
    return tuple(dates for dates in every if dates is not None)


class DatesAsked:
    """The same by key, worked out when they are first asked for: draws and prices never ask."""

    def __init__(
        self, build: BuildInput, calendar: ShopCalendar, work_seconds: Mapping[str, int]
    ) -> None:
        self._asked = build, calendar, work_seconds

    @cached_property
    def by_key(self) -> dict[str, DependencyDates]:
        """Of every task that `dependency_dates` gives dates."""
        return {dates.key: dates for dates in dependency_dates(*self._asked)}


def _dates_of(i: int, passes: Passes, free_end: int) -> DependencyDates:
    """The dates of the task at a position, from its own clock to the wall, floats to shop time."""
    network, clocks = passes.network, passes.network.clocks
    begin, end, latest = passes.begin[i], passes.end[i], passes.latest_begin[i]
    latest_end = latest + end - begin
    free = begin + free_end - end
    if network.work[i]:
        return DependencyDates(
            key=network.keys[i],
            earliest_begin=clocks.start_wall(begin),
            earliest_end=clocks.end_wall(end),
            latest_begin=clocks.start_wall(latest),
            latest_end=clocks.end_wall(latest_end),
            total_float_seconds=latest - begin,
            free_float_seconds=free - begin,
        )
    begin_shop = clocks.shop_of(begin)
    return DependencyDates(
        key=network.keys[i],
        earliest_begin=begin,
        earliest_end=end,
        latest_begin=latest,
        latest_end=latest_end,
        total_float_seconds=clocks.shop_of(latest) - begin_shop,
        free_float_seconds=clocks.shop_of(free) - begin_shop,
    )


def network_of(build: BuildInput, calendar: ShopCalendar, seconds: Mapping[str, int]) -> Network:
    """What the forward and backward pass need, in an order in which every task can be met."""
    held = standing_in_the_way(build)
    task_of = {task.key: task for task in build.tasks}
    keys = [k for k in topological_order(build) if task_of[k].is_open and k not in held]
    position = {key: i for i, key in enumerate(keys)}
    tasks = [task_of[key] for key in keys]
    ready = [0] * len(keys)
    work = [seconds[task.key] if task.outside_days is None else 0 for task in tasks]
    near: list[list[int]] = [[] for _ in keys]
    far: list[list[tuple[int, int]]] = [[] for _ in keys]
    for dependency in build.dependencies:
        i, j = position.get(dependency.before), position.get(dependency.after)
        if i is None or j is None:
            continue
        wait = seconds_of(dependency.wait_hours)
        if not wait and work[i] and work[j]:
            near[i].append(j)
        else:
            far[i].append((j, wait))
    for key, until in (*waits_over(build), *arrivals(build)):
        if key in position:
            ready[position[key]] = max(ready[position[key]], calendar.wall_of(until))
    for j, shop in enumerate(calendar.shop_of(ready).tolist()):
        if work[j]:
            ready[j] = shop
    first_start = position.get(build.first_start or "", -1)
    return Network(
        keys=keys,
        ready=ready,
        work=work,
        near=near,
        far=far,
        outside=[outside_seconds(task) for task in tasks],
        back_at=[back_at(task, calendar) for task in tasks],
        first_start=first_start,
        leads=leading_to(first_start, near, far),
        clocks=Clocks(calendar),
    )
