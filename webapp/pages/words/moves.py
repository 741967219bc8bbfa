"""Moves of first start in words: the same sentence wherever one is told."""

import datetime as dt

from webapp.build.moments import date_of
from webapp.build.wish import WayFigures
from webapp.pages.words import amounts as words
from webapp.pages.words.the_end import capital_end
from webapp.planning.chances.moves import ABOUT_FROM_DAYS, Move

REORDERS = "the order of work changes: tighten"
STEPS = "Dates step from one open day to the next."
NO_CHANGE = "no change"


def cost_words(days: float | None, error_days: float | None = None) -> str:
    """What added work costs: "+2.1 days", "about +7 days", "no change"; never below zero."""
    if days is None:
        return ""
    return with_about(words.days_move(max(0.0, days)), error_days)


def cost_of_task_words(move: Move) -> str:
    """What a task costs, in days: "2.1", "about 7"; 0 where it would even win time."""
    return with_about(words.number(move.added_days, 1), move.error_days)


def gain_words(days: float, error_days: float) -> str:
    """What something wins: "2.1 days", "about 7 days"."""
    return with_about(words.days(abs(days)), error_days)


def way_words(figures: WayFigures) -> str:
    """The move of one way of a wish."""
    return cost_words(figures.move_days, figures.move_error_days)


def with_about(text: str, error_days: float | None) -> str:
    """The text, behind "about" where its standard error is above a tenth of a day."""
    about = error_days is not None and error_days > ABOUT_FROM_DAYS and text != NO_CHANGE
    return f"about {text}" if about else text


def way_note(figures: WayFigures) -> str:
    """What stands below the move of a way: how often it moves first start, or what else it does."""
    if figures.move_days is None or figures.moved_share is None:
        return ""
    if figures.move_days < 0:
        return REORDERS
    return draws_moved(figures.moved_share) if figures.move_days > 0 else ""


def draws_moved(share: float) -> str:
    """How often first start moves: "in 8 of 10 draws"."""
    return f"in {tenths(share)} draws"


def tenths(share: float) -> str:
    """A share of the draws: "9 of 10", "<1 of 10", "0 of 10"."""
    number = round(share * 10)
    return f"{number} of 10" if number or share <= 0 else "<1 of 10"


def stands_words(likely: dt.date, firm: dt.date | None, *, today: dt.date) -> str:
    """Where first start stands: "likely Thu 3 June, firm Sat 12 June"."""
    said = f"likely {words.day(likely, today=today)}"
    return f"{said}, firm {words.day(firm, today=today)}" if firm is not None else said


def move_words(
    move: Move, was: dt.date | None, likely: dt.date, firm: dt.date | None, *, today: dt.date
) -> str:
    """What a change did to first start, and where it stands now.

    `was` is the likely date before the change.
    """
    stands = stands_words(likely, firm, today=today)
    told = words.number(abs(move.days), 1)
    if told == "0":
        said = f"{capital_end()} does not move: {stands}."
    else:
        side = "later" if move.days > 0 else "earlier"
        days = with_about(words.days(abs(move.days)), move.error_days)
        said = f"{capital_end()} moves {days} {side}: now {stands}."
    if was is not None:
        stepped = (date_of(likely) - date_of(was)).days
        if abs(stepped - move.days) >= 1:
            said += f" It was likely {words.day(was, today=today)}: {STEPS[0].lower()}{STEPS[1:]}"
    return said


def date_lost_words(was: dt.date | None, *, today: dt.date) -> str:
    """That first start has no date any more, or still none."""
    if was is None:
        return f"{capital_end()} has no date yet."
    return (
        f"{capital_end()} was likely {words.day(was, today=today)}; now it can not be planned."
        " What stands in the way is on the Order page."
    )


def date_found_words(likely: dt.date, firm: dt.date | None, *, today: dt.date) -> str:
    """That first start has a date now."""
    return f"{capital_end()} can be planned now: {stands_words(likely, firm, today=today)}."
