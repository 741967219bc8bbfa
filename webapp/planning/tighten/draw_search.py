"""The order with the earliest first start over the draws: an order for hours that are not sure.

The stochastic resource-constrained project scheduling problem with priority policies (Ballestin
and Leus, Production and Operations Management 18 (2009) 459; Fang, Kolisch, Wang and Mu, Flexible
Services and Manufacturing Journal 27 (2015) 585): an order is followed as priorities, draw by
draw, and the mean counts. A pool of orders has children; both run a race on draws of their own, so
that no order is ever judged by the draws it was found on.
"""

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import permutations

import numpy as np

from webapp.build.build_input import BuildInput
from webapp.planning.chances.factors import NO_RECORD, Factors
from webapp.planning.chances.luck import Distribution
from webapp.planning.order.order_that_holds import KeptOrder, policy_of, with_later_work
from webapp.planning.simulator.work_arrays import Indices, lay_out
from webapp.planning.tighten.beside import Beside
from webapp.planning.tighten.drawn_orders import DrawnOrders, drawn_orders
from webapp.planning.tighten.order_moves import as_policies, child, first_orders
from webapp.planning.tighten.order_race import Placed, race
from webapp.planning.tighten.order_search import OrderSearch

FEW_TASKS = 5
"""Of so few all orders run one race."""
POOL = 12
CHILDREN = 60
SWEPT_SHARE, SWEPT_AT_ONCE, SWEPT_IN_VAIN = 0.3, 200, 30
"""So much of the time or the schedules goes first into orders for the likely hours, so many of them
side by side, until so many times in a row none was better."""
ALL_ALIKE = 5
"""After so many races in which every order came to the same there is nothing to find."""
ENOUGH_DRAWS = 64
"""What an order gained on fewer is more luck than order."""
LAST_SHARE = 0.12
"""Of the time or the schedules: so much for the last race of those that gained most."""
LAST_ORDERS, LAST_RULES, LAST_DRAWS, LAST_ROUNDS = 6, 2, 128, 4
"""So many orders of the pool and of the rules run the last race, over so many draws at a time and
so many times at most."""


