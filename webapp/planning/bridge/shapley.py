"""Shapley values, exact, and shares in whole numbers that still sum to the whole."""

import math
from collections.abc import Mapping, Sequence
from fractions import Fraction
from itertools import combinations


def shapley(values: Mapping[frozenset[str], int]) -> dict[str, Fraction]:
    """Share the value of everybody together out among the players (Shapley 1953).

    `values` has one whole number for every subset of the players, the empty one included. Each
    player gets the mean, over all orders of coming in, of what it adds when it comes in; the
    shares sum to v(all) - v(none). Raises KeyError where a subset is missing.
    """
    players = sorted(frozenset[str]().union(*values))
    n = len(players)
    shares = dict.fromkeys(players, Fraction(0))
    for player in players:
        others = [other for other in players if other != player]
        for size in range(n):
            weight = Fraction(math.factorial(size) * math.factorial(n - size - 1))
            for subset in combinations(others, size):
                before = frozenset(subset)
                shares[player] += weight * (values[before | {player}] - values[before])
    orders = math.factorial(n)
    return {player: share / orders for player, share in shares.items()}


def in_whole_numbers(shares: Sequence[Fraction | float], total: int) -> list[int]:
    """Round shares that sum to `total` to whole numbers that do so too.

    Largest remainder: all are rounded down, and what is missing goes, one each, to those that
    lost most, the first of equals first. A share that was whole stays as it is.
    """
    exact = [Fraction(share) for share in shares]
    if exact and (gap := total - sum(exact)):
        # Floats do not sum exactly: their tiny gap goes to the largest share.
        largest = max(range(len(exact)), key=lambda i: abs(exact[i]))
        exact[largest] += gap
    whole = [math.floor(share) for share in exact]
    missing = total - sum(whole)
    by_loss = sorted(range(len(exact)), key=lambda i: (whole[i] - exact[i], i))
    for i in by_loss[:missing]:
        whole[i] += 1
    return whole


def scaled_to(total: int, weights: Sequence[float]) -> list[int]:
    """Share `total` out by weights of either sign, in whole numbers that sum to it.

    Each gets its own weight; what the weights together miss of the total is shared in
    proportion to their sizes. Equal weights of zero share alike.
    """
    if not weights:
        return []
    exact = [Fraction(weight) for weight in weights]
    sizes = [abs(weight) for weight in exact]
    if not any(sizes):
        sizes = [Fraction(1)] * len(exact)
    missing = Fraction(total) - sum(exact)
    return in_whole_numbers(
        [w + missing * size / sum(sizes) for w, size in zip(exact, sizes, strict=True)], total
    )
