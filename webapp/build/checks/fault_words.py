"""Words for faults: the thing by its own name, then what is wrong and how to mend it."""

import datetime as dt
import math
import unicodedata
from collections.abc import Iterator, Sized
from dataclasses import dataclass

from webapp.build.build_input import Fault, Moment
from webapp.build.limits import (
    EARLIEST_DAY,
    LATEST_DAY,
    MOST_HOURS,
    MOST_NAME_CHARACTERS,
    MOST_TEXT_CHARACTERS,
)
from webapp.build.moments import date_of, is_after
from webapp.build.three_point import ThreePoint

SHOWN_CHARACTERS = 60
SHOWN_OF_A_LABEL = 2 * SHOWN_CHARACTERS + len(" -> ")
_REFUSED_CATEGORIES = frozenset({"Cc", "Cs", "Zl", "Zp"})
"""Control characters, halves of a character, line and paragraph separators."""


def shown(text: str, most: int = SHOWN_CHARACTERS) -> str:
    """A name or key as it can stand in one line of a message: printable and not too long."""
    short = text if len(text) <= most else text[: most - 1] + "…"
    if short.isprintable():
        return short
    return "".join(c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in short)


def number_words(value: float) -> str:
    """A number as a person writes it: 10,000 and 2.5 rather than 10000.0."""
    if not math.isfinite(value):
        return "not a number"
    return f"{value:,.0f}" if value == int(value) and abs(value) < 1e15 else f"{value:,g}"


def length_words(hours: float) -> str:
    """So long, to the minute: "3 h 5 min". A minute that is begun counts whole, so that what does
    not fit is not told as long as what it does not fit into."""
    return minutes_words(math.ceil(round(hours * 60, 6)))


def minutes_words(count: int) -> str:
    """So many minutes, from 0: "1 h 5 min", "2 h", "45 min", "0 h"."""
    whole, minutes = divmod(count, 60)
    told = [f"{whole:,} h"] if whole or not minutes else []
    return " ".join([*told, f"{minutes} min"] if minutes else told)


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """What a fault is about: its kind, key and name, and the faults said of it.

    `number` is its place among its kind, from 1: what has neither name nor key is called by it.
    """

    kind: str
    key: str
    name: str = ""
    number: int = 0

    @property
    def label(self) -> str:
        """Kind, name and key: "Task Weld bracket (weld)"; "Shop Tuesday", a day has no other."""
        kind = self.kind.capitalize()
        if self.number and not self.name.strip() and not self.key.strip():
            return f"{kind} number {self.number}"
        name = shown(self.name.strip(), SHOWN_OF_A_LABEL)
        key = shown(self.key, SHOWN_OF_A_LABEL)
        if not name or name == key:
            return f"{kind} {key}".rstrip()
        return f"{kind} {name} ({key})" if key and self.kind != "shop" else f"{kind} {name}"

    def fault(self, field: str, text: str) -> Fault:
        """One fault of this thing's `field` ("" for the whole)."""
        return Fault(kind=self.kind, key=self.key, field=field, text=f"{self.label}: {text}")

    def count_faults(
        self, field: str, words: str, things: Sized, most: int, remedy: str = "Leave some out."
    ) -> Iterator[Fault]:
        """More things of one sort than there may be; `words` is what they are, in the plural."""
        if len(things) > most:
            yield self.fault(
                field, f"it has {len(things):,} {words}, and {most:,} is the most. {remedy}"
            )

    def number_faults(
        self, field: str, what: str, value: float | None, *, least: float = 0, most: float
    ) -> Iterator[Fault]:
        """A number outside `least` to `most`, or none at all; None is no entry and no fault."""
        if value is None or least <= value <= most:
            return
        found = number_words(value)
        yield self.fault(
            field,
            f"{what}: {found}. Enter a number from {number_words(least)} to {number_words(most)}.",
        )

    def hours_faults(self, field: str, what: str, hours: ThreePoint) -> Iterator[Fault]:
        """Points of an estimate that are out of range, or out of order."""
        low, likely, high = hours.optimistic, hours.most_likely, hours.pessimistic
        points = (("if all goes well", low), ("likely", likely), ("if it fights you", high))
        if len({number_words(point) for _, point in points}) == 1:
            points = (("for the work", likely),) * 3
        faults = [
            fault
            for words, point in dict.fromkeys(points)
            for fault in self.number_faults(field, f"{what} {words}", point, most=MOST_HOURS)
        ]
        yield from faults
        if not faults and not low <= likely <= high:
            yield self.fault(
                field,
                f"{what} are out of order: {number_words(low)} if all goes well, "
                f"{number_words(likely)} likely, {number_words(high)} if it fights you. "
                "Enter the smallest first and the largest last.",
            )

    def text_faults(
        self, field: str, value: str, *, required: bool = False, long: bool = False
    ) -> Iterator[Fault]:
        """A text that is missing, too long, or holds what no line of text can show."""
        most = MOST_TEXT_CHARACTERS if long else MOST_NAME_CHARACTERS
        if required and not value.strip():
            yield self.fault(field, f"it has no {field}. Enter one.")
        if len(value) > most:
            yield self.fault(
                field,
                f"the {field} has {len(value):,} characters. Shorten it to {most:,} at most.",
            )
        if not value.isprintable() and _has_refused(value, long=long):
            yield self.fault(
                field,
                f"the {field} holds a line break or a character that cannot be shown. "
                "Take it out or type the text anew.",
            )

    def key_faults(self) -> Iterator[Fault]:
        """A key that is missing, too long, or easily mistaken for another."""
        yield from self.text_faults("key", self.key, required=True)
        if self.key.strip() != self.key and self.key.strip():
            yield self.fault("key", "the key begins or ends with a blank. Take the blank out.")

    def day_faults(
        self, field: str, what: str, moment: Moment | None, *, now: dt.datetime | None = None
    ) -> Iterator[Fault]:
        """A date before 1950 or after 2150; with `now` also one that is still to come."""
        if moment is None:
            return
        day = date_of(moment)
        if not EARLIEST_DAY <= day <= LATEST_DAY:
            yield self.fault(
                field,
                f"{what} {day.isoformat()} is not between {EARLIEST_DAY.year} and "
                f"{LATEST_DAY.year}. Correct the date.",
            )
        elif now is not None and is_after(moment, now):
            yield self.fault(
                field,
                f"{what} {moment_words(moment)} lies in the future: it is "
                f"{moment_words(now)} now. Enter a date that has been.",
            )


def moment_words(moment: Moment) -> str:
    """A date, or a date and a time to the minute."""
    if isinstance(moment, dt.datetime):
        return moment.strftime("%Y-%m-%d %H:%M")
    return moment.isoformat()


def _has_refused(text: str, *, long: bool) -> bool:
    allowed = "\n\r\t" if long else ""
    return any(unicodedata.category(c) in _REFUSED_CATEGORIES and c not in allowed for c in text)
