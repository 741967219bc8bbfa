"""Ticking a step of a task."""

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
