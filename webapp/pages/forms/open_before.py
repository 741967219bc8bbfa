"""What hangs on a task at its ends, by name: what is asked before it is finished or set aside."""

import datetime as dt
from dataclasses import replace

from webapp.build.build_input import BuildInput, Task
from webapp.build.by_key import find_by_key, get_by_key, replaced_by_key
from webapp.build.circuit_dependencies import as_planned
from webapp.pages.words.names import named
from webapp.pages.words.steps import not_ticked_words
from webapp.planning.network.standing import standing_in_the_way


def open_before_words(build: BuildInput, key: str) -> str:
    """What comes before a task and is not finished, in a sentence; "" where nothing is."""
    links = as_planned(build).dependencies
    befores = [link.before for link in links if link.after == key]
    tasks = [task for each in befores if (task := find_by_key(build.tasks, each)) is not None]
    names = [task.name for task in tasks if task.finished_on is None]
    if not names:
        return ""
    comes = "comes before it and is" if len(names) == 1 else "come before it and are"
    return f"{named(names)} {comes} not finished. Is it finished all the same?"


def undecided_words(build: BuildInput, key: str) -> str:
    """Which undecided wishes were to come before a task, in a sentence; "" where none was."""
    names = [
        wish.text.partition("\n")[0]
        for wish in build.wishes
        if wish.decision is None and wish.before == key
    ]
    if not names:
        return ""
    if len(names) == 1:
        return f"{named(names)} is a wish to come before it, not decided yet: it will not any more."
    return f"{named(names)} are wishes to come before it, not decided yet: they will not any more."


def unfinished_words(build: BuildInput, task: Task) -> str:
    """What is asked before a task is finished: open steps, wishes and work before it."""
    steps, before = not_ticked_words(task.steps), open_before_words(build, task.key)
    said = [one for one in (steps, undecided_words(build, task.key)) if one]
    if not said:
        return before
    return " ".join((*said, before or "Is it finished all the same?"))


def waiting_words(build: BuildInput, task: Task) -> str:
    """Which tasks wait for a task for as long as it is set aside, and which wishes will not."""
    undecided = undecided_words(build, task.key)
    return " ".join(one for one in (undecided, _waiting_tasks(build, task)) if one)


def _waiting_tasks(build: BuildInput, task: Task) -> str:
    aside = set_aside(build, task.key, build.now.date())
    before, after = (standing_in_the_way(as_planned(each)) for each in (build, aside))
    tasks = {each.key: each for each in build.tasks}
    waiting = [tasks[key].name for key in after if key not in before]
    if not waiting:
        return "No other task waits for it."
    return f"{named(waiting)} {'waits' if len(waiting) == 1 else 'wait'} until it is done."


def set_aside(build: BuildInput, key: str, on: dt.date) -> BuildInput:
    """The build with a task set aside on a date, and off the bench."""
    task = replace(get_by_key(build.tasks, key), set_aside_on=on, finished_on=None)
    on_bench = build.on_bench
    if on_bench is not None and on_bench.task == key:
        on_bench = None
    return replace(build, tasks=replaced_by_key(build.tasks, task), on_bench=on_bench)
