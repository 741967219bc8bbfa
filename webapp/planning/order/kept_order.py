"""A kept order of the work, followed as far as the facts allow.

Tasks that the order does not know are set in by the house rules; what is finished drops out. The
order is followed in sequence and as priorities, and the earlier first start counts.
"""

from dataclasses import replace

import numpy as np

from webapp.build.build_input import BuildInput
from webapp.planning.order.job_order import costs_of, make_plan, plan_of, without_each
from webapp.planning.order.plan import Plan
from webapp.planning.order.run_orders import run_orders
from webapp.planning.order.settled_order import settled
from webapp.planning.simulator.house_rules import (
    HOUSE_RULES,
    HouseRules,
    rank_tasks,
    ranking_of_order,
)
from webapp.planning.simulator.simulate import Schedule, first_starts
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import Indices, WorkArrays, for_first_start_only, lay_out

Keys = tuple[str, ...]
"""Keys of tasks, the first to do first."""


def plan_that_holds(build: BuildInput, *, work: WorkArrays | None = None) -> Plan:
    """The plan of a faultless build: by its kept order where there is one, else by house rules.

    `work` is the build where it is laid out already, here as below.
    """
    if build.kept_order:
        return plan_kept(build, build.kept_order, work=work)
    return make_plan(build, work=work)


def plan_kept(build: BuildInput, keys: Keys, *, work: WorkArrays | None = None) -> Plan:
    """The plan that follows a kept order."""
    work = work or lay_out(build)
    return plan_of(build, work, kept_schedule(build, work, keys))


def kept_schedule(build: BuildInput, work: WorkArrays, keys: Keys) -> Schedule:
    """The only variant of a kept order; `work` is the whole build."""
    kept = whole_order(work, keys)
    eager = run_orders(work, kept[np.newaxis, :], in_sequence=False)
    in_sequence = settled(build, work, kept)
    return eager if in_sequence is None else _better_of(work, in_sequence, eager)


def days_cost_kept(
    build: BuildInput,
    keys: Keys,
    *,
    at_most: int | None = None,
    work: WorkArrays | None = None,
) -> dict[str, float]:
    """How many days first start would come earlier without each open task, the order kept.

    As `job_order.days_cost`, which follows the house rules instead.
    """
    whole = work or lay_out(build)
    work = for_first_start_only(whole)
    if work.first_start < 0:
        return {}
    ways = both_ways(work, keys, without_each(work, at_most))
    ends = np.minimum(*(first_starts(work, way).wall for way in ways))
    return costs_of(whole, work, ends)


def both_ways(
    work: WorkArrays, keys: Keys, variants: Variants, rules: HouseRules = HOUSE_RULES
) -> tuple[Variants, Variants]:
    """Variants of a build put into a kept order: in sequence, and as priorities.

    What the variants say of rankings is not looked at.
    """
    ranking = ranking_of_order(work, whole_order(work, keys, rules))
    eager = replace(variants, rankings=(ranking,), ranking_of=None, in_sequence=None)
    return replace(eager, in_sequence=np.ones(variants.count, bool)), eager


def whole_order(work: WorkArrays, keys: Keys, rules: HouseRules = HOUSE_RULES) -> Indices:
    """All tasks of a build in a kept order; what it does not know set in by the house rules."""
    place = {key: i for i, key in enumerate(work.keys)}
    order = [place[key] for key in dict.fromkeys(keys) if key in place]
    rank = rank_tasks(work, rules).rank[0]
    for i in sorted(set(range(len(work))) - set(order), key=lambda i: int(rank[i])):
        later = (k for k, j in enumerate(order) if rank[j] > rank[i])
        order.insert(next(later, len(order)), i)
    return np.array(order, np.int64)


def _better_of(work: WorkArrays, one: Schedule, other: Schedule) -> Schedule:
    """The schedule with the earlier first start, then the lesser sum of ends, then the first."""

    def value(schedule: Schedule) -> tuple[int, int]:
        first = int(schedule.end_wall(work.first_start)[0]) if work.first_start >= 0 else 0
        return first, int(schedule.end.sum())

    return other if value(other) < value(one) else one
