"""The pool of orders: what is bred of two, that it stays allowed, and how good it gets."""

import time

import numpy as np
import pytest

from tests.benchmarks.psplib_builds import Instance, build_of_instance
from tests.outside.projects import TEN_JOBS, random_instance
from tests.planning.tighten.test_time_grid import HOUR, LONG
from webapp.planning.order.run_orders import run_orders
from webapp.planning.simulator.work_arrays import WorkArrays, for_first_start_only, lay_out
from webapp.planning.tighten.order_pool import POOL, OrderPool
from webapp.planning.tighten.order_search import PACKED_FIRST, OrderSearch
from webapp.planning.tighten.time_grid import TimeGrid


def work_of(instance: Instance) -> WorkArrays:
    return for_first_start_only(lay_out(build_of_instance("packed", instance)))


def pool_of(instance: Instance, seed: int = 0) -> OrderPool:
    work = work_of(instance)
    grid = TimeGrid.of(work, LONG)
    assert grid is not None
    count = len(instance.hours)
    return OrderPool(
        grid,
        work.first_start,
        np.random.default_rng(seed),
        preference=np.zeros(count),
        known=np.arange(count),
    )


def long_instance() -> Instance:
    """Forty activities: so many that the first orders are not the best."""
    return random_instance(1, 40, capacities=(4, 5))


def test_a_child_has_the_beginning_of_one_a_stretch_of_the_other_and_the_rest_of_the_one() -> None:
    instance = random_instance(3, 6)
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


def test_it_is_filled_a_few_at_a_time_with_the_order_that_is_known_among_them() -> None:
    pool = pool_of(TEN_JOBS)
    assert [pool.grow(count) for count in (1, 60, 60)] == [1, 60, POOL - 61]
    alone = pool_of(TEN_JOBS)
    alone.grow(1)
    known = alone.grid.packed(np.arange(12)[np.newaxis, :])
    assert (alone.orders == known[0]).all()
    assert alone.ends == known[1][:, -1]
    assert pool.grow(60) == 60  # bred


def test_what_is_bred_comes_sooner_and_stays_as_many_that_differ_and_are_allowed() -> None:
    instance = long_instance()
    pool = pool_of(instance)
    pool.grow(POOL)
    soonest, last = [pool.ends[0]], [pool.ends[-1]]
    for _ in range(8):
        pool.grow(100)
        soonest.append(pool.ends[0])
        last.append(pool.ends[-1])
        assert (np.diff(pool.ends) >= 0).all()
        assert len({tuple(row) for row in pool.orders.tolist()}) == len(pool.orders) == POOL
        places = np.argsort(pool.orders, axis=1)
        for i, after in enumerate(instance.successors):
            assert all((places[:, i] < places[:, j]).all() for j in after)
    assert soonest == sorted(soonest, reverse=True)
    assert last == sorted(last, reverse=True)
    assert soonest[-1] < soonest[0]
    assert last[-1] <= soonest[0], "none that stays is later than the best at first"


def test_a_pool_of_one_order_is_spent() -> None:
    chain = Instance(
        hours=(1, 2, 3), successors=((1,), (2,), ()), needs=((1,),) * 3, capacities=(1,)
    )
    pool = pool_of(chain)
    assert not pool.is_spent
    pool.grow(POOL)
    assert pool.is_spent


# --- packing in the search ---------------------------------------------------------------------


def search_of(instance: Instance, *, is_stopped: bool = False) -> OrderSearch:
    return OrderSearch(work_of(instance), seed=0, stopped=lambda: is_stopped, improved=lambda: None)


def test_packing_finds_ten_jobs_in_21_hours_and_claims_what_the_simulator_makes_of_it() -> None:
    search = search_of(TEN_JOBS)
    assert search.best.ends > 21 * HOUR  # by the house rules
    search.pack(time.monotonic() + 60, 21 * HOUR)
    assert search.best.ends == 21 * HOUR
    run = run_orders(search.work, search.best.order[np.newaxis, :], in_sequence=True)
    assert run.end_wall(search.work.first_start)[0] == 21 * HOUR


@pytest.mark.parametrize("why", ["the time is up", "it was stopped", "it is reached"])
def test_nothing_is_packed_where(why: str) -> None:
    search = search_of(TEN_JOBS, is_stopped=why == "it was stopped")
    best = search.best
    until = time.monotonic() + (0 if why == "the time is up" else 60)
    search.pack(until, best.ends if why == "it is reached" else 21 * HOUR)
    assert search.best is best


def test_a_stop_is_heard_while_the_pool_is_filled() -> None:
    search = search_of(long_instance())
    packed: list[int] = []
    search.stopped = lambda: len(packed) > 1

    def counted(count: int, _: float) -> None:
        packed.append(count)

    search._measure = counted  # type: ignore[assignment]
    search.pack(time.monotonic() + 60, 0)
    assert packed[0] == PACKED_FIRST
    assert sum(packed) < POOL + PACKED_FIRST
