"""Dates, and dates with a time, told apart in one place; moments that know their clock.

The shop clock is naive local time. What rests and watches are measured by (signatures, openings,
engine runs) knows its offset from UTC, so that a clock that is set back or forward makes no rest
longer or shorter.
"""

import datetime as dt

from webapp.build.build_input import BuildInput, Moment


def date_of(moment: Moment) -> dt.date:
    """The date of a date or of a date with a time."""
    return moment.date() if isinstance(moment, dt.datetime) else moment


def moment_at_start(moment: Moment) -> dt.datetime:
    """A date counts from 00:00 of that day; a date with a time stays."""
    if isinstance(moment, dt.datetime):
        return moment
    return dt.datetime.combine(moment, dt.time())


def with_offset(moment: dt.datetime) -> dt.datetime:
    """The moment with its offset from UTC; one without is of this machine's local clock."""
    if moment.tzinfo is not None:
        return moment
    try:
        return moment.astimezone()
    except (OverflowError, ValueError, OSError):  # the first and last years of the calendar
        return moment.replace(tzinfo=dt.UTC)


def by_the_end_of_minute(now: dt.datetime) -> dt.datetime:
    """The last moment of the minute that the shop clock shows, with its offset from UTC.

    The shop clock says the minute, a signature the second: what was signed in it counts.
    """
    return with_offset(now.replace(second=59, microsecond=999_999))


def by_the_clock_of(moment: dt.datetime, at: dt.datetime) -> dt.datetime:
    """The same moment as the clock shows it that shows `at`: it may have been set since."""
    return moment if at.tzinfo is None else moment.astimezone(at.tzinfo)


def workable_from(build: BuildInput) -> dt.datetime:
    """The first moment that can be a shop hour: `now`, or the day the build starts on."""
    if build.starts_on is None:
        return build.now
    return max(build.now, moment_at_start(build.starts_on))


def is_after(moment: Moment, other: Moment) -> bool:
    """Whether `moment` is later; a date without a time is compared by its day."""
    if isinstance(moment, dt.datetime) and isinstance(other, dt.datetime):
        return moment > other
    return date_of(moment) > date_of(other)
