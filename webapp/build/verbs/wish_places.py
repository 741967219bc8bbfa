"""Where an undecided wish stands once the task beside it is finished or set aside."""

from dataclasses import replace

from webapp.build.build_input import BuildInput
from webapp.build.checks.wish_checks import wish_faults
from webapp.build.wish import Wish


def with_wishes_let_go(before: BuildInput, after: BuildInput) -> BuildInput:
    """The build after a change, undecided wishes let go of tasks that the change ended.

    A task that is done waits for no wish, and nothing begins after one that is set aside: work
    that is over is not refused because of an idea. What a wish names newly is left to the checks.
    """
    were_open = {task.key for task in before.tasks if task.is_open}
    ended = {task.key: task for task in after.tasks if task.key in were_open and not task.is_open}
    if not ended:
        return after
    aside = {key for key, task in ended.items() if task.finished_on is None}
    old = {wish.key: wish for wish in before.wishes}

    def let_go(wish: Wish) -> Wish:
        was = old.get(wish.key)
        if wish.decision is not None or was is None:
            return wish
        is_before = wish.before in ended and wish.before == was.before
        is_after = wish.after in aside and wish.after == was.after
        if not is_before and not is_after:
            return wish
        left = replace(
            wish,
            before=None if is_before else wish.before,
            after=None if is_after else wish.after,
        )
        # Before nothing it stands before first start, which the task it comes after may follow.
        return replace(left, after=None) if _has_no_place(after, left) else left

    wishes = tuple(let_go(wish) for wish in after.wishes)
    return after if wishes == after.wishes else replace(after, wishes=wishes)


def _has_no_place(build: BuildInput, wish: Wish) -> bool:
    alone = replace(build, wishes=(wish,))
    return any(
        fault.kind == "wish" and fault.field in ("after", "before") for fault in wish_faults(alone)
    )
