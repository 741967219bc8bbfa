"""Tightening beside the pages: one run a build, on a thread of its own, until it is put away.

For a moment the best rule over the draws, then the best order for the likely hours and what is
proved of it, then the best over the draws with what is left of the time. Nothing of it is stored:
a restart of the program loses the run and nothing else.
"""

import contextlib
import datetime as dt
import logging
import os
import sys
import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from itertools import count
from typing import Protocol

from webapp.build.build_input import BuildInput
from webapp.planning.chances.factors import Factors
from webapp.planning.chances.likely_day import likely_at
from webapp.planning.chances.moves import Move, move_between
from webapp.planning.order.kept_order import (
    keys_in_sequence,
    plan_in_sequence,
    plan_that_holds,
)
from webapp.planning.order.order_that_holds import KeptOrder, Keys
from webapp.planning.order.plan import Plan
from webapp.planning.proof.proved import proved
from webapp.planning.tighten.draw_search import (
    DrawProgress,
    FoundOverDraws,
    search_over_draws,
)
from webapp.planning.tighten.orders_told import OrderTold, orders_told
from webapp.planning.tighten.tighten import Progress, Tightened, tighten
from webapp.services.forecast_figures import forecast_figures, record_factors
from webapp.services.kept import Kept
from webapp.services.second_process import SecondProcess, second_process

