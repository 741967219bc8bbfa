"""The plan of a build: order, dates, the reason for each start, what it costs in days."""

from dataclasses import replace

import numpy as np

from webapp.build.build_input import BuildInput
from webapp.build.time.shop_calendar import NEVER, Seconds
from webapp.build.time_units import DAY_SECONDS
from webapp.planning.network.standing import standing_in_the_way
from webapp.planning.order.order_that_holds import ranking_that_holds
from webapp.planning.order.path import path_to
from webapp.planning.order.plan import (
    PathStep,
    Plan,
    PlannedTask,
    UnplannedKind,
    UnplannedTask,
)
from webapp.planning.order.reasons import OneVariant
from webapp.planning.simulator.house_rules import (
    HouseRules,
)
from webapp.planning.simulator.simulate import Schedule, first_starts, simulate
from webapp.planning.simulator.variants import Variants, as_it_is
from webapp.planning.simulator.work_arrays import WorkArrays, for_first_start_only, lay_out


def make_plan(
    build: BuildInput, rules: HouseRules | None = None, *, work: WorkArrays | None = None
) -> Plan:
    """Plan a faultless build by the house rules; `work` is the build where it is laid out already.

    Raises KeyError or ValueError for a build that `input_checks.faults_of` would refuse.
    """
    work = work or lay_out(build)
    return plan_of(build, work, simulate(work, as_it_is(work, rules)))


def plan_of(build: BuildInput, work: WorkArrays, schedule: Schedule) -> Plan:
    """The plan that the only variant of a schedule of the whole build stands for."""
    variant = OneVariant(build, work, schedule)
    first = work.first_start
    reached = first >= 0 and variant.planned(first)
    path = path_to(first, variant) if reached else ()
    return Plan(
        now=build.now,
        first_start_at=variant.calendar.minute(variant.end_wall[first]) if reached else None,
        first_start_shop_hours=variant.end[first] / 3600 if reached else None,
        tasks=_planned(variant, path),
        unplanned=_unplanned(build, variant),
        path=path,
    )


def days_cost(
    build: BuildInput,
    *,
    at_most: int | None = None,
    work: WorkArrays | None = None,
) -> dict[str, float]:
    """How many days first start would come earlier without each open task, by key.

    Days are wall-clock hours / 24. Without a task, order still passes through it and the waits
    into it stay; its own waits, hours and parts go. Tasks that first start does not need cost
    nothing. Empty where first start has no date. The time grows with the square of the tasks:
    of more than `at_most` that first start needs, the others are left out. The order that
    holds is followed. `work` is the build where it is laid out already.
    """
    whole = work or lay_out(build)
    work = for_first_start_only(whole)
    if work.first_start < 0:
        return {}
    variants = without_each(work, at_most)
    ranking = ranking_that_holds(build, work)
    ends = first_starts(work, replace(variants, rankings=(ranking,))).wall
    return costs_of(whole, work, ends)


def without_each(work: WorkArrays, at_most: int | None = None) -> Variants:
    """The build itself, then the build without each of its tasks, up to so many; no rankings."""
    count = len(work.keys[:at_most]) + 1
    return Variants(count=count, rankings=(), absent=np.eye(len(work), count, k=1, dtype=bool))


def costs_of(whole: WorkArrays, work: WorkArrays, ends: Seconds) -> dict[str, float]:
    """Days by which first start comes earlier without each task, by key.

    ends : (1 + p,) wall seconds of first start with all tasks and without each of the first p
        that first start needs, `work`; what it does not need of the `whole` costs nothing.
    """
    if ends[0] >= NEVER:
        return {}
    needed = set(work.keys)
    days = ((ends[0] - ends[1:]) / DAY_SECONDS).tolist()
    return {key: 0.0 for key in whole.keys if key not in needed} | dict(
        zip(work.keys, days, strict=False)
    )


def _planned(variant: OneVariant, path: tuple[PathStep, ...]) -> tuple[PlannedTask, ...]:
    work = variant.work
    on_path = {step.what for step in path if step.kind == "task"}
    places = [i for i in range(len(work)) if variant.planned(i)]
    places.sort(key=lambda i: (variant.begin[i], variant.begin_wall[i], variant.turn[i]))
    tasks = []
    for i in places:
        dates = work.dates.by_key[work.keys[i]]
        tasks.append(
            PlannedTask(
                key=work.keys[i],
                begins=variant.calendar.minute(variant.begin_wall[i]),
                ends=variant.calendar.minute(variant.end_wall[i]),
                begin_shop_hours=variant.begin[i] / 3600,
                end_shop_hours=variant.end[i] / 3600,
                setup_hours=variant.got_out[i] / 3600,
                held_by=tuple(dict.fromkeys(hold.reason for hold in variant.binding(i))),
                total_float_hours=dates.total_float_hours,
                free_float_hours=dates.free_float_hours,
                on_path=work.keys[i] in on_path,
                for_first_start=bool(work.for_first_start[i]),
            )
        )
    return tuple(tasks)


def _unplanned(build: BuildInput, variant: OneVariant) -> tuple[UnplannedTask, ...]:
    """What stands in the way for ever, and work that no session or helper stretch is left for."""
    found = {
        key: UnplannedTask(key=key, kind="held", standing=standing)
        for key, standing in standing_in_the_way(build).items()
    }
    work = variant.work
    stuck = {key: i for i, key in enumerate(work.keys) if not variant.planned(i)}
    behind = {d.after for d in build.dependencies if d.before in stuck and d.after in stuck}
    for key, i in stuck.items():
        kind: UnplannedKind = "beyond_dates"
        if key in behind:
            kind = "behind"
        elif work.in_one_go[i] or work.helper[i]:
            kind = "no_session"
        found[key] = UnplannedTask(key=key, kind=kind)
    return tuple(found[task.key] for task in build.tasks if task.key in found)
