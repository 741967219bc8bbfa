"""Deciding a wish and taking the decision back: what each does to a build."""

from dataclasses import replace

from webapp.build.build_input import BuildInput
from webapp.build.by_key import get_by_key, replaced_by_key
from webapp.build.verbs.wish_tasks import with_wish
from webapp.build.wish import Wish, WishDecision


def accept(build: BuildInput, wish: Wish, decision: WishDecision) -> BuildInput:
    """The build with a wish decided: its tasks made, linked and marked, the decision kept."""
    decided = replace(wish, decision=decision)
    wishes = replaced_by_key(build.wishes, decided)
    return replace(with_wish(build, wish, decision.way), wishes=wishes)


def take_back(build: BuildInput, wish: Wish) -> BuildInput | None:
    """The build with a decision undone; None where a task of the wish is already begun."""
    tasks = {task.key for task in build.tasks if task.wish == wish.key}
    if any(is_begun(build, key) for key in tasks):
        return None
    undecided = replace(wish, decision=None)
    parts = (
        replace(part, serves=tuple(key for key in part.serves if key not in tasks))
        for part in build.parts
        if not (part.serves and set(part.serves) <= tasks)
    )
    return replace(
        build,
        tasks=tuple(task for task in build.tasks if task.key not in tasks),
        dependencies=tuple(
            d for d in build.dependencies if d.before not in tasks and d.after not in tasks
        ),
        parts=tuple(parts),
        wishes=replaced_by_key(build.wishes, undecided),
    )


def is_begun(build: BuildInput, key: str) -> bool:
    """Whether work on a task has begun, is done, or is in the log; KeyError without it."""
    task = get_by_key(build.tasks, key)
    logged = any(entry.task == key for entry in build.log)
    return logged or task.begun_on is not None or task.finished_on is not None
