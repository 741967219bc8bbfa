"""How a good builder picks the next task of those that can start; see design 4.2.

First what first start needs, then what is begun, then the rules of the build in its order
(`webapp/build/house_rules.py`), and last the order of entry.
Dependencies always win: only tasks that can start are ever compared.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from webapp.build.house_rules import HOUSE_RULES
from webapp.build.time.shop_calendar import Seconds

if TYPE_CHECKING:
    from webapp.planning.simulator.work_arrays import WorkArrays


@dataclass(frozen=True, slots=True, kw_only=True)
class HouseRules:
    """The rules that are on, the one that decides first in front."""

    order: tuple[str, ...] = HOUSE_RULES

    def without(self, rule: str) -> "HouseRules":
        """The same rules with one of them switched off."""
        if rule not in HOUSE_RULES:
            raise ValueError(f"no house rule {rule!r}")
        return HouseRules(order=tuple(one for one in self.order if one != rule))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Ranking:
    """An order of preference among the n tasks, one for each setup that may be out.

    rank : (S + 1, n) place of each task, 0 first; tasks that take no hands stand before all
        others (places 0 to n - 1), since nothing is gained by holding them
    task_at : (S + 1, 2n) the task at each place; both halves are alike
    """

    rank: Seconds
    task_at: Seconds


def rank_tasks(work: "WorkArrays", rules: HouseRules | None = None) -> Ranking:
    """House rules, else those of the build, as places in a queue, for every setup that may be out.

    Raises `KeyError` of a rule that does not exist.
    """
    orders = [
        np.lexsort([column for _, column in reversed(deciding_columns(work, setup, rules))])
        for setup in range(len(work.setup_seconds))
    ]
    return ranking_of_orders(work, np.array(orders))


def deciding_columns(
    work: "WorkArrays", setup_out: int, rules: HouseRules | None = None
) -> list[tuple[str, NDArray[np.generic]]]:
    """What decides between tasks that can start, by name, the first to decide in front.

    Each column, (n,), is lower for the task that goes first. `setup_out` is the setup that is out.
    Raises `KeyError` of a rule that does not exist.
    """
    columns = {
        "working_order": work.working_order,
        "big_first": -work.space_litres,
        "longest_way": -work.longest_way,
        "setup_out": (work.setup != setup_out) if setup_out else np.zeros(len(work), bool),
    }
    return [
        ("for_first_start", ~work.for_first_start),
        ("begun", ~work.begun),
        *((rule, columns[rule]) for rule in (rules or work.rules).order),
        ("entered", np.arange(len(work))),
    ]


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
