"""The kept order: what the Order page says of it, and how a build gets or loses one."""

from dataclasses import dataclass, replace

from webapp.build.build_input import BuildInput
from webapp.build.edited import Edited
from webapp.pages.frame.context import PageContext
from webapp.pages.words import amounts as words
from webapp.pages.words.how import How
from webapp.pages.words.how_moves import order_how
from webapp.pages.words.moves import gain_words
from webapp.pages.words.the_end import the_end
from webapp.planning.chances.moves import Move
from webapp.services.changes import Edit


def follow(order: tuple[str, ...]) -> Edit[None]:
    """The edit that keeps an order from now on; () goes back to the house rules."""

    def edit(build: BuildInput) -> Edited[None]:
        keys = {task.key for task in build.tasks}
        kept = tuple(key for key in order if key in keys)
        kept_on = build.now.date() if kept else None
        return Edited(build=replace(build, kept_order=kept, kept_on=kept_on), made=None)

    return edit


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptView:
    """The kept order that the page follows."""

    since: str
    against_house: str
    fell_out: str
    set_in: str
    again: str
    how: How | None


def kept_view(page: PageContext) -> KeptView | None:
    """What the page says of its kept order; None where the house rules hold."""
    order, plan = page.build.kept_order, page.plan
    if not order or plan is None:
        return None
    known = set(order)
    names = {task.key: task.name for task in page.build.tasks}
    still_open = {task.key for task in page.build.tasks if task.is_open}
    fell_out = [names[key] for key in order if key in names and key not in still_open]
    set_in = [names[key] for key in names if key in still_open and key not in known]
    gain = page.planned.move_of_kept_order()
    against, again = against_words(gain.value), ""
    if not gain.ready:
        against = "What it gains is being worked out."
    if gain.value is not None and gain.value.days > 0:
        again = f"The house rules bring {the_end()} earlier now: let go of it, or tighten again."
    if not again and set_in:
        again = "Tightening again may gain something: the tasks set in stand by the house rules."
    since = words.day(page.build.kept_on, today=page.today) if page.build.kept_on else ""
    return KeptView(
        since=since,
        against_house=against,
        fell_out=_some(fell_out),
        set_in=_some(set_in),
        again=again,
        how=order_how("The kept order against the house rules", gain.value) if gain.value else None,
    )


def against_words(move: Move | None) -> str:
    """What the kept order does against the house rules; `move` from them to it."""
    if move is None:
        return ""
    if words.number(abs(move.days), 1) == "0":
        return f"It brings {the_end()} no earlier and no later than the house rules do."
    days = gain_words(move.days, move.error_days)
    side = "later" if move.days > 0 else "earlier"
    return f"It brings {the_end()} {days} {side} than the house rules do."


MOST_NAMED = 6


def _some(names: list[str]) -> str:
    """The first few names, and how many more."""
    if len(names) > MOST_NAMED:
        more = f"{len(names) - MOST_NAMED} more"
        return words.listed([*names[:MOST_NAMED], more])
    return words.listed(names)
