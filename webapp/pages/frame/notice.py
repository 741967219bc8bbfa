"""What the page after a change says it did to first start."""

from dataclasses import dataclass, replace

from webapp.build.build_input import BuildInput
from webapp.build.for_planning import are_planned_alike
from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.frame.since import Since
from webapp.pages.words.how import How
from webapp.pages.words.how_moves import move_how
from webapp.pages.words.moves import date_found_words, date_lost_words, move_words
from webapp.services.moves_since import move_since
from webapp.services.program import Services

SAVED = "Saved. "
TAKEN_BACK = "Taken back. "
NOT_PLANNED = "No date hangs on it."
UNCHANGED = "Nothing was changed: it stands as it did."
SENT_TWICE = "Stored already: the same was sent before, and nothing was stored twice."


@dataclass(frozen=True, slots=True, kw_only=True)
class Undo:
    """What the button of a notice takes back: the changes from one revision to another.

    `back` is the address of the page that is shown afterwards: the one it stands on.
    """

    first: int
    last: int
    back: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Notice:
    """The sentence, "" for none, and how its move was worked out.

    `again` is where it is asked for while it is worked out; `undo` what can be taken back.
    """

    text: str = ""
    again: str = ""
    how: How | None = None
    undo: Undo | None = None
    journal: str = ""


NO_NOTICE = Notice()


def notice_of(services: Services, page: PageContext, since: str, back: str) -> Notice:
    """The sentence about the change that `since` names, worked out from what was kept.

    `back` is the address of the page that says it, where Undo leads back to.
    """
    which = Since.read(since)
    before = services.befores.get((page.slug, which.before)) if which else None
    if which is None or before is None:
        return NO_NOTICE
    if which.after == which.before:
        return Notice(text=UNCHANGED)
    told = (
        Notice(text=SENT_TWICE) if which.is_again else _moved(services, page, before, which, back)
    )
    undo = Undo(first=which.before + 1, last=which.after, back=back)
    return replace(told, undo=undo, journal=addresses.journal(page.slug))


def _moved(
    services: Services, page: PageContext, before: BuildInput, which: Since, back: str
) -> Notice:
    done = TAKEN_BACK if which.is_undo else SAVED
    if are_planned_alike(before, page.build):
        return Notice(text=done + NOT_PLANNED)
    at_hand = services.plans.at_hand(page.slug, which.before)
    earlier = page.planned.as_it_was(before, at_hand)
    plan = earlier.plan()
    was = plan.first_start_at if plan else None
    at = page.plan.first_start_at if page.plan else None
    if at is None:
        return Notice(text=done + date_lost_words(was, today=page.today))
    figures = page.figures
    firm = figures.forecast.at(page.build.confidence) if figures else None
    if was is None:
        return Notice(text=done + date_found_words(at, firm, today=page.today))
    moved = move_since(earlier, page.planned)
    if moved.move is None:
        return Notice(text=done + date_found_words(at, firm, today=page.today))
    is_whole = moved.is_refined and page.forecast.ready
    return Notice(
        text=done + move_words(moved.move, was, at, firm, today=page.today),
        again="" if is_whole else addresses.notice(page.slug, str(which), back),
        how=move_how(moved.move),
    )
