"""Faults of a build that is too large as a whole to be written down and read back."""

import datetime as dt
from collections.abc import Callable, Iterator
from dataclasses import fields, is_dataclass
from functools import cache
from operator import attrgetter
from typing import Any

from webapp.build.build_input import BuildInput, Fault
from webapp.build.checks.fault_words import Thing, number_words
from webapp.build.limits import MOST_DOCUMENT_BYTES

BYTES_OF_A_CHARACTER = 4
"""UTF-8; one that JSON puts a backslash before takes two."""
BYTES_OF_A_FIGURE = 24
"""The longest number, date or time."""
BYTES_AROUND = 8
"""Quotation marks, brackets, commas and blanks around a name, a value or an entry."""
FIGURES = frozenset({type(None), bool, int, float, dt.date, dt.datetime, dt.time})
"""What takes the bytes of a figure."""


def size_faults(build: BuildInput) -> Iterator[Fault]:
    """A build whose document might be too large to be read again."""
    most = most_bytes_written(build)
    if most > MOST_DOCUMENT_BYTES:
        yield Thing(kind="build", key="", name=build.name).fault(
            "",
            f"written down it may take {megabytes(most)}, and {megabytes(MOST_DOCUMENT_BYTES)} is "
            "the most. Shorten its longest texts, or take out what is not needed.",
        )


def megabytes(count: int) -> str:
    """A size in words: 64 MB."""
    return f"{number_words(round(count / 1_000_000, 1))} MB"


def most_bytes_written(value: object) -> int:
    """The document of a build, or of a thing in it, takes no more bytes than this."""
    if isinstance(value, str):
        return BYTES_OF_A_CHARACTER * len(value) + BYTES_AROUND
    if isinstance(value, tuple):
        return sum(map(most_bytes_written, value)) + BYTES_AROUND
    kind: Any = type(value)
    shape = _shape(kind)
    if shape is None:
        return BYTES_OF_A_FIGURE
    values_of, most = shape
    for each in values_of(value):
        # What most values are, without a call for each: a large build has 150,000 of them.
        kind = each.__class__
        if kind is str:
            most += BYTES_OF_A_CHARACTER * len(each) + BYTES_AROUND
        elif kind in FIGURES:
            most += BYTES_OF_A_FIGURE
        elif each == ():
            most += BYTES_AROUND
        else:
            most += most_bytes_written(each)
    return most


@cache
def _shape(kind: type) -> tuple[Callable[[object], tuple[Any, ...]], int] | None:
    """How to get at the values of a dataclass, and the bytes of the names of its fields."""
    if not is_dataclass(kind):
        return None
    names = [field.name for field in fields(kind)]
    around = BYTES_AROUND * (len(names) + 1)
    return attrgetter(*names), around + sum(map(len, names))
