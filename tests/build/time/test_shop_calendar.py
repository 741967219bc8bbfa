"""The shop calendar against examples worked by hand, and round trips on random weeks."""

import datetime as dt
from dataclasses import replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.build.builds import ALWAYS, EVENINGS, MONDAY, build_of, session, stretch
from tests.build.random_builds import shops, starts
from webapp.build.moments import moment_at_start
from webapp.build.shop import DayException, Shop, WeekSession
from webapp.build.time.promised_days import PromisedDays
from webapp.build.time.shop_calendar import (
    NEVER,
    ShopCalendar,
    calendar_of,
    last_closing,
    sessions_on,
)
from webapp.build.time_units import seconds_of

HOUR = 3600


def calendar_of_week(
    week: tuple[WeekSession, ...], now: dt.datetime = MONDAY, *days: DayException
) -> ShopCalendar:
    return ShopCalendar.of(
        Shop(week=week, days=days), now, starts_on=None, shop_hours=60, until=now
    )


def ends_at(calendar: ShopCalendar, shop_hours: float) -> dt.datetime:
    return calendar.moment(int(calendar.end_wall(seconds_of(shop_hours))))


def begins_at(calendar: ShopCalendar, shop_hours: float) -> dt.datetime:
    return calendar.moment(int(calendar.start_wall(seconds_of(shop_hours))))


def test_a_task_over_three_evenings_ends_in_the_third() -> None:
    # Evenings 18 to 21: 3 h on Monday, 3 h on Tuesday, 1.5 h on Wednesday.
    calendar = calendar_of_week(EVENINGS)
    assert ends_at(calendar, 7.5) == dt.datetime(2026, 1, 7, 19, 30)


def test_an_end_falls_at_the_closing_and_a_start_at_the_next_opening() -> None:
    calendar = calendar_of_week(EVENINGS)
    assert ends_at(calendar, 3) == dt.datetime(2026, 1, 5, 21, 0)
    assert begins_at(calendar, 3) == dt.datetime(2026, 1, 6, 18, 0)


def test_a_wait_over_a_closed_weekend_costs_no_shop_hours() -> None:
    # Friday 9 January 21:00 plus 48 h is Sunday 21:00; the shop is shut until Monday 18:00.
    friday_closing = dt.datetime(2026, 1, 9, 21, 0)
    calendar = calendar_of_week(EVENINGS, dt.datetime(2026, 1, 9, 18, 0))
    over = calendar.wall_of(friday_closing) + 48 * HOUR
    assert int(calendar.shop_of(over)) == 3 * HOUR
    assert begins_at(calendar, 3) == dt.datetime(2026, 1, 12, 18, 0)


def test_a_day_exception_replaces_the_sessions_of_its_date_alone() -> None:
    tuesday = DayException(date=dt.date(2026, 1, 6), sessions=(stretch(9, 12), stretch(13, 14)))
    wednesday = DayException(date=dt.date(2026, 1, 7))
    calendar = calendar_of_week(EVENINGS, MONDAY, tuesday, wednesday)
    # Monday 3 h, Tuesday 9-12 and 13-14 are 4 h, Wednesday nothing, Thursday from 18:00.
    assert ends_at(calendar, 6.5) == dt.datetime(2026, 1, 6, 13, 30)
    assert begins_at(calendar, 7) == dt.datetime(2026, 1, 8, 18, 0)


def test_a_session_to_24_and_one_from_0_the_next_day_are_one() -> None:
    calendar = calendar_of_week((session(0, 20, 24), session(1, 0, 2), session(1, 18, 20)))
    assert calendar.moment(int(calendar.closes[0])) == dt.datetime(2026, 1, 6, 2, 0)
    assert ends_at(calendar, 5) == dt.datetime(2026, 1, 6, 1, 0)


def test_a_closing_at_24_is_midnight_of_the_next_day() -> None:
    calendar = calendar_of_week((session(0, 20, 24),))
    assert ends_at(calendar, 4) == dt.datetime(2026, 1, 6, 0, 0)


def test_the_helper_coming_in_makes_a_helper_stretch_but_no_new_session() -> None:
    # Saturday 9 to 17, the helper from 13: one session, helper shop hours 4 to 8.
    calendar = calendar_of_week((session(5, 9, 13), session(5, 13, 17, helper=True)))
    assert calendar.closes[0] - calendar.opens[0] == 8 * HOUR
    assert (calendar.helper_from[0], calendar.helper_to[0]) == (4 * HOUR, 8 * HOUR)


