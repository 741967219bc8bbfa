"""How much of the hours that could be worked was worked, week by week.

A day's worked hours are told in the hours that the shop was in use (see `logged_hours`). Weeks are
ISO 8601 weeks.
"""

import datetime as dt
import math
from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.build.time_units import DAY
from webapp.planning.chances.factors import LEAST_ATTENDANCE, PRIOR_ATTENDANCE_SD, Attendance
from webapp.planning.record.as_lived import AsLived
from webapp.planning.record.workable import workable_days

WEEK_ATTENDANCE_SD = 0.25
"""Scatter of a single week's attendance around the builder's own mean: one week in three is off
by a quarter of the workable hours or more. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekHours:
    """One ISO week: hours the shop week promised, its exceptions applied, workable and worked.

    `whole` is False for the week that still runs; its hours count up to the build's `now`.
    """

    iso_year: int
    iso_week: int
    monday: dt.date
    promised_hours: float
    workable_hours: float
    worked_hours: float
    whole: bool

    @property
    def lost_hours(self) -> float:
        """Workable hours that were not worked."""
        return self.workable_hours - self.worked_hours


def weeks_of_record(build: BuildInput, *, lived: AsLived | None = None) -> tuple[WeekHours, ...]:
    """Every ISO week from the day the build starts on to `now`, the last one cut at `now`.

    A build without that day starts with its first log entry; without either there is no record.
    Hours logged before the start are left out. `lived` are the facts where they are at hand.
    """
    first = first_day(build)
    if first is None or first > build.now.date():
        return ()
    days = workable_days(build, first, build.now.date(), lived=lived)
    weeks: dict[tuple[int, int], list[int]] = {}
    for place, day in enumerate(days):
        weeks.setdefault(day.date.isocalendar()[:2], []).append(place)
    found = []
    for (year, week), places in weeks.items():
        monday = dt.date.fromisocalendar(year, week, 1)
        own = [days[place] for place in places]
        found.append(
            WeekHours(
                iso_year=year,
                iso_week=week,
                monday=monday,
                promised_hours=sum(day.promised_hours for day in own),
                workable_hours=sum(day.workable_hours for day in own),
                worked_hours=sum(day.worked_hours for day in own),
                whole=dt.datetime.combine(monday + 7 * DAY, dt.time()) <= build.now,
            )
        )
    return tuple(found)


def attendance_of(build: BuildInput) -> Attendance:
    """Hours at the bench over workable hours of the whole weeks of the record, shrunk toward 1.

    Normal-normal shrinking: prior mean 1, prior spread `PRIOR_ATTENDANCE_SD`, scatter of single
    weeks `WEEK_ATTENDANCE_SD`. With the ratio r of n weeks the weight of the record is
    w = n / (n + k), k = (0.25 / 0.20)^2 = 1.5625 weeks; the mean is 1 + w (r - 1) and the spread
    0.20 sqrt(1 - w) (formula of the normal posterior, any textbook of statistics). A week without
    workable hours says nothing. As long as nothing was ever logged there is no record: nobody has
    begun to write hours down.
    """
    if not build.log:
        return Attendance()
    weeks = [week for week in weeks_of_record(build) if week.whole and week.workable_hours > 0]
    workable = sum(week.workable_hours for week in weeks)
    if not workable:
        return Attendance()
    ratio = sum(week.worked_hours for week in weeks) / workable
    weight = len(weeks) / (len(weeks) + (WEEK_ATTENDANCE_SD / PRIOR_ATTENDANCE_SD) ** 2)
    return Attendance(
        mean=max(LEAST_ATTENDANCE, 1 + weight * (ratio - 1)),
        sd=PRIOR_ATTENDANCE_SD * math.sqrt(1 - weight),
        weeks=len(weeks),
    )


def first_day(build: BuildInput) -> dt.date | None:
    """The day the record begins with: the build's start, else its first log entry."""
    if build.starts_on is not None:
        return build.starts_on
    return min((entry.on for entry in build.log), default=None)
