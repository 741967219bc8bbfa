"""Plans on a grid of ticks: by hand, against a plain way of laying them out, and backward."""

import datetime as dt
import random
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.benchmarks.psplib_builds import Instance, build_of_instance
from tests.build.builds import EVENINGS, MONDAY, build_of, task
from tests.outside.projects import random_instance
from webapp.build.build_input import BuildInput, Part, StationNeed
from webapp.build.shop import Setup, Station
from webapp.build.time.shop_calendar import NEVER
from webapp.planning.simulator.work_arrays import lay_out
from webapp.planning.tighten.time_grid import MOST_TICKS, TimeGrid

HOUR = 3600
LONG = 200 * HOUR


def grid_of(build: BuildInput, ends: int = LONG) -> TimeGrid:
    grid = TimeGrid.of(lay_out(build), ends)
    assert grid is not None
    return grid


def two_ovens() -> BuildInput:
    """3 h in an oven, then (after an hour's wait) 2 h, and beside them 4 h; then all is done."""
    oven = (StationNeed(station="oven"),)
    tasks = [task(k, h, people=0, stations=oven) for k, h in (("a", 3), ("b", 2), ("c", 4))]
    return build_of(
        [*tasks, task("z", 0)],
        [("a", "b", 1), ("b", "z"), ("c", "z")],
        first_start="z",
        stations=(Station(key="oven", name="Oven", count=2),),
    )


def small_instance(seed: int) -> Instance:
    """Up to nine activities on two resources; a third of them take no time."""
    return random_instance(seed, 1 + seed % 9, shortest=-4)


def laid_out_plainly(instance: Instance, order: list[int]) -> list[int]:
    """The serial scheme an hour at a time: each in turn at the first hour at which it fits."""
    ends = [0] * len(order)
    used: dict[tuple[int, int], int] = {}
    for at in order:
        begin = max([ends[i] for i, after in enumerate(instance.successors) if at in after] or [0])
        kinds = list(enumerate(instance.needs[at]))

        def fits(begin: int, at: int = at, kinds: list[tuple[int, int]] = kinds) -> bool:
            return all(
                used.get((kind, hour), 0) + need <= instance.capacities[kind]
                for hour in range(begin, begin + instance.hours[at])
                for kind, need in kinds
            )

        while not fits(begin):
            begin += 1
        ends[at] = begin + instance.hours[at]
        for hour in range(begin, ends[at]):
            for kind, need in kinds:
                used[kind, hour] = used.get((kind, hour), 0) + need
    return ends


def test_two_ovens_take_six_hours_forward_and_backward() -> None:
    grid = grid_of(two_ovens())
    orders = np.array([[0, 1, 2, 3], [2, 0, 1, 3]])
    assert grid.tick == HOUR
    # a from 0 to 3, then the wait, b from 4 to 6; c in the other oven from 0 to 4.
    assert grid.laid_out(orders).tolist() == [[3, 6, 4, 6], [3, 6, 4, 6]]
    # From the end: b takes 2 and the wait 1, so that a takes the hours from 3 to 6.
    backward = grid.laid_out(np.array([[3, 1, 0, 2]]), backward=True)
    assert backward.tolist() == [[6, 2, 4, 0]]


def test_half_an_hour_between_whole_ones_makes_a_tick_of_half_an_hour() -> None:
    build = build_of([task("a", 2), task("z", 1)], [("a", "z", 0.5)], first_start="z")
    grid = grid_of(build)
    assert grid.tick == HOUR // 2
    assert grid.laid_out(np.array([[0, 1]])).tolist() == [[4, 7]]


def test_where_the_least_tick_is_small_a_coarser_one_is_rounded_up_to() -> None:
    # 1.001 h are 3,604 s (2 h: 7,200 s): 4 s is what both are made of, 225,900 ticks of 251 h.
    build = build_of([task("a", 1.001), task("z", 2)], [("a", "z")], first_start="z")
    grid = grid_of(build)
    assert grid.last <= MOST_TICKS
    assert grid.tick % 4 == 0
    lengths = grid.lengths * grid.tick
    assert (lengths >= [3604, 7200]).all()
    assert (lengths < np.array([3604, 7200]) + grid.tick).all()


def test_work_of_no_hours_has_a_grid_too() -> None:
    build = build_of([task("a", 0), task("z", 0)], [("a", "z")], first_start="z")
    assert grid_of(build, ends=0).laid_out(np.array([[0, 1]])).tolist() == [[0, 0]]


def test_what_fits_ahead_of_tasks_that_are_laid_out_goes_there() -> None:
    # One oven. a takes 2 h; b waits 3 h behind it and takes 1; c takes 3, the last in the order.
    oven = (StationNeed(station="oven"),)
    tasks = [task(k, h, people=0, stations=oven) for k, h in (("a", 2), ("b", 1), ("c", 3))]
    build = build_of(
        tasks, [("a", "b", 3)], first_start="b", stations=(Station(key="oven", name="Oven"),)
    )
    assert grid_of(build).laid_out(np.array([[0, 1, 2]])).tolist() == [[2, 6, 5]]


def test_hands_are_room_too() -> None:
    tasks = [task("a", 2), task("b", 3), task("z", 0)]
    build = build_of(tasks, [("a", "z"), ("b", "z")], first_start="z")
    assert grid_of(build).laid_out(np.array([[1, 0, 2]])).tolist() == [[5, 3, 5]]


@settings(max_examples=60)
@given(seed=st.integers(0, 10_000), shuffled=st.randoms(use_true_random=False))
def test_every_plan_is_that_of_the_scheme_hour_by_hour(seed: int, shuffled: random.Random) -> None:
    instance = small_instance(seed)
    grid = grid_of(build_of_instance("random", instance))
    keys = [[shuffled.random() for _ in instance.hours] for _ in range(4)]
    orders = grid.allowed(np.array(keys))
    found = grid.laid_out(orders) * grid.tick // HOUR
    assert found.tolist() == [laid_out_plainly(instance, order) for order in orders.tolist()]


