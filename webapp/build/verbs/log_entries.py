"""Writing hours into the log, correcting them and taking them out: what each does to a build."""

from dataclasses import replace

from webapp.build.build_input import BuildInput, LogEntry, Task
from webapp.build.by_key import get_by_key, replaced_by_key
from webapp.build.hours_to_go import hours_left_after
from webapp.build.moments import date_of


def with_log_entry(
    build: BuildInput, entry: LogEntry, *, place: int | None = None, opens_again: bool = False
) -> BuildInput:
    """The build with one more entry, or with the one at a place of the log corrected.

    The task is begun by that day and has the hours left that were said. A finished task stays
    so unless the entry `opens_again` what is left of it. KeyError without the entry's task.
    """
    log = list(build.log)
    if place is None:
        log.append(entry)
    else:
        log[place] = entry
    task = _after_entry(build, entry, place, opens_again=opens_again)
    return replace(build, log=tuple(log), tasks=replaced_by_key(build.tasks, task))


def without_log_entry(build: BuildInput, place: int) -> BuildInput:
    """The build without the entry at a place of the log. Hours left stay as they were said."""
    return replace(build, log=(*build.log[:place], *build.log[place + 1 :]))


def _after_entry(
    build: BuildInput, entry: LogEntry, place: int | None, *, opens_again: bool
) -> Task:
    task = get_by_key(build.tasks, entry.task)
    if task.begun_on is None or date_of(task.begun_on) > entry.on:
        task = replace(task, begun_on=entry.on)
    if task.finished_on is not None:
        if opens_again:
            return replace(task, finished_on=None, hours_left=entry.left)
        return task
    if entry.left is not None:
        later = any(
            other.task == task.key and other.on > entry.on
            for i, other in enumerate(build.log)
            if i != place
        )
        # What was said of it on a later day counts for today.
        return task if later else replace(task, hours_left=entry.left)
    if place is None and task.hours_left is not None:
        return replace(task, hours_left=hours_left_after(task.hours_left, entry.hours))
    return task
