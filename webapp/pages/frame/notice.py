"""What the page after a change says it did to first start."""

from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.pages import addresses
from webapp.pages.frame.context import PageContext
from webapp.pages.words.how import How
from webapp.pages.words.how_moves import move_how
from webapp.pages.words.moves import date_found_words, date_lost_words, move_words
from webapp.services.program import Services

SAVED = "Saved. "


@dataclass(frozen=True, slots=True, kw_only=True)
class Notice:
    """The sentence, "" for none, and how its move was worked out.

    `again` is where it is asked for while it is worked out.
    """

    text: str = ""
    again: str = ""
    how: How | None = None


NO_NOTICE = Notice()


def notice_of(services: Services, page: PageContext, since: str) -> Notice:
    """The sentence about the change since revision `since`, worked out from what was kept."""
    if not since.isascii() or not since.isdecimal() or len(since) > 12:
        return NO_NOTICE
    before = services.befores.get((page.slug, int(since)))
    return NO_NOTICE if before is None else _moved(page, before, int(since))


def _moved(page: PageContext, before: BuildInput, since: int) -> Notice:
    earlier = page.planned.as_it_was(before)
    plan = earlier.plan()
    was = plan.first_start_at if plan else None
    at = page.plan.first_start_at if page.plan else None
    if at is None:
        return Notice(text=SAVED + date_lost_words(was, today=page.today))
    figures = page.figures
    firm = figures.forecast.at(page.build.confidence) if figures else None
    if was is None:
        return Notice(text=SAVED + date_found_words(at, firm, today=page.today))
    moved = page.planned.move_since(earlier)
    if moved.move is None:
        return Notice(text=SAVED + date_found_words(at, firm, today=page.today))
    is_whole = moved.is_refined and page.forecast.ready
    return Notice(
        text=SAVED + move_words(moved.move, was, at, firm, today=page.today),
        again="" if is_whole else addresses.notice(page.slug, since),
        how=move_how(moved.move),
    )
