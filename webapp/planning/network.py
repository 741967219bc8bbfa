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
    DAY_SECONDS,
    NEVER,
    ShopCalendar,
    last_closing,
    moment_at_start,
    seconds_of,
)

__all__ = [
    "DependencyDates",
    "Network",
    "dependency_dates",
    "finished_at",
    "loops_of",
    "needed_for",
    "network_of",
    "planned_seconds",
    "standing_in_the_way",
    "topological_order",
    "walk",
]

LEAST_HOURS_LEFT = 0.25
"""A begun task without a word on what is left has at least this long to go."""


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
    if not reasons:
        return reasons
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
        """Shop seconds gone by at a wall second."""
        k = bisect_right(self.opens, wall) - 1
        if k < 0:
            return 0
        gone = self.shop_at_open[k] + wall - self.opens[k]
        return gone if gone < self.shop_at_close[k] else self.shop_at_close[k]

    def wall_of_work(self, begin_shop: int, end_shop: int) -> tuple[int, int]:
        """Wall seconds of a begin (when the shop is open) and an end (closing, not opening)."""
        closings = self.shop_at_close
        k = bisect_right(closings, begin_shop)
        if k == len(closings):
            return NEVER, NEVER
        begin = self.opens[k] + begin_shop - self.shop_at_open[k]
        if end_shop > closings[k]:
            k = bisect_left(closings, end_shop, k)
            if k == len(closings):
                return begin, NEVER
            return begin, self.opens[k] + end_shop - self.shop_at_open[k]
        return begin, begin + end_shop - begin_shop


@dataclass(slots=True, kw_only=True)
class Network:
    """The open tasks that can be planned, each after those before it, by position."""

    keys: list[str]
    after: list[list[tuple[int, int]]]  # (position, wait in seconds)
    ready: list[int]  # wall second before which it cannot begin, predecessors apart
    work: list[int]  # shop seconds of work, 0 for what runs on the wall clock
    outside: list[int]  # wall seconds that outside work takes
    back_at: list[int]  # wall second before which begun outside work is not back
    first_start: int  # its position, -1 where there is none
    clocks: _Clocks


def dependency_dates(build: BuildInput, calendar: ShopCalendar) -> tuple[DependencyDates, ...]:
    """Earliest and latest dates and floats of every open task, as if hands were unlimited.

    Dependencies with their waits, outside days, part arrivals and the shop calendar count;
    people, stations, setups, the helper and in-one-go do not. Left out: tasks that can never
    begin, and tasks that would end beyond the calendar. In the order of entry.

    Raises ValueError where the dependencies run in a loop.
    """
    network = network_of(build, calendar)
    columns = walk(network)
    date_of = {
        key: DependencyDates(
            key=key,
            earliest_begin=begin,
            earliest_end=end,
            latest_begin=latest_begin,
            latest_end=latest_end,
            total_float_seconds=total_float,
            free_float_seconds=free_float,
        )
        for key, begin, end, latest_begin, latest_end, total_float, free_float in zip(
            network.keys, *columns, strict=True
        )
        if end < NEVER
    }
    every = (date_of.get(task.key) for task in tasks_as_entered(build))
    return tuple(dates for dates in every if dates is not None)


Columns = tuple[list[int], list[int], list[int], list[int], list[int], list[int]]


def walk(network: Network) -> Columns:
    """Both passes over a network laid out: one list each, in the order of its keys.

    Earliest begin and end, latest begin and end in wall seconds; total and free float in shop
    seconds. Tasks with an end at or past `NEVER` have no dates, and zeros in the last four.
    """
    begins, ends = _earliest(network)
    return begins, ends, *_latest(network, begins, ends)


def _earliest(network: Network) -> tuple[list[int], list[int]]:
    """The forward pass: wall seconds of begin and end of every task."""
    clocks = network.clocks
    begins = list(network.ready)
    ends = begins[:]
    for i, work in enumerate(network.work):
        if not work:
            end = max(begins[i] + network.outside[i], network.back_at[i])
        elif begins[i] < NEVER:
            shop = clocks.shop_of(begins[i])
            begins[i], end = clocks.wall_of_work(shop, shop + work)
        else:
            end = NEVER
        ends[i] = end
        for j, wait in network.after[i]:
            if end + wait > begins[j]:
                begins[j] = end + wait
    return begins, ends


def _latest(
    network: Network, begins: list[int], ends: list[int]
) -> tuple[list[int], list[int], list[int], list[int]]:
    """The backward pass: latest begin and end, total and free float of every task."""
    n = len(begins)
    latest_begin, latest_end, total_float, free_float = [0] * n, [0] * n, [0] * n, [0] * n
    leads = _leading_to(network, ends)
    finish = max((end for end in ends if end < NEVER), default=0)
    finish_of_start = ends[network.first_start] if network.first_start >= 0 else finish
    shop_of, wall_of_work = network.clocks.shop_of, network.clocks.wall_of_work
    for i in range(n - 1, -1, -1):
        begin, end, work, lead = begins[i], ends[i], network.work[i], leads[i]
        if end >= NEVER:
            continue
        limit = free = finish_of_start if lead else finish
        for j, wait in network.after[i]:
            if ends[j] < NEVER:
                if begins[j] - wait < free:
                    free = begins[j] - wait
                if latest_begin[j] - wait < limit and (leads[j] or not lead):
                    limit = latest_begin[j] - wait
        begin_shop = shop_of(begin)
        if work:
            end_shop = shop_of(limit)
            free_shop = end_shop if free == limit else shop_of(free)
            latest_begin[i], latest_end[i] = wall_of_work(end_shop - work, end_shop)
            total_float[i] = end_shop - work - begin_shop
            free_float[i] = free_shop - work - begin_shop
        else:  # on the wall clock: moved as a whole
            latest_begin[i], latest_end[i] = begin + limit - end, limit
            total_float[i] = shop_of(begin + limit - end) - begin_shop
            free_float[i] = shop_of(begin + free - end) - begin_shop
    return latest_begin, latest_end, total_float, free_float


def _leading_to(network: Network, ends: list[int]) -> list[bool]:
    """Which tasks first start still waits for, itself among them; none where it never comes."""
    leads = [False] * len(ends)
    if network.first_start < 0 or ends[network.first_start] >= NEVER:
        return leads
    leads[network.first_start] = True
    for i in range(network.first_start - 1, -1, -1):
        for j, _ in network.after[i]:
            if leads[j]:
                leads[i] = True
                break
    return leads


def network_of(build: BuildInput, calendar: ShopCalendar) -> Network:
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
    return Network(
        keys=keys,
        after=after,
        ready=ready,
        work=[work[task.key] if task.outside_days is None else 0 for task in tasks],
        outside=[_outside_seconds(task) for task in tasks],
        back_at=[_back_at(task, calendar) for task in tasks],
        first_start=position.get(build.first_start or "", -1),
        clocks=_Clocks(calendar),
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


def _outside_seconds(task: Task) -> int:
    """Wall seconds of outside work not yet begun."""
    if task.outside_days is None or task.begun_on is not None:
        return 0
    return round(task.outside_days * DAY_SECONDS)


def _back_at(task: Task, calendar: ShopCalendar) -> int:
    """The wall second at which begun outside work comes back, 0 (`now`) for all other work."""
    if task.outside_days is None or task.begun_on is None:
        return 0
    begun = calendar.wall_of(moment_at_start(task.begun_on))
    return begun + round(task.outside_days * DAY_SECONDS)
