"""Tighten: an order of the work with an earlier first start, and how far it is from the best.

Three things work together within a time limit: bounds that no order can beat, a search through
the simulator among many orders at once, and the exact model. Only what the simulator makes of
an order is ever claimed, and best possible only what a bound has met to the second.
"""

import datetime as dt
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from webapp.build.build_input import BuildInput
from webapp.build.time.shop_calendar import NEVER
from webapp.planning.order.job_order import make_plan, plan_of
from webapp.planning.order.kept_order import plan_in_sequence, schedule_in_sequence
from webapp.planning.order.order_that_holds import whole_order, with_later_work
from webapp.planning.order.plan import Plan
from webapp.planning.order.run_orders import run_orders
from webapp.planning.simulator.work_arrays import WorkArrays, for_first_start_only, lay_out
from webapp.planning.tighten.blocks import Block, what_finds_no_room, what_stands_in_the_way
from webapp.planning.tighten.bounds import MOST_TASKS_WITH_HANDS, EarliestDates
from webapp.planning.tighten.model_solver import NEAR, Aim, solve
from webapp.planning.tighten.order_search import OrderSearch, setup_order
from webapp.planning.tighten.setup_hours import SetupNetwork, everything
from webapp.planning.tighten.work_model import WorkModel, model_fits

