"""Values as a person types them: what form fields show when they are opened, and read."""

import datetime as dt
import math
import re

from webapp.build import limits
from webapp.build.build_input import Moment
from webapp.build.moments import date_of
from webapp.build.time_units import DAY_MINUTES

FIRST_YEAR, LAST_YEAR = limits.EARLIEST_DAY.year, limits.LATEST_DAY.year

_DECIMAL = re.compile(r"(-?)([0-9]{1,12})?(?:[.,]([0-9]{1,12}))?")
_CLOCK_HOURS = re.compile(r"([0-9]{1,6}):([0-5][0-9])")
_DAY_TIME = re.compile(r"([0-9]{1,2})(?:[:.h]?([0-5][0-9]))?")


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


def parse_decimal(text: str) -> float | None:
    """A plain decimal with point or comma ("2.5", "2,5", "-1"); None when it is none."""
    match = _DECIMAL.fullmatch(text)
    if match is None or (match[2] is None and match[3] is None):
        return None
    number = float(f"{match[1]}{match[2] or 0}.{match[3] or 0}")
    return number if math.isfinite(number) else None


def parse_hours(text: str) -> float | None:
    """Hours typed as "2.5", "2,5", "2:30" or "2.5 h"; None when they are none."""
    bare = text.strip().lower().removesuffix("hours").removesuffix("h").strip()
    clock = _CLOCK_HOURS.fullmatch(bare)
    if clock is not None:
        return int(clock[1]) + int(clock[2]) / 60
    return parse_decimal(bare)


def parse_day_minute(text: str) -> int | None:
    """A time of day ("18:30", "18.30", "1830", "9", "24:00") in minutes after midnight."""
    match = _DAY_TIME.fullmatch(text.strip())
    if match is None:
        return None
    minute = int(match[1]) * 60 + int(match[2] or 0)
    return minute if minute <= DAY_MINUTES else None
