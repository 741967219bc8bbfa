"""How long moves, costs, levers and the pace take: what a page waits for, and what it does not."""

from dataclasses import replace

from tests.benchmarks.timing import Table, best_of
from tests.benchmarks.workshop_builds import workshop_build
from webapp.build.build_input import BuildInput
from webapp.build.three_point import ThreePoint
from webapp.planning.chances.factors import NO_RECORD
from webapp.planning.chances.firm_by import firm_by
from webapp.planning.chances.forecast import forecast_of
from webapp.planning.chances.levers import levers_of
from webapp.planning.chances.likely_day import pace_by
from webapp.planning.chances.luck import DRAWS, Luck
from webapp.planning.chances.move_costs import FIRST_DRAWS, move_from, task_costs


def moves_of_first_start(table: Table) -> None:
    """Everything that asks the same draws twice."""
    for tasks, at_most in ((120, "0.4 s"), (250, "0.8 s")):
        build = workshop_build(tasks)
        changed = _with_an_hour_more(build)
        for draws in (DRAWS, FIRST_DRAWS):
            seconds = best_of(
                3,
                lambda build=build, changed=changed, draws=draws: move_from(  # type: ignore[misc]
                    build, NO_RECORD, changed, NO_RECORD, draws=draws
                ),
            )
            limit = at_most if draws == DRAWS else "0.15 s"
            table.row(
                f"a notice's move, {tasks} tasks, {draws} draws", f"{seconds:.2f} s", seconds, limit
            )
    build = workshop_build(120)
    seconds = best_of(1, lambda: task_costs(build, NO_RECORD, draws=FIRST_DRAWS))
    table.row("cost of 120 tasks, 200 draws", f"{seconds:.2f} s", seconds, "1 s")
    seconds = best_of(1, lambda: levers_of(build, NO_RECORD))
    table.row("levers of 120 tasks, 500 draws", f"{seconds:.2f} s", seconds, "1.5 s")
    wanted = replace(build, wanted_by=build.now.date())
    seconds = best_of(1, lambda: firm_by(wanted, NO_RECORD))
    table.row("hours a week to be firm, 120 tasks", f"{seconds:.2f} s", seconds, "")
    _pace(table)


def _pace(table: Table) -> None:
    build = workshop_build(250)
    forecast = forecast_of(build, Luck(200))
    assert forecast is not None
    seconds = best_of(9, lambda: pace_by(build, forecast, NO_RECORD, last=0.5))
    table.row("pace of 250 tasks", f"{seconds * 1e3:.0f} ms", seconds, "60 ms")


def _with_an_hour_more(build: BuildInput) -> BuildInput:
    first, *rest = build.tasks
    hours = first.hours
    longer = ThreePoint(
        optimistic=hours.optimistic + 1,
        most_likely=hours.most_likely + 1,
        pessimistic=hours.pessimistic + 1,
    )
    return replace(build, tasks=(replace(first, hours=longer), *rest))