@settings(max_examples=60)
@given(seed=st.integers(0, 10_000))
def test_packing_makes_no_plan_longer_and_breaks_nothing(seed: int) -> None:
    """Double justification never makes a plan longer (Valls and others 2005, section 2)."""
    instance = small_instance(seed)
    grid = grid_of(build_of_instance("random", instance))
    orders = grid.allowed(np.random.default_rng(seed).random((8, len(instance.hours))))
    packed, ends = grid.packed(orders)
    assert (ends.max(axis=1) <= grid.laid_out(orders).max(axis=1)).all()
    assert (np.diff(np.take_along_axis(ends - grid.lengths, packed, axis=1), axis=1) >= 0).all()
    for order, plan in zip(packed.tolist(), (ends * grid.tick // HOUR).tolist(), strict=True):
        begins = [end - hours for end, hours in zip(plan, instance.hours, strict=True)]
        for i, after in enumerate(instance.successors):
            assert all(begins[j] >= plan[i] for j in after)
            assert all(order.index(j) > order.index(i) for j in after)
        for hour in range(max(plan)):
            at_work = [i for i, end in enumerate(plan) if begins[i] <= hour < end]
            for kind, units in enumerate(instance.capacities):
                assert sum(instance.needs[i][kind] for i in at_work) <= units


def test_packing_lets_the_longest_way_go_first() -> None:
    # One oven: a takes it 1 h and b 6 h; c takes 5 h behind b. In this order 1 + 6 + 5 = 12. From
    # the end c, b and a stand in a row, and from the beginning again b goes first: 6 + 5 = 11.
    oven = (StationNeed(station="oven"),)
    tasks = [task(k, h, people=0, stations=oven) for k, h in (("a", 1), ("b", 6))]
    build = build_of(
        [*tasks, task("c", 5, people=0), task("z", 0)],
        [("a", "z"), ("b", "c"), ("c", "z")],
        first_start="z",
        stations=(Station(key="oven", name="Oven"),),
    )
    grid = grid_of(build)
    order = np.array([[0, 1, 2, 3]])
    assert grid.laid_out(order).tolist() == [[1, 7, 12, 12]]
    packed, ends = grid.packed(order)
    assert packed.tolist() == [[1, 0, 2, 3]] or packed.tolist() == [[1, 2, 0, 3]]
    assert ends.tolist() == [[7, 6, 11, 11]]


def test_an_order_by_keys_has_no_task_before_one_it_needs_and_else_keeps_to_them() -> None:
    grid = grid_of(two_ovens())  # a before b, both and c before z
    keys = np.array([[0.4, 0.1, 0.3, 0.2], [0.1, 0.2, 0.3, 0.4]])
    assert grid.allowed(keys).tolist() == [[2, 0, 1, 3], [0, 1, 2, 3]]


def test_what_finds_no_room_before_the_last_tick_stands_at_it() -> None:
    # Four hours are said to do: 1.25 x 4 h, the longest task of 4 h and 1 h more. Of three that
    # take both ovens for 4 h the third would end at 12, and stands at 10; 1 h fits ahead of it.
    both = (StationNeed(station="oven", count=2),)
    tasks = [task(k, h, people=0, stations=both) for k, h in zip("abcd", (4, 4, 4, 1), strict=True)]
    build = build_of(
        [*tasks, task("z", 0)],
        [(k, "z") for k in "abcd"],
        first_start="z",
        stations=(Station(key="oven", name="Oven", count=2),),
    )
    grid = grid_of(build, ends=4 * HOUR)
    assert grid.last == 10
    assert grid.laid_out(np.array([[0, 1, 2, 3, 4]])).tolist() == [[4, 8, 14, 9, 14]]


@pytest.mark.parametrize(
    "why",
    [
        *("closed hours", "a setup", "a helper", "work in one go", "outside work"),
        *("a part in the post", "no date", "a large grid"),
    ],
)
def test_where_time_does_not_run_backward_there_is_no_grid(why: str) -> None:
    build, ends = two_ovens(), LONG
    first, *rest = build.tasks
    if why == "closed hours":
        build = replace(build, shop=replace(build.shop, week=EVENINGS))
    if why == "a setup":
        setups = (Setup(key="welder", name="Welder", hours=1),)
        build = replace(build, shop=replace(build.shop, setups=setups))
        build = replace(build, tasks=(replace(first, setup="welder"), *rest))
    if why == "a helper":
        build = replace(build, tasks=(replace(first, people=1, helper=True), *rest))
    if why == "work in one go":
        build = replace(build, tasks=(replace(first, people=1, in_one_go=True), *rest))
    if why == "a part in the post":
        arrives = MONDAY + dt.timedelta(hours=2)
        build = replace(
            build, parts=(Part(key="p", name="Tube", serves=("a",), arrives_on=arrives),)
        )
    if why == "outside work":
        outside = task("a", 0, outside_days=2.0)
        build = replace(build, tasks=(outside, *rest))
    if why == "no date":
        ends = NEVER
    if why == "a large grid":
        many = [task(f"t{i}", 1, people=0) for i in range(400)]
        stations = [Station(key=f"s{i}", name=f"Station {i}") for i in range(60)]
        # 404 tasks by 62 kinds of room leave 159 ticks.
        build = replace(build, tasks=(*build.tasks, *many))
        build = replace(build, shop=replace(build.shop, stations=(*build.shop.stations, *stations)))
    assert TimeGrid.of(lay_out(build), ends) is None
