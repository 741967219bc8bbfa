"""The one order that holds: the kept order as far as the facts allow, else the house rules.

Tasks that a kept order does not know are set in by the house rules; what is finished drops out.
"""

from dataclasses import dataclass, replace

import numpy as np

from webapp.build.build_input import BuildInput
from webapp.planning.simulator.house_rules import (
    HouseRules,
    Ranking,
    rank_tasks,
    ranking_of_policies,
)
from webapp.planning.simulator.work_arrays import Indices, WorkArrays

Keys = tuple[str, ...]
"""Keys of tasks, the first to do first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptOrder:
    """An order of work as a build keeps it; of no keys: none, the house rules hold.

    With `setup_first` what needs a setup that is out goes before the rest of the order.
    """

    keys: Keys = ()
    setup_first: bool = False

    @classmethod
    def of(cls, build: BuildInput) -> "KeptOrder":
        """The one of a build."""
        return cls(keys=build.kept_order, setup_first=build.kept_setup_first)

    def kept_in(self, build: BuildInput) -> BuildInput:
        """The build as it is when it keeps this one."""
        return replace(build, kept_order=self.keys, kept_setup_first=self.setup_first)


def ranking_that_holds(
    build: BuildInput, work: WorkArrays, *, rules: HouseRules | None = None
) -> Ranking:
    """What goes first of the tasks that can start: by the kept order, else by the house rules.

    The one answer for plans, draws, prices and whatever else asks. A kept order is followed as
    priorities: nothing that could start waits for its turn. With `rules` the order is theirs.
    """
    if build.kept_order and rules is None:
        return ranking_of_policies(work, policy_of(work, KeptOrder.of(build))[np.newaxis, :])
    return rank_tasks(work, rules)


def policy_of(work: WorkArrays, kept: KeptOrder) -> Indices:
    """A kept order as a row of `ranking_of_policies`, (n + 1,)."""
    return np.append(whole_order(work, kept.keys), kept.setup_first)


def whole_order(work: WorkArrays, keys: Keys, rules: HouseRules | None = None) -> Indices:
    """All tasks of a build in a kept order; what it does not know set in by the house rules."""
    place = {key: i for i, key in enumerate(work.keys)}
    order = [place[key] for key in dict.fromkeys(keys) if key in place]
    rank = rank_tasks(work, rules).rank[0]
    for i in sorted(set(range(len(work))) - set(order), key=lambda i: int(rank[i])):
        later = (k for k, j in enumerate(order) if rank[j] > rank[i])
        order.insert(next(later, len(order)), i)
    return np.array(order, np.int64)


def with_later_work(whole: WorkArrays, work: WorkArrays, order: Indices) -> Keys:
    """Keys of all the work: first start's in order, what comes later by the house rules."""
    keys = [work.keys[i] for i in order.tolist()]
    rank = rank_tasks(whole).rank[0]
    known = set(keys)
    later = [i for i, key in enumerate(whole.keys) if key not in known]
    return (*keys, *(whole.keys[i] for i in sorted(later, key=lambda i: int(rank[i]))))
