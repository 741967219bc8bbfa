"""Orders in which nothing stands idle for the order's sake alone.

Run in sequence, a task may begin with the one ahead of it though everything it needs was there
before: then it is moved up, as long as that brings nothing later. With one pair of hands at work
on everything this cannot happen.
"""

import numpy as np

from webapp.build.build_input import BuildInput
from webapp.planning.order.reasons import OneVariant
from webapp.planning.order.run_orders import order_of, run_orders
from webapp.planning.simulator.simulate import Schedule
from webapp.planning.simulator.work_arrays import Indices, WorkArrays

MOST_PLACES = 200
"""Places further ahead than this are tried at a stride."""
MOST_TRIED = 100_000
"""Places tried times the tasks of the build, in all: about a second."""


def settled(build: BuildInput, work: WorkArrays, order: Indices) -> Schedule | None:
    """The schedule of an order in sequence, tasks moved up where nothing else holds them.

    `work` is the whole build. No task of first start ends later than in the order itself. None
    where that takes too long: hundreds of tasks with several pairs of hands.
    """
    schedule = run_orders(work, order[np.newaxis, :], in_sequence=True)
    by_itself = (work.people == 0) & ~work.wall_only
    if work.first_start < 0 or (work.people_count == 1 and not by_itself.any()):
        return schedule
    left = MOST_TRIED // len(work)
    while left > 0:
        better, tried = _moved_up(build, work, schedule, at_most=left)
        left -= tried
        if better is None and left > 0:
            return schedule
        schedule = better or schedule
    return None


def _moved_up(
    build: BuildInput, work: WorkArrays, schedule: Schedule, *, at_most: int
) -> tuple[Schedule | None, int]:
    """The schedule with the first task that nothing holds moved up; None where there is none.

    Beside it the number of places that were tried; with more than `at_most` it gives up.
    """
    variant, order, tried = OneVariant(build, work, schedule), order_of(schedule), 0
    first, total = variant.end_wall[work.first_start], int(schedule.end.sum())
    for place, i in enumerate(order.tolist()):
        idle = variant.planned(i) and variant.begin_wall[i] and not work.wall_only[i]
        if not (idle and work.for_first_start[i]) or variant.binding(i):
            continue
        stride = -(-place // MOST_PLACES) or 1
        rest = np.delete(order, place)
        rows = np.array([np.insert(rest, at, i) for at in range(0, place, stride)], np.int64)
        if not len(rows):
            continue
        if tried + len(rows) > at_most:
            return None, at_most
        tried += len(rows)
        moved = run_orders(work, rows, in_sequence=True)
        totals = moved.end.sum(axis=0)
        good = (moved.end_wall(work.first_start) <= first) & (totals < total)
        if good.any():
            best = int(np.where(good, totals, total).argmin())
            return run_orders(work, rows[best : best + 1], in_sequence=True), tried
    return None, tried
