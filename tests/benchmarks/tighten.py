"""Benchmark rows of tightening: PSPLIB beside pyjobshop in one run, and workshop builds."""

import datetime as dt
import math
import time
from dataclasses import dataclass, replace
from statistics import mean, median

from tests.benchmarks.psplib_builds import FOLDER, Instance, build_of_instance, instances
from tests.benchmarks.psplib_draws import DISTRIBUTIONS, compared, drawn_instances
from tests.benchmarks.timing import Table
from tests.benchmarks.workshop_builds import workshop_build
from webapp.build.build_input import BuildInput
from webapp.build.house_rules import SOONEST_RULES
from webapp.planning.chances.factors import NO_RECORD
from webapp.planning.chances.luck import Luck
from webapp.planning.tighten.draw_search import FoundOverDraws, search_over_draws
from webapp.planning.tighten.orders_told import orders_told
from webapp.planning.tighten.tighten import Progress, tighten
from webapp.services.second_process import SecondProcess
from webapp.services.seed_builds import shipped_demo

SECONDS, LONG_SECONDS = 10.0, 20.0
WORKERS = 2
FRESH_DRAWS, FRESH_SEED = 4_000, 77


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """One instance solved: whether proved, after how many seconds, and how far off in percent.

    `seconds` is the time to the proof, the whole time where there is none.
    """

    proved: bool
    seconds: float
    off_percent: float


def tightened_psplib(table: Table) -> None:
    """Share proved best, time and distance from the best known, ours and pyjobshop's."""
    for prefix, to_reach in (("j30", "48 of 48"), ("j60", "21 of 24"), ("j120", "")):
        found = instances(prefix)
        if not found:
            table.row(f"tighten {prefix} of PSPLIB", f"skipped: no {FOLDER}", None)
            continue
        ours, theirs = [], []
        for name, instance, _, best_known in found:
            ours.append(_ours(name, instance, best_known))
            theirs.append(_theirs(instance, best_known))
        _rows(table, f"tighten {prefix}", ours, to_reach)
        _rows(table, f"pyjobshop {prefix}", theirs, "")


def _rows(table: Table, what: str, runs: list[Run], to_reach: str) -> None:
    proved = sum(run.proved for run in runs)
    seconds = median(run.seconds for run in runs)
    off = mean(run.off_percent for run in runs)
    measured = f"{proved} of {len(runs)}, {seconds:.2f} s, {off:.2f}% off"
    table.row(what, measured, seconds, to_reach)


def _ours(name: str, instance: Instance, best_known: int) -> Run:
    build = build_of_instance(name, instance)
    proof: list[float] = []

    def watch(progress: Progress) -> None:
        if progress.first_start_shop_hours == progress.bound_shop_hours and not proof:
            proof.append(progress.seconds)

    answer = tighten(build, seconds=SECONDS, workers=WORKERS, progress=watch)
    assert answer.plan.first_start_shop_hours is not None
    seconds = proof[0] if answer.proved_best and proof else answer.seconds
    off = 100 * (answer.plan.first_start_shop_hours / best_known - 1)
    return Run(proved=answer.proved_best, seconds=seconds, off_percent=off)


def _theirs(instance: Instance, best_known: int) -> Run:
    began = time.monotonic()
    result = solved_by_pyjobshop(instance, seconds=SECONDS)
    return Run(
        proved=result[1],
        seconds=time.monotonic() - began,
        off_percent=100 * (result[0] / best_known - 1),
    )


def solved_by_pyjobshop(instance: Instance, *, seconds: float) -> tuple[float, bool]:
    """The makespan by the reference solver, and whether it proved it best.

    That and what it brings take half a second to load, which who gathers tests need not.
    """
    from pyjobshop import Model  # type: ignore[import-untyped]

    model = Model()
    resources = [model.add_renewable(capacity=units) for units in instance.capacities]
    tasks = [model.add_task() for _ in instance.hours]
    for task, hours, needs in zip(tasks, instance.hours, instance.needs, strict=True):
        model.add_mode(task, resources, duration=hours, demands=list(needs))
    for i, successors in enumerate(instance.successors):
        for j in successors:
            model.add_end_before_start(tasks[i], tasks[j])
    result = model.solve(time_limit=seconds, display=False, num_workers=WORKERS)
    return float(result.objective), result.status.value == "Optimal"


