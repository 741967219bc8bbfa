"""What a person did to the tasks and parts of a starter list: why one is not taken out unasked."""

from dataclasses import dataclass, replace
from typing import Literal

from webapp.build.build_input import BuildInput, Part, Task
from webapp.build.starter.starter_list import StarterList

Why = Literal["worked", "here", "ordered", "serves", "edited", "tied"]
"""Worked on; a part that is here, or ordered, or serves a task that stays; edited; something of
the person's own hangs on it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Touched:
    """What keeps tasks and parts of a list in a build, by their keys.

    `worked` are tasks begun, finished, with a step ticked, in the log or on the bench. `tied` are
    tasks with links to tasks, parts or wishes of the person's own, or with photographs.
    """

    worked: frozenset[str]
    tied: frozenset[str]


def touched(build: BuildInput, starter: StarterList) -> Touched:
    """Looks a whole build over once."""
    listed = {each.key for each in starter.tasks}
    listed_parts = {each.key for each in starter.parts}
    worked = {
        task.key
        for task in build.tasks
        if task.begun_on is not None
        or task.finished_on is not None
        or task.hours_left is not None
        or any(step.done for step in task.steps)
    }
    worked |= {entry.task for entry in build.log}
    if build.on_bench is not None:
        worked.add(build.on_bench.task)
    tied: set[str] = set()
    for link in build.dependencies:
        if link.before not in listed or link.after not in listed:
            tied |= {link.before, link.after}
    for part in build.parts:
        if part.key not in listed_parts:
            tied |= set(part.serves)
    tied |= {each.task for each in build.photographs}
    for wish in build.wishes:
        tied |= {key for key in (wish.after, wish.before) if key is not None}
    return Touched(worked=frozenset(worked), tied=frozenset(tied & listed))


def why_task_stays(task: Task, listed: Task, found: Touched) -> Why | None:
    """Why a task that the answers drop is not taken out by itself; None: nothing keeps it."""
    if task.key in found.worked:
        return "worked"
    if task != _as_old_as(task, listed):
        return "edited"
    return "tied" if task.key in found.tied else None


def _as_old_as(task: Task, listed: Task) -> Task:
    """The task of the list as it went into a build before the lists had steps and measures."""
    return replace(
        listed,
        steps=listed.steps if task.steps else (),
        measures=listed.measures if task.measures else (),
    )


def why_part_stays(part: Part, listed: Part, staying: frozenset[str]) -> Why | None:
    """Likewise of a part; `staying` are the tasks that stay although the answers drop them."""
    if part.arrived:
        return "here"
    if part.ordered_on is not None:
        return "ordered"
    if staying.intersection(part.serves):
        return "serves"
    if replace(part, serves=()) != replace(listed, serves=()):
        return "edited"
    return None if set(part.serves) <= set(listed.serves) else "tied"
