"""How many job cards go on two sheets of A4: a height for each, reckoned rather too large.

The figures belong to the print rules of `static/cards.css`; `tests/browser/test_cards.py` counts
the pages that come out.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

Card = TypeVar("Card")

MOST_SHEETS = 2
SHEET_MM = 272.0
"""Of an A4 sheet with margins of 10 mm, less what rounding may take."""
HEAD_MM = 24.0
"""What stands above the cards on the first sheet."""
LINE_MM = 4.5
LINE_CHARACTERS = 92
"""So many characters at least stand on a line that is as wide as a card."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheets(Generic[Card]):
    """Cards sheet by sheet, and those that did not fit."""

    sheets: tuple[tuple[Card, ...], ...]
    left_out: tuple[Card, ...]


def text_mm(text: str, characters: int = LINE_CHARACTERS) -> float:
    """The height of a text that keeps its own line ends."""
    lines = sum(max(1, math.ceil(len(line) / characters)) for line in text.split("\n"))
    return lines * LINE_MM if text else 0.0


def on_sheets(cards: Sequence[tuple[Card, float]]) -> Sheets[Card]:
    """Cards with their heights in mm, in their order, on as many sheets as there may be.

    The first is always printed; one that is taller than a sheet has both to itself. From the
    first that does not fit on, all are left out: what is printed is what comes first.
    """
    sheets: list[list[Card]] = [[]]
    left, out = SHEET_MM - HEAD_MM, len(cards)
    for number, (card, height) in enumerate(cards):
        if height > left and number:
            if len(sheets) == MOST_SHEETS or height > SHEET_MM:
                out = number
                break
            sheets.append([])
            left = SHEET_MM
        sheets[-1].append(card)
        left -= height
        if left < 0:
            out = number + 1
            break
    return Sheets(sheets=tuple(map(tuple, sheets)), left_out=tuple(card for card, _ in cards[out:]))