def tightened_workshop_builds(table: Table) -> None:
    """Gap of the house rules and of the kept order over the bound, three builds of each size."""
    for count, seconds, to_reach in ((60, 10.0, 1), (120, 20.0, 2), (250, 30.0, 3)):
        house, kept, proved = [], [], 0
        for seed in (1, 2, 3):
            answer = tighten(workshop_build(count, seed), seconds=seconds, workers=WORKERS)
            bound, hours = answer.bound_shop_hours, answer.plan.first_start_shop_hours
            before = answer.house_rules.first_start_shop_hours
            assert bound is not None
            assert hours is not None
            assert before is not None
            house.append(100 * (before / bound - 1))
            kept.append(100 * (hours / bound - 1))
            proved += answer.proved_best
        measured = f"house {max(house):.2f}%, kept {max(kept):.2f}%, {proved} of 3 proved"
        what = f"over the bound, {count} tasks, {seconds:g} s"
        table.row(what, measured, None, f"{to_reach}%")


def searched_over_draws(table: Table) -> None:
    """Days that the best order over the draws brings first start earlier than the house rules of a
    new build, on 4,000 fresh draws, after so many seconds of one processor."""
    for name, build in _builds_to_search():
        for seconds in (2.0, LONG_SECONDS):
            found = search_over_draws(build, seconds=seconds, clock=time.process_time)
            table.row(f"search over draws, {name}, {seconds:g} s", _won_by(build, found), None)


def searched_by_two(table: Table) -> None:
    """The same after 20 s by the clock, alone and with a second process beside it."""
    for name, build in _builds_to_search():
        alone = search_over_draws(build, seconds=LONG_SECONDS)
        second = SecondProcess(build, NO_RECORD)
        try:
            by_two = search_over_draws(build, seconds=LONG_SECONDS, beside=second)
        finally:
            second.close()
        assert alone is not None
        assert by_two is not None
        more = f"{by_two.schedules / alone.schedules:.2f} times the schedules"
        measured = f"{_won_by(build, alone)}; by two {_won_by(build, by_two)}, {more}"
        table.row(f"search over draws by two, {name}", measured, None)


def _builds_to_search() -> list[tuple[str, BuildInput]]:
    """The Heron and four workshop builds by name, with the house rules of a new build."""
    builds = [("the Heron", replace(shipped_demo(), kept_order=()))]
    builds += [
        (f"{count} tasks, seed {seed}", workshop_build(count, seed))
        for count in (75, 150)
        for seed in (1, 2)
    ]
    return [(name, replace(build, house_rules=SOONEST_RULES)) for name, build in builds]


def _won_by(build: BuildInput, found: FoundOverDraws | None) -> str:
    """The days by which an order brings first start earlier, the mean and the firm date."""
    assert found is not None
    luck = Luck(FRESH_DRAWS, FRESH_SEED)
    held, better = orders_told(build, [found.order], factors=NO_RECORD, luck=luck)
    firm = (held.firm_at - better.firm_at) / dt.timedelta(days=1)
    move = better.move
    return f"{-move.mean_days:+.2f} +/- {move.error_days:.2f} days, firm {firm:+.1f}"


def psplib_over_draws(table: Table) -> None:
    """Per cent above the critical path: latest finish first, and 25,000 schedules of search."""
    found = drawn_instances()
    if not found:
        table.row("j120 of PSPLIB over draws", f"skipped: no {FOLDER}", None)
        return
    for name in DISTRIBUTIONS:
        runs = [compared(build, name, schedules=25_000, blocks=4) for _, build in found]
        rule, best = mean(run.by_rule for run in runs), mean(run.found for run in runs)
        error = math.sqrt(sum(run.error**2 for run in runs)) / len(runs)
        measured = f"rule {rule:.2f}, found {best:.2f} +/- {error:.2f}"
        table.row(f"j120 over draws, {name}, % above the critical path", measured, None)
