"""Faults of the steps of a task, and of its torques and sizes."""

from collections import Counter
from collections.abc import Hashable, Iterator
from dataclasses import replace
from typing import TypeVar

from webapp.build.build_input import MEASURE_KINDS, Fault, Task
from webapp.build.checks.fault_words import Thing, shown
from webapp.build.limits import MOST_MEASURES_OF_A_TASK, MOST_STEPS_OF_A_TASK

Name = TypeVar("Name", bound=Hashable)


def step_faults(thing: Thing, task: Task) -> Iterator[Fault]:
    """Steps that say nothing, can not be shown, stand there twice, or are too many."""
    if not task.steps:
        return
    remedy = "Leave some out, or make two tasks of it."
    yield from thing.count_faults("steps", "steps", task.steps, MOST_STEPS_OF_A_TASK, remedy)
    for number, step in enumerate(task.steps, start=1):
        if not step.text.strip():
            yield thing.fault("steps", f"its step {number} says nothing. Word it, or take it out.")
        else:
            yield from _of(thing, f"step {number}").text_faults("steps", step.text)
    for text in _twice(step.text.strip() for step in task.steps):
        yield thing.fault(
            "steps",
            f"the step “{shown(text)}” stands there twice. Word one of the two otherwise, or take "
            "it out.",
        )


def measure_faults(thing: Thing, task: Task) -> Iterator[Fault]:
    """Torques and sizes without a name or value, that can not be shown, twice, or too many."""
    if not task.measures:
        return
    yield from thing.count_faults(
        "measures", "torques and sizes", task.measures, MOST_MEASURES_OF_A_TASK
    )
    for number, measure in enumerate(task.measures, start=1):
        called = f"{measure.kind} {shown(measure.name.strip()) or number}"
        if measure.kind not in MEASURE_KINDS:
            yield thing.fault(
                "measures", f"{called}: it is neither a torque nor a size. Pick one of the two."
            )
        if not measure.name.strip():
            yield thing.fault(
                "measures",
                f"its {called} does not say what it is of. Enter what, or take it out.",
            )
        if not measure.value.strip():
            yield thing.fault("measures", f"its {called} has no value. Enter it, with its unit.")
        for text in (measure.name, measure.value):
            yield from _of(thing, called).text_faults("measures", text)
    for kind, name in _twice((each.kind, each.name.strip()) for each in task.measures):
        if name:
            yield thing.fault(
                "measures",
                f"the {kind} of “{shown(name)}” stands there twice. Take one of the two out, or "
                "say what each is of.",
            )


def _of(thing: Thing, called: str) -> Thing:
    """What a fault of one step calls it: the task and the step."""
    return replace(thing, name=f"{thing.name}, {called}" if thing.name.strip() else called)


def _twice(names: Iterator[Name]) -> list[Name]:
    return [name for name, times in Counter(names).items() if times > 1 and name]
