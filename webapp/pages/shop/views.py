"""What the shop page shows besides its forms, in strings."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from webapp.build.build_input import MEDIA, BuildInput
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.shop.hours_forms import coming_weekend
from webapp.pages.words import amounts as words
from webapp.pages.words.field_values import day_hours_words

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
class Weekend:
    """The coming weekend and whether the shop is closed over it already."""

    days: str
    closed: bool


def shop_rows(shown: Mapping[str, TypedForm]) -> ShopRows:
    """The row numbers of every list form that is shown."""
    week = tuple(
        DayRow(
            weekday=weekday,
            name=words.WEEKDAY_NAMES[weekday],
            sessions=_numbers(shown, "week", f"opens-{weekday}"),
        )
        for weekday in range(7)
    )
    return ShopRows(
        week=week,
        day=_numbers(shown, "day", "opens"),
        setups=_numbers(shown, "setups", "name"),
        stations=_numbers(shown, "stations", "name"),
        subsystems=_numbers(shown, "subsystems", "name"),
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


def helper_lines(build: BuildInput) -> tuple[str, ...]:
    """The sessions of the week that are with the helper: "Saturday 9:00 to 13:00"."""
    return tuple(
        f"{words.WEEKDAY_NAMES[one.weekday]} {words.clock_minute(one.hours.opens_minute)}"
        f" to {words.clock_minute(one.hours.closes_minute)}"
        for one in sorted(build.shop.week, key=lambda one: (one.weekday, one.hours.opens_minute))
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
