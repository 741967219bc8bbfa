"""When the shop is open, told day by day in plain datetimes: the checks' own calendar.

Written apart from `shop_calendar`, so that a mistake there does not hide itself here.
"""

import datetime as dt
from bisect import bisect_left, bisect_right
from collections.abc import Iterator

from webapp.build.build_input import Moment
from webapp.build.shop import DayHours, Shop, WeekSession

SECOND = dt.timedelta(seconds=1)
DAY = dt.timedelta(days=1)
LAST_DAY = dt.date(2500, 1, 1)


def midnight(day: dt.date) -> dt.datetime:
    """00:00 of a date."""
    return dt.datetime(day.year, day.month, day.day)


def from_the_start_of(when: Moment) -> dt.datetime:
    """A moment as it is; a date from its 00:00 on."""
    return when if isinstance(when, dt.datetime) else midnight(when)


def weekly_hours(shop: Shop, day: dt.date) -> tuple[WeekSession, ...]:
    """What comes back every week, as it is on a date: in a range of days, else in the shop week."""
    for days in shop.ranges:
        if days.first_on <= day <= days.last_on:
            return days.week
    held, since = shop.week, dt.date.min
    for later in shop.later_weeks:
        if since < later.from_on <= day:
            held, since = later.week, later.from_on
    return held


def day_stretches(
    shop: Shop, day: dt.date, *, helper_only: bool
) -> list[tuple[dt.datetime, dt.datetime]]:
    """Opening and closing of every session of one date, earliest first."""
    replaced = [exception.sessions for exception in shop.days if exception.date == day]
    weekly = weekly_hours(shop, day)
    week = [session.hours for session in weekly if session.weekday == day.weekday()]
    return sorted(
        (
            midnight(day) + dt.timedelta(minutes=hours.opens_minute),
            midnight(day) + dt.timedelta(minutes=hours.closes_minute),
        )
        for hours in (replaced[0] if replaced else week)
        if (hours.helper or not helper_only) and not is_given_away(shop, day, hours)
    )


def is_given_away(
    shop: Shop, day: dt.date, hours: DayHours, *, of_later_work: bool = False
) -> bool:
    """Whether a session of a date belongs to another build, for what first start needs."""
    for given in shop.given:
        weeks, days = divmod((day - given.first_on).days, 7)
        if days or weeks < 0 or (given.after_first_start and not of_later_work):
            continue
        if given.last_on is not None and day > given.last_on:
            continue
        if hours.closes_minute > given.opens_minute and given.closes_minute > hours.opens_minute:
            return True
    return False


class OpenHours:
    """The stretches in which the shop is open (or the helper is there), from `now` on.

    Before the day the build starts on there are none. Stretches that touch are one.
    Laid out day by day as far as they are asked for.
    """

    def __init__(
        self,
        shop: Shop,
        now: dt.datetime,
        *,
        starts_on: dt.date | None = None,
        helper_only: bool = False,
    ) -> None:
        self.now = now
        self._first_day = starts_on or now.date()
        self.openings: list[dt.datetime] = []
        self.closings: list[dt.datetime] = []
        self._open_before: list[int] = []
        self._days = self._next_days(shop, helper_only)
        self._told_until = midnight(now.date())

    def _next_days(
        self, shop: Shop, helper_only: bool
    ) -> Iterator[list[tuple[dt.datetime, dt.datetime]]]:
        days = [self.now.date(), *(exception.date for exception in shop.days)]
        days += [later.from_on for later in shop.later_weeks]
        days += [given.last_on or given.first_on for given in shop.given]
        last = max(*days, *(days_of.last_on for days_of in shop.ranges), self.now.date())
        if any(s.hours.helper or not helper_only for s in weekly_hours(shop, LAST_DAY)):
            last = LAST_DAY
        day = self.now.date()
        while day <= last:
            open_yet = day >= self._first_day
            yield day_stretches(shop, day, helper_only=helper_only) if open_yet else []
            day += DAY

    def _one_day_more(self) -> bool:
        stretches = next(self._days, None)
        if stretches is None:
            return False
        self._told_until += DAY
        for opens, closes in stretches:
            if closes <= self.now:
                continue
            if self.closings and opens <= self.closings[-1]:
                self.closings[-1] = max(closes, self.closings[-1])
                continue
            gone = max(self._told_seconds(), 0)
            self.openings.append(max(opens, self.now))
            self.closings.append(closes)
            self._open_before.append(gone)
        return True

    def _tell_until(self, moment: dt.datetime) -> None:
        while self._told_until <= moment + DAY and self._one_day_more():
            pass

    def _tell_for(self, seconds: int) -> None:
        while self._told_seconds() <= seconds and self._one_day_more():
            pass

    def _told_seconds(self) -> int:
        if not self.openings:
            return -1
        return self._open_before[-1] + _seconds(self.closings[-1] - self.openings[-1])

    def opening_before(self, moment: dt.datetime) -> dt.datetime | None:
        """When the stretch opened that a moment lies in, its closing not included."""
        self._tell_until(moment)
        k = bisect_right(self.openings, moment) - 1
        return self.openings[k] if k >= 0 and moment < self.closings[k] else None

    def within_one(self, begins: dt.datetime, ends: dt.datetime) -> bool:
        """Whether one stretch holds all of the time between two moments."""
        self._tell_until(ends)
        k = bisect_right(self.openings, begins) - 1
        return k >= 0 and ends <= self.closings[k]

    def open_seconds(self, moment: dt.datetime) -> int:
        """Whole seconds the shop is open from `now` to a moment."""
        self._tell_until(moment)
        k = bisect_right(self.openings, moment) - 1
        if k < 0:
            return 0
        return self._open_before[k] + _seconds(min(moment, self.closings[k]) - self.openings[k])

    def begin_at(self, seconds: int) -> dt.datetime | None:
        """When work begins that may begin after so many open seconds."""
        self._tell_for(seconds)
        k = bisect_right(self._open_before, seconds) - 1
        if k < 0:
            return None
        moment = self.openings[k] + (seconds - self._open_before[k]) * SECOND
        return moment if moment < self.closings[k] else None

    def end_at(self, seconds: int) -> dt.datetime | None:
        """When work ends that ends after so many open seconds: at a closing, not an opening."""
        if seconds <= 0:
            return self.now
        self._tell_for(seconds)
        k = bisect_left(self._open_before, seconds) - 1
        if k < 0:
            return None
        moment = self.openings[k] + (seconds - self._open_before[k]) * SECOND
        return moment if moment <= self.closings[k] else None


def _seconds(span: dt.timedelta) -> int:
    return span // SECOND
