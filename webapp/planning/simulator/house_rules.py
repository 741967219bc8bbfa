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
    """An order of preference among the n tasks, each of which has two places in it.

    rank : (q, n) place of each task while its setup is not out, 0 first, in each of q orders;
        tasks that take no hands stand before all others (places 0 to 2n - 1), since nothing is
        gained by holding them
    rank_out : (q, n) the same while its setup is out; `rank` itself where that makes no difference
    task_at : (q, 4n) the task at each place; both halves are alike
    """

    rank: Seconds
    rank_out: Seconds
    task_at: Seconds

    @property
    def looks_at_setups(self) -> bool:
        """Whether it makes a difference which setups are out."""
        return self.rank_out is not self.rank


def rank_tasks(work: "WorkArrays", rules: HouseRules | None = None) -> Ranking:
    """House rules, else those of the build, as places in a queue.

    Raises `KeyError` of a rule that does not exist.
    """
    count, is_out = len(work), np.zeros(len(work), bool)
    columns = zip(
        deciding_columns(work, is_out, rules), deciding_columns(work, ~is_out, rules), strict=True
    )
    order = np.lexsort([np.concatenate([row, out]) for (_, row), (_, out) in columns][::-1])
    if not work.setup.any() or "setup_out" not in (rules or work.rules).order:
        return ranking_of_orders(work, order[order < count][np.newaxis, :])
    return ranking_with_setups(work, order[np.newaxis, :])


def deciding_columns(
    work: "WorkArrays", is_out: NDArray[np.bool_], rules: HouseRules | None = None
) -> list[tuple[str, NDArray[np.generic]]]:
    """What decides between tasks that can start, by name, the first to decide in front.

    Each column, (n,), is lower for the task that goes first. `is_out` says of each task whether
    its setup is out. Raises `KeyError` of a rule that does not exist.
    """
    columns = {
        "working_order": work.working_order,
        "big_first": -work.space_litres,
        "longest_way": -work.longest_way,
        "setup_out": ~is_out,
    }
    return [
        ("for_first_start", ~work.for_first_start),
        ("begun", ~work.begun),
        *((rule, columns[rule]) for rule in (rules or work.rules).order),
        ("entered", np.arange(len(work))),
    ]


def ranking_of_orders(work: "WorkArrays", orders: Seconds) -> Ranking:
    """The rankings of tasks listed in order of preference, (q, n), whichever setups are out."""
    rank = _places(orders) + _behind_the_wall(work)
    return Ranking(rank=rank, rank_out=rank, task_at=np.tile(orders, 4))


def ranking_of_policies(work: "WorkArrays", policies: Seconds) -> Ranking:
    """The rankings of orders of preference, (q, n + 1): the tasks, then 1 where what needs a setup
    that is out goes first, else 0.

    What first start does not need stays behind what it needs, whichever setups are out.
    """
    count = len(work)
    orders, setup_first = policies[:, :count], policies[:, count:]
    if not setup_first.any() or not work.setup.any():
        return ranking_of_orders(work, orders)
    halves = np.concatenate([orders + count, orders], axis=1)
    later = ~work.for_first_start[halves % count]
    by_setup = np.take_along_axis(halves, np.argsort(later, axis=1, kind="stable"), axis=1)
    in_pairs = np.stack([orders + count, orders], axis=2).reshape(len(orders), -1)
    return ranking_with_setups(work, np.where(setup_first, by_setup, in_pairs))


def ranking_with_setups(work: "WorkArrays", orders: Seconds) -> Ranking:
    """The rankings of tasks listed twice in order of preference, (q, 2n).

    In it i is the task at a place i while its setup is not out, n + i while it is.
    """
    count, places = len(work), _places(orders)
    behind = _behind_the_wall(work)
    return Ranking(
        rank=places[:, :count] + behind,
        rank_out=places[:, count:] + behind,
        task_at=np.tile(orders % count, 2),
    )


def ranking_of_order(work: "WorkArrays", order: Seconds) -> Ranking:
    """The ranking of one order of preference, (n,), whichever setups are out."""
    return ranking_of_orders(work, order[np.newaxis, :])


def _places(orders: Seconds) -> Seconds:
    places = np.empty(orders.shape, np.int64)
    np.put_along_axis(places, orders, np.arange(orders.shape[1])[np.newaxis, :], axis=1)
    return places


def _behind_the_wall(work: "WorkArrays") -> Seconds:
    """By how much what takes hands stands behind what takes none."""
    return np.where(work.wall_only, 0, 2 * len(work))
