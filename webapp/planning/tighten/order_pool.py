"""A pool of orders that are crossed with each other, for work that packs on a grid of ticks.

Of two orders a child takes the beginning of one, then a stretch of the other, then the rest of the
one (two-point crossover of activity lists, Hartmann 1998); a few of its tasks are moved. Whatever
is bred is packed forward and backward (Valls, Ballestin and Quintanilla 2008), and the best stay.
"""

import numpy as np
from numpy.typing import NDArray

from webapp.planning.simulator.work_arrays import Indices
from webapp.planning.tighten.time_grid import Ticks, TimeGrid

POOL = 100
CHILDREN = 200
"""So many orders stay, and at most so many are bred in a round."""
MOVED_SHARE, MOVED_BY = 0.05, 0.1
"""The share of the tasks of a child that are moved, by about this share of the order."""
SHAKEN = (0.05, 0.1, 0.3, 0.6)
"""How far the first orders are shaken, in shares of the order."""


class OrderPool:
    """Orders of the work, the ones with the soonest first start first.

    orders : (p, n) by begin; ends : (p,) ticks at which first start comes in each
    """

    def __init__(
        self,
        grid: TimeGrid,
        first_start: int,
        random: np.random.Generator,
        *,
        preference: NDArray[np.float64],
        known: Indices,
    ) -> None:
        """To be filled with a preference (n,), smallest first, shaken, and an order (n,)."""
        self.grid, self.first_start, self.random = grid, first_start, random
        self.preference, self.known, self.shaken = preference, known, 0
        self.orders: Indices = np.empty((0, len(grid)), np.int64)
        self.ends: Ticks = np.empty(0, np.int64)

    @property
    def is_spent(self) -> bool:
        """Whether it is filled and nothing is left to cross: all came to the same order."""
        return self.shaken >= POOL and len(self.ends) < 2

    def grow(self, count: int) -> int:
        """Fill it by at most so many orders, or breed so many once it is; how many were packed."""
        keys = self._bred(count) if self.shaken >= POOL else self._shaken(count)
        self._take_in(keys)
        return len(keys)

    def _shaken(self, count: int) -> NDArray[np.float64]:
        rows = min(count, POOL - self.shaken)
        strength = self.random.choice(SHAKEN, (rows, 1))
        noise = self.random.normal(0, 1, (rows, len(self.grid)))
        keys: NDArray[np.float64] = self.preference + noise * strength
        if not self.shaken:
            keys[0] = _places(self.known)
        self.shaken += rows
        return keys

    def _bred(self, count: int) -> NDArray[np.float64]:
        """Cross so many pairs, each parent the better of two picked at random."""
        picked = self.random.integers(0, len(self.ends), (2, 2, count))
        parents = picked.min(axis=1)  # those ahead in the pool are better
        one, other = (_places(self.orders[each]) for each in parents)
        keys = self._crossed(one, other)
        is_moved = self.random.random(keys.shape) < MOVED_SHARE
        keys += is_moved * self.random.normal(0, MOVED_BY * len(self.grid), keys.shape)
        return keys

    def _crossed(self, one: Indices, other: Indices) -> NDArray[np.float64]:
        count = len(self.grid)
        cuts = np.sort(self.random.integers(0, count + 1, (len(one), 2)), axis=1)
        begins = one < cuts[:, :1]
        left = _places(np.argsort(np.where(begins, count, other), axis=1, kind="stable"))
        middle = ~begins & (left < cuts[:, 1:] - cuts[:, :1])
        keys = np.where(begins, one, np.where(middle, count + other, 2 * count + one))
        return keys.astype(float)

    def _take_in(self, keys: NDArray[np.float64]) -> None:
        """Pack what the keys (v, n) put in order, and keep the best that differ."""
        orders, ends = self.grid.packed(self.grid.allowed(keys))
        orders = np.concatenate([self.orders, orders])
        reached = np.concatenate([self.ends, ends[:, self.first_start]])
        differ = np.unique(orders, axis=0, return_index=True)[1]
        # Of those that come at the same tick any may stay.
        ranked = np.argsort(reached[differ] + self.random.random(len(differ)) / 2)
        stay = differ[ranked][:POOL]
        self.orders, self.ends = orders[stay], reached[stay]


def _places(orders: Indices) -> Indices:
    """The place of each task in each of the orders."""
    return np.argsort(orders, axis=-1, kind="stable")
