"""Stored values as a person would type them: what form fields show when they are opened."""

from webapp.build.build_input import Moment
from webapp.build.moments import date_of


def number_text(number: float | None) -> str:
    """A number without needless digits ("2.5", "3"); "" for none."""
    if number is None:
        return ""
    text = f"{number:.10f}".rstrip("0").rstrip(".")
    return "0" if text in ("", "-0") else text


def date_text(moment: Moment | None) -> str:
    """The date of a moment as YYYY-MM-DD; "" for none."""
    return "" if moment is None else date_of(moment).isoformat()


def day_minute_text(minute: int) -> str:
    """Minutes after midnight as "18:30"; the end of the day as "24:00"."""
    return f"{minute // 60:02d}:{minute % 60:02d}"
