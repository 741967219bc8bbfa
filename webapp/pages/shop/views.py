"""What the shop page shows besides its forms, in strings."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from webapp.build.build_input import MEDIA, BuildInput
from webapp.build.time.shop_weeks import later_week_on, shop_week_on, week_hours
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.shop.hours_forms import coming_weekend
from webapp.pages.words import amounts as words
from webapp.pages.words.field_writers import (
    day_hours_words,
    range_days_words,
    range_hours_words,
    week_words,
)

MEDIUM_WORDS = {"water": "water (coolant)", "none": "no medium"}


@dataclass(frozen=True, slots=True, kw_only=True)
class DayRow:
    """One weekday of the shop week form: its name and the numbers of its session rows."""

    weekday: int
    name: str
    sessions: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopRows:
    """The rows of every list form in a room."""

    week: tuple[DayRow, ...]
    later: tuple[DayRow, ...]
    range: tuple[DayRow, ...]
    day: tuple[int, ...]
    setups: tuple[int, ...]
    stations: tuple[int, ...]
    subsystems: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DayLine:
    """One day exception that is still to come."""

    date: str
    day: str
    hours: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DaysLine:
    """A later shop week or a range of days: the date it is told by, its days, its hours."""

    date: str
    days: str
    hours: str
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Weekend:
    """The coming weekend and whether the shop is closed over it already."""

    days: str
    closed: bool


def shop_rows(shown: Mapping[str, TypedForm]) -> ShopRows:
    """The row numbers of every list form that is shown."""
    return ShopRows(
        week=_day_rows(shown, "week"),
        later=_day_rows(shown, "later"),
        range=_day_rows(shown, "range"),
        day=_numbers(shown, "day", "opens"),
        setups=_numbers(shown, "setups", "name"),
        stations=_numbers(shown, "stations", "name"),
        subsystems=_numbers(shown, "subsystems", "name"),
    )


def _day_rows(shown: Mapping[str, TypedForm], form: str) -> tuple[DayRow, ...]:
    return tuple(
        DayRow(
            weekday=weekday,
            name=words.WEEKDAY_NAMES[weekday],
            sessions=_numbers(shown, form, f"opens-{weekday}"),
        )
        for weekday in range(7)
    )


def _numbers(shown: Mapping[str, TypedForm], form: str, stem: str) -> tuple[int, ...]:
    return shown[form].row_numbers(stem) if form in shown else ()


def day_lines(build: BuildInput, today: dt.date) -> tuple[DayLine, ...]:
    """The day exceptions from today on, the next first."""
    days = sorted((day for day in build.shop.days if day.date >= today), key=lambda day: day.date)
    return tuple(
        DayLine(
            date=day.date.isoformat(),
            day=words.day(day.date, today=today),
            hours=day_hours_words(day.sessions),
        )
        for day in days
    )


def held_until(build: BuildInput, today: dt.date) -> str:
    """Until when the shop week of the form holds, where another one comes after it."""
    if not build.shop.later_weeks:
        return ""
    first = min(one.from_on for one in build.shop.later_weeks)
    day = words.day(first, today=today)
    return f"These hours hold until {day}, when other hours " + (
        "begin." if first > today else "began."
    )


def later_lines(build: BuildInput, today: dt.date) -> tuple[DaysLine, ...]:
    """The shop weeks with a first day, in order."""
    now = later_week_on(build.shop, today)
    return tuple(
        DaysLine(
            date=one.from_on.isoformat(),
            days=f"From {words.day(one.from_on, today=today)}",
            hours=f"{words.hours(week_hours(one.week))} a week: {week_words(one.week)}",
            note="holds now" if one is now else "",
        )
        for one in sorted(build.shop.later_weeks, key=lambda one: one.from_on)
    )


def range_lines(build: BuildInput, today: dt.date) -> tuple[DaysLine, ...]:
    """The ranges of days, the next first; those that are over after them."""
    ranges = sorted(build.shop.ranges, key=lambda one: (one.last_on < today, one.first_on))
    return tuple(
        DaysLine(
            date=one.first_on.isoformat(),
            days=range_days_words(one, today),
            hours=range_hours_words(one.week),
            note=", ".join(
                said for said in (one.name, "over" if one.last_on < today else "") if said
            ),
        )
        for one in ranges
    )


def helper_lines(build: BuildInput) -> tuple[str, ...]:
    """The sessions of the week that are with the helper: "Saturday 9:00 to 13:00"."""
    return tuple(
        f"{words.WEEKDAY_NAMES[one.weekday]} {words.clock_minute(one.hours.opens_minute)}"
        f" to {words.clock_minute(one.hours.closes_minute)}"
        for one in sorted(
            shop_week_on(build.shop, build.now.date()),
            key=lambda one: (one.weekday, one.hours.opens_minute),
        )
        if one.hours.helper
    )


def weekend_words(build: BuildInput, today: dt.date) -> Weekend:
    """The coming weekend, and whether both its days are closed by exceptions."""
    dates = coming_weekend(today)
    shut = {day.date for day in build.shop.days if not day.sessions}
    return Weekend(
        days=words.listed([words.day(date, today=today) for date in dates]),
        closed=all(date in shut for date in dates),
    )


def medium_choices() -> tuple[tuple[str, str], ...]:
    """The media to pick from, with a word for each."""
    return tuple((medium, MEDIUM_WORDS.get(medium, medium)) for medium in MEDIA)