def test_a_helper_on_a_day_exception_counts() -> None:
    day = DayException(date=dt.date(2026, 1, 6), sessions=(stretch(18, 22, helper=True),))
    calendar = calendar_of_week(EVENINGS, MONDAY, day)
    assert (calendar.helper_from[0], calendar.helper_to[0]) == (3 * HOUR, 7 * HOUR)


def test_work_goes_on_through_the_week_in_which_the_year_turns() -> None:
    # ISO week 2026-W53 runs from Monday 28 December to Sunday 3 January 2027.
    new_year = DayException(date=dt.date(2027, 1, 1))
    calendar = calendar_of_week(EVENINGS, dt.datetime(2026, 12, 30, 18, 0), new_year)
    # Wednesday 3 h, Thursday 3 h, Friday 1 January closed, Monday 4 January.
    assert ends_at(calendar, 7) == dt.datetime(2027, 1, 4, 19, 0)
    assert dt.date(2026, 12, 31).isocalendar()[:2] == (2026, 53)


def test_now_within_a_session_leaves_only_the_rest_of_it() -> None:
    calendar = calendar_of_week(EVENINGS, dt.datetime(2026, 1, 5, 20, 0))
    assert ends_at(calendar, 2) == dt.datetime(2026, 1, 6, 19, 0)


def test_a_shop_open_day_and_night_has_the_wall_clocks_hours() -> None:
    calendar = calendar_of_week(ALWAYS, dt.datetime(2026, 1, 5, 3, 17))
    seconds = np.arange(0, 50 * HOUR, 977)
    assert (calendar.shop_of(seconds) == seconds).all()
    assert (calendar.start_wall(seconds) == seconds).all()


def test_a_shop_without_hours_never_opens() -> None:
    calendar = calendar_of_week(())
    assert int(calendar.start_wall(0)) == NEVER
    assert int(calendar.end_wall(1)) == NEVER


def test_the_calendar_reaches_as_far_as_the_hours_asked_for() -> None:
    shop = Shop(week=(session(5, 9, 10),))
    calendar = ShopCalendar.of(shop, MONDAY, starts_on=None, shop_hours=520, until=MONDAY)
    # An hour a Saturday: hour 520 is the 520th Saturday from 10 January 2026.
    expected = dt.datetime(2026, 1, 10, 10) + dt.timedelta(weeks=519)
    assert ends_at(calendar, 520) == expected


def test_the_last_closing_is_that_days_or_its_end_where_it_was_closed() -> None:
    shop = Shop(week=EVENINGS)
    assert last_closing(shop, dt.date(2026, 1, 5)) == dt.datetime(2026, 1, 5, 21, 0)
    assert last_closing(shop, dt.date(2026, 1, 10)) == dt.datetime(2026, 1, 11, 0, 0)


def test_the_sessions_of_a_date_come_earliest_first() -> None:
    shop = Shop(week=(session(0, 18, 21), session(0, 9, 11)))
    assert sessions_on(build_of([], week=shop.week), dt.date(2026, 1, 5)) == (
        stretch(9, 11),
        stretch(18, 21),
    )


def test_before_the_build_starts_the_shop_has_no_hour() -> None:
    # Now is Monday 5 January; the build starts on Wednesday, whose evening is 18:00 to 21:00.
    wednesday = dt.date(2026, 1, 7)
    build = build_of([], week=EVENINGS, starts_on=wednesday)
    calendar = calendar_of(build, shop_hours=10, until=MONDAY)
    assert begins_at(calendar, 0) == dt.datetime(2026, 1, 7, 18, 0)
    assert ends_at(calendar, 3) == dt.datetime(2026, 1, 7, 21, 0)
    assert int(calendar.shop_of(calendar.wall_of(dt.datetime(2026, 1, 7, 18, 0)))) == 0
    assert sessions_on(build, dt.date(2026, 1, 6)) == ()
    assert sessions_on(build, wednesday) == (stretch(18, 21),)


