"""How long the longest session ahead is, for work that must fit into one."""

import datetime as dt
import math
from bisect import bisect_left
from collections.abc import Iterable
from dataclasses import replace

from webapp.build.limits import EARLIEST_DAY, LATEST_DAY
from webapp.build.shop import DayHours, Shop
from webapp.build.time.given_away import own_hours
from webapp.build.time.shop_weeks import Week, WeekSpan, week_spans
from webapp.build.time_units import DAY_MINUTES

WEEK_MINUTES = 7 * DAY_MINUTES


def longest_session_minutes(shop: Shop, now: dt.datetime, *, helper: bool = False) -> float:
    """The longest unbroken open stretch at or after `now`, in minutes; `inf` if it never ends.

    Sessions that touch count as one, over midnight too. With `helper` only hours with the
    helper count. 0 means that there is no such stretch at all.
    """
    shop = own_hours(shop)
    today = now.date().toordinal()
    spans = [_counted(span, helper=helper) for span in week_spans(shop) if span.last_day >= today]
    in_any_week = _longest_in_week(spans[-1].week)
    if math.isinf(in_any_week):
        return in_any_week
    return max(in_any_week, _longest_near_changes(spans, shop, now, helper=helper))


def _counted(span: WeekSpan, *, helper: bool) -> WeekSpan:
    """The span with the sessions that count."""
    return replace(span, week=tuple(s for s in span.week if s.hours.helper or not helper))


def _longest_in_week(week: Week) -> float:
    """The longest stretch of weekly hours that come back for ever."""
    two_weeks = (
        (
            day * DAY_MINUTES + session.hours.opens_minute,
            day * DAY_MINUTES + session.hours.closes_minute,
        )
        for session in week
        for day in (session.weekday, session.weekday + 7)
    )
    longest = _longest_of(two_weeks)
    # A stretch as long as the week has no gap in any week.
    return math.inf if longest >= WEEK_MINUTES else longest


def _longest_near_changes(
    spans: list[WeekSpan], shop: Shop, now: dt.datetime, *, helper: bool
) -> float:
    """The longest stretch near day exceptions and where weekly hours begin or end."""
    exceptions: dict[int, list[DayHours]] = {}
    for day in shop.days:
        if EARLIEST_DAY <= day.date <= LATEST_DAY and day.date >= now.date():
            sessions = exceptions.setdefault(day.date.toordinal(), [])
            sessions.extend(hours for hours in day.sessions if hours.helper or not helper)
    today = now.date().toordinal()
    # A week with a gap has it every seven days, so no stretch of it reaches farther than those.
    near = {day for date in exceptions for day in range(date - 7, date + 8) if day >= today}
    for span in spans[:-1]:
        near |= _days_to_look_at(span, today)
    if len(spans) > 1:
        near |= set(range(spans[-1].first_day, spans[-1].first_day + 8))
    now_minute = today * DAY_MINUTES + now.hour * 60 + now.minute
    hours_on = _HoursOn(spans, exceptions)
    return _longest_of(
        (
            max(day * DAY_MINUTES + hours.opens_minute, now_minute),
            day * DAY_MINUTES + hours.closes_minute,
        )
        for day in near
        for hours in hours_on(day)
    )


def _days_to_look_at(span: WeekSpan, today: int) -> set[int]:
    """The days of a span that ends in which its longest stretch lies, and those at its ends."""
    first, last = max(span.first_day, today), min(span.last_day, LATEST_DAY.toordinal())
    if math.isinf(_longest_in_week(span.week)):
        return set(range(first, last + 1))
    begin = range(first, min(first + 15, last + 1))
    return {*begin, *range(max(first, last - 7), last + 1)}


class _HoursOn:
    """The sessions of a day, by its ordinal."""

    def __init__(self, spans: list[WeekSpan], exceptions: dict[int, list[DayHours]]) -> None:
        self._exceptions = exceptions
        self._last_days = [span.last_day for span in spans]
        self._weeks: list[dict[int, list[DayHours]]] = []
        for span in spans:
            by_weekday: dict[int, list[DayHours]] = {}
            for session in span.week:
                by_weekday.setdefault(session.weekday, []).append(session.hours)
            self._weeks.append(by_weekday)

    def __call__(self, day: int) -> list[DayHours]:
        if day in self._exceptions:
            return self._exceptions[day]
        # Day 1 of the calendar was a Monday.
        return self._weeks[bisect_left(self._last_days, day)].get((day - 1) % 7, [])


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
