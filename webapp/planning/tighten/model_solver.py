"""The exact model given to OR-tools CP-SAT for so long, stopped when told to."""

import math
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

from webapp.planning.simulator.work_arrays import Indices
from webapp.planning.tighten.work_model import WorkModel

Aim = Literal["proof", "orders", "both"]

NEAR = 0.05
"""A best order within so much of the bound is likelier to be proved than to be beaten."""
PROVERS = ("no_lp", "probing_no_lp")
"""Clause learning without relaxations on both of two workers: what proved most of j30 and
j60 of PSPLIB, against the solver's own choice and nine others."""
PART_FREED, PART_LIMIT = 0.3, 0.01
"""Share of an order that is freed at first to find a better one, and the solver's deterministic
seconds for it: its own 0.5 and 0.1 take a second and more over one try on 60 tasks."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ModelAnswer:
    """What the solver came to.

    order : the best order it found, None for none
    bound : no order brings first start before this: shop seconds where first start is hands-on
        work, else wall seconds; None where it has none
    impossible : it proved that first start cannot be reached by the horizon
    """

    order: Indices | None
    bound: int | None
    impossible: bool = False


def solve(
    model: WorkModel,
    *,
    seconds: float,
    workers: int,
    seed: int,
    stop: threading.Event | None,
    progress: Callable[[int], None],
    aim: Aim = "proof",
    patience: float | None = None,
) -> ModelAnswer:
    """Run the solver for at most so many seconds; `progress` is told each better bound.

    For a proof it works on the bound with all it has. For orders it frees part after part of
    the one it was told of, all workers alike, until the best is `NEAR` the bound: the model needs
    a hint. With `patience` it gives up after so many seconds where the bound is not near by then.
    """
    from ortools.sat.python import cp_model

    solver = cp_model.CpSolver()
    parameters = solver.parameters
    parameters.max_time_in_seconds = max(seconds, 0.01)
    parameters.num_workers = workers
    parameters.random_seed = seed
    if aim == "proof" and workers == 2:
        parameters.subsolvers.extend(PROVERS)
    if aim == "orders":
        parameters.use_lns_only = True
        parameters.lns_initial_difficulty = PART_FREED
        parameters.lns_initial_deterministic_limit = PART_LIMIT
    watch = _Watch(solver, stop, patience, until_near=aim == "orders")

    def told(bound: float) -> None:
        watch.bound = bound
        progress(round(bound) * model.tick)

    class Found(cp_model.CpSolverSolutionCallback):
        def on_solution_callback(self) -> None:
            watch.best = self.objective_value

    solver.best_bound_callback = told
    with watch:
        status = solver.solve(model.model, Found())
    if status == cp_model.INFEASIBLE:
        return ModelAnswer(order=None, bound=None, impossible=True)
    bound = round(solver.best_objective_bound) * model.tick
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return ModelAnswer(order=None, bound=bound)
    return ModelAnswer(order=model.order_found(solver), bound=bound)


class _Watch:
    """Stops a solver from beside it: when told to, when a proof is too far off to wait for, or
    once it is near where only orders are looked for."""

    def __init__(
        self,
        solver: Any,
        stop: threading.Event | None,
        patience: float | None,
        *,
        until_near: bool,
    ) -> None:
        self.solver, self.stop, self.until_near = solver, stop, until_near
        self.gives_up = None if patience is None else time.monotonic() + patience
        self.best, self.bound = math.inf, -math.inf
        self.done = threading.Event()
        self.thread = threading.Thread(target=self._look, daemon=True)

    def __enter__(self) -> None:
        self.thread.start()

    def __exit__(self, *_: object) -> None:
        self.done.set()
        self.thread.join()

    @property
    def near(self) -> bool:
        return self.best <= (1 + NEAR) * self.bound

    def _look(self) -> None:
        while not self.done.wait(0.05):
            if self.stop is not None and self.stop.is_set():
                self.solver.stop_search()
            if self.until_near and self.near:
                self.solver.stop_search()
            if self.gives_up is not None and time.monotonic() > self.gives_up:
                self.gives_up = None
                if not self.near:
                    self.solver.stop_search()
