"""How dates, hours and days are written on the screen. The one place for it.

Dates are "Thu 3 June" in text and "Thu 3 Jun" where room is short, with the year when it is not
this year's. Hours are shop hours: "3.5 h". No locale, so that every machine writes the same.
"""

import datetime as dt

from webapp.build.checks.fault_words import minutes_words
from webapp.build.checks.session_checks import WEEKDAY_NAMES as WEEKDAY_NAMES
from webapp.build.moments import date_of

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
MINUS = "\N{MINUS SIGN}"
NOTHING = "\N{EN DASH}"
"""Stands where there is no number to give."""
NEAR_DAYS = 7


def day(moment: dt.date, *, today: dt.date) -> str:
    """A date in running text: "Thu 3 June", "Mon 4 January 2027"."""
    date = date_of(moment)
    year = "" if date.year == today.year else f" {date.year}"
    return f"{WEEKDAYS[date.weekday()]} {date.day} {MONTHS[date.month - 1]}{year}"


def short_day(moment: dt.date, *, today: dt.date) -> str:
    """A date where room is short: "Thu 3 Jun", "Mon 4 Jan 2027"."""
    date = date_of(moment)
    year = "" if date.year == today.year else f" {date.year}"
    return f"{WEEKDAYS[date.weekday()]} {date.day} {MONTHS[date.month - 1][:3]}{year}"


def time(moment: dt.datetime | dt.time) -> str:
    """A time of day: "9:00", "18:30"."""
    return f"{moment.hour}:{moment.minute:02d}"


def clock_minute(minute: int) -> str:
    """Minutes after midnight as a time of day; 1440 is "24:00"."""
    return f"{minute // 60}:{minute % 60:02d}"


def moment(at: dt.date, *, today: dt.date) -> str:
    """A moment: "today 18:30", "tomorrow 9:00", "Sat 9:00" within a week, "Sat 14 Feb 9:00".

    A date without a time is written like `short_day`.
    """
    if not isinstance(at, dt.datetime):
        return short_day(at, today=today)
    days_off = (at.date() - today).days
    if days_off == 0:
        return f"today {time(at)}"
    if days_off == 1:
        return f"tomorrow {time(at)}"
    if 1 < days_off < NEAR_DAYS:
        return f"{WEEKDAYS[at.weekday()]} {time(at)}"
    return f"{short_day(at, today=today)} {time(at)}"


def is_near(at: dt.date, *, today: dt.date) -> bool:
    """Whether a day is among the next seven: only there a plan is told by the time of day."""
    return days_apart(today, at) < NEAR_DAYS


def planned_moment(at: dt.datetime, *, today: dt.date) -> str:
    """When something is to be by the plan: a time of day for the next seven days, then the day."""
    return moment(at if is_near(at, today=today) else at.date(), today=today)


def from_to(begins: dt.datetime, ends: dt.datetime, *, today: dt.date) -> str:
    """From when to when a task is planned, beside the day it begins: "18:30 to 21:00".

    "18:30 to Sat 14 Feb 9:00" where it ends on another day. Beyond the next seven days no time
    of day is told: "to Fri 27 Feb", "" where it ends on the day it begins.
    """
    last, clock = ends.date(), time(ends)
    if ends > begins and ends.time() == dt.time():
        last, clock = last - dt.timedelta(days=1), "24:00"
    told = []
    if is_near(begins, today=today):
        told.append(time(begins))
    until = [short_day(last, today=today)] if last != begins.date() else []
    if ends > begins and is_near(last, today=today):
        until.append(clock)
    if until:
        told.append(f"to {' '.join(until)}")
    return " ".join(told)


def number(value: float, digits: int = 2) -> str:
    """A number without idle zeros: 3.0 -> "3", 3.50 -> "3.5", -1 -> a minus sign and 1."""
    text = f"{abs(value):,.{digits}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return f"{MINUS}{text}" if value < 0 and text != "0" else text


def hours(value: float) -> str:
    """Shop hours to the quarter hour or finer: "3.5 h"."""
    return f"{number(value)} h"


def worked(value: float) -> str:
    """Hours that were worked, to the minute: "1 h 5 min", "2 h", "45 min"."""
    minutes = round(abs(value) * 60)
    return (MINUS if value < 0 and minutes else "") + minutes_words(minutes)


def tenth_hours(value: float) -> str:
    """Shop hours of a forecast, to a tenth: "14.5 h"."""
    return f"{number(value, 1)} h"


def planned_hours(value: float) -> str:
    """Hours of a planned task: as typed where they are quarters, else to a tenth: "3.3 h"."""
    is_quarters = abs(value * 4 - round(value * 4)) < 1e-6
    return hours(value) if is_quarters else tenth_hours(value)


def odds(share: float) -> str:
    """A share of the draws: "8 in 10", "85 in 100", "985 in 1,000"."""
    for of in (10, 100, 1000):
        if abs(share * of - round(share * of)) < 1e-9:
            break
    return f"{round(share * of):,} in {of:,}"


def days(value: float) -> str:
    """A stretch of days: "1 day", "2.5 days"."""
    text = number(value, 1)
    return f"{text} day" if text in ("1", f"{MINUS}1") else f"{text} days"


def days_move(value: float) -> str:
    """A move of a date in days: "+2 days", half a day back with a minus sign, "no change"."""
    text = number(value, 1)
    if text == "0":
        return "no change"
    sign = "" if value < 0 else "+"
    return f"{sign}{days(value)}"


def days_apart(earlier: dt.date, later: dt.date) -> int:
    """Whole days between two dates, below zero when `later` is the earlier one."""
    return (date_of(later) - date_of(earlier)).days


def running(since: dt.datetime, now: dt.datetime) -> str:
    """How long a clock has run: "1:20"."""
    minutes = max(0, int((now - since).total_seconds() // 60))
    return f"{minutes // 60}:{minutes % 60:02d}"


def count(number_of: int, one: str, many: str | None = None) -> str:
    """A count with its noun: "1 task", "3 tasks"."""
    return f"{number_of} {one if number_of == 1 else many or one + 's'}"


def listed(names: tuple[str, ...] | list[str]) -> str:
    """Names in a sentence: "a", "a and b", "a, b and c"."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def one_line(text: str, most: int) -> str:
    """The text on one line; where it has more than `most` characters its beginning.

    Up to a comma or a stop where one stands in the second half of that, else behind a word.
    """
    line = " ".join(text.split())
    if len(line) <= most:
        return line
    head = line[: most - 1]
    clause = max(head.rfind(mark) for mark in (", ", "; ", ". "))
    if clause > most // 2:
        return head[:clause]
    return f"{(head.rpartition(' ')[0] or head).rstrip(' ,;:.')} …"


def sentence(text: str) -> str:
    """The same with its first letter large: "from Sat 9:00" -> "From Sat 9:00"."""
    return text[:1].upper() + text[1:]
