"""The words that were looked for, marked in a text that is shown."""

from collections.abc import Sequence
from dataclasses import dataclass

from webapp.storage.full_text import folded

SHOWN_CHARACTERS = 160
BEFORE_CHARACTERS = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A stretch of a text; `marked` where it is one of the words."""

    text: str
    marked: bool = False


def marked(text: str, words: Sequence[str]) -> tuple[Piece, ...]:
    """The whole text in pieces."""
    plain, place = _folded_with_places(text)
    hit = [False] * len(text)
    for word in words:
        at = plain.find(word)
        while at >= 0:
            for i in range(place[at], place[at + len(word) - 1] + 1):
                hit[i] = True
            at = plain.find(word, at + 1)
    pieces: list[Piece] = []
    began = 0
    for i in range(1, len(text) + 1):
        if i == len(text) or hit[i] != hit[began]:
            pieces.append(Piece(text=text[began:i], marked=hit[began]))
            began = i
    return tuple(pieces)


def excerpt(text: str, words: Sequence[str]) -> str:
    """So much of a text as is shown: from shortly before the first of the words in it.

    Nothing of a long text that has none of them: cautions are not to be cut short for nothing.
    """
    if len(text) <= SHOWN_CHARACTERS:
        return text
    plain, place = _folded_with_places(text)
    first = min((at for word in words if (at := plain.find(word)) >= 0), default=None)
    if first is None:
        return ""
    begins = max(0, place[first] - BEFORE_CHARACTERS)
    begins = text.rfind(" ", 0, begins) + 1 if begins else 0
    ends = begins + SHOWN_CHARACTERS
    shown = text[begins:ends].strip()
    return f"{'… ' if begins else ''}{shown}{' …' if ends < len(text) else ''}"


def _folded_with_places(text: str) -> tuple[str, list[int]]:
    """The folded text, and for each of its characters the place it comes from."""
    plain, place = [], []
    for i, character in enumerate(text):
        for one in folded(character):
            plain.append(one)
            place.append(i)
    return "".join(plain), place