_Raced = tuple[Indices, list[Placed]]
"""Orders that ran a race, and how they were placed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawProgress:
    """How far it has come: the best order so far and how many days earlier it brings first start
    on the draws it was last run on; an order for the day, not a claim."""

    seconds: float
    schedules: int
    order: KeptOrder
    gained_days: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundOverDraws:
    """The best order found, all planned tasks in it; what it gains is to be asked of fresh draws.

    Where none was earlier than the order that holds, that one: without keys by the house rules.

    schedules : how many orders were laid out for one draw
    """

    order: KeptOrder
    schedules: int
    seconds: float


def search_over_draws(
    build: BuildInput,
    *,
    seconds: float,
    schedules: int | None = None,
    factors: Factors | None = NO_RECORD,
    distribution: Distribution | None = None,
    starts: Sequence[KeptOrder] = (),
    progress: Callable[[DrawProgress], None] | None = None,
    is_stopped: Callable[[], bool] = lambda: False,
    seed: int = 0,
    clock: Callable[[], float] = time.monotonic,
    beside: Beside | None = None,
) -> FoundOverDraws | None:
    """Look for the order with the earliest mean first start for so many seconds or schedules.

    The seconds are those of `clock`. `starts` are orders to begin with beside the rules, as that
    of the optimiser; `beside` runs races at the same time. None where first start is finished, or
    can not be planned. The build has no faults.
    """
    began = clock()
    drawn = drawn_orders(build, factors=factors, distribution=distribution, seed=seed)
    if drawn is None:
        return None
    run = _Search(
        drawn,
        clock=clock,
        began=began,
        seconds=seconds,
        schedules=schedules,
        progress=progress,
        is_stopped=is_stopped,
        seed=seed,
        beside=beside,
    )
    run.begin([policy_of(drawn.work, start) for start in starts])
    run.carry_on()
    best, gained = run.best()
    order = KeptOrder.of(build)
    if gained > 0:
        keys = with_later_work(lay_out(build), drawn.work, best[:-1])
        order = KeptOrder(keys=keys, setup_first=bool(best[-1]))
    return FoundOverDraws(
        order=order,
        schedules=drawn.schedules,
        seconds=clock() - began,
    )


class _Search:
    """One search: its pool, and what each order of it has gained on all draws it was run on."""

    def __init__(
        self,
        drawn: DrawnOrders,
        *,
        clock: Callable[[], float],
        began: float,
        seconds: float,
        schedules: int | None,
        progress: Callable[[DrawProgress], None] | None,
        is_stopped: Callable[[], bool],
        seed: int,
        beside: Beside | None,
    ) -> None:
        self.drawn, self.clock, self.began = drawn, clock, began
        self.seconds, self.most = seconds, schedules
        self.progress, self.is_stopped = progress, is_stopped
        self.random = np.random.default_rng([seed, 15])
        self.pool: Indices = np.empty((0, len(drawn.work) + 1), np.int64)
        self.rules = self.pool
        """The best of those that it began with."""
        self.beside = beside
        self._on_beside: Indices | None = None
        """The orders of the race that is on beside this."""
        self._gained: dict[bytes, tuple[float, int]] = {}
        """Seconds gained and draws, by order."""
        self._alike = 0
        """So many races in a row no order was earlier or later than the one that holds."""

    def begin(self, starts: Sequence[Indices]) -> None:
        """The first race: the rules and what is given; of few tasks all orders there are."""
        work = self.drawn.work
        rows = [*first_orders(work)]
        if len(work) <= FEW_TASKS:
            rows += [np.array(order) for order in permutations(range(len(work)))]
        policies = [*starts, *as_policies(work, np.array(rows, np.int64))]
        self._settle([self._race(np.array(policies, np.int64))])
        self.rules = self.pool[:LAST_RULES]

    def carry_on(self) -> None:
        """Orders for the likely hours first; then one generation after the other until the time is
        gone, and the last race."""
        if len(self.drawn.work) > FEW_TASKS and not self._is_over(SWEPT_SHARE):
            self._sweep()
            while not self._is_over(1 - LAST_SHARE) and self._alike < ALL_ALIKE:
                self._generation()
        self._last_race()

    def _last_race(self) -> None:
        """Those of the pool that gained most, and the best of the rules, on draws of their own; the
        worse half falls out block by block."""
        last = np.unique(np.concatenate([self._by_gain()[:LAST_ORDERS], self.rules]), axis=0)
        self._gained = {order.tobytes(): (0.0, 0) for order in last}
        self.pool, begun = last, False
        while not begun or (len(self.pool) > 1 and not self._is_over(1.0)):
            self.drawn.draw_next()
            ends = self.drawn.ends(self.pool, slice(0, LAST_DRAWS))
            for order, gains in zip(self.pool, ends[0] - ends[1:], strict=True):
                self._note(order, float(gains.sum()), gains.size)
            best = self._by_gain()
            self.pool, begun = best[: max(1, -(-len(best) // 2))], True
            if self._runs_on(self.pool[0]) >= LAST_ROUNDS * LAST_DRAWS:
                break

    def best(self) -> tuple[Indices, float]:
        """The order of the pool that gained most on all draws it was run on, and seconds gained."""
        best: Indices = self._by_gain()[0]
        return best, self._gained[best.tobytes()][0]

    def _sweep(self) -> None:
        """A start that costs one schedule an order and not one a draw: those that are good where
        every estimate holds."""
        search = OrderSearch(
            self.drawn.work,
            seed=int(self.random.integers(0, 2**31)),
            stopped=self.is_stopped,
            improved=lambda: None,
        )
        found, in_vain = [search.best.order], 0
        while in_vain < SWEPT_IN_VAIN and not self._is_over(SWEPT_SHARE):
            self._begin_beside()
            self.drawn.schedules += search.sweep_once(SWEPT_AT_ONCE)
            self._settle(self._raced_beside(wait=False))
            in_vain += 1
            if found[-1] is not search.best.order:
                found.append(search.best.order)
                in_vain = 0
        policies = as_policies(self.drawn.work, np.array(found[-POOL:]))
        self._settle([self._race(np.concatenate([self.pool, policies]))])

    # --- within a search ----------------------------------------------------------------------

    def _generation(self) -> None:
        """The pool and its children run a race; beside it with other children another."""
        self._begin_beside()
        own = self._race(self._with_children())
        self._settle([own, *self._raced_beside(wait=True)])

    def _with_children(self) -> Indices:
        children = [child(self.drawn.work, self.pool, self.random) for _ in range(CHILDREN)]
        return np.unique(np.concatenate([self.pool, np.array(children)]), axis=0)

    def _begin_beside(self) -> None:
        if self.beside is None or self._on_beside is not None or not self.beside.is_ready():
            return
        self._on_beside = self._with_children()
        self.beside.begin(self._on_beside)

    def _raced_beside(self, *, wait: bool) -> list[_Raced]:
        """The race beside this, once it has ended."""
        if self.beside is None or self._on_beside is None:
            return []
        ended = self.beside.ended(is_over=(lambda: self._is_over(1.0)) if wait else None)
        if ended is None:
            return []
        orders, self._on_beside = self._on_beside, None
        self.drawn.schedules += ended.schedules
        return [(orders, ended.placed)]

    def _race(self, orders: Indices) -> _Raced:
        orders = np.unique(orders, axis=0)
        self.drawn.draw_next()
        return orders, race(orders, self.drawn.ends, is_over=lambda: self._is_over(1.0))

    def _settle(self, races: list[_Raced]) -> None:
        """The pool from what ran one race or two: who stayed longer, then who gained more."""
        ran = [(orders[one.number], one) for orders, placed in races for one in placed]
        if not ran:
            return
        self._alike = 0 if any(one.gained for _, one in ran) else self._alike + 1
        for order, one in ran:
            self._note(order, one.gained, one.draws)
        ran.sort(key=lambda row: (-row[1].draws, -row[1].gained))
        first = {order.tobytes(): order for order, _ in reversed(ran)}
        best = list(dict.fromkeys(order.tobytes() for order, _ in ran))[:POOL]
        self.pool = np.array([first[one] for one in best])
        self._gained = {one: self._gained[one] for one in best}
        self._tell(ran[0][1])

    def _note(self, order: Indices, gained: float, draws: int) -> None:
        before, run = self._gained.get(order.tobytes(), (0.0, 0))
        self._gained[order.tobytes()] = before + gained, run + draws

    def _runs_on(self, order: Indices) -> int:
        return self._gained[order.tobytes()][1]

    def _by_gain(self) -> Indices:
        """The pool, who gained most first; what was run on few draws only behind the others."""

        def rank(order: Indices) -> tuple[bool, float]:
            gained, draws = self._gained[order.tobytes()]
            return draws < ENOUGH_DRAWS, -gained / draws

        return np.array(sorted(self.pool, key=rank))

    def _is_over(self, share: float) -> bool:
        late = self.clock() - self.began >= share * self.seconds
        spent = self.most is not None and self.drawn.schedules >= share * self.most
        return late or spent or self.is_stopped()

    def _tell(self, first: Placed) -> None:
        if self.progress is None:
            return
        policy = self.pool[0]
        keys = tuple(self.drawn.work.keys[i] for i in policy[:-1].tolist())
        self.progress(
            DrawProgress(
                seconds=self.clock() - self.began,
                schedules=self.drawn.schedules,
                order=KeptOrder(keys=keys, setup_first=bool(policy[-1])),
                gained_days=first.mean_gain / 86_400,
            )
        )
