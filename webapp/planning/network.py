"""What is left to do, what can never be done, and the dates and floats of unlimited hands.

The dates are those of the critical path method (Kelley and Walker 1959): a forward pass for the
earliest, a backward pass for the latest, carried out on the shop calendar and the wall clock.
Plain lists and binary search: for a build of hundreds of tasks that is faster than arrays.
"""

import datetime as dt
from bisect import bisect_left, bisect_right
from collections import deque
from dataclasses import dataclass

from webapp.planning.build_input import BuildInput, Part, Task
from webapp.planning.precedence import (
    followers_of,
    loops_of,
    needed_for,
    tasks_as_entered,
    topological_order,
)
from webapp.planning.shop_calendar import (
    NEVER,
    ShopCalendar,
    last_closing,
    moment_at_start,
    seconds_of,
)

__all__ = [
    "DependencyDates",
    "dependency_dates",
    "finished_at",
    "loops_of",
    "needed_for",
    "planned_seconds",
    "standing_in_the_way",
    "topological_order",
]

LEAST_HOURS_LEFT = 0.25
"""A begun task without a word on what is left has at least this long to go."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DependencyDates:
    """Earliest and latest dates of an open task when hands are unlimited.

    Begins and ends are wall seconds since the build's `now`; floats are shop hours. Tasks that
    lead to first start are measured against its finish, the others against the last finish.
    """

    key: str
    earliest_begin: int
    earliest_end: int
    latest_begin: int
    latest_end: int
    total_float_hours: float
    free_float_hours: float


def planned_seconds(build: BuildInput) -> dict[str, int]:
    """Whole seconds of shop work still to do of every open task, by key.

    The expected hours; of a begun task its hours left, else the expected ones less those
    logged, at least a quarter of an hour. Outside work takes its days instead.
    """
    logged: dict[str, float] = {}
    for entry in build.log:
        logged[entry.task] = logged.get(entry.task, 0.0) + entry.hours
    return {
        task.key: seconds_of(_hours_to_go(task, logged.get(task.key, 0.0)))
        for task in build.tasks
        if task.is_open
    }


def _hours_to_go(task: Task, logged: float) -> float:
    if task.begun_on is None:
        return task.hours.expected
    if task.hours_left is not None:
        return task.hours_left
    return max(LEAST_HOURS_LEFT, task.hours.expected - logged)


def standing_in_the_way(build: BuildInput) -> dict[str, str]:
    """Every open task that can never be planned, by key, with a sentence that says why.

    A task is held for ever by a set-aside task before it, by a part that has neither come nor
    a date (unless the task is begun), or by a task before it that is held so itself.
    """
    task_of = {task.key: task for task in tasks_as_entered(build)}
    causes: dict[str, list[str]] = {}
    for dependency in build.dependencies:
        before, after = task_of.get(dependency.before), task_of.get(dependency.after)
        if before and after and after.is_open and _is_set_aside(before):
            causes.setdefault(after.key, []).append(
                f"it comes after “{before.name}”, which is set aside"
            )
    for part in build.parts:
        for key in part.serves:
            task = task_of.get(key)
            if task and task.is_open and task.begun_on is None and _never_comes(part):
                clause = f"it needs the part “{part.name}”, which has no date"
                causes.setdefault(key, []).append(clause)
    reasons = {
        task.key: f"“{task.name}” cannot be planned: {_listed(causes[task.key])}."
        for task in task_of.values()
        if task.key in causes
    }
    return _passed_on(build, task_of, causes, reasons)


def _passed_on(
    build: BuildInput,
    task_of: dict[str, Task],
    causes: dict[str, list[str]],
    reasons: dict[str, str],
) -> dict[str, str]:
    """The reasons, and those of the open tasks that come after a task with a reason."""
    keys = list(task_of)
    after = followers_of(build)
    root = {key: key for key in reasons}
    queue = deque(i for i, key in enumerate(keys) if key in reasons)
    while queue:
        i = queue.popleft()
        before = task_of[keys[i]]
        for j in after[i]:
            task = task_of[keys[j]]
            if not task.is_open or task.key in root:
                continue
            root[task.key] = root[before.key]
            first = task_of[root[before.key]]
            chain = f"it comes after “{before.name}”, which cannot be planned itself: "
            if first is not before:
                chain = f"it comes after “{before.name}”, and that after “{first.name}”: "
            reasons[task.key] = (
                f"“{task.name}” cannot be planned: {chain}{_listed(causes[first.key])}."
            )
            queue.append(j)
    return {key: reasons[key] for key in keys if key in reasons}


def _is_set_aside(task: Task) -> bool:
    return task.set_aside_on is not None and task.finished_on is None


def _never_comes(part: Part) -> bool:
    return not part.arrived and part.arrives_on is None


def _listed(clauses: list[str]) -> str:
    once = list(dict.fromkeys(clauses))
    return once[0] if len(once) == 1 else f"{', '.join(once[:-1])} and {once[-1]}"


class _Clocks:
    """One moment at a time between wall and shop seconds; the calendar's arrays as lists."""

    __slots__ = ("closes", "opens", "shop_at_close", "shop_at_open")

    def __init__(self, calendar: ShopCalendar) -> None:
        self.opens: list[int] = calendar.opens.tolist()
        self.closes: list[int] = calendar.closes.tolist()
        self.shop_at_open: list[int] = calendar.shop_at_open.tolist()
        self.shop_at_close: list[int] = calendar.shop_at_close.tolist()

    def shop_of(self, wall: int) -> int:
        k = bisect_right(self.opens, wall) - 1
        if k < 0:
            return 0
        return min(self.shop_at_open[k] + wall - self.opens[k], self.shop_at_close[k])

    def start_wall(self, shop: int) -> int:
        k = bisect_right(self.shop_at_close, shop)
        if k == len(self.opens):
            return NEVER
        return self.opens[k] + shop - self.shop_at_open[k]

    def end_wall(self, shop: int) -> int:
        k = bisect_left(self.shop_at_close, shop)
        if k == len(self.opens):
            return NEVER
        return self.opens[k] + shop - self.shop_at_open[k]


