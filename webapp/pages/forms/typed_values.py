"""Stored values as a person would type them: what form fields show when they are opened."""

import datetime as dt
import re

from webapp.build import limits
from webapp.build.build_input import Moment
from webapp.build.moments import date_of

FIRST_YEAR, LAST_YEAR = limits.EARLIEST_DAY.year, limits.LATEST_DAY.year


def number_text(number: float | None) -> str:
    """A number without needless digits ("2.5", "3"); "" for none."""
    if number is None:
        return ""
    text = f"{number:.10f}".rstrip("0").rstrip(".")
    return "0" if text in ("", "-0") else text


def clock_text(hours: float | None) -> str:
    """Hours to the minute as "1:20"; "" for none."""
    if hours is None:
        return ""
    minutes = round(hours * 60)
    return f"{minutes // 60}:{minutes % 60:02d}"


def date_text(moment: Moment | None) -> str:
    """The date of a moment as YYYY-MM-DD; "" for none."""
    return "" if moment is None else date_of(moment).isoformat()


def day_minute_text(minute: int) -> str:
    """Minutes after midnight as "18:30"; the end of the day as "24:00"."""
    return f"{minute // 60:02d}:{minute % 60:02d}"


def parse_date(text: str) -> dt.date | None:
    """A date as YYYY-MM-DD within the years the program plans for; None when it is none."""
    if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
        return None
    try:
        date = dt.date.fromisoformat(text)
    except ValueError:
        return None
    return date if FIRST_YEAR <= date.year <= LAST_YEAR else None
