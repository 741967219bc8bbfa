"""Orders of the work run over the same draws, as policies (`order_moves`): followed as priorities.

Draws come in blocks, each drawn for itself: what was found on one block is held against others on
the next, so that nothing is fitted to draws that stay.
"""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from webapp.build.build_input import BuildInput
from webapp.build.time.shop_calendar import Seconds
from webapp.planning.chances.draws import Drawn, drawn_again, drawn_of
from webapp.planning.chances.factors import NO_RECORD, Factors
from webapp.planning.chances.luck import SEED, Distribution, Luck
from webapp.planning.order.run_orders import orders_at_once
from webapp.planning.simulator.house_rules import ranking_of_policies
from webapp.planning.simulator.simulate import first_starts
from webapp.planning.simulator.work_arrays import Indices

BLOCK_DRAWS = 256
SEEDS_FROM = 1_000
"""Blocks are drawn with seeds from here on: never with the one that the pages draw with."""
LAID_OUT_DRAWS = 1_024
"""The calendar is long enough for the longest of so many draws and as much work again."""
assert SEEDS_FROM > SEED


class DrawnOrders:
    """A build that has a first start to plan, its block of draws, and how many schedules were
    made of it. `work` is what first start needs."""

    def __init__(
        self,
        build: BuildInput,
        drawn: Drawn,
        *,
        factors: Factors | None,
        distribution: Distribution | None,
        seed: int,
    ) -> None:
        self.build, self.work = build, drawn.work
        self.schedules = 0
        self._factors, self._distribution = factors, distribution
        self._seed = SEEDS_FROM + 1_000_000 * seed
        self._drawn = drawn
        self.draw_next()

    def draw_next(self) -> None:
        """Draw the next block."""
        self._seed += 1
        luck = Luck(BLOCK_DRAWS, self._seed, self._distribution)
        self._drawn = drawn_again(self.build, self._drawn, luck, factors=self._factors)

    def ends(self, policies: Indices, draws: slice) -> NDArray[np.float64]:
        """Wall seconds of first start by the order that holds and by each of the policies
        (q, n + 1), over some draws of the block, (1 + q, draws)."""
        size = orders_at_once(self.work)
        found = [
            self._ends(policies[first : first + size], draws)[int(first > 0) :]
            for first in range(0, max(len(policies), 1), size)
        ]
        return np.concatenate(found)

    def _ends(self, policies: Indices, draws: slice) -> NDArray[np.float64]:
        columns: Indices = np.arange(BLOCK_DRAWS)[draws]
        rows = 1 + len(policies)
        variants = replace(
            self._drawn.variants.columns(np.tile(columns, rows)),
            rankings=(*self._drawn.variants.rankings, ranking_of_policies(self.work, policies)),
            ranking_of=np.repeat(np.arange(rows), len(columns)),
        )
        self.schedules += rows * len(columns)
        wall: Seconds = first_starts(self.work, variants).wall
        # Beyond the calendar is as late as can be told.
        ends: NDArray[np.float64] = np.minimum(wall, self.work.calendar.closes[-1]).astype(float)
        return ends.reshape(rows, len(columns))


def drawn_orders(
    build: BuildInput,
    *,
    factors: Factors | None = NO_RECORD,
    distribution: Distribution | None = None,
    seed: int = 0,
) -> DrawnOrders | None:
    """Of a faultless build; None where first start is finished or can not be planned."""
    luck = Luck(LAID_OUT_DRAWS, SEEDS_FROM, distribution)
    drawn = drawn_of(build, luck, factors=factors)
    if drawn is None:
        return None
    return DrawnOrders(build, drawn, factors=factors, distribution=distribution, seed=seed)
