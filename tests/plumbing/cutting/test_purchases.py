"""Which bars an answer could be made of, and whether the pieces come off them."""

from functools import partial
from itertools import product

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.benchmarks.cut_lists import shop_list
from tests.plumbing.cutting.cut_jobs import check, job, partitions, small_jobs, stock
from webapp.plumbing.cutting.best_cut import cut_list
from webapp.plumbing.cutting.cut_list import CutJob
from webapp.plumbing.cutting.full_bars import full_bars_of
from webapp.plumbing.cutting.grid import Grid, Layout
from webapp.plumbing.cutting.purchase_model import kinds_by_pattern, purchase_model
from webapp.plumbing.cutting.purchases import (
    Purchase,
    cost_of,
    count_of_full_patterns,
    full_patterns,
    purchases_between,
    room_over,
)
from webapp.plumbing.cutting.solving import solved

SETTINGS = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def test_of_bars_that_hold_the_pieces_there_are_few_below_the_best() -> None:
    """1,800 mm off bars of 1000 for 10 and of 3000 for 28: below 29 two of 1000 or one of 3000;
    below 20 nothing, though by length 16.8 would do."""
    grid = Grid(job([stock(1000, 10), stock(3000, 28)], [900, 500, 400]))
    rooms_mm = [kind.room * grid.unit // 1000 for kind in grid.kinds]
    assert rooms_mm == [900, 1800]  # what these pieces can fill
    below = 29 * 10_000 * grid.prices
    assert purchases_between(grid, 0, below) == ((2, 0), (0, 1))
    assert purchases_between(grid, 0, 20 * 10_000 * grid.prices) == ()


@SETTINGS
@given(small_jobs(most=4), st.integers(0, 30), st.integers(5, 60))
def test_purchases_as_by_trying_every_number_of_every_kind(
    of: CutJob, least: int, below: int
) -> None:
    grid = Grid(of)
    unit = 10_000 * grid.prices
    found = purchases_between(grid, least * unit, below * unit)
    every = product(*(range(kind.most + 1) for kind in grid.kinds))
    # a bar too many of a kind that costs nothing is still a purchase
    tried = {
        one
        for one in every
        if room_over(grid, one) >= 0 and least * unit <= cost_of(grid, one) < below * unit
    }
    assert found is not None
    assert set(found) == tried
    assert [cost_of(grid, one) for one in found] == sorted(cost_of(grid, one) for one in found)


def test_too_many_purchases_are_not_looked_at() -> None:
    grid = Grid(
        job([stock(1000 + n, 10 + n / 10) for n in range(12)], [100 + n for n in range(90)])
    )
    assert purchases_between(grid, 0, 10**12) is None


@SETTINGS
@given(
    st.lists(st.integers(3, 40), min_size=1, max_size=6),
    st.integers(40, 90),
    st.integers(0, 30),
)
def test_full_patterns_are_all_fillings_that_leave_no_more(
    lengths: list[int], room: int, over: int
) -> None:
    grid = Grid(job([stock(room, 1)], [*lengths, *lengths[:2]]))
    room //= grid.unit
    counts = product(*(range(wanted + 1) for wanted in grid.wanted))
    expected = {
        tuple((number, n) for number, n in enumerate(one) if n)
        for one in counts
        if room - over <= sum(n * size for n, size in zip(one, grid.sizes, strict=True)) <= room
    }
    found = full_patterns(grid, room, over)
    assert len(found) == len(expected) == count_of_full_patterns(grid, room, over)
    assert set(found) == expected


def comes_off(grid: Grid, purchase: Purchase) -> bool:
    """By every way to part the pieces into heaps, the largest heap on the largest bar that is
    left: with as many bars as heaps or more, that is the best there is."""
    rooms = sorted(
        (kind.room for kind, n in zip(grid.kinds, purchase, strict=True) for _ in range(n)),
        reverse=True,
    )
    pieces = [size for size, n in zip(grid.sizes, grid.wanted, strict=True) for _ in range(n)]
    for heaps in partitions(pieces):
        loads = sorted((sum(heap) for heap in heaps), reverse=True)
        if len(loads) <= len(rooms) and all(map(int.__le__, loads, rooms)):
            return True
    return False


def check_bars(grid: Grid, layout: Layout) -> None:
    """No bar is cut longer than it is, and every piece comes off one."""
    held = [0] * len(grid.sizes)
    for kind, pattern in layout.bars:
        assert grid.load(pattern) <= grid.kinds[kind].room
        for number, n in pattern:
            held[number] += n
    assert tuple(held) == grid.wanted


@pytest.mark.parametrize("most_patterns", [0, 3, 2_000])
def test_the_model_says_yes_and_no_as_every_way_of_cutting_does(most_patterns: int) -> None:
    """Bar by bar, over patterns, and some of both; each answer is checked as a layout."""
    told = {True: 0, False: 0}
    for seed in range(6):
        of = job([stock(500, 10), stock(700, 0, 1), stock(1200, 22)], shop_lengths(seed), 3)
        grid = Grid(of)
        for purchase in (purchases_between(grid, 0, 60 * 10_000 * grid.prices) or ())[:8]:
            by_pattern = kinds_by_pattern(grid, purchase, most_patterns)
            asked = purchase_model(grid, purchase, by_pattern)
            found = solved(asked.model, asked.asked, seconds=20, is_stopped=lambda: False)
            assert (found.values is not None) == comes_off(grid, purchase)
            assert found.is_impossible == (found.values is None)
            told[found.values is not None] += 1
            if found.values is not None:
                check_bars(grid, asked.layout(found.values))
    assert min(told.values()) > 0


def shop_lengths(seed: int) -> list[float]:
    return [97 + (n * 211 + seed * 137) % 340 for n in range(7)]


@pytest.mark.parametrize("seed", [10, 42, 194])
def test_lists_are_proved_by_what_bars_could_be_bought(seed: int) -> None:
    """Thirty pieces of which no bound by length is near: one to four sets of bars below the best
    answer hold them end to end. A model of all bars at once proved none of them in ten seconds; of
    the second no such model found the answer that luck with the bars of one purchase comes to."""
    of = shop_list(30, seed)
    answer = cut_list(of, seconds=20)
    assert answer is not None
    check(of, answer)
    assert answer.proved_best
    assert answer.price == answer.bound_price


@SETTINGS
@given(small_jobs(most=7))
def test_luck_with_the_bars_of_a_purchase_costs_no_more_and_lays_every_piece(of: CutJob) -> None:
    grid = Grid(of)
    for purchase in (purchases_between(grid, 0, 40 * 10_000 * grid.prices) or ())[:6]:
        five_tries = iter([False] * 5)
        layout = full_bars_of(grid, purchase, partial(next, five_tries, True))
        if layout is None:
            continue
        cost = sum(grid.kinds[kind].cost for kind, _ in layout.bars)
        assert cost <= cost_of(grid, purchase)
        check_bars(grid, layout)