FEW_TASKS, SOME_TASKS, MANY_TASKS = 20, 40, 90
"""Up to a few the exact model is sure to be quick, up to some a proof is worth all the time there
is; above many none is worth waiting for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """How far tightening has come: the best first start so far and the bound so far."""

    seconds: float
    first_start_at: dt.datetime | None
    first_start_shop_hours: float | None
    bound_shop_hours: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tightened:
    """What tightening found and what it proved.

    order : the keys of all planned tasks, to be kept and run by `plan_in_sequence`
    plan : what `plan_in_sequence` makes of it
    house_rules : the plan by the house rules, for comparison
    bound_at, bound_shop_hours : no order brings first start before this; None where first start
        has no date or there is none to reach
    proved_best : first start stands at the bound
    seconds : the time taken
    blocked : where no order reaches first start, the tasks that together make it so
    """

    order: tuple[str, ...]
    plan: Plan
    house_rules: Plan
    bound_at: dt.datetime | None
    bound_shop_hours: float | None
    proved_best: bool
    seconds: float
    blocked: tuple[Block, ...] = ()


def tighten(
    build: BuildInput,
    *,
    seconds: float,
    kept_order: tuple[str, ...] | None = None,
    progress: Callable[[Progress], None] | None = None,
    stop: threading.Event | None = None,
    seed: int = 0,
    workers: int = 2,
) -> Tightened:
    """Look for an order with an earlier first start for at most so many seconds.

    The answer is never worse than the house rules' plan nor than `kept_order`. Setting `stop`
    ends the search with what it has. `progress` is called from this thread and the solver's.

    Raises KeyError or ValueError for a build that `input_checks.faults_of` would refuse, and
    ValueError where `seconds` is not positive.
    """
    if not seconds > 0:
        raise ValueError("tightening needs a time limit above 0 seconds")
    began = time.monotonic()
    work = for_first_start_only(lay_out(build))
    if work.first_start < 0:
        return _as_it_is(build, began, kept_order, what_stands_in_the_way(build))
    run = _Run(work, began=began, seconds=seconds, progress=progress, stop=stop, seed=seed)
    if kept_order is not None:
        run.search.take_order(whole_order(work, kept_order))
    run.carry_out(workers)
    if run.search.best.ends >= NEVER:
        return _as_it_is(build, began, kept_order, what_finds_no_room(work))
    return _answer(build, run)


class _Run:
    """One run of the search with its clock, its bound and its best order."""

    def __init__(
        self,
        work: WorkArrays,
        *,
        began: float,
        seconds: float,
        progress: Callable[[Progress], None] | None,
        stop: threading.Event | None,
        seed: int,
    ) -> None:
        self.work, self.began, self.seconds = work, began, seconds
        self.progress, self.stop, self.seed = progress, stop, seed
        self.dates = EarliestDates(work)
        self.search = OrderSearch(work, seed=seed, stopped=self.stopped, improved=self._tell)
        self.bound_wall = int(self.dates.heads.end_wall[work.first_start])
        self.bound_shop = int(self.dates.heads.end_shop[work.first_start])

    def carry_out(self, workers: int) -> None:
        """Bounds first, then the cheap search, then the exact model with the rest of the time."""
        work, search = self.work, self.search
        self._tell()
        if not self.proved:
            heads = self.dates.tightened(seconds=0.15 * self.seconds, stopped=self.stopped)
            self.raise_bound(int(heads.end_wall[work.first_start]))
        # Several people have several setups out: the least of one person is no order for them.
        if not self.proved and work.people_count == 1 and len(work) <= MOST_TASKS_WITH_HANDS:
            network = SetupNetwork(work)
            least = network.least(
                everything(work),
                from_now=True,
                seconds=min(1.0, 0.05 * self.seconds),
                stopped=self.stopped,
            )
            if least.sequence:
                search.take_order(setup_order(network, least.sequence))
        modelled = model_fits(work, self.dates.before)
        if not (modelled and self.at_once):
            search.sweep(self.at(0.2 if modelled else 0.4), self.bound_wall)
            search.improve(self.at(0.4 if modelled else 0.92), self.bound_wall)
        if modelled:
            self._with_model(workers)
        search.improve(min(self.at(0.98), time.monotonic() + 0.03 * self.seconds), -1)

    def _with_model(self, workers: int) -> None:
        """The exact model beside orders that are packed: a proof first where there is hope."""
        search = self.search
        if len(self.work) > MANY_TASKS:
            search.pack(self.at(0.5), self.bound_wall)
        else:
            self._solve(workers, "proof")
            search.pack(min(self.at(0.6), time.monotonic() + 0.35 * self.seconds), self.bound_wall)
        if self.far_off:
            self._solve(workers, "orders")
        self._solve(workers, "both")

    @property
    def at_once(self) -> bool:
        """Whether the exact model is so quick that searching first is lost time.

        It is where no setups and no closed hours make the order itself hard, or there is little.
        """
        sequencing = bool(self.work.setup.any()) or len(self.work.calendar.opens) > 1
        return not sequencing or len(self.work) <= FEW_TASKS

    @property
    def proved(self) -> bool:
        """Whether the best order stands at the bound."""
        return self.search.best.ends <= self.bound_wall

    @property
    def far_off(self) -> bool:
        """Whether there is an order to make better, too far from the bound for a proof."""
        ends = self.search.best.ends
        shop = int(self.work.calendar.shop_of(ends))
        return ends < NEVER and shop > (1 + NEAR) * self.bound_shop

    def at(self, share: float) -> float:
        """The monotonic second at which a share of the time is gone."""
        return self.began + share * self.seconds

    def stopped(self) -> bool:
        """Whether the person has called it off."""
        return self.stop is not None and self.stop.is_set()

    def raise_bound(self, wall: int) -> None:
        """Take a bound in wall seconds; never above what an order has reached."""
        wall = min(wall, self.search.best.ends)
        if wall > self.bound_wall:
            self.bound_wall = wall
            self.bound_shop = int(self.work.calendar.shop_of(wall))
            self._tell()

    def _bound_from_model(self, seconds: int) -> None:
        """A bound as the model counts: shop seconds of hands-on work, else wall seconds."""
        if not self.work.wall_only[self.work.first_start]:
            seconds = int(self.work.calendar.end_wall(seconds))
        self.raise_bound(seconds)

    def _solve(self, workers: int, aim: Aim) -> None:
        work, search = self.work, self.search
        until = self.at(0.96)
        if self.proved or self.stopped() or time.monotonic() >= until:
            return
        reached = search.best.ends < NEVER
        horizon = search.best.ends if reached else int(work.calendar.closes[-1])
        model = WorkModel(work, self.dates, horizon)
        on_wall = bool(work.wall_only[work.first_start])
        model.minimise(self.bound_wall if on_wall else self.bound_shop)
        if reached:
            plan = run_orders(work, search.best.order[np.newaxis, :], in_sequence=True)
            columns = (plan.begin, plan.wall_begin, plan.end, plan.setup_seconds)
            model.hint(*(column[:, 0] for column in columns))
        answer = solve(
            model,
            seconds=until - time.monotonic(),
            aim=aim,
            patience=0.2 * self.seconds if aim == "proof" and len(work) > SOME_TASKS else None,
            workers=workers,
            seed=self.seed,
            stop=self.stop,
            progress=self._bound_from_model,
        )
        if answer.order is not None:
            search.take_order(answer.order, eager=False)
        if answer.bound is not None:
            self._bound_from_model(answer.bound)

    def _tell(self) -> None:
        if self.progress is None:
            return
        ends, calendar = self.search.best.ends, self.work.calendar
        reached = ends < NEVER
        self.progress(
            Progress(
                seconds=time.monotonic() - self.began,
                first_start_at=calendar.minute(ends) if reached else None,
                first_start_shop_hours=int(calendar.shop_of(ends)) / 3600 if reached else None,
                bound_shop_hours=self.bound_shop / 3600 if self.bound_shop < NEVER else None,
            )
        )


def _answer(build: BuildInput, run: _Run) -> Tightened:
    """The best order with the later work of the house rules behind it, and its plan."""
    whole = lay_out(build)
    order = with_later_work(whole, run.work, run.search.best.order)
    schedule = schedule_in_sequence(build, whole, order)
    plan = plan_of(build, whole, schedule)
    # Claimed is what the simulator makes of the whole build, whatever the search thought of it.
    proved = int(schedule.end_wall(whole.first_start)[0]) <= run.bound_wall
    return Tightened(
        order=order,
        plan=plan,
        house_rules=make_plan(build),
        bound_at=run.work.calendar.minute(run.bound_wall),
        bound_shop_hours=plan.first_start_shop_hours if proved else run.bound_shop / 3600,
        proved_best=proved,
        seconds=time.monotonic() - run.began,
    )


def _as_it_is(
    build: BuildInput,
    began: float,
    kept_order: tuple[str, ...] | None,
    blocked: tuple[Block, ...] = (),
) -> Tightened:
    """Nothing to tighten: the kept order where there is one, else the house rules' plan."""
    house = make_plan(build)
    plan = house if kept_order is None else plan_in_sequence(build, kept_order)
    order = tuple(task.key for task in plan.tasks)
    return Tightened(
        order=order,
        plan=plan,
        house_rules=house,
        bound_at=None,
        bound_shop_hours=None,
        proved_best=False,
        seconds=time.monotonic() - began,
        blocked=blocked,
    )