def test_a_session_that_runs_over_into_the_first_day_is_cut_at_its_midnight() -> None:
    build = build_of([], week=ALWAYS, starts_on=dt.date(2026, 1, 7))
    calendar = calendar_of(build, shop_hours=10, until=MONDAY)
    assert begins_at(calendar, 0) == dt.datetime(2026, 1, 7, 0, 0)


def test_a_calendar_that_is_drawn_out_still_begins_with_the_build() -> None:
    build = build_of([], week=EVENINGS, starts_on=dt.date(2026, 1, 7))
    calendar = calendar_of(build, shop_hours=10, until=MONDAY)
    longer = calendar.drawn_out(build.shop, until=MONDAY + dt.timedelta(days=60))
    assert begins_at(longer, 0) == dt.datetime(2026, 1, 7, 18, 0)


def test_day_by_day_no_start_in_the_past_takes_an_hour_away() -> None:
    # Evenings from Monday 5 January on; the build starts on Wednesday 7. Seen from each day of
    # that week, the hours until the week's end: Wednesday to Friday 9 h until Wednesday, then
    # those of the days that are left.
    week_end = dt.datetime(2026, 1, 10)
    hours = []
    for day in range(5):
        now = MONDAY + dt.timedelta(days=day)
        build = build_of([], week=EVENINGS, starts_on=dt.date(2026, 1, 7), now=now)
        calendar = calendar_of(build, shop_hours=20, until=week_end)
        hours.append(int(calendar.shop_of(calendar.wall_of(week_end))) / HOUR)
    assert hours == [9, 9, 9, 6, 3]


def test_nothing_is_promised_before_the_build_starts() -> None:
    promised = PromisedDays(build_of([], week=EVENINGS, starts_on=dt.date(2026, 1, 7)))
    assert [promised.hours(dt.date(2026, 1, day)) for day in (5, 6, 7, 8)] == [0, 0, 3, 3]


def test_a_date_counts_from_its_first_minute() -> None:
    assert moment_at_start(dt.date(2026, 3, 2)) == dt.datetime(2026, 3, 2)


MOMENTS = st.integers(0, 7 * 48).map(lambda n: MONDAY + dt.timedelta(minutes=30 * n))


@settings(derandomize=True, max_examples=150, deadline=None)
@given(now=MOMENTS, data=st.data())
def test_shop_hours_come_back_from_the_wall_clock_unchanged(
    now: dt.datetime, data: st.DataObject
) -> None:
    shop = data.draw(shops(now))
    calendar = ShopCalendar.of(shop, now, starts_on=None, shop_hours=40, until=now)
    shop_seconds = np.arange(0, int(calendar.shop_at_close[-1]), 613, dtype=np.int64)
    starts, ends = calendar.start_wall(shop_seconds), calendar.end_wall(shop_seconds)
    assert (calendar.shop_of(starts) == shop_seconds).all()
    assert (calendar.shop_of(ends) == shop_seconds).all()
    assert (ends <= starts).all()
    k = np.searchsorted(calendar.opens, starts, side="right") - 1
    assert (starts < calendar.closes[k]).all(), "every start lies in an open session"


@settings(derandomize=True, max_examples=100, deadline=None)
@given(now=MOMENTS, data=st.data())
def test_open_seconds_counted_day_by_day_agree(now: dt.datetime, data: st.DataObject) -> None:
    """Counted again by hand: whole days, each date's sessions clipped at both ends."""
    shop, starts_on = data.draw(shops(now)), data.draw(starts(now))
    build = replace(build_of([], now=now, starts_on=starts_on), shop=shop)
    calendar = calendar_of(build, shop_hours=40, until=now + dt.timedelta(days=30))
    until = now + dt.timedelta(minutes=data.draw(st.integers(0, 28 * 1440)))
    gone = dt.timedelta()
    for days in range((until.date() - now.date()).days + 1):
        day = now.date() + dt.timedelta(days=days)
        midnight = dt.datetime.combine(day, dt.time())
        for hours in sessions_on(build, day):
            opens = max(now, midnight + dt.timedelta(minutes=hours.opens_minute))
            closes = min(until, midnight + dt.timedelta(minutes=hours.closes_minute))
            gone += max(closes - opens, dt.timedelta())
    wall = calendar.wall_of(until)
    if len(calendar.closes) and wall <= calendar.closes[-1]:
        assert int(calendar.shop_of(wall)) == gone.total_seconds()
