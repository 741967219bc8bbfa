"""What setting a task aside does, said before it is done: the move of first start."""

from dataclasses import replace

from webapp.build.build_input import BuildInput
from webapp.build.by_key import get_by_key, replaced_by_key
from webapp.pages.forms.open_before import set_aside
from webapp.pages.frame.context import PageContext
from webapp.pages.words import amounts as words
from webapp.pages.words.moves import move_words
from webapp.pages.words.the_end import capital_end
from webapp.services.moves_since import move_since


def aside_words(page: PageContext, stopped: BuildInput, key: str) -> str:
    """What setting a task aside does to first start, beside stopping it with the same hours."""
    today = page.today
    goes_on = replace(get_by_key(stopped.tasks, key), set_aside_on=None)
    kept = page.planned.as_it_was(replace(stopped, tasks=replaced_by_key(stopped.tasks, goes_on)))
    aside = page.planned.as_it_was(set_aside(stopped, key, today))
    plans = kept.plan(), aside.plan()
    was, at = (plan.first_start_at if plan else None for plan in plans)
    if was is None:
        return f"{capital_end()} has no date yet."
    if at is None:
        return (
            f"{capital_end()} is likely {words.day(was, today=today)}; with this set aside it has"
            " no date until the task is begun again."
        )
    moved = move_since(kept, aside).move
    if moved is None:
        return ""
    said = move_words(moved, was, at, None, today=today)
    return said.replace(f"{capital_end()} moves", f"{capital_end()} would move", 1)
