"""Which tasks can be begun this moment, from whatever page, and what the button says."""

from webapp.build.build_input import Task
from webapp.build.verbs.work import needs_hands
from webapp.pages.frame.context import PageContext
from webapp.planning.network.held_now import held_now


def begin_words(task: Task) -> str:
    """What the begin button says."""
    if task.outside_days is not None:
        return "Sent out"
    if not needs_hands(task):
        return "Set it running"
    return "Go on" if task.begun_on is not None else "Begin"


def can_begin(page: PageContext) -> dict[str, str]:
    """By key of each task that can be begun what its button says; none while faults stand.

    What is on the bench, sent out or set running already is not begun once more.
    """
    if page.faults:
        return {}
    held = held_now(page.planned.linked)
    on_bench = page.clock.task if page.clock else None
    return {
        task.key: begin_words(task)
        for task in page.build.tasks
        if task.is_open
        and task.key not in held
        and task.key != on_bench
        and (task.begun_on is None or needs_hands(task))
    }
