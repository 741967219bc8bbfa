"""A second processor beside a search over the draws: it runs races of its own."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from webapp.build.build_input import BuildInput
from webapp.planning.chances.factors import Factors
from webapp.planning.simulator.work_arrays import Indices
from webapp.planning.tighten.drawn_orders import DrawnOrders, drawn_orders
from webapp.planning.tighten.order_race import Placed, race

DRAWS_APART = 500
"""Added to the seed of the search: the races beside it have draws that it never has."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RaceBeside:
    """How a race beside the search ended, and how many schedules were laid out in it."""

    placed: list[Placed]
    schedules: int


class Beside(Protocol):
    """Where races are run beside a search, one at a time."""

    def is_ready(self) -> bool:
        """Whether a race can begin: not before it is there, and not once it is gone."""

    def begin(self, orders: Indices) -> None:
        """Begin a race of policies (q, n + 1)."""

    def ended(self, *, is_over: Callable[[], bool] | None) -> RaceBeside | None:
        """How the race that is on ended. With `is_over` it is waited for, until that says so."""


class Racer:
    """The races of one build on draws of their own; all that is asked of a second processor."""

    def __init__(self, drawn: DrawnOrders) -> None:
        self._drawn = drawn

    @classmethod
    def of(cls, build: BuildInput, factors: Factors | None, seed: int) -> "Racer | None":
        """Of a faultless build; None where first start can not be planned."""
        drawn = drawn_orders(build, factors=factors, seed=seed + DRAWS_APART)
        return None if drawn is None else cls(drawn)

    def run(self, orders: Indices) -> RaceBeside:
        """A race to its end, on the next block of draws."""
        before = self._drawn.schedules
        self._drawn.draw_next()
        placed = race(orders, self._drawn.ends, is_over=lambda: False)
        return RaceBeside(placed=placed, schedules=self._drawn.schedules - before)
