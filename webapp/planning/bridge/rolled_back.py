"""A build as it stood on the morning of an earlier date, as far as its own facts tell.

A record keeps when work was begun and finished, what was worked and when a wish was accepted; so
what was done and what was not is known of any morning. What the estimates were then is not: a
replay in which everything goes as it went asks for none of them.
"""

import datetime as dt
from collections import defaultdict
from dataclasses import replace

from webapp.build.build_input import BuildInput, LogEntry, Part, Task
from webapp.build.due_days import said_day
from webapp.build.hours_to_go import hours_to_go_of
from webapp.build.moments import moment_at_start
from webapp.build.setups_out import SetupKeys
from webapp.build.time.promised_days import PromisedDays
from webapp.build.time_units import DAY
from webapp.planning.bridge.getting_out import setups_left_out
from webapp.planning.bridge.worked import NO_HOURS, worked_by
from webapp.planning.network.outside_holds import finished_at


def rolled_back(build: BuildInput, day: dt.date) -> BuildInput:
    """The build on the morning of a date; wishes accepted on that date or since are not in it."""
    since = moment_at_start(day)
    undecided = {w.key for w in build.wishes if w.decision and w.decision.decided_on >= day}
    kept = [task for task in build.tasks if task.wish not in undecided]
    keys = {task.key for task in kept}
    tasks = {task.key: _task_then(build, task, since) for task in kept}
    log = tuple(entry for entry in build.log if entry.on < day and entry.task in keys)
    out = setups_left_out(worked_by(log), tasks, _first_out(build), build.shop.people)
    return replace(
        build,
        now=since,
        shop=replace(build.shop, setups_out=out),
        tasks=tuple(tasks.values()),
        dependencies=tuple(d for d in build.dependencies if {d.before, d.after} <= keys),
        parts=tuple(
            _part_then(part, keys, day)
            for part in build.parts
            # What only the work of a wish waits for was ordered with it.
            if not part.serves or keys & set(part.serves)
        ),
        log=log,
        on_bench=None,
    )


def _first_out(build: BuildInput) -> SetupKeys:
    """The setups that were out before anything was logged: the first used that nobody got out."""
    setups = {task.key: task.setup for task in build.tasks if task.setup is not None}
    first: dict[str, LogEntry] = {}
    for entry in build.log:
        setup = setups.get(entry.task)
        if setup is not None:
            first.setdefault(setup, entry)
    if not first:
        return build.shop.setups_out
    used = list(first.items())[: build.shop.people]
    return tuple(setup for setup, entry in used if entry.setup_hours <= NO_HOURS)


def _task_then(build: BuildInput, task: Task, since: dt.datetime) -> Task:
    if task.finished_on is not None and finished_at(build, task) <= since:
        return task
    begun = task.begun_on is not None and moment_at_start(task.begun_on) < since
    begun_on = task.begun_on if begun else None
    left = _hours_still_run(build, task, since) if begun and not task.people else None
    return replace(task, begun_on=begun_on, finished_on=None, hours_left=left)


def _hours_still_run(build: BuildInput, task: Task, since: dt.datetime) -> float:
    """Hours that work without hands, which nobody logs, still ran while the shop was open."""
    until = build.now if task.finished_on is None else finished_at(build, task)
    promised = PromisedDays(build)
    dates = (since.date() + DAY * i for i in range((until.date() - since.date()).days + 1))
    ran = sum(promised.hours(day, since=since, until=until) for day in dates)
    left = hours_to_go_of(build, task) if task.is_open else 0.0
    return min(task.hours.expected, ran + left)


def _part_then(part: Part, keys: set[str], day: dt.date) -> Part:
    """A part that is here came on the day it was said for; without one it was always here."""
    said = said_day(part)
    came_since = said is not None and moment_at_start(said) > moment_at_start(day)
    serves = tuple(key for key in part.serves if key in keys)
    return replace(part, serves=serves, arrived=part.arrived and not came_since)


def ended_where_it_was_left(build: BuildInput) -> BuildInput:
    """The build with work that was set aside half done as finished: its hours were worked."""
    worked: dict[str, list[dt.date]] = defaultdict(list)
    for entry in build.log:
        worked[entry.task].append(entry.on)
    tasks = tuple(
        replace(
            task,
            finished_on=min(moment_at_start(max(worked[task.key]) + DAY), build.now),
            set_aside_on=None,
        )
        if task.set_aside_on is not None and task.finished_on is None and worked[task.key]
        else task
        for task in build.tasks
    )
    return replace(build, tasks=tasks, on_bench=None)
