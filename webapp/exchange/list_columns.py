"""Which column of a list says what: guessed from its head row, changed by its person."""

import re
from collections.abc import Sequence

TASK_COLUMNS = {
    "name": "name of the task",
    "likely": "likely hours",
    "well": "hours if all goes well",
    "fights": "hours if it fights you",
    "subsystem": "subsystem",
    "before": "what comes before it",
    "wait": "hours to wait after that",
    "parts": "parts it needs",
    "caution": "caution",
    "notes": "notes",
}
"""What a column of a list of tasks can say, in the words of the screen."""

_HEADS = {
    "name": ("name", "task", "job", "what", "work", "title", "description"),
    "likely": ("likely", "hours", "h", "hrs", "estimate", "time", "most likely", "expected"),
    "well": ("well", "if all goes well", "optimistic", "best", "best case", "min", "low", "least"),
    "fights": ("fights", "if it fights you", "pessimistic", "worst", "worst case", "max", "high"),
    "subsystem": ("subsystem", "system", "area", "group", "category", "section"),
    "before": ("before", "comes before it", "after task", "needs", "depends on", "predecessors"),
    "wait": ("wait", "then wait", "cure", "lag", "drain", "soak"),
    "parts": ("parts", "part", "parts it needs", "material", "materials", "to buy", "bought"),
    "caution": ("caution", "warning", "danger", "safety"),
    "notes": ("notes", "note", "remarks", "remark", "comment", "comments"),
}
"""Heads that say what stands below them. Common words of the trade, no source."""


def guessed_columns(head: Sequence[str]) -> tuple[str, ...]:
    """What each column of a head row says, "" where that can not be told; nothing twice."""
    found: list[str] = []
    for cell in head:
        plain = _plain(cell)
        field = next((field for field, heads in _HEADS.items() if plain in heads), "")
        field = field or _like(plain)
        found.append("" if field in found else field)
    return tuple(found)


def is_head(first: Sequence[str]) -> bool:
    """Whether a first row is a head: it names what stands below, and holds no number."""
    has_number = any(re.fullmatch(r"[\d.,:]+", cell.strip()) for cell in first)
    return not has_number and any(guessed_columns(first))


def columns_without_head(rows: Sequence[Sequence[str]], width: int) -> tuple[str, ...]:
    """What columns say that have no head: the first with words is the name, numbers are hours."""
    found: list[str] = []
    for column in range(width):
        cells = [row[column] for row in rows if column < len(row) and row[column]]
        numbers = sum(bool(re.fullmatch(r"[\d.,:]+\s*h?", cell)) for cell in cells)
        is_number = bool(cells) and numbers * 2 > len(cells)
        if cells and not is_number and "name" not in found:
            found.append("name")
        elif is_number and "likely" not in found:
            found.append("likely")
        else:
            found.append("")
    return tuple(found)


def _plain(head: str) -> str:
    words = re.sub(r"\(.*?\)|\bin\b|,\s*h\b|[^\w\s]", " ", head.casefold())
    return " ".join(words.split())


def _like(plain: str) -> str:
    """The field of which a head holds a whole word of more than two letters."""
    words = plain.split()
    order = ("well", "fights", "wait", *(field for field in _HEADS))
    return next(
        (field for field in order if any(w in _HEADS[field] and len(w) > 2 for w in words)), ""
    )
