"""Beginning, stopping and finishing work: what each does to a build."""

import datetime as dt
from dataclasses import dataclass, replace
from typing import Literal

from webapp.build.build_input import BuildInput, LogEntry, RunningClock, Task
from webapp.build.by_key import get_by_key, replaced_by_key
from webapp.build.setups_out import out_after, out_with

Outcome = Literal["stopped", "finished", "set_aside"]
OUTCOMES: tuple[Outcome, ...] = ("stopped", "finished", "set_aside")


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """What became of the task on the bench."""

    outcome: Outcome
    worked_hours: float
    left_hours: float
    setup_hours: float = 0.0


def needs_hands(task: Task) -> bool:
    """Whether somebody has to stand there: not sent out, and not running by itself."""
    return task.outside_days is None and task.people > 0


def begun_build(build: BuildInput, key: str, *, now: dt.datetime) -> BuildInput:
    """The build after a task was begun: its setup is out, and its clock runs if it takes hands.

    A clock that runs for it already goes on. KeyError without such a task.
    """
    task = get_by_key(build.tasks, key)
    begun = replace(task, begun_on=task.begun_on or now, set_aside_on=None)
    shop = build.shop
    if task.setup is not None:
        in_use = {one.setup for one in build.tasks if one.is_open and one.begun_on and one.setup}
        out = out_with(shop.setups_out, task.setup, shop.people, in_use=in_use)
        shop = replace(shop, setups_out=out)
    clock = build.on_bench
    if needs_hands(task) and (clock is None or clock.task != key):
        gets_out = task.setup is not None and task.setup not in build.shop.setups_out
        clock = RunningClock(task=key, since=now, gets_out=gets_out)
    tasks = replaced_by_key(build.tasks, begun)
    return replace(build, shop=shop, tasks=tasks, on_bench=clock)


def stopped_build(
    build: BuildInput, key: str, stop: Stop, *, on: dt.date, now: dt.datetime
) -> BuildInput:
    """The build after work on a task was stopped; its hours go into the log on date `on`.

    Nothing is on the bench then. KeyError without such a task.
    """
    task, shop = get_by_key(build.tasks, key), build.shop
    stopped = _stopped(task, stop, on=on, now=now)
    if task.setup in shop.setups_out:
        shop = replace(shop, setups_out=out_after(shop.setups_out, (task.setup,), shop.people))
    entry = LogEntry(
        task=key,
        on=on,
        hours=stop.worked_hours,
        left=stop.left_hours,
        setup_hours=stop.setup_hours,
    )
    return replace(
        build,
        shop=shop,
        tasks=replaced_by_key(build.tasks, stopped),
        log=(*build.log, entry) if entry.bench_hours > 0 else build.log,
        on_bench=None,
    )


def finished_build(build: BuildInput, key: str, *, now: dt.datetime) -> BuildInput:
    """The build after work that needed no hands is done: back from outside, or run to its end.

    KeyError without such a task.
    """
    finished = replace(get_by_key(build.tasks, key), finished_on=now, hours_left=None)
    return replace(build, tasks=replaced_by_key(build.tasks, finished))


def _stopped(task: Task, stop: Stop, *, on: dt.date, now: dt.datetime) -> Task:
    begun = task.begun_on or min(dt.datetime.combine(on, dt.time()), now)
    match stop.outcome:
        case "finished":
            return replace(
                task, begun_on=begun, finished_on=now, set_aside_on=None, hours_left=None
            )
        case "set_aside":
            return replace(
                task, begun_on=begun, set_aside_on=now.date(), hours_left=stop.left_hours
            )
        case "stopped":
            return replace(task, begun_on=begun, hours_left=stop.left_hours)
