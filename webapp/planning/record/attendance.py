"""How much of the shop hours that were promised was worked, week by week.

A day's worked hours are told in the hours that the shop was in use (see `logged_hours`). Weeks are
ISO 8601 weeks.
"""

import datetime as dt
import math
from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.build.logged_hours import worked_by_day
from webapp.build.time.promised_days import PromisedDays
from webapp.build.time_units import DAY
from webapp.planning.chances.factors import LEAST_ATTENDANCE, PRIOR_ATTENDANCE_SD, Attendance

WEEK_ATTENDANCE_SD = 0.25
"""Scatter of a single week's attendance around the builder's own mean: one week in three is off
by a quarter of the promised hours or more. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekHours:
    """One ISO week: hours the shop week promised, its exceptions applied, and hours worked.

    `whole` is False for the week that still runs; its hours count up to the build's `now`.
    """

    iso_year: int
    iso_week: int
    monday: dt.date
    promised_hours: float
    worked_hours: float
    whole: bool

    @property
    def lost_hours(self) -> float:
        """Promised hours that were not worked; 0 where more was worked than promised."""
        return max(0.0, self.promised_hours - self.worked_hours)


def weeks_of_record(build: BuildInput) -> tuple[WeekHours, ...]:
    """Every ISO week from the day the build starts on to `now`, the last one cut at `now`.

    A build without that day starts with its first log entry; without either there is no record.
    Hours logged before the start are left out.
    """
    first = first_day(build)
    if first is None or first > build.now.date():
        return ()
    promised = PromisedDays(build)
    worked = worked_by_day(build, (entry for entry in build.log if entry.on >= first))
    weeks = []
    monday = first - DAY * first.weekday()
    while monday <= build.now.date():
        days = [monday + DAY * i for i in range(7)]
        year, week, _ = monday.isocalendar()
        next_monday = dt.datetime.combine(monday + 7 * DAY, dt.time())
        weeks.append(
            WeekHours(
                iso_year=year,
                iso_week=week,
                monday=monday,
                promised_hours=sum(promised.hours(d, until=build.now) for d in days if d >= first),
                worked_hours=sum(worked.get(day, 0.0) for day in days),
                whole=next_monday <= build.now,
            )
        )
        monday += 7 * DAY
    return tuple(weeks)


def attendance_of(build: BuildInput) -> Attendance:
    """Hours worked over hours promised in the whole weeks of the record, shrunk toward 1.

    Normal-normal shrinking: prior mean 1, prior spread `PRIOR_ATTENDANCE_SD`, scatter of single
    weeks `WEEK_ATTENDANCE_SD`. With the ratio r of n weeks the weight of the record is
    w = n / (n + k), k = (0.25 / 0.10)^2 = 6.25 weeks; the mean is 1 + w (r - 1) and the spread
    0.10 sqrt(1 - w) (formula of the normal posterior, any textbook of statistics). As long as
    nothing was ever logged there is no record: nobody has begun to write hours down.
    """
    if not build.log:
        return Attendance()
    weeks = [week for week in weeks_of_record(build) if week.whole]
    promised = sum(week.promised_hours for week in weeks)
    count = sum(week.promised_hours > 0 for week in weeks)
    if not promised:
        return Attendance()
    ratio = sum(week.worked_hours for week in weeks) / promised
    weight = count / (count + (WEEK_ATTENDANCE_SD / PRIOR_ATTENDANCE_SD) ** 2)
    return Attendance(
        mean=max(LEAST_ATTENDANCE, 1 + weight * (ratio - 1)),
        sd=PRIOR_ATTENDANCE_SD * math.sqrt(1 - weight),
        weeks=count,
    )


def first_day(build: BuildInput) -> dt.date | None:
    """The day the record begins with: the build's start, else its first log entry."""
    if build.starts_on is not None:
        return build.starts_on
    return min((entry.on for entry in build.log), default=None)
