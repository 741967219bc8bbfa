"""Ticking a step of a task, and moving it among the others."""

from dataclasses import replace

from webapp.build.build_input import BuildInput
from webapp.build.by_key import get_by_key, replaced_by_key


def with_step_ticked(build: BuildInput, key: str, text: str, *, done: bool) -> BuildInput:
    """The build with a step of a task ticked, or not ticked any more.

    The step is told by its text; a task without that step stays as it is. KeyError without such
    a task.
    """
    task = get_by_key(build.tasks, key)
    steps = tuple(replace(step, done=done) if step.text == text else step for step in task.steps)
    if steps == task.steps:
        return build
    return replace(build, tasks=replaced_by_key(build.tasks, replace(task, steps=steps)))


def with_step_moved(build: BuildInput, key: str, text: str, *, down: bool) -> BuildInput:
    """The build with a step having changed places with the one above it, or below it.

    The step is told by its text; a task without it, or where there is no such place, stays as it
    is. KeyError without such a task.
    """
    task = get_by_key(build.tasks, key)
    at = next((place for place, step in enumerate(task.steps) if step.text == text), -1)
    to = at + (1 if down else -1)
    if at < 0 or not 0 <= to < len(task.steps):
        return build
    steps = list(task.steps)
    steps[at], steps[to] = steps[to], steps[at]
    return replace(build, tasks=replaced_by_key(build.tasks, replace(task, steps=tuple(steps))))
