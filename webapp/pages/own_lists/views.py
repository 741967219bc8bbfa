"""The pages of starter lists of one's own in strings."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from webapp.build.build_input import BuildInput, Task
from webapp.pages.words import amounts as words
from webapp.pages.words import own_lists as said
from webapp.storage.own_lists import OwnListHeading


@dataclass(frozen=True, slots=True, kw_only=True)
class ListLine:
    """One list among others."""

    key: str
    name: str
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskLine:
    """A task of a list: its hours, and where they are from."""

    name: str
    hours: str
    where_from: str


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupLine:
    """The tasks of one subsystem."""

    name: str
    count: str
    tasks: tuple[TaskLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ListView:
    """What a list holds. `made_of` counts its tasks, `beside` what stands in it beside them."""

    made_of: str
    beside: str
    groups: tuple[GroupLine, ...]


def list_lines(
    headings: Iterable[OwnListHeading], *, today: dt.date, taken_out: bool = False
) -> tuple[ListLine, ...]:
    """The lists that are offered, or those that were taken out."""
    return tuple(
        ListLine(
            key=each.key,
            name=each.name,
            note=said.note_words(
                each.tasks, each.taken, on=each.made_at.astimezone().date(), today=today
            ),
        )
        for each in headings
        if (each.taken_out_at is not None) == taken_out
    )


def list_view(made: BuildInput) -> ListView:
    """A list as its page, and the page that offers to make it, show it."""
    names = {one.key: one.name for one in made.subsystems}
    groups: dict[str, list[Task]] = {}
    for task in made.tasks:
        groups.setdefault(names.get(task.subsystem or "", "no subsystem"), []).append(task)
    plumbing = made.plumbing
    beside = (
        (made.dependencies, "dependency", "dependencies"),
        (made.parts, "part", "parts"),
        (plumbing.circuits, "circuit", "circuits"),
        (plumbing.runs, "run", "runs"),
        (made.start.own_checks, "check of your own", "checks of your own"),
    )
    return ListView(
        made_of=said.made_of(len(made.tasks), sum(task.hours_taken for task in made.tasks)),
        beside=words.listed([words.count(len(of), one, many) for of, one, many in beside if of]),
        groups=tuple(
            GroupLine(
                name=name,
                count=words.count(len(tasks), "task"),
                tasks=tuple(_task_line(task) for task in tasks),
            )
            for name, tasks in groups.items()
        ),
    )


def _task_line(task: Task) -> TaskLine:
    if task.outside_days is not None:
        hours = f"{words.days(task.outside_days)} away"
    else:
        points = (task.hours.optimistic, task.hours.most_likely, task.hours.pessimistic)
        low, likely, high = (words.hours(each) for each in points)
        hours = likely if low == high else f"{likely} likely, {low} to {high}"
    return TaskLine(name=task.name, hours=hours, where_from=said.from_where(task))
