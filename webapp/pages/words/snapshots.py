"""Snapshots in words: how one is named, and why one can not be shown."""

import datetime as dt
from typing import Protocol

from webapp.pages.words import amounts as words


class Heading(Protocol):
    """What kind of snapshot it is ("baseline", "week"), which one, and when it was taken."""

    @property
    def kind(self) -> str: ...

    @property
    def label(self) -> str: ...

    @property
    def taken_at(self) -> dt.datetime: ...


def heading_words(heading: Heading, *, today: dt.date) -> str:
    """A snapshot in a list: "week 6, closed Sun 8 February", "baseline 1, Sat 10 January"."""
    day = words.day(heading.taken_at, today=today)
    if heading.kind == "baseline":
        return f"baseline {heading.label}, {day}"
    year, _, week = heading.label.partition("-W")
    of_year = "" if year == str(today.year) else f" of {year}"
    return f"week {week.lstrip('0') or week}{of_year}, closed {day}"


def snapshot_words(kind: str, label: str) -> str:
    """That a snapshot was taken: "Froze baseline 1.", "Closed week 6 of 2026."."""
    if kind == "baseline":
        return f"Froze baseline {label}."
    year, _, week = label.partition("-W")
    return f"Closed week {week.lstrip('0') or week} of {year}."


def unreadable_words(heading: Heading, first_fault: str, *, today: dt.date) -> str:
    """Why a snapshot can not be shown, and that nothing is lost."""
    return (
        f"{words.sentence(heading_words(heading, today=today))}, was written by another "
        f"version of the program and can not be read here. {first_fault} "
        "It is kept as it is: nothing is lost, and the program that wrote it can show it."
    )


MOVING = (
    "Nothing was kept: the build was changed elsewhere again and again while its figures were "
    "worked out. Press once more."
)
