"""Orders of the tasks run through the simulator side by side, and read off its schedules."""

import numpy as np

from webapp.planning.simulator.house_rules import ranking_of_orders
from webapp.planning.simulator.simulate import Schedule, simulate
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import Indices, WorkArrays


def run_orders(work: WorkArrays, orders: Indices, *, in_sequence: bool) -> Schedule:
    """The orders (v, n) side by side, each one variant."""
    count = len(orders)
    stacked = np.repeat(orders, len(work.setup_seconds), axis=0)
    return simulate(
        work,
        Variants(
            count=count,
            rankings=(ranking_of_orders(work, stacked),),
            ranking_of=np.arange(count),
            in_sequence=np.ones(count, bool) if in_sequence else None,
        ),
    )


def order_of(schedule: Schedule, variant: int = 0) -> Indices:
    """The tasks of one variant by begin, then as picked; those that never begin last."""
    turn = schedule.turn[:, variant]
    late = np.where(turn < 0, len(turn), turn)
    return np.lexsort((late, schedule.begin[:, variant])).astype(np.int64)
