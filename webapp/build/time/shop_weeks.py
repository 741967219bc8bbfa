"""Which weekly hours hold on a day: the shop week, a later one from its first day on, a range.

A range of days goes before the shop week of its days, a day exception before both. Where faulty
entries overlap, the one that was entered first counts, as with day exceptions.
"""

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass, replace
from operator import attrgetter

from webapp.build.shop import DayRange, LaterWeek, Shop, WeekSession

Week = tuple[WeekSession, ...]

FOR_EVER = 1 << 40
"""The last day of a span that has none: beyond every date, small enough to add to."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekSpan:
    """Days that have the same weekly hours, as ordinals (`date.toordinal`), both included."""

    first_day: int
    last_day: int
    week: Week


def shop_week_on(shop: Shop, day: dt.date) -> Week:
    """The shop week that holds on a day, ranges of days apart."""
    later = later_week_on(shop, day)
    return shop.week if later is None else later.week


def later_week_on(shop: Shop, day: dt.date) -> LaterWeek | None:
    """The later shop week that holds on a day; None while the first one does."""
    begun = [later for later in shop.later_weeks if later.from_on <= day]
    return max(begun, key=attrgetter("from_on"), default=None)


def range_on(shop: Shop, day: dt.date) -> DayRange | None:
    """The range of days that a day lies in."""
    return next((one for one in shop.ranges if one.first_on <= day <= one.last_on), None)


def week_on(shop: Shop, day: dt.date) -> Week:
    """The weekly hours of a day: those of its range, else of the shop week that holds then."""
    within = range_on(shop, day)
    return shop_week_on(shop, day) if within is None else within.week


def lasting_week(shop: Shop) -> Week:
    """The shop week that holds in the end, once every later one has begun."""
    return shop_week_on(shop, dt.date.max)


def last_change(shop: Shop) -> dt.date | None:
    """The last day on which weekly hours begin or end; None where they are always the same."""
    days = (*(one.from_on for one in shop.later_weeks), *(one.last_on for one in shop.ranges))
    return max(days, default=None)


def week_spans(shop: Shop) -> tuple[WeekSpan, ...]:
    """All days in order, from the first there is to the last, by their weekly hours."""
    if not shop.later_weeks and not shop.ranges:
        return (WeekSpan(first_day=0, last_day=FOR_EVER, week=shop.week),)
    begins = {1, *(one.from_on.toordinal() for one in shop.later_weeks)}
    for one in shop.ranges:
        begins |= {one.first_on.toordinal(), one.last_on.toordinal() + 1}
    firsts = sorted(begins)
    lasts = [*(first - 1 for first in firsts[1:]), FOR_EVER]
    spans: list[WeekSpan] = []
    for first, last in zip(firsts, lasts, strict=True):
        week = week_on(shop, dt.date.fromordinal(min(first, dt.date.max.toordinal())))
        if spans and spans[-1].week == week:
            spans[-1] = replace(spans[-1], last_day=last)
        else:
            spans.append(WeekSpan(first_day=first, last_day=last, week=week))
    return tuple(spans)


def spans_after(shop: Shop, day: dt.date) -> tuple[WeekSpan, ...]:
    """The same from the day after `day` on."""
    next_day = day.toordinal() + 1
    return tuple(
        replace(span, first_day=max(span.first_day, next_day))
        for span in week_spans(shop)
        if span.last_day >= next_day
    )


def with_week_changed(shop: Shop, since: dt.date, change: Callable[[Week], Week | None]) -> Shop:
    """The shop with its week changed as of the day `since`, and likewise every later one.

    What `change` answers None for stays as it is. Weeks that are over and ranges stay.
    """
    now = later_week_on(shop, since)
    later = tuple(
        replace(one, week=_changed(one.week, change)) if one is now or one.from_on > since else one
        for one in shop.later_weeks
    )
    week = shop.week if now is not None else _changed(shop.week, change)
    return replace(shop, week=week, later_weeks=later)


def _changed(week: Week, change: Callable[[Week], Week | None]) -> Week:
    changed = change(week)
    return week if changed is None else changed


def week_hours(week: Week) -> float:
    """Open hours of a week."""
    return sum(one.hours.closes_minute - one.hours.opens_minute for one in week) / 60
