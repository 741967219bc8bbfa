"""A kept order of the work, followed as far as the facts allow.

As priorities on the pages, in sequence where tightening claims what an order can do.
"""

import numpy as np

from webapp.build.build_input import BuildInput
from webapp.planning.order.job_order import plan_of
from webapp.planning.order.order_that_holds import Keys, ranking_that_holds, whole_order
from webapp.planning.order.plan import Plan
from webapp.planning.order.run_orders import run_orders
from webapp.planning.order.settled_order import settled
from webapp.planning.simulator.house_rules import HouseRules
from webapp.planning.simulator.simulate import Schedule, simulate
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import WorkArrays, lay_out


def plan_that_holds(
    build: BuildInput, *, rules: HouseRules | None = None, work: WorkArrays | None = None
) -> Plan:
    """The plan of a faultless build: by its kept order where there is one, else by house rules.

    With `rules` it is theirs. `work` is the build where it is laid out already.
    """
    work = work or lay_out(build)
    ranking = ranking_that_holds(build, work, rules=rules)
    return plan_of(build, work, simulate(work, Variants(count=1, rankings=(ranking,))))


def keys_in_sequence(build: BuildInput) -> Keys:
    """The kept order as it can be run in sequence, () without one.

    Where it asks which setup is out that is the order in which its plan begins.
    """
    if not (build.kept_order and build.kept_setup_first):
        return build.kept_order
    return tuple(task.key for task in plan_that_holds(build).tasks)


def plan_in_sequence(build: BuildInput, keys: Keys, *, work: WorkArrays | None = None) -> Plan:
    """The plan in which the work begins in the very order of the keys, where that is earlier."""
    work = work or lay_out(build)
    return plan_of(build, work, schedule_in_sequence(build, work, keys))


def schedule_in_sequence(build: BuildInput, work: WorkArrays, keys: Keys) -> Schedule:
    """The only variant of an order in sequence; `work` is the whole build."""
    kept = whole_order(work, keys)
    eager = run_orders(work, kept[np.newaxis, :], in_sequence=False)
    in_sequence = settled(build, work, kept)
    return eager if in_sequence is None else _better_of(work, in_sequence, eager)


def _better_of(work: WorkArrays, one: Schedule, other: Schedule) -> Schedule:
    """The schedule with the earlier first start, then the lesser sum of ends, then the first."""

    def value(schedule: Schedule) -> tuple[int, int]:
        first = int(schedule.end_wall(work.first_start)[0]) if work.first_start >= 0 else 0
        return first, int(schedule.end.sum())

    return other if value(other) < value(one) else one
