"""Better ways to cut, found by luck: bar by bar the one whose filling is cheapest by length.

What a length counts for in a filling is changed a little from try to try, long pieces for more:
they are hard to place later.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from random import Random

from webapp.plumbing.cutting.first_fit import improved
from webapp.plumbing.cutting.grid import Grid, Layout, Pattern
from webapp.plumbing.cutting.knapsack import Knapsack, knapsack_of

MOST_TRIES = 200
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


def _one_try(
    grid: Grid, knapsack: Knapsack, luck: Random, is_over: Callable[[], bool]
) -> Layout | None:
    power, spread = luck.uniform(1.0, 1.15), luck.uniform(0.0, 0.1)
    longest = max(grid.sizes)
    worths = [
        max(int(MOST_WORTH * (size / longest) ** power * luck.uniform(1 - spread, 1 + spread)), 1)
        for size in grid.sizes
    ]
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
