"""New orders from those there are: moved, crossed, shaken; and the ones to begin with.

A policy is an order of n tasks and one more place: 1 where what needs a setup that is out goes
first, else 0. Rules that ask for the setup are ahead of any fixed order where hours are not sure.
"""

from itertools import permutations

import numpy as np
from numpy.typing import NDArray

from webapp.build.house_rules import HOUSE_RULES
from webapp.planning.order.run_orders import order_of
from webapp.planning.simulator.house_rules import (
    HouseRules,
    Ranking,
    rank_tasks,
    ranking_of_order,
)
from webapp.planning.simulator.simulate import simulate
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import Indices, WorkArrays
from webapp.planning.tighten.order_search import total_floats

Random = np.random.Generator

MOVED_SHARE, CROSSED_SHARE = 0.7, 0.2
"""Of all children; the rest are shaken."""
TURNED_SHARE = 0.1
"""Of all children where there are setups: what needs the one that is out goes first, where it did
not, or the other way round; half of these are no different otherwise."""
GATHERED_SHARE = 0.2
"""Of the children that are moved, where there are setups: what needs one of them goes together."""
SHAKEN_BY = (0.02, 0.05, 0.1)
"""Of the length of an order, the standard deviation of a place."""


def first_orders(work: WorkArrays) -> Indices:
    """The house rules as they hold and in every other order, least float, the longest tail and the
    latest finish first: as they stand, and as they begin when every estimate holds, (q, n)."""
    rankings = [rank_tasks(work)]
    rankings += [rank_tasks(work, work.rules.without(rule)) for rule in work.rules.order]
    rankings += [rank_tasks(work, HouseRules(order=order)) for order in permutations(HOUSE_RULES)]
    keys = (
        total_floats(work),
        -work.longest_way.astype(float),
        _latest_finish(work),
    )
    plain = [np.argsort(key, kind="stable") for key in keys]
    rankings += [ranking_of_order(work, order) for order in plain]
    begun = _as_begun(work, rankings)
    return np.unique(np.array([*begun, *plain], np.int64), axis=0)


def _as_begun(work: WorkArrays, rankings: list[Ranking]) -> list[Indices]:
    schedule = simulate(
        work,
        Variants(
            count=len(rankings),
            rankings=tuple(rankings),
            ranking_of=np.arange(len(rankings)),
        ),
    )
    return [order_of(schedule, variant) for variant in range(len(rankings))]


def _latest_finish(work: WorkArrays) -> NDArray[np.float64]:
    """Wall seconds at which each task must end by the dependencies alone."""
    dates = [work.dates.by_key.get(key) for key in work.keys]
    return np.array([np.inf if one is None else one.latest_end for one in dates])


def as_policies(work: WorkArrays, orders: Indices) -> Indices:
    """Orders (q, n) as policies (p, n + 1): each as it is, and where there are setups once more
    with what needs the one that is out first."""
    plain = np.pad(orders, ((0, 0), (0, 1)))
    if not work.setup.any():
        return plain
    return np.concatenate([plain, np.pad(orders, ((0, 0), (0, 1)), constant_values=1)])


def child(work: WorkArrays, parents: Indices, random: Random) -> Indices:
    """One new policy from a pool of them (p, n + 1), the best first."""
    one = _picked(parents, random)
    order, setup_first = one[:-1], one[-1]
    if work.setup.any() and random.random() < TURNED_SHARE:
        setup_first = 1 - setup_first
        if random.random() < 0.5:
            return np.append(order, setup_first)
    return np.append(_changed(work, order, parents, random), setup_first)


def _changed(work: WorkArrays, order: Indices, parents: Indices, random: Random) -> Indices:
    chance = random.random()
    if chance < MOVED_SHARE * GATHERED_SHARE and work.setup.any():
        return gathered(order, work.setup[order], random)
    if chance < MOVED_SHARE or len(order) < 3:
        return moved(order, random)
    if chance < MOVED_SHARE + CROSSED_SHARE:
        return crossed(order, _picked(parents, random)[:-1], random)
    return shaken(order, random)


def _picked(parents: Indices, random: Random) -> Indices:
    """Mostly one of the best: of a pool of twelve the best three have five children in eight."""
    row: Indices = parents[int(len(parents) * random.random() ** 3)]
    return row


def moved(order: Indices, random: Random) -> Indices:
    """A task or a block of a few moved elsewhere, one to three times."""
    count = len(order)
    for _ in range(int(random.integers(1, 4))):
        length = int(min(random.geometric(0.5), count - 1)) if count > 1 else 1
        at = int(random.integers(0, count - length + 1))
        piece, rest = order[at : at + length], np.delete(order, slice(at, at + length))
        reach = max(3, count // 4)
        to = int(np.clip(at + random.integers(-reach, reach + 1), 0, len(rest)))
        order = np.concatenate([rest[:to], piece, rest[to:]])
    return order


def gathered(order: Indices, setups: Indices, random: Random) -> Indices:
    """What needs one setup within a stretch of the order goes together, to its end or its begin.

    To wait with a setup until more of its tasks can be done saves getting it out twice, which no
    single move does. `setups` are those of the tasks in this order, 0 for none.
    """
    setup = setups[random.choice(np.flatnonzero(setups))]
    length = int(random.integers(3, max(4, len(order) // 3)))
    first = int(random.integers(0, max(1, len(order) - length + 1)))
    stretch = slice(first, first + length)
    goes_late = (setups[stretch] == setup) == (random.random() < 0.5)
    order = order.copy()
    order[stretch] = order[stretch][np.argsort(goes_late, kind="stable")]
    return order


def crossed(one: Indices, other: Indices, random: Random) -> Indices:
    """A stretch of one order in its place, the rest in the sequence of the other (two-point
    crossover of permutations, Hartmann, Naval Research Logistics 45 (1998) 733)."""
    first, last = sorted(random.integers(0, len(one) + 1, 2).tolist())
    piece = one[first:last]
    rest = other[~np.isin(other, piece)]
    return np.concatenate([rest[:first], piece, rest[first:]])


def shaken(order: Indices, random: Random) -> Indices:
    """Every task a little off its place."""
    spread = len(order) * random.choice(SHAKEN_BY)
    places = np.arange(len(order)) + random.normal(0, max(spread, 1.0), len(order))
    return order[np.argsort(places, kind="stable")]
