"""How long the longest session ahead is, for work that must fit into one."""

import datetime as dt
import math
from collections.abc import Iterable

from webapp.build.build_input import DayHours, Shop
from webapp.build.limits import EARLIEST_DAY, LATEST_DAY
from webapp.build.time_units import DAY_MINUTES

WEEK_MINUTES = 7 * DAY_MINUTES


def longest_session_minutes(shop: Shop, now: dt.datetime, *, helper: bool = False) -> float:
    """The longest unbroken open stretch at or after `now`, in minutes; `inf` if it never ends.

    Sessions that touch count as one, over midnight too. With `helper` only hours with the
    helper count. 0 means that there is no such stretch at all.
    """
    week = [
        (session.weekday, session.hours)
        for session in shop.week
        if session.hours.helper or not helper
    ]
    in_any_week = _longest_in_week(week)
    if math.isinf(in_any_week):
        return in_any_week
    return max(in_any_week, _longest_near_exceptions(week, shop, now, helper=helper))


def _longest_in_week(week: list[tuple[int, DayHours]]) -> float:
    """The longest stretch of the weekly pattern, which comes back for ever."""
    two_weeks = (
        (day * DAY_MINUTES + hours.opens_minute, day * DAY_MINUTES + hours.closes_minute)
        for weekday, hours in week
        for day in (weekday, weekday + 7)
    )
    longest = _longest_of(two_weeks)
    # A stretch as long as the week has no gap in any week.
    return math.inf if longest >= WEEK_MINUTES else longest


def _longest_near_exceptions(
    week: list[tuple[int, DayHours]], shop: Shop, now: dt.datetime, *, helper: bool
) -> float:
    """The longest stretch that day exceptions make, alone or joined to the days around them."""
    exceptions: dict[int, list[DayHours]] = {}
    for day in shop.days:
        if EARLIEST_DAY <= day.date <= LATEST_DAY and day.date >= now.date():
            sessions = exceptions.setdefault(day.date.toordinal(), [])
            sessions.extend(hours for hours in day.sessions if hours.helper or not helper)
    by_weekday: dict[int, list[DayHours]] = {}
    for weekday, hours in week:
        by_weekday.setdefault(weekday, []).append(hours)
    today = now.date().toordinal()
    # The week has a gap, so no stretch reaches more than seven days beyond an exception.
    near = {day for date in exceptions for day in range(date - 7, date + 8) if day >= today}
    now_minute = today * DAY_MINUTES + now.hour * 60 + now.minute
    return _longest_of(
        (
            max(day * DAY_MINUTES + hours.opens_minute, now_minute),
            day * DAY_MINUTES + hours.closes_minute,
        )
        for day in near
        # Day 1 of the calendar was a Monday.
        for hours in exceptions.get(day, by_weekday.get((day - 1) % 7, []))
    )


def _longest_of(stretches: Iterable[tuple[int, int]]) -> float:
    longest = begin = end = 0
    for opens, closes in sorted(stretches):
        if closes <= opens:
            continue
        if opens > end:
            begin = opens
        end = max(end, closes)
        longest = max(longest, end - begin)
    return longest
