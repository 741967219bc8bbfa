"""What the shop week, ranges of days and day exceptions promise, date by date."""

import datetime as dt
from bisect import bisect_left

from webapp.build.build_input import BuildInput
from webapp.build.moments import moment_at_start
from webapp.build.time.given_away import own_hours
from webapp.build.time.shop_weeks import Week, week_spans
from webapp.build.time_units import DAY_MINUTES


class PromisedDays:
    """The hours the shop promised on any date, its exceptions applied; quick for many dates.

    Before the day the build starts on nothing is promised.
    """

    def __init__(self, build: BuildInput) -> None:
        shop = own_hours(build.shop)
        self._starts_on = build.starts_on
        spans = week_spans(shop)
        self._weeks = [_by_weekday(span.week) for span in spans]
        self._last_days = [span.last_day for span in spans]
        self._days: dict[dt.date, list[tuple[int, int]]] = {}
        for day in shop.days:
            # Of two exceptions for one date the first counts, as everywhere.
            stretches = [(hours.opens_minute, hours.closes_minute) for hours in day.sessions]
            self._days.setdefault(day.date, stretches)

    def hours(
        self, day: dt.date, *, since: dt.datetime | None = None, until: dt.datetime | None = None
    ) -> float:
        """Hours promised on a date, from `since` up to `until` where they are given."""
        if self._starts_on is not None and day < self._starts_on:
            return 0.0
        first = 0 if since is None else minute_of_day(since, day)
        last = DAY_MINUTES if until is None else minute_of_day(until, day)
        stretches = self._days.get(day)
        if stretches is None:
            span = bisect_left(self._last_days, day.toordinal())
            stretches = self._weeks[span][day.weekday()]
        return sum(max(0, min(b, last) - max(a, first)) for a, b in stretches) / 60


def _by_weekday(week: Week) -> list[list[tuple[int, int]]]:
    """The sessions of each weekday, in minutes of the day."""
    days: list[list[tuple[int, int]]] = [[] for _ in range(7)]
    for session in week:
        days[session.weekday].append((session.hours.opens_minute, session.hours.closes_minute))
    return days


def minute_of_day(moment: dt.datetime, day: dt.date) -> int:
    """Minutes from a date's midnight to a moment, within 0 and 1440."""
    if moment.date() != day:
        return 0 if moment.date() < day else DAY_MINUTES
    return int((moment - moment_at_start(day)).total_seconds()) // 60
