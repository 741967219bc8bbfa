"""Shapley values are exact, and whole-number shares sum to the whole."""

from fractions import Fraction
from itertools import combinations, permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.planning.bridge.shapley import in_whole_numbers, scaled_to, shapley

PLAYERS = "abcd"
SUBSETS = [frozenset(s) for n in range(len(PLAYERS) + 1) for s in combinations(PLAYERS, n)]
GAMES = st.lists(st.integers(-9999, 9999), min_size=16, max_size=16).map(
    lambda values: dict(zip(SUBSETS, values, strict=True))
)


@given(GAMES)
def test_each_player_gets_its_mean_over_all_orders(values: dict[frozenset[str], int]) -> None:
    # The definition itself (Shapley 1953), over all 24 orders.
    orders = [*permutations(PLAYERS)]
    for player, share in shapley(values).items():
        added = [
            values[frozenset(order[: order.index(player) + 1])]
            - values[frozenset(order[: order.index(player)])]
            for order in orders
        ]
        assert share == Fraction(sum(added), len(orders))


@given(GAMES)
def test_the_shares_sum_to_the_value_of_all(values: dict[frozenset[str], int]) -> None:
    assert sum(shapley(values).values()) == values[frozenset(PLAYERS)] - values[frozenset()]


def test_one_player_or_none() -> None:
    assert shapley({frozenset(): 3}) == {}
    assert shapley({frozenset(): 3, frozenset("a"): 10}) == {"a": 7}
    with pytest.raises(KeyError):
        shapley({frozenset("a"): 10})


def test_the_largest_remainders_are_rounded_up() -> None:
    # 2.5 + 3.3 + 4.2 = 10: down to 2 + 3 + 4, the missing one to the first, which lost most.
    assert in_whole_numbers([Fraction(5, 2), Fraction(33, 10), Fraction(42, 10)], 10) == [3, 3, 4]
    assert in_whole_numbers([Fraction(-5, 2), Fraction(5, 2)], 0) == [-2, 2]
    assert in_whole_numbers([], 0) == []


@given(st.lists(st.fractions(-1000, 1000), min_size=1, max_size=9))
def test_whole_shares_sum_exactly_and_are_off_by_less_than_one(shares: list[Fraction]) -> None:
    shares = [*shares, Fraction(-sum(shares) % 1)]
    total = int(sum(shares))
    whole = in_whole_numbers(shares, total)
    assert sum(whole) == total
    assert all(abs(w - s) < 1 for w, s in zip(whole, shares, strict=True))
    assert all(w == s for w, s in zip(whole, shares, strict=True) if s.denominator == 1)


@given(st.integers(-(10**6), 10**6), st.lists(st.floats(-1e5, 1e5), min_size=1, max_size=9))
def test_scaled_shares_sum_to_the_total(total: int, weights: list[float]) -> None:
    assert sum(scaled_to(total, weights)) == total


def test_weights_that_sum_to_the_total_stay_as_they_are() -> None:
    assert scaled_to(7, [10, -3]) == [10, -3]
    assert scaled_to(10, [1, 4]) == [2, 8]
    assert scaled_to(5, [0, 0]) == [3, 2]
    assert scaled_to(0, []) == []
