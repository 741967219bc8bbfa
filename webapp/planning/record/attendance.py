"""How much of the hours that could be worked was worked, week by week.

A day's worked hours are told in the hours that the shop was in use (see `logged_hours`). Weeks are
ISO 8601 weeks.
"""

import datetime as dt
import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from webapp.build.build_input import BuildInput
from webapp.build.earlier_record import EarlierRecord
from webapp.build.time_units import DAY
from webapp.planning.chances.factors import (
    LEAST_ATTENDANCE,
    PRIOR_ATTENDANCE_SD,
    SAME_EVENINGS,
    Attendance,
)
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


@dataclass(frozen=True, slots=True, kw_only=True)
class WeeksWorked:
    """What whole weeks with workable hours come to: how many, and hours workable and worked."""

    weeks: int = 0
    workable_hours: float = 0.0
    worked_hours: float = 0.0


def weeks_worked(build: BuildInput) -> WeeksWorked:
    """The whole weeks of a build's own record; none as long as nothing was ever logged.

    A week without workable hours says nothing. Without a log nobody has begun to write hours down.
    """
    if not build.log:
        return WeeksWorked()
    weeks = [week for week in weeks_of_record(build) if week.whole and week.workable_hours > 0]
    return WeeksWorked(
        weeks=len(weeks),
        workable_hours=sum(week.workable_hours for week in weeks),
        worked_hours=sum(week.worked_hours for week in weeks),
    )


def attendance_of(build: BuildInput) -> Attendance:
    """Hours at the bench over workable hours of the whole weeks of the record, shrunk toward 1.

    Normal-normal shrinking: prior mean 1, prior spread `PRIOR_ATTENDANCE_SD`, scatter of single
    weeks `WEEK_ATTENDANCE_SD`. With the ratio r of n weeks the weight of the record is
    w = n / (n + k), k = (0.25 / 0.20)^2 = 1.5625 weeks; the mean is 1 + w (r - 1) and the spread
    0.20 sqrt(1 - w) (formula of the normal posterior, any textbook of statistics). Where earlier
    builds' records count, mean and spread before the own weeks are theirs (`before_own_weeks`).
    """
    before = before_own_weeks(build.earlier_records)
    own = weeks_worked(build)
    if not own.weeks:
        return replace(before, mean=max(LEAST_ATTENDANCE, before.mean))
    ratio = own.worked_hours / own.workable_hours
    weight = own.weeks / (own.weeks + (WEEK_ATTENDANCE_SD / before.sd) ** 2)
    return replace(
        before,
        mean=max(LEAST_ATTENDANCE, before.mean + weight * (ratio - before.mean)),
        sd=before.sd * math.sqrt(1 - weight),
        weeks=own.weeks,
    )


def before_own_weeks(records: Iterable[EarlierRecord]) -> Attendance:
    """What earlier builds say of this one's attendance.

    The person's attendance has half of the variance 0.20^2 (`SAME_EVENINGS`), each build's own
    round it the other half. So with a build's ratio r of n weeks, v = 0.20^2 / 2 + 0.25^2 / n, the
    person is at (1 / (0.20^2 / 2) + sum(r / v)) over p = 1 / (0.20^2 / 2) + sum(1 / v), with the
    variance 1 / p, and this build at the same mean with 1 / p + 0.20^2 / 2 (normal posterior).
    """
    heard = [record for record in records if record.counts and record.weeks]
    if not heard:
        return Attendance()
    person = SAME_EVENINGS * PRIOR_ATTENDANCE_SD**2
    build = PRIOR_ATTENDANCE_SD**2 - person
    off = [build + WEEK_ATTENDANCE_SD**2 / record.weeks for record in heard]
    precision = 1 / person + sum(1 / each for each in off)
    told = sum(record.share_worked / each for record, each in zip(heard, off, strict=True))
    return Attendance(
        mean=(1 / person + told) / precision,
        sd=math.sqrt(1 / precision + build),
        earlier=sum(record.weeks for record in heard),
    )


def first_day(build: BuildInput) -> dt.date | None:
    """The day the record begins with: the build's start, else its first log entry."""
    if build.starts_on is not None:
        return build.starts_on
    return min((entry.on for entry in build.log), default=None)