@dataclass(slots=True)
class _Network:
    """The open tasks that can be planned, each after those before it, by position."""

    tasks: list[Task]
    after: list[list[tuple[int, int]]]  # (position, wait in seconds)
    ready: list[int]  # wall second before which it cannot begin, predecessors apart
    work: list[int]  # shop seconds of work
    outside_until: list[int | None]  # wall second at which begun outside work comes back
    outside: list[int | None]  # wall seconds that outside work takes


def dependency_dates(build: BuildInput, calendar: ShopCalendar) -> tuple[DependencyDates, ...]:
    """Earliest and latest dates and floats of every open task, as if hands were unlimited.

    Dependencies with their waits, outside days, part arrivals and the shop calendar count;
    people, stations, setups, the helper and in-one-go do not. Left out: tasks that can never
    begin, and tasks that would end beyond the calendar. In the order of entry.

    Raises ValueError where the dependencies run in a loop.
    """
    network = _network_of(build, calendar)
    clocks = _Clocks(calendar)
    begins, ends = _earliest(network, clocks)
    leads = _leading_to(network, ends, build.first_start)
    done = [end for end in ends if end < NEVER]
    finish = {
        True: max((e for e, lead in zip(ends, leads, strict=True) if lead), default=0),
        False: max(done, default=0),
    }
    dates: dict[str, DependencyDates] = {}
    latest: list[int] = [0] * len(ends)
    for i in range(len(ends) - 1, -1, -1):
        if ends[i] >= NEVER:
            continue
        limit = free = finish[leads[i]]
        for j, wait in network.after[i]:
            if ends[j] < NEVER:
                free = min(free, begins[j] - wait)
                if leads[j] or not leads[i]:
                    limit = min(limit, latest[j] - wait)
        key = network.tasks[i].key
        dates[key] = _dates_of(
            key,
            begins[i],
            ends[i],
            limit,
            free,
            network.outside[i] is None,
            network.work[i],
            clocks,
        )
        latest[i] = dates[key].latest_begin
    return tuple(dates[task.key] for task in tasks_as_entered(build) if task.key in dates)


