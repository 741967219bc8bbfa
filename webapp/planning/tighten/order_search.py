"""Orders of the work run through the simulator, many at once, and the search among them.

An order is a permutation of the tasks that first start needs. Run *in sequence*, each begins no
earlier than the one ahead of it, so that every plan without idle promises has its order: the
order of its begins, which brings no task later. Run as priorities, who can begin soonest goes
first, and the order it comes to is then kept.
"""

import time
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from webapp.build.time.shop_calendar import NEVER, Seconds
from webapp.planning.order.run_orders import order_of, orders_at_once, run_orders
from webapp.planning.simulator.house_rules import (
    Ranking,
    rank_tasks,
    ranking_with_setups,
)
from webapp.planning.simulator.simulate import Schedule, simulate
from webapp.planning.simulator.variants import Variants, as_it_is
from webapp.planning.simulator.work_arrays import Indices, WorkArrays, in_order
from webapp.planning.tighten.order_pool import CHILDREN, OrderPool
from webapp.planning.tighten.setup_hours import SetupNetwork
from webapp.planning.tighten.time_grid import TimeGrid

Keys = NDArray[np.float64]

PACKED_FIRST = 10
"""So few orders are packed before it is known how long that takes."""
SEQUENCED = 4
"""So many of the best of a round are run in sequence."""
ROUND_SECONDS = 0.4
"""About how long one round of the search takes: so often it looks at the clock."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class RunOrder:
    """An order in sequence and when it brings first start, in wall seconds."""

    order: Indices
    ends: int
    total: int
    """Sum of the shop seconds at which all tasks end."""

    def beats(self, other: "RunOrder") -> bool:
        """First start first, then the sum of finish times."""
        return (self.ends, self.total) < (other.ends, other.total)


class OrderSearch:
    """Keeps the best order found; `best` is never worse than the house rules' plan."""

    def __init__(
        self,
        work: WorkArrays,
        *,
        seed: int,
        stopped: Callable[[], bool],
        improved: Callable[[], None],
    ) -> None:
        self.work, self.stopped, self.improved = work, stopped, improved
        self.random = np.random.default_rng(seed)
        began = time.monotonic()
        house = simulate(work, as_it_is(work))
        # Ten orders side by side take little more than one.
        self._measure(10, began)
        self.best = self.in_sequence(order_of(house)[np.newaxis, :])[0]

    # --- running orders ---------------------------------------------------------------------

    def in_sequence(self, orders: Indices) -> list[RunOrder]:
        """Each of the orders (v, n) run in sequence."""
        schedule = run_orders(self.work, orders, in_sequence=True)
        return self._results(schedule, orders)

    def take(self, found: list[RunOrder]) -> bool:
        """Keep the best of them if it beats the best so far."""
        best = min(found, key=lambda run: (run.ends, run.total))
        if not best.beats(self.best):
            return False
        earlier = best.ends < self.best.ends
        self.best = best
        if earlier:
            self.improved()
        return True

    def take_order(self, order: Indices, *, eager: bool = True) -> None:
        """Keep an order if it beats the best so far, run in sequence; `eager`: as priorities too.

        An order by begins, as the model gives it, gains nothing by the second run.
        """
        rows = [order]
        if eager:
            rows.append(order_of(run_orders(self.work, order[np.newaxis, :], in_sequence=False)))
        self.take(self.in_sequence(np.array(rows)))

    def _results(self, schedule: Schedule, orders: Indices) -> list[RunOrder]:
        ends = schedule.end_wall(self.work.first_start)
        totals = schedule.end.sum(axis=0)
        return [
            RunOrder(order=order, ends=int(end), total=int(total))
            for order, end, total in zip(orders, ends, totals, strict=True)
        ]

    # --- the search -------------------------------------------------------------------------

    def sweep(self, until: float, reached: int) -> None:
        """Priorities by float, by rank and by the least getting out of setups, shaken at random.

        Stops at `until` (monotonic seconds) or once first start comes at `reached`.
        """
        while not self._over(until, reached):
            self.sweep_once(self._round_size(5))

    def sweep_once(self, count: int) -> int:
        """One round of `sweep` of at least so many orders; how many were laid out."""
        keys = self._shaken(count)
        self._try_priorities(keys, self.random.random(len(keys)) < 0.6)
        return len(keys) + SEQUENCED

    def _shaken(self, count: int) -> Keys:
        """At least so many rows of preference around the bases, (v, n)."""
        bases = np.array(self._bases())
        keys: Keys = np.repeat(bases, -(-count // len(bases)), axis=0)
        strength = self.random.choice([0.02, 0.05, 0.1, 0.2], (len(keys), 1))
        keys += self.random.normal(0, 1, keys.shape) * strength
        return keys

    def _bases(self) -> list[Keys]:
        """Keys of preference within 0 to 1, smallest first."""
        work = self.work
        house = rank_tasks(work).rank[0].astype(float)
        floats = total_floats(work)
        current = np.empty(len(work))
        current[self.best.order] = np.arange(len(work))
        rows = [house, floats, floats - work.work_seconds, _tail_first(work), current]
        return [_scaled(row) for row in rows]

    def _try_priorities(self, keys: Keys, by_setup: NDArray[np.bool_]) -> None:
        ranking = _setup_aware(self.work, keys, by_setup)
        began = time.monotonic()
        schedule = simulate(
            self.work,
            Variants(count=len(keys), rankings=(ranking,), ranking_of=np.arange(len(keys))),
        )
        ends = schedule.end_wall(self.work.first_start)
        few = np.argsort(ends, kind="stable")[:SEQUENCED]
        self.take(self.in_sequence(np.array([order_of(schedule, int(v)) for v in few])))
        self._measure(len(keys), began)

    def pack(self, until: float, reached: int) -> None:
        """Orders crossed with each other and packed close, where the work allows it."""
        if self._over(until, reached):
            return
        grid = TimeGrid.of(self.work, self.best.ends)
        if grid is None:
            return
        pool = OrderPool(
            grid,
            self.work.first_start,
            self.random,
            preference=_scaled(_tail_first(self.work)),
            known=self.best.order,
        )
        count, soonest = PACKED_FIRST, NEVER
        while not (pool.is_spent or self._over(until, reached)):
            began = time.monotonic()
            packed = pool.grow(count)
            self._measure(packed, began)
            if pool.ends[0] < soonest:
                # The grid may be coarse: which of the best is best is told by running them.
                soonest = int(pool.ends[0])
                self.take(self.in_sequence(pool.orders[:SEQUENCED]))
            count = min(CHILDREN, self._round_size(PACKED_FIRST))

    def improve(self, until: float, reached: int) -> None:
        """Move tasks and stretches of the best order about, many moves at once."""
        while not self._over(until, reached):
            orders = np.array([self._moved() for _ in range(self._round_size(8))])
            began = time.monotonic()
            found = self.in_sequence(orders)
            self._measure(len(orders), began)
            self.take(found)

    def _moved(self) -> Indices:
        order = self.best.order.copy()
        count = len(order)
        for _ in range(int(self.random.integers(1, 4))):
            length = int(min(self.random.geometric(0.5), count - 1)) if count > 1 else 1
            at = int(self.random.integers(0, count - length + 1))
            piece, rest = order[at : at + length], np.delete(order, slice(at, at + length))
            reach = max(3, count // 4)
            to = int(np.clip(at + self.random.integers(-reach, reach + 1), 0, len(rest)))
            order = np.concatenate([rest[:to], piece, rest[to:]])
        return order

    def _over(self, until: float, reached: int) -> bool:
        late = time.monotonic() + self.round_seconds / 2 >= until
        return self.best.ends <= reached or late or self.stopped()

    def _round_size(self, least: int) -> int:
        most = min(2000, orders_at_once(self.work), int(self.per_second * ROUND_SECONDS))
        return max(least, most)

    def _measure(self, count: int, began: float) -> None:
        self.round_seconds = max(time.monotonic() - began, 1e-4)
        self.per_second = count / self.round_seconds


def setup_order(network: SetupNetwork, sequence: tuple[int, ...]) -> Indices:
    """An order that gets setups out in a sequence, everything done that each lets be done."""
    done: set[int] = set()
    order: list[int] = []
    for out in (network.out, *sequence):
        grows = True
        while grows:
            grows = False
            for i in network.order:
                ready = i not in done and network.setup[i] in (0, out)
                if ready and all(p in done for p in _bits(network.before[i])):
                    done.add(i)
                    order.append(i)
                    grows = True
    order += [i for i in network.order if i not in done]
    return np.array(order, np.int64)


def _bits(number: int) -> list[int]:
    return [i for i in range(number.bit_length()) if number >> i & 1]


def _scaled(row: Keys) -> Keys:
    """The places of the values among each other, within 0 to 1."""
    return np.argsort(np.argsort(row, kind="stable"), kind="stable") / max(len(row) - 1, 1)


def total_floats(work: WorkArrays) -> Keys:
    """Total float of each task in shop seconds, by dependencies alone; `NEVER` without dates."""
    dates = [work.dates.by_key.get(key) for key in work.keys]
    return np.array([float(NEVER if d is None else d.total_float_seconds) for d in dates])


def _tail_first(work: WorkArrays) -> Keys:
    """Less the hours on the longest chain after each task: the longest goes first."""
    tail = np.zeros(len(work))
    for i in reversed(in_order(work)):
        after = [tail[j] for j in work.successors[i] if j >= 0]
        tail[i] = work.work_seconds[i] + work.outside_seconds[i] / 6 + max(after, default=0.0)
    return -tail


def _setup_aware(work: WorkArrays, keys: Keys, by_setup: NDArray[np.bool_]) -> Ranking:
    """Rankings by the keys (v, n), in some of them first whatever needs a setup that is out."""
    is_out = np.where(by_setup[:, np.newaxis] & (work.setup > 0), keys - 10.0, keys)
    both = np.concatenate([keys, is_out], axis=1)
    orders: Seconds = np.argsort(both, axis=1, kind="stable")
    return ranking_with_setups(work, orders)
