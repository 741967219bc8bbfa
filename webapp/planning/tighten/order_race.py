"""A race of orders on common draws: the worst fall out as the draws grow.

All start on a few draws; then the worst two thirds are dropped and the draws doubled, until one is
left or the block of draws is used up: most of the work goes into those that may be the best.
(Successive halving, Karnin, Koren and Somekh, ICML 2013, with common random numbers.)
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from webapp.planning.simulator.work_arrays import Indices

Ends = Callable[[Indices, slice], NDArray[np.float64]]
"""As `DrawnOrders.ends`."""

FIRST_DRAWS, MOST_DRAWS = 8, 256
"""Many children on 8 draws first gained more of the same schedules than fewer on 16: on three
builds 1.1 days on average against 0.5."""
KEPT_SHARE = 1 / 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """An order of a race: which one it was, on how many draws it was run, and how many seconds
    earlier than the order that holds it brought first start, summed over them."""

    number: int
    draws: int
    gained: float

    @property
    def mean_gain(self) -> float:
        """Seconds."""
        return self.gained / self.draws


def race(orders: Indices, ends: Ends, *, is_over: Callable[[], bool]) -> list[Placed]:
    """All of the orders (q, ...), the best first: who stayed longer, then who gained more.

    Once it is over the race ends where it stands.
    """
    left = np.arange(len(orders))
    gained = np.zeros(len(orders))
    behind: list[Placed] = []
    begin, end = 0, FIRST_DRAWS
    while True:
        found = ends(orders[left], slice(begin, end))
        gained[left] += (found[0] - found[1:]).sum(axis=1)
        left = left[np.argsort(-gained[left], kind="stable")]
        kept = max(1, round(len(left) * KEPT_SHARE))
        if end >= MOST_DRAWS or len(left) <= 1 or is_over():
            return [*_placed(left, gained, end), *behind]
        behind = [*_placed(left[kept:], gained, end), *behind]
        left = left[:kept]
        if len(left) == 1:
            return [*_placed(left, gained, end), *behind]
        begin, end = end, 2 * end


def _placed(numbers: Indices, gained: NDArray[np.float64], draws: int) -> list[Placed]:
    return [Placed(number=int(i), draws=draws, gained=float(gained[i])) for i in numbers]
