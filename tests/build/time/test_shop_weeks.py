"""Later shop weeks and ranges of days: which hours hold when, whoever asks."""

import datetime as dt
import itertools
import math
from dataclasses import replace

import pytest

from tests.build.builds import MONDAY, build_of, session, stretch
from tests.build.random_builds import random_build
from webapp.build.build_input import BuildInput
from webapp.build.shop import DayException, DayHours, DayRange, LaterWeek, Shop
from webapp.build.time.promised_days import PromisedDays
from webapp.build.time.session_lengths import longest_session_minutes
from webapp.build.time.shop_calendar import calendar_of, sessions_on
from webapp.build.time.shop_weeks import spans_after, week_spans, with_week_changed

DAY = dt.timedelta(days=1)
TUESDAYS = (session(1, 18, 21),)
ALSO_WEDNESDAYS = (*TUESDAYS, session(2, 18, 21))
FIRST_OF_MARCH = dt.date(2026, 3, 1)
"""A Sunday; Tuesdays around it are 24 February and 3 March, the Wednesday after is 4 March."""
MARCH = LaterWeek(from_on=FIRST_OF_MARCH, week=ALSO_WEDNESDAYS)


def hours_on(shop: Shop, day: dt.date) -> list[tuple[int, int]]:
    build = replace(build_of([]), shop=shop)
    return [(h.opens_minute // 60, h.closes_minute // 60) for h in sessions_on(build, day)]


def test_from_march_also_wednesdays() -> None:
    shop = Shop(week=TUESDAYS, later_weeks=(MARCH,))
    february, march = dt.date(2026, 2, 25), dt.date(2026, 3, 4)
    assert hours_on(shop, february) == []
    assert hours_on(shop, march) == [(18, 21)]
    assert hours_on(shop, march - DAY) == [(18, 21)]
    assert hours_on(shop, dt.date(2026, 2, 24)) == [(18, 21)]


def test_the_calendar_lays_the_later_week_out_from_its_first_day() -> None:
    # From Monday 5 January 2026: Tuesdays 6, 13, 20, 27 January, 3, 10, 17, 24 February (8 of 3 h,
    # 24 h), then Tue 3 March to 27 h and Wed 4 March to 30 h.
    shop = Shop(week=TUESDAYS, later_weeks=(MARCH,))
    calendar = calendar_of(replace(build_of([]), shop=shop), shop_hours=40, until=MONDAY)
    for hours, ends in ((24, dt.datetime(2026, 2, 24, 21)), (30, dt.datetime(2026, 3, 4, 21))):
        assert calendar.moment(int(calendar.end_wall(hours * 3600))) == ends


def test_holidays_close_the_shop_from_their_first_to_their_last_day() -> None:
    # Tuesdays 6 (open), 13 and 20 (closed), 27 January: the sixth hour ends on the 27th.
    away = DayRange(first_on=dt.date(2026, 1, 13), last_on=dt.date(2026, 1, 20))
    shop = Shop(week=TUESDAYS, ranges=(away,))
    calendar = calendar_of(replace(build_of([]), shop=shop), shop_hours=6, until=MONDAY)
    assert calendar.moment(int(calendar.end_wall(6 * 3600))) == dt.datetime(2026, 1, 27, 21)


def test_a_day_goes_before_its_range_and_a_range_before_the_shop_week() -> None:
    winter = DayRange(
        first_on=dt.date(2026, 2, 23), last_on=dt.date(2026, 3, 8), week=(session(1, 10, 12),)
    )
    special = DayException(date=dt.date(2026, 3, 3), sessions=(stretch(7, 8),))
    shop = Shop(week=TUESDAYS, later_weeks=(MARCH,), ranges=(winter,), days=(special,))
    assert hours_on(shop, dt.date(2026, 2, 24)) == [(10, 12)]
    assert hours_on(shop, dt.date(2026, 3, 3)) == [(7, 8)]
    assert hours_on(shop, dt.date(2026, 3, 4)) == []
    assert hours_on(shop, dt.date(2026, 3, 11)) == [(18, 21)]


def test_what_past_weeks_promised_does_not_change_with_a_week_that_begins_later() -> None:
    build = random_build(1, 4)
    before = replace(build, shop=Shop(week=TUESDAYS), starts_on=None)
    after = replace(before, shop=Shop(week=TUESDAYS, later_weeks=(MARCH,)))
    was, now = PromisedDays(before), PromisedDays(after)
    days = [FIRST_OF_MARCH + i * DAY for i in range(-200, 7)]
    changed = [day for day in days if was.hours(day) != now.hours(day)]
    assert changed == [dt.date(2026, 3, 4)]


def test_a_change_from_today_on_leaves_weeks_that_are_over_and_reaches_those_to_come() -> None:
    summer = LaterWeek(from_on=dt.date(2026, 6, 1), week=TUESDAYS)
    shop = Shop(week=(session(5, 9, 12),), later_weeks=(MARCH, summer))
    more = session(4, 18, 20)
    changed = with_week_changed(shop, dt.date(2026, 4, 1), lambda week: (*week, more))
    assert changed.week == shop.week
    assert [one.week[-1] for one in changed.later_weeks] == [more, more]
    assert with_week_changed(shop, FIRST_OF_MARCH - DAY, lambda week: week[:0]).week == ()
    assert with_week_changed(shop, FIRST_OF_MARCH, lambda _week: None) == shop


def test_spans_cover_every_day_once() -> None:
    for seed in range(80):
        shop = random_build(1, seed).shop
        spans = week_spans(shop)
        for one, other in itertools.pairwise(spans):
            assert one.last_day + 1 == other.first_day
            assert one.week != other.week
        after = spans_after(shop, MONDAY.date())
        assert after[0].first_day == MONDAY.toordinal() + 1
        assert after[-1].last_day == spans[-1].last_day
    assert any(len(week_spans(random_build(1, seed).shop)) > 3 for seed in range(80))


def weekly(shop: Shop, day: dt.date) -> tuple[DayHours, ...]:
    """What is open on a day, read off the entries and nothing else."""
    for exception in shop.days:
        if exception.date == day:
            return exception.sessions
    week = shop.week
    for later in sorted(shop.later_weeks, key=lambda one: one.from_on):
        if later.from_on <= day:
            week = later.week
    for days in shop.ranges:
        if days.first_on <= day <= days.last_on:
            week = days.week
    return tuple(one.hours for one in week if one.weekday == day.weekday())


def open_stretches(build: BuildInput, days: int, *, helper: bool = False) -> list[range]:
    """The open minutes of so many days, counted from the midnight before `now`, by session."""
    first, since = build.now.date(), build.now.hour * 60 + build.now.minute
    return [
        range(max(since, i * 1440 + hours.opens_minute), i * 1440 + hours.closes_minute)
        for i in range(days)
        if build.starts_on is None or first + i * DAY >= build.starts_on
        for hours in sorted(weekly(build.shop, first + i * DAY), key=lambda h: h.opens_minute)
        if hours.helper or not helper
    ]


@pytest.mark.parametrize("seed", range(60))
def test_the_calendar_is_open_in_just_those_minutes(seed: int) -> None:
    build = random_build(1, seed)
    days = 90
    until = dt.datetime.combine(build.now.date(), dt.time()) + days * DAY
    calendar = calendar_of(build, shop_hours=1, until=until)
    back = build.now.hour * 60 + build.now.minute
    laid: set[int] = set()
    for opens, closes in zip(calendar.opens, calendar.closes, strict=True):
        laid |= set(range(int(opens) // 60 + back, int(closes) // 60 + back))
    expected = [*itertools.chain(*open_stretches(build, days))]
    assert sorted(minute for minute in laid if minute < days * 1440) == expected
    assert int(calendar.shop_of(calendar.wall_of(until))) == 60 * len(expected)
    promised = PromisedDays(build)
    hours = sum(
        promised.hours(build.now.date() + i * DAY, since=build.now if i == 0 else None)
        for i in range(days)
    )
    assert hours == pytest.approx(len(expected) / 60)


@pytest.mark.parametrize("helper", [False, True])
def test_the_longest_session_is_the_longest_run_of_open_minutes(helper: bool) -> None:
    ended = 0
    for seed in range(150):
        build = replace(random_build(1, seed), starts_on=None)
        longest = longest_session_minutes(build.shop, build.now, helper=helper)
        run = best = until = 0
        for minutes in open_stretches(build, 130, helper=helper):
            if not minutes:
                continue
            run = run + len(minutes) if minutes.start == until else len(minutes)
            until, best = minutes.stop, max(best, run)
        if math.isinf(longest):
            assert until == 130 * 1440
            assert run > 7 * 1440
        else:
            assert longest == best
            ended += 1
    assert ended > 50