MOST_KEPT = 20
NICENESS = 10
CLOSING_SECONDS = 3.0
LEAST_SECONDS = 1.0
"""The draws have at least so long: the best of the rules is there by then."""
THREE_ORDERS = 3
SOON_SECONDS = 0.5
"""So soon, or once they have run, the best of the simple rules over the draws is there."""
PROOF_SHARE = 0.5
"""Of the time, at most so much goes into the likely hours; the draws have the rest."""
SHARED_FROM_SECONDS = 1.5
"""From so many on a second process is worth what it takes to begin."""
Search = Callable[..., Tightened]
"""Called as `planning.tighten.tighten` is."""
DrawSearch = Callable[..., FoundOverDraws | None]
"""Called as `planning.tighten.search_over_draws` is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OrdersFound:
    """What the orders come to, asked of the draws that every page is told from.

    held, likely, drawn : the order that holds, the best for the likely hours, the best over the
        draws
    held_plan, plan : the plans of the first and the last, if every estimate holds
    """

    held: OrderTold
    likely: OrderTold
    drawn: OrderTold
    held_plan: Plan
    plan: Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """What a run came to.

    `kept_at` is first start by the order that was kept when the run began, if every estimate
    holds. `move` is by how much keeping the order found would move first start, all uncertain
    hours counted, and `likely_at`, `firm_at` where it would stand then; None without a date.
    `orders` has it beside the order that is best over the draws.
    """

    tightened: Tightened
    kept_at: dt.datetime | None
    move: Move | None
    likely_at: dt.datetime | None
    firm_at: dt.datetime | None
    orders: OrdersFound | None = None


@dataclass(slots=True, kw_only=True, eq=False)
class Run:
    """One run: the build as it was, and how far it has come. Written by its own thread alone.

    `version` is that of the build it was begun for; `ended` is set once `found` is there, or
    has `failed`. `starts` are orders that the search over the draws begins from beside the rules.
    """

    number: int
    build: BuildInput
    version: int
    seconds: int
    began: float
    starts: tuple[KeptOrder, ...] = ()
    stop: threading.Event = field(default_factory=threading.Event)
    ended: threading.Event = field(default_factory=threading.Event)
    progress: Progress | None = None
    over_draws: DrawProgress | None = None
    found: Found | None = None
    failed: bool = False
    cancelled: bool = False

    @property
    def seconds_gone(self) -> int:
        return int(time.monotonic() - self.began)


class Tightenings:
    """The runs of all builds, the last of each."""

    def __init__(
        self,
        search: Search = tighten,
        over_draws: DrawSearch = search_over_draws,
        second: Callable[[BuildInput, Factors | None], SecondProcess | None] = second_process,
    ) -> None:
        self._search, self._over_draws, self._second = search, over_draws, second
        self._lock = threading.Lock()
        self._runs: Kept[str, Run] = Kept(MOST_KEPT)
        self._numbers = count(1)

    def begin(
        self,
        slug: str,
        build: BuildInput,
        version: int,
        seconds: int,
        *,
        starts: tuple[KeptOrder, ...] = (),
    ) -> None:
        """Begin a run, unless one of this build is on; what the last one found is put away.

        The search over the draws begins from the kept order, and from `starts`.
        """
        with self._lock:
            last = self._runs.get(slug)
            if last is not None and not last.ended.is_set():
                return
            run = Run(
                number=next(self._numbers),
                build=build,
                version=version,
                seconds=seconds,
                began=time.monotonic(),
                starts=(*starts, *((KeptOrder.of(build),) if build.kept_order else ())),
            )
            self._runs.keep(slug, run)
        threading.Thread(target=self._carry_out, args=(run,), name="tighten", daemon=True).start()

    def of(self, slug: str) -> Run | None:
        """The run of a build that is on, or the last whose outcome is not put away."""
        with self._lock:
            run = self._runs.get(slug)
            if run is not None and run.cancelled and run.ended.is_set():
                self._runs.drop(slug)
                return None
            return run

    def stop(self, slug: str, *, cancel: bool) -> None:
        """End a run with what it has; `cancel` puts that away too."""
        run = self.of(slug)
        if run is not None:
            run.cancelled = run.cancelled or cancel
            run.stop.set()

    def put_away(self, slug: str) -> None:
        """Forget what a run found; one that is on is cancelled."""
        self.stop(slug, cancel=True)
        self.of(slug)

    def close(self) -> None:
        """End every run, and wait a moment for them: the program goes."""
        end_all(self._runs.values())

    def _carry_out(self, run: Run) -> None:
        stand_back()

        def tell(progress: Progress) -> None:
            run.progress = progress

        try:
            kept = keys_in_sequence(run.build)
            soon = self._search_over_draws(run, SOON_SECONDS, [*run.starts])
            tightened = self._search(
                run.build,
                seconds=max(run.seconds * PROOF_SHARE, LEAST_SECONDS),
                kept_order=kept or None,
                progress=tell,
                stop=run.stop,
            )
            drawn = None
            if not run.cancelled and tightened.plan.first_start_at is not None:
                left = run.began + run.seconds - time.monotonic()
                starts = [KeptOrder(keys=tightened.order), *run.starts]
                starts += [soon.order] if soon is not None else []
                drawn = self._by_two(run, max(left, LEAST_SECONDS), starts)
            run.found = None if run.cancelled else _found(run.build, kept, tightened, drawn)
        except Exception:
            logging.getLogger(__name__).exception("could not be tightened: %r", run.build.name)
            run.failed = True
        finally:
            run.ended.set()

    def _by_two(self, run: Run, seconds: float, starts: list[KeptOrder]) -> FoundOverDraws | None:
        """With a second process beside it, where the machine has a processor for it."""
        second = None
        if seconds >= SHARED_FROM_SECONDS and not run.stop.is_set():
            second = self._second(run.build, record_factors(run.build))
        try:
            return self._search_over_draws(run, seconds, starts, second)
        finally:
            if second is not None:
                second.close()

    def _search_over_draws(
        self,
        run: Run,
        seconds: float,
        starts: list[KeptOrder],
        beside: SecondProcess | None = None,
    ) -> FoundOverDraws | None:
        def tell(progress: DrawProgress) -> None:
            run.over_draws = progress

        return self._over_draws(
            run.build,
            seconds=seconds,
            factors=record_factors(run.build),
            starts=starts,
            progress=tell,
            is_stopped=run.stop.is_set,
            beside=beside,
        )


def _found(
    build: BuildInput, kept: Keys, tightened: Tightened, drawn: FoundOverDraws | None
) -> Found:
    """`kept` are the keys of the order that the build keeps, in sequence."""
    proved(build, tightened.plan)
    likely = KeptOrder(keys=tightened.order)
    as_kept = likely.kept_in(build)
    found = Found(
        tightened=tightened,
        kept_at=plan_in_sequence(build, kept).first_start_at if kept else None,
        move=None,
        likely_at=None,
        firm_at=None,
    )
    now, then = forecast_figures(build), forecast_figures(as_kept)
    if now is None or then is None:
        return found
    return replace(
        found,
        move=move_between(now.forecast.draws.wall, then.forecast.draws.wall),
        likely_at=likely_at(as_kept, then.forecast, then.factors, last=then.factor),
        firm_at=then.forecast.at(build.confidence),
        orders=None if drawn is None else _orders(build, now.factors, likely, drawn.order),
    )


def _orders(
    build: BuildInput, factors: Factors, likely: KeptOrder, drawn: KeptOrder
) -> OrdersFound | None:
    """The three orders side by side; the plan of the last is proved."""
    told = orders_told(build, [likely, drawn], factors=factors)
    if len(told) < THREE_ORDERS:
        return None
    as_drawn = drawn.kept_in(build)
    plan = plan_that_holds(as_drawn)
    proved(as_drawn, plan)
    held, by_likely, by_draws = told
    return OrdersFound(
        held=held, likely=by_likely, drawn=by_draws, held_plan=plan_that_holds(build), plan=plan
    )


def stand_back() -> None:
    """Let the pages go first. Only Linux ranks single threads; those begun here inherit it."""
    if sys.platform == "linux":
        with contextlib.suppress(OSError):
            os.setpriority(os.PRIO_PROCESS, threading.get_native_id(), NICENESS)


class Endable(Protocol):
    """A run that ends when it is asked to."""

    @property
    def stop(self) -> threading.Event:
        """Set by who wants it to end."""

    @property
    def ended(self) -> threading.Event:
        """Set by itself once it has."""


def end_all(runs: Sequence[Endable]) -> None:
    """End every run, and wait a moment for them all together."""
    for run in runs:
        run.stop.set()
    until = time.monotonic() + CLOSING_SECONDS
    for run in runs:
        run.ended.wait(max(0.0, until - time.monotonic()))
