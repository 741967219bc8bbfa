"""The solver CP-SAT of OR-tools for so long, stopped from beside it when told to."""

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

WORKERS = 2
QUICK = ("no_lp", "quick_restart_no_lp")
"""Clause learning without relaxations on both workers: on eleven lists of 20 to 60 pieces it took
two thirds of the time of the solver's own choice. A few lists need relaxations all the same."""
LOOKED_EVERY_S = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Solved:
    """What the solver came to: the values of the variables asked about, None where it found
    nothing; its bound; whether it proved that nothing better is to be had."""

    values: list[int] | None
    bound: float
    is_proved: bool
    is_impossible: bool


def solved(
    model: Any,
    asked: list[Any],
    *,
    seconds: float,
    is_stopped: Callable[[], bool],
    bounded: Callable[[float], None] = lambda _: None,
    enough: float | None = None,
    is_quick: bool = False,
) -> Solved:
    """Run the solver; `bounded` is told each better bound, at `enough` it is good enough.

    `is_quick`: without relaxations, which is mostly sooner.
    """
    from ortools.sat.python import cp_model

    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = max(seconds, 0.01)
    solver.parameters.num_workers = WORKERS
    solver.parameters.random_seed = 0
    solver.parameters.use_lns = False  # it says aloud what it could not mend
    if is_quick:
        solver.parameters.subsolvers.extend(QUICK)
    solver.best_bound_callback = bounded

    class Found(cp_model.CpSolverSolutionCallback):
        def on_solution_callback(self) -> None:
            if enough is not None and self.objective_value <= enough:
                self.stop_search()

    with _watched(solver, is_stopped):
        status = solver.solve(model, Found())
    has_answer = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return Solved(
        values=[int(solver.value(one)) for one in asked] if has_answer else None,
        bound=solver.best_objective_bound,
        is_proved=status == cp_model.OPTIMAL,
        is_impossible=status == cp_model.INFEASIBLE,
    )


@contextmanager
def _watched(solver: Any, is_stopped: Callable[[], bool]) -> Iterator[None]:
    """Meanwhile the search is ended soon after `is_stopped`."""
    done = threading.Event()

    def look() -> None:
        while not done.wait(LOOKED_EVERY_S):
            if is_stopped():
                solver.stop_search()

    watch = threading.Thread(target=look, daemon=True)
    watch.start()
    try:
        yield
    finally:
        done.set()
        watch.join()
