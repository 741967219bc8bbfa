"""Dropping several tasks at once: what hangs on each is named before it is asked."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from webapp.build.build_input import BuildInput, Task
from webapp.build.by_key import find_by_key
from webapp.build.edited import Edited
from webapp.build.verbs.task_links import without_tasks
from webapp.pages.forms.asking import GoesWith, is_as_asked
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.tasks.removing import goes_with_task
from webapp.pages.words import amounts as words
from webapp.pages.words.quoted import shown
from webapp.pages.words.the_end import the_end

NAMED = 3
"""So many of what hangs on a task are named, the rest is counted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToDrop:
    """A task to be dropped, and what hangs on it as sentences; `stays` says why it can not go."""

    key: str
    name: str
    hangs: tuple[str, ...] = ()
    stays: str = ""


def to_drop(build: BuildInput, keys: Sequence[str]) -> tuple[ToDrop, ...]:
    """The tasks of these keys that are there, each with what hangs on it besides the others."""
    found = [task for key in dict.fromkeys(keys) if (task := find_by_key(build.tasks, key))]
    gone = frozenset(task.key for task in found)
    return tuple(
        ToDrop(
            key=task.key,
            name=task.name,
            hangs=_hangs_on(build, task, gone),
            stays=_why_it_stays(build, task),
        )
        for task in found
    )


def _why_it_stays(build: BuildInput, task: Task) -> str:
    if task.key == build.first_start:
        return (
            f"The plan ends there. Name another task as {the_end()} in the Shop, under The build,"
            " to drop it."
        )
    if build.on_bench is not None and build.on_bench.task == task.key:
        return "It is on the bench. Stop it there first."
    return ""


def _hangs_on(build: BuildInput, task: Task, gone: frozenset[str]) -> tuple[str, ...]:
    names = {each.key: each.name for each in build.tasks}
    after = [
        names.get(link.after, link.after)
        for link in build.dependencies
        if link.before == task.key and link.after not in gone
    ]
    parts = [part.name for part in build.parts if part.serves and set(part.serves) <= gone]
    own_parts = [
        part.name for part in build.parts if task.key in part.serves and part.name in parts
    ]
    logged = sum(entry.bench_hours for entry in build.log if entry.task == task.key)
    wish = find_by_key(build.wishes, task.wish)
    said = []
    if after:
        said.append(f"Comes before {_some(after)}.")
    if own_parts:
        said.append(f"Without a task then: {_some(own_parts)}.")
    if logged:
        said.append(f"{words.hours(logged)} logged on it go with it.")
    if wish is not None:
        said.append(f"Came from the wish “{shown(wish.text)}”.")
    return tuple(said)


def _some(names: Sequence[str]) -> str:
    named = [f"“{shown(name)}”" for name in names[:NAMED]]
    more = len(names) - len(named)
    return words.listed([*named, f"{more} more"] if more else named)


def going_with(build: BuildInput, keys: Sequence[str]) -> tuple[GoesWith, ...]:
    """All that goes with the tasks of these keys, told with the name of its task."""
    found = (task for key in keys if (task := find_by_key(build.tasks, key)))
    return tuple(
        replace(one, name=f"{task.key}/{one.name}", now=f"“{shown(task.name)}”: {one.now}")
        for task in found
        for one in goes_with_task(build, task)
    )


def drop_tasks(form: TypedForm, build: BuildInput) -> Edited[int]:
    """The edit that takes out the tasks named in the form; how many there were."""
    tasks = to_drop(build, form.chosen("task"))
    for task in tasks:
        if task.stays:
            form.fault("", f"“{shown(task.name)}” stays. {task.stays}")
    keys = tuple(task.key for task in tasks if not task.stays)
    if not keys:
        form.fault("", "No task is left to drop. Tick those that are to go.")
    if not form.faults:
        is_as_asked(form, going_with(build, keys))
    keep_order = form.ticked("keep_order")
    return Edited(build=without_tasks(build, keys, keep_order=keep_order), made=len(keys))
