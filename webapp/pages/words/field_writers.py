"""How the values of fields are written in a sentence."""

import datetime as dt
from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.build.shop import DayHours, DayRange, WeekSession
from webapp.build.three_point import ThreePoint
from webapp.pages.words import amounts as words
from webapp.pages.words.house_rules import rules_told
from webapp.pages.words.money import money
from webapp.pages.words.quoted import shown
from webapp.pages.words.units import units_said

Written = Callable[[Any, BuildInput, dt.date], str]
"""A value in words: of which build, and what day it is told on."""

NOTHING = "nothing"


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldWords:
    """What a field is called in a sentence, and how its values are written.

    `told` says of a list what became of it, thing by thing, "" where its order alone changed.
    """

    label: str
    written: Written
    told: Callable[[Any, Any], str] | None = None


def text_told(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return f"“{shown(str(value))}”" if value else NOTHING


def units_told(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return units_said(value)


def number_told(unit: str = "", digits: int = 2) -> Written:
    def written(value: Any, _build: BuildInput, _today: dt.date) -> str:
        return NOTHING if value is None else f"{words.number(value, digits)}{unit}"

    return written


def money_told(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return NOTHING if value is None else money(value)


def paper_told(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return f"“{shown(value.name)}”, no. {shown(value.number)}" if value else NOTHING


def reaches_told(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return ", ".join(value) or NOTHING


def day_told(value: Any, _build: BuildInput, today: dt.date) -> str:
    if value is None:
        return NOTHING
    at = f" {words.time(value)}" if isinstance(value, dt.datetime) else ""
    return f"{words.day(value, today=today)}{at}"


def yes_told(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return "yes" if value else "no"


def odds_told(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return words.odds(value)


def hours_words(hours: ThreePoint) -> str:
    """An estimate: "3 h", "2 to 5 h, likely 3 h"."""
    low, high = words.number(hours.optimistic), words.number(hours.pessimistic)
    likely = words.hours(hours.most_likely)
    return (
        likely if hours.optimistic == hours.pessimistic else f"{low} to {high} h, likely {likely}"
    )


def hours_told(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return NOTHING if value is None else hours_words(value)


def named_told(at: Callable[[BuildInput], Any], name: str = "name") -> Written:
    """A key, by the name of what it stands for."""

    def written(value: Any, build: BuildInput, _today: dt.date) -> str:
        if value is None:
            return NOTHING
        thing = find_by_key(at(build), value)
        return f"“{shown(getattr(thing, name) if thing else value)}”"

    return written


TASK = named_told(lambda build: build.tasks)
WISH = named_told(lambda build: build.wishes, "text")
PART = named_told(lambda build: build.parts)


def tasks_named_told(value: Any, build: BuildInput, today: dt.date) -> str:
    return words.listed([TASK(key, build, today) for key in value]) or NOTHING


def setups_told(value: Any, build: BuildInput, today: dt.date) -> str:
    written = named_told(lambda build: build.shop.setups)
    return words.listed([written(key, build, today) for key in value]) or NOTHING


def stations_told(value: Any, build: BuildInput, today: dt.date) -> str:
    written = named_told(lambda build: build.shop.stations)
    return (
        words.listed([f"{need.count} of {written(need.station, build, today)}" for need in value])
        or NOTHING
    )


def wish_parts_told(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return words.listed([f"“{shown(part.name)}”" for part in value]) or NOTHING


def day_hours_words(sessions: tuple[DayHours, ...]) -> str:
    """Open hours of one day: "closed", "9:00 to 12:00 with the helper"."""
    if not sessions:
        return "closed"
    return words.listed(
        [
            f"{words.clock_minute(hours.opens_minute)} to {words.clock_minute(hours.closes_minute)}"
            + (" with the helper" if hours.helper else "")
            for hours in sessions
        ]
    )


def week_words(week: tuple[WeekSession, ...]) -> str:
    """Weekly hours: "Tuesday and Thursday 18:30 to 21:30, Saturday 9:00 to 17:00"."""
    by_day: defaultdict[int, list[DayHours]] = defaultdict(list)
    for session in sorted(week, key=lambda one: (one.weekday, one.hours.opens_minute)):
        by_day[session.weekday].append(session.hours)
    days_of: defaultdict[str, list[str]] = defaultdict(list)
    for weekday, sessions in by_day.items():
        days_of[day_hours_words(tuple(sessions))].append(words.WEEKDAY_NAMES[weekday])
    return ", ".join(f"{words.listed(days)} {hours}" for hours, days in days_of.items())


def range_hours_words(week: tuple[WeekSession, ...]) -> str:
    """The hours of a range of days: "closed", "Saturday 9:00 to 17:00"."""
    return week_words(week) or "closed"


def range_days_words(days: DayRange, today: dt.date) -> str:
    """From which day to which: "Mon 3 August to Fri 14 August"."""
    first, last = (words.day(day, today=today) for day in (days.first_on, days.last_on))
    return first if first == last else f"{first} to {last}"


def week_told(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return week_words(value) or NOTHING


def range_week_told(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return range_hours_words(value)


def sessions_told(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return day_hours_words(value)


def earlier_kinds_told(value: Any, _build: BuildInput, _today: dt.date) -> str:
    said = [
        f"“{shown(kind.name)}” {words.count(kind.tasks, 'task')}"
        if kind.name
        else f"{words.count(kind.tasks, 'task')} without a setup"
        for kind in value
    ]
    return words.listed(said) or NOTHING


def decision_told(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return "undecided" if value is None else str(value.way)


def clock_told(value: Any, build: BuildInput, today: dt.date) -> str:
    return NOTHING if value is None else TASK(value.task, build, today)


def order_told(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return f"an order of {words.count(len(value), 'task')}" if value else "the house rules"


def rules_written(value: Any, _build: BuildInput, _today: dt.date) -> str:
    return rules_told(value)


def in_shop_units_told(told: Callable[[float], str]) -> Written:
    return lambda value, _build, _today: NOTHING if value is None else told(value)


def number_or_word_told(value: Any, build: BuildInput, today: dt.date) -> str:
    return str(value) if isinstance(value, str) else number_told()(value, build, today)


def count_of_told(one: str) -> Written:
    return lambda value, _build, _today: words.count(len(value), one) if value else NOTHING
