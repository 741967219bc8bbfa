"""Orders of the tasks run through the simulator side by side, and read off its schedules."""

import numpy as np

from webapp.planning.simulator.house_rules import ranking_of_orders
from webapp.planning.simulator.simulate import BLOCK_BYTES, Schedule, joined, simulate
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import Indices, WorkArrays

BYTES_OF_A_RANKING = 96
"""What the places of one task among the others take."""


def run_orders(work: WorkArrays, orders: Indices, *, in_sequence: bool) -> Schedule:
    """The orders (v, n) side by side, each one variant."""
    size = orders_at_once(work)
    rows = [orders[first : first + size] for first in range(0, len(orders), size)]
    return joined([_run(work, some, in_sequence=in_sequence) for some in rows])


def orders_at_once(work: WorkArrays) -> int:
    """So many orders of their own fit the memory that is meant for a block of variants."""
    of_order = BYTES_OF_A_RANKING * len(work)
    return max(1, BLOCK_BYTES // max(of_order, 1))


def _run(work: WorkArrays, orders: Indices, *, in_sequence: bool) -> Schedule:
    count = len(orders)
    return simulate(
        work,
        Variants(
            count=count,
            rankings=(ranking_of_orders(work, orders),),
            ranking_of=np.arange(count),
            in_sequence=np.ones(count, bool) if in_sequence else None,
        ),
    )


def order_of(schedule: Schedule, variant: int = 0) -> Indices:
    """The tasks of one variant by begin, then as picked; those that never begin last."""
    turn = schedule.turn[:, variant]
    late = np.where(turn < 0, len(turn), turn)
    return np.lexsort((late, schedule.begin[:, variant])).astype(np.int64)
