"""ISO weeks as they stand in addresses and on the screen."""

import datetime as dt
import re

from webapp.pages.forms.typed_values import FIRST_YEAR, LAST_YEAR
from webapp.pages.words import amounts as words
from webapp.planning.record.week_figures import IsoWeek, week_of

_LABEL = re.compile(r"([0-9]{4})-W([0-9]{2})")


def label_of(week: IsoWeek) -> str:
    """A week as ISO 8601 writes it: "2026-W07"."""
    return f"{week[0]:04d}-W{week[1]:02d}"


def week_named(label: str) -> IsoWeek | None:
    """The week of a label; None where the calendar has no such week."""
    match = _LABEL.fullmatch(label)
    if match is None or not FIRST_YEAR <= int(match[1]) <= LAST_YEAR:
        return None
    week = int(match[1]), int(match[2])
    try:
        dt.date.fromisocalendar(*week, 1)
    except ValueError:
        return None
    return week


def monday_of(week: IsoWeek) -> dt.date:
    return dt.date.fromisocalendar(*week, 1)


def week_after(week: IsoWeek, weeks: int = 1) -> IsoWeek:
    """The week so many weeks later; earlier below zero."""
    return week_of(monday_of(week) + dt.timedelta(weeks=weeks))


def week_words(week: IsoWeek, *, today: dt.date) -> str:
    """A week in a headline: "Week 6, 2 to 8 February", "Week 1 of 2027, 4 to 10 January"."""
    first = monday_of(week)
    last = first + dt.timedelta(days=6)
    months = [words.MONTHS[day.month - 1] for day in (first, last)]
    begins = f"{first.day}" if months[0] == months[1] else f"{first.day} {months[0]}"
    of_year = "" if week[0] == week_of(today)[0] else f" of {week[0]}"
    return f"Week {week[1]}{of_year}, {begins} to {last.day} {months[1]}"
