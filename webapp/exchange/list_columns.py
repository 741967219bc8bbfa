"""Which column of a list says what: guessed from its head row, changed by its person."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """What the columns of one kind of list can say.

    `said` has the words of the screen for each field, which are the heads of what goes out; `heads`
    others that are known, in small letters; `needed` are the fields that no list goes without;
    `number` is the field of a column of numbers that has no head.
    """

    said: Mapping[str, str]
    heads: Mapping[str, tuple[str, ...]]
    needed: tuple[str, ...]
    number: str = ""

    @property
    def name(self) -> str:
        """The field of the column that is told apart by its words."""
        return self.needed[0]


_HOURS = {
    "likely": ("likely", "hours", "h", "hrs", "estimate", "time", "most likely", "expected"),
    "well": ("well", "if all goes well", "optimistic", "best", "best case", "min", "low", "least"),
    "fights": ("fights", "if it fights you", "pessimistic", "worst", "worst case", "max", "high"),
}
TASK_COLUMNS = Columns(
    said={
        "key": "short name",
        "name": "name of the task",
        "likely": "likely hours",
        "well": "hours if all goes well",
        "fights": "hours if it fights you",
        "subsystem": "subsystem",
        "before": "what comes before it",
        "wait": "hours to wait after that",
        "setup": "setup",
        "stations": "stations",
        "parts": "parts it needs",
        "people": "people",
        "helper": "with the helper",
        "in_one_go": "in one go",
        "outside_days": "days of outside work",
        "space": "space claim in litres",
        "caution": "caution",
        "notes": "notes",
    },
    heads={
        "name": ("name", "task", "job", "what", "work", "title", "description"),
        **_HOURS,
        "subsystem": ("subsystem", "system", "area", "group", "category", "section"),
        "before": (
            "before",
            "comes before it",
            "after task",
            "needs",
            "depends on",
            "predecessors",
        ),
        "wait": ("wait", "then wait", "cure", "lag", "drain", "soak"),
        "parts": ("parts", "part", "parts it needs", "material", "materials", "to buy", "bought"),
        "caution": ("caution", "warning", "danger", "safety"),
        "notes": ("notes", "note", "remarks", "remark", "comment", "comments"),
    },
    needed=("name", "likely"),
    number="likely",
)
PART_COLUMNS = Columns(
    said={
        "name": "name of the part",
        "supplier": "supplier",
        "cost": "cost",
        "lead_days": "lead time in days",
        "ordered_on": "ordered on",
        "promised_on": "promised for",
        "arrives_on": "arrives on",
        "arrived": "it is here",
        "serves": "tasks that need it",
    },
    heads={
        "name": ("name", "part", "item", "what", "article", "description"),
        "supplier": ("supplier", "seller", "shop", "from", "vendor", "maker"),
        "cost": ("cost", "price", "money", "sum"),
        "lead_days": ("lead time", "lead", "delivery", "delivery time"),
        "ordered_on": ("ordered", "order date"),
        "promised_on": ("promised",),
        "arrives_on": ("arrives", "arrival", "arrival date", "due"),
        "arrived": ("arrived", "here", "received"),
        "serves": ("tasks", "task", "needed for", "for"),
    },
    needed=("name",),
    number="cost",
)
LOG_COLUMNS = Columns(
    said={
        "task": "task",
        "on": "day",
        "hours": "hours worked",
        "setup": "hours of getting out",
        "left": "hours left",
    },
    heads={
        "task": ("task", "job", "what", "work", "name"),
        "on": ("day", "date", "on"),
        "hours": ("hours", "worked", "h", "hrs", "time"),
        "setup": ("getting out", "setup"),
        "left": ("left", "remaining"),
    },
    needed=("task", "on", "hours"),
    number="hours",
)
WISH_COLUMNS = Columns(
    said={
        "text": "wish",
        "on": "logged on",
        "size": "quick size",
        "likely": "likely hours",
        "well": "hours if all goes well",
        "fights": "hours if it fights you",
        "rough_likely": "likely hours to rough it in",
        "rough_well": "to rough it in if all goes well",
        "rough_fights": "to rough it in if it fights you",
        "later_extra": "extra hours if it is fitted later",
        "subsystem": "subsystem",
        "setup": "setup",
        "after": "comes after",
        "before": "comes before",
        "cost": "other money",
        "parts": "parts it needs",
        "part_days": "their lead times in days",
        "part_costs": "their costs",
    },
    heads={
        "text": ("wish", "idea", "what", "text", "name"),
        "on": ("logged", "date", "day"),
        "size": ("size",),
        **_HOURS,
        "subsystem": ("subsystem", "system", "area", "group", "category", "section"),
        "cost": ("cost", "money", "price"),
        "parts": ("parts", "part"),
    },
    needed=("text",),
    number="likely",
)
"""Heads in the common words of the trade, no source."""


def guessed_columns(head: Sequence[str], columns: Columns = TASK_COLUMNS) -> tuple[str, ...]:
    """What each column of a head row says, "" where that can not be told; nothing twice.

    A head in the words of the screen goes before one that only sounds like it.
    """
    said = {_plain(words): field for field, words in columns.said.items()}
    exact = [said.get(_plain(cell), "") for cell in head]
    found: list[str] = []
    for cell, known in zip(head, exact, strict=True):
        field = known or _known(_plain(cell), columns)
        taken = field in found or (not known and field in exact)
        found.append("" if taken else field)
    return tuple(found)


def is_head(first: Sequence[str], columns: Columns = TASK_COLUMNS) -> bool:
    """Whether a first row is a head: it names what stands below, and holds no number."""
    has_number = any(re.fullmatch(r"[\d.,:]+", cell.strip()) for cell in first)
    return not has_number and any(guessed_columns(first, columns))


def _known(plain: str, columns: Columns) -> str:
    """The field of a head in other words, or of one that holds such a word."""
    field = next((field for field, heads in columns.heads.items() if plain in heads), "")
    return field or _like(plain, columns)


def columns_without_head(
    rows: Sequence[Sequence[str]], width: int, columns: Columns = TASK_COLUMNS
) -> tuple[str, ...]:
    """What columns say that have no head: the first with words is the name, numbers are hours."""
    found: list[str] = []
    for column in range(width):
        cells = [row[column] for row in rows if column < len(row) and row[column]]
        numbers = sum(bool(re.fullmatch(r"[\d.,:]+\s*h?", cell)) for cell in cells)
        is_number = bool(cells) and numbers * 2 > len(cells)
        if cells and not is_number and columns.name not in found:
            found.append(columns.name)
        elif is_number and columns.number and columns.number not in found:
            found.append(columns.number)
        else:
            found.append("")
    return tuple(found)


def _plain(head: str) -> str:
    words = re.sub(r"\(.*?\)|\bin\b|,\s*h\b|[^\w\s]", " ", head.casefold())
    return " ".join(words.split())


def _like(plain: str, columns: Columns) -> str:
    """The field of which a head holds a whole word of more than two letters."""
    words = plain.split()
    heads = columns.heads
    order = (*(field for field in ("well", "fights", "wait") if field in heads), *heads)
    return next(
        (field for field in order if any(w in heads[field] and len(w) > 2 for w in words)), ""
    )
