"""What the shop week and its exceptions promise, date by date."""

import datetime as dt

from webapp.build.build_input import BuildInput
from webapp.build.moments import moment_at_start
from webapp.build.time_units import DAY_MINUTES


class PromisedDays:
    """The hours the shop promised on any date, its exceptions applied; quick for many dates.

    Before the day the build starts on nothing is promised.
    """

    def __init__(self, build: BuildInput) -> None:
        shop = build.shop
        self._starts_on = build.starts_on
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
        if self._starts_on is not None and day < self._starts_on:
            return 0.0
        first = 0 if since is None else minute_of_day(since, day)
        last = DAY_MINUTES if until is None else minute_of_day(until, day)
        stretches = self._days.get(day)
        if stretches is None:
            stretches = self._week[day.weekday()]
        return sum(max(0, min(b, last) - max(a, first)) for a, b in stretches) / 60


def minute_of_day(moment: dt.datetime, day: dt.date) -> int:
    """Minutes from a date's midnight to a moment, within 0 and 1440."""
    if moment.date() != day:
        return 0 if moment.date() < day else DAY_MINUTES
    return int((moment - moment_at_start(day)).total_seconds()) // 60
