"""Hours without the sessions that belong to another build of the shop.

`own_hours` turns what is given away into plain hours, exceptions and later weeks, so that whoever
asks for hours needs to know nothing of it. What comes back for ever is taken out of the weeks,
what ends out of the dates that it falls on.
"""

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import lru_cache

from webapp.build.build_input import BuildInput
from webapp.build.shop import DayException, DayHours, DayRange, GivenAway, LaterWeek, Shop
from webapp.build.time.shop_weeks import Week, shop_week_on, week_on
from webapp.build.time_units import DAY

WEEK = dt.timedelta(weeks=1)


def falls_on(given: GivenAway, day: dt.date) -> bool:
    """Whether the sessions of a date are among those that are given away."""
    if day < given.first_on or (given.last_on is not None and day > given.last_on):
        return False
    return day.weekday() == given.first_on.weekday()


def takes(given: GivenAway, hours: DayHours) -> bool:
    """Whether a session of such a date overlaps the stretch that is given away."""
    return hours.opens_minute < given.closes_minute and given.opens_minute < hours.closes_minute


def dates_of(given: GivenAway) -> Iterator[dt.date]:
    """The dates of sessions that are given away until a last day."""
    assert given.last_on is not None
    day = given.first_on
    while day <= given.last_on:
        yield day
        day += WEEK


def own_hours(shop: Shop, *, of_later_work: bool = False) -> Shop:
    """The shop with the hours that are the build's own, written as plain hours.

    With `of_later_work` those in which it may do what comes after first start.
    """
    return _own_hours(shop, of_later_work) if shop.given else shop


def with_own_hours(build: BuildInput, *, of_later_work: bool = False) -> BuildInput:
    """The build with such a shop; the very build where no session is given away."""
    shop = own_hours(build.shop, of_later_work=of_later_work)
    return build if shop is build.shop else replace(build, shop=shop)


@lru_cache(maxsize=64)
def _own_hours(shop: Shop, of_later_work: bool) -> Shop:
    gone = [one for one in shop.given if of_later_work or not one.after_first_start]
    if not gone:
        return shop
    kept = () if of_later_work else tuple(one for one in shop.given if one.after_first_start)
    for_ever = [one for one in gone if one.last_on is None]
    weekly = _without_weekly(replace(shop, given=kept), for_ever)
    return replace(weekly, days=_days(weekly, gone))


def _days(shop: Shop, gone: list[GivenAway]) -> tuple[DayException, ...]:
    """The day exceptions, and those of the dates on which a session is given away."""
    days = {day.date: day.sessions for day in reversed(shop.days)}
    for one in gone:
        dates = list(days) if one.last_on is None else dates_of(one)
        for date in dates:
            if falls_on(one, date):
                there = days[date] if date in days else _of_week(shop, date)
                days[date] = tuple(hours for hours in there if not takes(one, hours))
    unchanged = {day.date for day in shop.days}
    return tuple(
        DayException(date=date, sessions=sessions)
        for date, sessions in sorted(days.items())
        if date in unchanged or sessions != _of_week(shop, date)
    )


def _of_week(shop: Shop, day: dt.date) -> tuple[DayHours, ...]:
    return tuple(one.hours for one in week_on(shop, day) if one.weekday == day.weekday())


def _without_weekly(shop: Shop, gone: list[GivenAway]) -> Shop:
    """The weeks and ranges without what is given away for ever.

    What begins within seven days begins with the first of them: no day of its weekday lies between.
    """
    in_turn = sorted(gone, key=lambda one: one.first_on)
    since: dt.date | None = None
    for number, one in enumerate(in_turn, 1):
        if since is None or one.first_on >= since + WEEK:
            since = one.first_on
        shop = _cut_at(shop, since, in_turn[:number])
    return shop


def _cut_at(shop: Shop, since: dt.date, gone: list[GivenAway]) -> Shop:
    """The shop with weeks that begin on a day, and what is given away taken out from then on."""
    begins = [later for later in shop.later_weeks if later.from_on >= since]
    if all(later.from_on != since for later in begins):
        begins.append(LaterWeek(from_on=since, week=shop_week_on(shop, since)))
    later_weeks = (
        *(later for later in shop.later_weeks if later.from_on < since),
        *(replace(later, week=_without(later.week, gone)) for later in begins),
    )
    return replace(
        shop,
        later_weeks=tuple(sorted(later_weeks, key=lambda one: one.from_on)),
        ranges=tuple(_cut_ranges(shop.ranges, since, gone)),
    )


def _cut_ranges(
    ranges: Iterable[DayRange], since: dt.date, gone: list[GivenAway]
) -> Iterator[DayRange]:
    for days in ranges:
        if days.last_on < since or not any(_takes_of(days.week, one) for one in gone):
            yield days
            continue
        if days.first_on < since:
            yield replace(days, last_on=since - DAY)
        first = max(days.first_on, since)
        yield replace(days, first_on=first, week=_without(days.week, gone))


def _takes_of(week: Week, one: GivenAway) -> bool:
    return _without(week, [one]) != week


def _without(week: Week, gone: list[GivenAway]) -> Week:
    return tuple(
        session
        for session in week
        if not any(
            session.weekday == one.first_on.weekday() and takes(one, session.hours) for one in gone
        )
    )
