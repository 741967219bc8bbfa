"""The most valuable filling of a bar, by dynamic programming over its length."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from webapp.plumbing.cutting.grid import Grid, Pattern, pattern_of

MOST_CELLS = 250_000
"""Lengths that are finer than so many steps a bar are rounded."""
Values = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Knapsack:
    """Lengths and rooms in steps, and how often a length may stand on one bar."""

    sizes: tuple[int, ...]
    rooms: tuple[int, ...]
    wanted: tuple[int, ...]

    def best(self, values: Sequence[int]) -> "Filled":
        """The most valuable filling of every length up to the longest room."""
        longest = max(self.rooms)
        worth = np.zeros(longest + 1, dtype=np.int64)
        taken: list[tuple[int, int, npt.NDArray[np.bool_]]] = []
        for number, (size, value) in enumerate(zip(self.sizes, values, strict=True)):
            if value <= 0:
                continue
            for times in _in_parts(min(self.wanted[number], longest // size)):
                step = size * times
                with_it = worth[:-step] + value * times
                is_better = with_it > worth[step:]
                worth[step:][is_better] = with_it[is_better]
                taken.append((number, times, is_better))
        return Filled(knapsack=self, worth=worth, taken=tuple(taken))


@dataclass(frozen=True, slots=True, kw_only=True)
class Filled:
    """What `Knapsack.best` found: `worth` by room, and which parts were taken for it."""

    knapsack: Knapsack
    worth: Values
    taken: tuple[tuple[int, int, npt.NDArray[np.bool_]], ...]

    def pattern(self, room: int) -> Pattern:
        """The most valuable filling of so much room."""
        counts: dict[int, int] = {}
        for number, times, is_better in reversed(self.taken):
            step = self.knapsack.sizes[number] * times
            if step <= room and is_better[room - step]:
                counts[number] = counts.get(number, 0) + times
                room -= step
        return pattern_of(counts)


def _in_parts(count: int) -> list[int]:
    """Parts of 1, 2, 4, ... of which every number up to `count` is a sum."""
    parts, part = [], 1
    while count > 0:
        parts.append(min(part, count))
        count -= part
        part *= 2
    return parts


def knapsack_of(grid: Grid, *, is_lax: bool = False) -> Knapsack:
    """The bars and pieces of a grid, as wanted.

    Where the lengths are too fine they are rounded up, so that every filling fits; `is_lax`: down,
    so that every filling that fits is among them, and a bound holds.
    """
    coarse = -(-max(kind.room for kind in grid.kinds) // MOST_CELLS)
    return Knapsack(
        sizes=tuple(
            max(size // coarse, 1) if is_lax else -(-size // coarse) for size in grid.sizes
        ),
        rooms=tuple(kind.room // coarse for kind in grid.kinds),
        wanted=grid.wanted,
    )