def _dates_of(
    key: str,
    begin: int,
    end: int,
    limit: int,
    free: int,
    in_shop: bool,
    work: int,
    clocks: _Clocks,
) -> DependencyDates:
    """Dates of one task that must end by the wall second `limit`, and may by `free`."""
    begin_shop = clocks.shop_of(begin)
    if in_shop and work:
        end_shop = clocks.shop_of(limit)
        slack = end_shop - work - begin_shop
        free_slack = clocks.shop_of(free) - work - begin_shop
        latest_begin = clocks.start_wall(end_shop - work)
        latest_end = clocks.end_wall(end_shop)
    else:  # on the wall clock: moved as a whole
        latest_begin, latest_end = begin + limit - end, limit
        slack = clocks.shop_of(latest_begin) - begin_shop
        free_slack = clocks.shop_of(begin + free - end) - begin_shop
    return DependencyDates(
        key=key,
        earliest_begin=begin,
        earliest_end=end,
        latest_begin=latest_begin,
        latest_end=latest_end,
        total_float_hours=slack / 3600,
        free_float_hours=free_slack / 3600,
    )


def _earliest(network: _Network, clocks: _Clocks) -> tuple[list[int], list[int]]:
    """The forward pass: wall seconds of begin and end of every task."""
    ready = list(network.ready)
    begins = [0] * len(ready)
    ends = [0] * len(ready)
    for i, moment in enumerate(ready):
        begin = end = moment
        outside, work = network.outside[i], network.work[i]
        if outside is not None:
            back = network.outside_until[i]
            end = moment + outside if back is None else max(moment, back)
        elif work and moment < NEVER:
            shop = clocks.shop_of(moment)
            begin = clocks.start_wall(shop)
            end = clocks.end_wall(shop + work)
        begins[i], ends[i] = begin, end
        for j, wait in network.after[i]:
            if end + wait > ready[j]:
                ready[j] = end + wait
    return begins, ends


def _leading_to(network: _Network, ends: list[int], first_start: str | None) -> list[bool]:
    """Which of the tasks first start still waits for, itself among them; none if it never comes."""
    leads = [
        task.key == first_start and end < NEVER
        for task, end in zip(network.tasks, ends, strict=True)
    ]
    for i in range(len(leads) - 1, -1, -1):
        leads[i] = leads[i] or any(leads[j] for j, _ in network.after[i])
    return leads


def _network_of(build: BuildInput, calendar: ShopCalendar) -> _Network:
    """What the forward and backward pass need, in an order in which every task can be met."""
    held = standing_in_the_way(build)
    task_of = {task.key: task for task in build.tasks}
    keys = [k for k in topological_order(build) if task_of[k].is_open and k not in held]
    position = {key: i for i, key in enumerate(keys)}
    tasks = [task_of[key] for key in keys]
    ready = [0] * len(keys)
    after: list[list[tuple[int, int]]] = [[] for _ in keys]
    for dependency in build.dependencies:
        j = position.get(dependency.after)
        before = task_of.get(dependency.before)
        if j is None or before is None:
            continue
        wait = seconds_of(dependency.wait_hours)
        i = position.get(before.key)
        if i is not None:
            after[i].append((j, wait))
        elif before.finished_on is not None and wait:
            ready[j] = max(ready[j], calendar.wall_of(finished_at(build, before)) + wait)
    for part in build.parts:
        if part.arrived or part.arrives_on is None:
            continue
        arrival = calendar.wall_of(moment_at_start(part.arrives_on))
        for key in part.serves:
            j = position.get(key)
            if j is not None and tasks[j].begun_on is None:
                ready[j] = max(ready[j], arrival)
    work = planned_seconds(build)
    return _Network(
        tasks=tasks,
        after=after,
        ready=ready,
        work=[work[key] for key in keys],
        outside_until=[_back_at(task, calendar) for task in tasks],
        outside=[_outside_seconds(task) for task in tasks],
    )


def finished_at(build: BuildInput, task: Task) -> dt.datetime:
    """The moment from which waits after a finished task count.

    A finish given as a date counts from that day's last closing. Raises ValueError for a task
    that is not finished.
    """
    if task.finished_on is None:
        raise ValueError(f"“{task.name}” is not finished.")
    if isinstance(task.finished_on, dt.datetime):
        return task.finished_on
    return last_closing(build.shop, task.finished_on)


def _outside_seconds(task: Task) -> int | None:
    return None if task.outside_days is None else seconds_of(task.outside_days * 24)


def _back_at(task: Task, calendar: ShopCalendar) -> int | None:
    """The wall second at which begun outside work comes back."""
    if task.outside_days is None or task.begun_on is None:
        return None
    begun = calendar.wall_of(moment_at_start(task.begun_on))
    return begun + seconds_of(task.outside_days * 24)
