"""How much of the shop hours that were promised was worked, week by week.

A day's worked hours are told in the hours that the shop was in use: hours logged times the hands
a task takes, over the people there are, at least the longest task of that day. With one person
that is the sum of the hours logged. Weeks are ISO 8601 weeks.
"""

import datetime as dt
import math
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from webapp.build.build_input import BuildInput, LogEntry, Shop
from webapp.build.time.shop_calendar import moment_at_start
from webapp.planning.chances.factors import PRIOR_ATTENDANCE_SD, Attendance

WEEK_ATTENDANCE_SD = 0.25
"""Scatter of a single week's attendance around the builder's own mean: one week in three is off
by a quarter of the promised hours or more. Common practice, no source."""
LEAST_ATTENDANCE = 0.05
"""Attendance is never taken as lower: the shop would have no date at all."""

DAY = dt.timedelta(days=1)


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
    promised = PromisedDays(build.shop)
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


def worked_by_day(build: BuildInput, entries: Iterable[LogEntry]) -> dict[dt.date, float]:
    """Hours the shop was in use on each date, by some entries of the log."""
    hands = {t.key: 1 if t.outside_days is not None else t.people for t in build.tasks}
    hand_hours: dict[dt.date, float] = defaultdict(float)
    by_task: dict[tuple[dt.date, str], float] = defaultdict(float)
    for entry in entries:
        hand_hours[entry.on] += entry.hours * hands.get(entry.task, 1)
        by_task[entry.on, entry.task] += entry.hours
    worked = {day: hours / max(1, build.shop.people) for day, hours in hand_hours.items()}
    for (day, _), hours in by_task.items():
        worked[day] = max(worked[day], hours)
    return worked


class PromisedDays:
    """The hours the shop promised on any date, its exceptions applied; quick for many dates."""

    def __init__(self, shop: Shop) -> None:
        week: list[list[tuple[int, int]]] = [[] for _ in range(7)]
        for session in shop.week:
            hours = session.hours
            week[session.weekday].append((hours.opens_minute, hours.closes_minute))
        self._week = week
        self._days: dict[dt.date, list[tuple[int, int]]] = {}
        for day in shop.days:
            # Of two exceptions for one date the first counts, as everywhere.
            stretches = [(hours.opens_minute, hours.closes_minute) for hours in day.sessions]
            self._days.setdefault(day.date, stretches)

    def hours(
        self, day: dt.date, *, since: dt.datetime | None = None, until: dt.datetime | None = None
    ) -> float:
        """Hours promised on a date, from `since` up to `until` where they are given."""
        first = 0 if since is None else minute_of_day(since, day)
        last = 24 * 60 if until is None else minute_of_day(until, day)
        stretches = self._days.get(day)
        if stretches is None:
            stretches = self._week[day.weekday()]
        return sum(max(0, min(b, last) - max(a, first)) for a, b in stretches) / 60


def minute_of_day(moment: dt.datetime, day: dt.date) -> int:
    """Minutes from a date's midnight to a moment, within 0 and 1440."""
    if moment.date() != day:
        return 0 if moment.date() < day else 24 * 60
    return int((moment - moment_at_start(day)).total_seconds()) // 60
