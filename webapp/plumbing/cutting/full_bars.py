"""Better ways to cut, found by luck: bar after bar filled by a knapsack.

What a length counts for in a filling is changed a little from try to try, long pieces for more:
they are hard to place later. With bars of any kind the one goes next whose filling is cheapest by
length; with the bars of a purchase the short ones mostly go first, for little else fits them.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from random import Random

from webapp.plumbing.cutting.first_fit import improved
from webapp.plumbing.cutting.grid import Grid, Layout, Pattern
from webapp.plumbing.cutting.knapsack import Knapsack, knapsack_of
from webapp.plumbing.cutting.purchases import Purchase

MOST_TRIES = 200
MOST_TRIES_OF_A_PURCHASE = 500
MOST_WORTH = 2**30


def full_bars(grid: Grid, is_over: Callable[[], bool]) -> Iterator[Layout]:
    """One layout after the other until it is over; the same ones in the same order each time."""
    luck, knapsack = Random("full bars"), knapsack_of(grid)
    for _ in range(MOST_TRIES):
        if is_over():
            return
        layout = _one_try(grid, knapsack, luck, is_over)
        if layout is not None:
            yield improved(grid, layout)


def full_bars_of(grid: Grid, purchase: Purchase, is_over: Callable[[], bool]) -> Layout | None:
    """The pieces on the bars of one purchase; None where they found no room until it was over.

    Lists that the solver found no answer to in ten seconds are answered in a few tries mostly.
    """
    luck, whole = Random("full bars"), knapsack_of(grid)
    knapsacks = [replace(whole, rooms=(room,)) for room in whole.rooms]
    bars = [kind for kind, count in enumerate(purchase) for _ in range(count)]
    for _ in range(MOST_TRIES_OF_A_PURCHASE):
        if is_over():
            return None
        worths = _worths(grid, luck, power=1.3)
        order = sorted(bars, key=lambda kind: grid.kinds[kind].room * luck.uniform(0.7, 1.4))
        left = list(grid.wanted)
        filled: list[tuple[int, Pattern]] = []
        for kind in order:
            best = replace(knapsacks[kind], wanted=tuple(left)).best(worths)
            pattern = best.pattern(knapsacks[kind].rooms[0])
            for number, count in pattern:
                left[number] -= count
            filled.append((kind, pattern))
        if not any(left):
            return improved(grid, Layout(bars=tuple(bar for bar in filled if bar[1])))
    return None


def _worths(grid: Grid, luck: Random, *, power: float) -> list[int]:
    """What each length counts for in one try."""
    exponent, spread = luck.uniform(1.0, power), luck.uniform(0.0, 0.1)
    longest = max(grid.sizes)
    return [
        max(
            int(MOST_WORTH * (size / longest) ** exponent * luck.uniform(1 - spread, 1 + spread)), 1
        )
        for size in grid.sizes
    ]


def _one_try(
    grid: Grid, knapsack: Knapsack, luck: Random, is_over: Callable[[], bool]
) -> Layout | None:
    worths = _worths(grid, luck, power=1.15)
    left, unused = list(grid.wanted), [kind.most for kind in grid.kinds]
    bars: list[tuple[int, Pattern]] = []
    while any(left):
        bar = None if is_over() else _cheapest(grid, knapsack, worths, left, unused)
        if bar is None:
            return None
        bars.append(bar)
        unused[bar[0]] -= 1
        for number, count in bar[1]:
            left[number] -= count
    return Layout(bars=tuple(bars))


def _cheapest(
    grid: Grid,
    knapsack: Knapsack,
    worths: Sequence[int],
    left: Sequence[int],
    unused: Sequence[int],
) -> tuple[int, Pattern] | None:
    """The bar whose filling is cheapest by what it counts for."""
    filled = replace(knapsack, wanted=tuple(left)).best(worths)
    found = [
        (grid.kinds[kind].cost / worth, kind)
        for kind, room in enumerate(knapsack.rooms)
        if unused[kind] and (worth := int(filled.worth[room]))
    ]
    if not found:
        return None
    kind = min(found)[1]
    return kind, filled.pattern(knapsack.rooms[kind])
