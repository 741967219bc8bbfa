"""The kept order in words: what it does against the house rules, and whether it has aged."""

from webapp.pages.words import amounts as words
from webapp.pages.words.moves import gain_words
from webapp.pages.words.the_end import the_end
from webapp.planning.chances.moves import Move

SETUP_FIRST = "In it, what needs the setup that is out goes before the rest."
GAIN_COMES = "What it gains is being worked out."
MEASURE_COMES = "Whether searching again would win anything is being worked out."


def against_house_words(move: Move | None) -> str:
    """What the kept order does against the house rules; `move` from them to it."""
    if move is None:
        return ""
    if words.number(abs(move.days), 1) == "0":
        return f"It brings {the_end()} no earlier and no later than the house rules do."
    days = gain_words(move.days, move.error_days)
    side = "later" if move.days > 0 else "earlier"
    return f"It brings {the_end()} {days} {side} than the house rules do."


def let_go_words(move: Move | None) -> str:
    """That the house rules are better by now, "" where they are not; `move` from them to it."""
    if move is None or move.days <= 0 or words.number(move.days, 1) == "0":
        return ""
    days = gain_words(move.days, move.error_days)
    return f"The order has aged: letting go of it wins {days}."


def would_win_words(move: Move | None) -> str:
    """What searching again would win, "" for nothing; `move` from the kept order to that found."""
    if move is None or move.days >= 0 or words.number(-move.days, 1) == "0":
        return ""
    return f"Searching again would win {gain_words(move.days, move.error_days)}."
