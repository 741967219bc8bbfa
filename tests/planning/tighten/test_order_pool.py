"""The pool of orders: what is bred of two, that it stays allowed, and how good it gets."""

import numpy as np

from tests.benchmarks.psplib_builds import Instance, build_of_instance
from tests.planning.tighten.test_time_grid import LONG, random_instance
from webapp.planning.simulator.work_arrays import lay_out
from webapp.planning.tighten.order_pool import POOL, OrderPool
from webapp.planning.tighten.time_grid import TimeGrid


def pool_of(instance: Instance, seed: int = 0) -> OrderPool:
    work = lay_out(build_of_instance("packed", instance))
    grid = TimeGrid.of(work, LONG)
    assert grid is not None
    return OrderPool(grid, work.first_start, np.random.default_rng(seed))


def test_a_child_has_the_beginning_of_one_a_stretch_of_the_other_and_the_rest_of_the_one() -> None:
    instance = random_instance(3)
    pool, count = pool_of(instance), len(instance.hours)
    mother, father = list(range(count)), list(reversed(range(count)))

    def child(first: int, second: int) -> list[int]:
        begins = mother[:first]
        middle = [task for task in father if task not in begins][: second - first]
        return [*begins, *middle, *(t for t in mother if t not in begins and t not in middle)]

    possible = {tuple(child(i, j)) for j in range(count + 1) for i in range(j + 1)}
    ones, others = (np.tile(np.argsort(each), (500, 1)) for each in (mother, father))
    bred = {tuple(row) for row in np.argsort(pool._crossed(ones, others), axis=1).tolist()}
    assert bred == possible  # 500 pairs of cuts have every one of them


def test_the_best_come_first_all_differ_and_no_task_stands_before_one_it_needs() -> None:
    instance = random_instance(8)
    pool = pool_of(instance)
    pool.begin(np.zeros(len(instance.hours)), np.arange(len(instance.hours)))
    soonest = [pool.ends[0]]
    for _ in range(5):
        pool.breed(40)
        soonest.append(pool.ends[0])
        assert (np.diff(pool.ends) >= 0).all()
        assert len({tuple(row) for row in pool.orders.tolist()}) == len(pool.orders) <= POOL
        places = np.argsort(pool.orders, axis=1)
        for i, after in enumerate(instance.successors):
            for j in after:
                assert (places[:, i] < places[:, j]).all()
    assert soonest == sorted(soonest, reverse=True)


def test_ten_jobs_on_two_resources_come_to_21() -> None:
    """RCPSP example of python-mip's documentation (optimum 21; see `tests/outside`)."""
    hours = (0, 3, 2, 5, 4, 2, 3, 4, 2, 4, 6, 0)
    needs = ((5, 1), (0, 4), (1, 4), (1, 3), (3, 2), (3, 1), (2, 4), (4, 0), (5, 2), (2, 5))
    after = {1: (4, 5), 2: (9, 10), 3: (8,), 4: (6, 7), 5: (9, 10), 6: (8, 9), 7: (8,)}
    instance = Instance(
        hours=hours,
        successors=(tuple(range(1, 11)), *((*after.get(i, ()), 11) for i in range(1, 11)), ()),
        needs=((0, 0), *needs, (0, 0)),
        capacities=(6, 8),
    )
    pool = pool_of(instance)
    pool.begin(np.zeros(12), np.arange(12))
    for _ in range(5):
        pool.breed(40)
    assert pool.ends[0] * pool.grid.tick == 21 * 3600
