"""What "it ran" does to the plan: first start is finished, and what comes after waits as tasks."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import replace

from webapp.build.build_input import BuildInput, Dependency, Task
from webapp.build.by_key import find_by_key, replaced_by_key
from webapp.build.three_point import ThreePoint
from webapp.first_start.check_list import Check, CheckList
from webapp.first_start.list_facts import facts_of
from webapp.first_start.own_list import list_of_build

AFTER_HOURS = ThreePoint(optimistic=0.25, most_likely=0.5, pessimistic=1.0)
"""Of a look round, a top-up, a torque wrench on what was hot: a guess, no source."""


def with_after_work(build: BuildInput, checks: CheckList, *, ran: dt.datetime) -> BuildInput:
    """The build whose first start is finished at `ran`, with the work after it on the Bench.

    Re-torque, levels and leaks wait until all is cold again; a task of the build that a check
    asks for stands for it.
    """
    moment = ran.replace(second=0, microsecond=0, tzinfo=None)
    end = find_by_key(build.tasks, build.first_start)
    if end is not None and end.finished_on is None:
        finished = replace(
            end,
            begun_on=end.begun_on or moment,
            finished_on=moment,
            set_aside_on=None,
            hours_left=None,
        )
        build = replace(build, tasks=replaced_by_key(build.tasks, finished))
        if build.on_bench is not None and build.on_bench.task == end.key:
            build = replace(build, on_bench=None)
    added = tuple(_tasks(build, checks))
    wait = float(checks.timings.cold_again_hours)
    links = tuple(
        Dependency(before=end.key, after=task.key, wait_hours=wait, why="cold again")
        for task in added
        if end is not None
    )
    return replace(build, tasks=(*build.tasks, *added), dependencies=(*build.dependencies, *links))


def _tasks(build: BuildInput, checks: CheckList) -> Iterator[Task]:
    there = {task.key for task in build.tasks}
    own = list_of_build(build, checks)
    for key in facts_of(checks).after_work:
        check = next(one for one in own.checks if one.key == key)
        if key in there or _is_asked_of_a_task(check, there):
            continue
        yield Task(
            key=key,
            name=check.text.rstrip("."),
            hours=AFTER_HOURS,
            caution=check.caution,
            notes=check.why,
            hours_guessed=True,
        )


def _is_asked_of_a_task(check: Check, there: set[str]) -> bool:
    return any(need.kind == "task" and need.key in there for need in check.needs)
