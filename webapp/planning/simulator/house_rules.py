"""How a good builder picks the next task of those that can start; see design 4.2.

First what first start needs, then what is begun, then subsystems in working order, the setup
that is already out, the biggest space claim, the longest way still to go to first start, and last
the order of entry.
Dependencies always win: only tasks that can start are ever compared.
"""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from webapp.build.time.shop_calendar import Seconds

if TYPE_CHECKING:
    from webapp.planning.simulator.work_arrays import WorkArrays

OPTIONAL_RULES: tuple[str, ...] = ("working_order", "setup_out", "big_first", "longest_way")


@dataclass(frozen=True, slots=True, kw_only=True)
class HouseRules:
    """Which of the house rules 3 to 6 are on; the others always are."""

    working_order: bool = True
    setup_out: bool = True
    big_first: bool = True
    longest_way: bool = True

    def without(self, rule: str) -> "HouseRules":
        """The same rules with one of `OPTIONAL_RULES` switched off."""
        if rule not in OPTIONAL_RULES:
            raise ValueError(f"no house rule {rule!r}")
        return replace(self, **{rule: False})


HOUSE_RULES = HouseRules()
"""All of them on."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Ranking:
    """An order of preference among the n tasks, one for each setup that may be out.

    rank : (S + 1, n) place of each task, 0 first; tasks that take no hands stand before all
        others (places 0 to n - 1), since nothing is gained by holding them
    task_at : (S + 1, 2n) the task at each place; both halves are alike
    """

    rank: Seconds
    task_at: Seconds


def rank_tasks(work: "WorkArrays", rules: HouseRules) -> Ranking:
    """The house rules as places in a queue, for every setup that may be out."""
    entered = np.arange(len(work))
    silent = np.zeros(len(work))
    tail = (
        entered,
        -work.longest_way if rules.longest_way else silent,
        -work.space_litres if rules.big_first else silent,
    )
    head = (
        work.working_order if rules.working_order else silent,
        ~work.begun,
        ~work.for_first_start,
    )
    orders = []
    for setup in range(len(work.setup_seconds)):
        other_setup = (work.setup != setup) if rules.setup_out and setup else silent
        orders.append(np.lexsort((*tail, other_setup, *head)))
    return ranking_of_orders(work, np.array(orders))


def ranking_of_orders(work: "WorkArrays", orders: Seconds) -> Ranking:
    """A ranking from tasks listed in order of preference, (S + 1, n), one for each setup out."""
    count = len(work)
    rank = np.empty(orders.shape, np.int64)
    np.put_along_axis(rank, orders, np.arange(count)[np.newaxis, :], axis=1)
    rank += np.where(work.wall_only, 0, count)
    return Ranking(rank=rank, task_at=np.concatenate([orders, orders], axis=1))


def ranking_of_order(work: "WorkArrays", order: Seconds) -> Ranking:
    """The ranking of one order of preference, (n,), whichever setup is out."""
    return ranking_of_orders(work, np.tile(order, (len(work.setup_seconds), 1)))
