"""The longest session ahead, worked out by hand on the calendar."""

import datetime as dt
import math

from tests.build.builds import ALWAYS, EVENINGS, session, stretch
from webapp.build.shop import DayException, Shop
from webapp.build.time.session_lengths import longest_session_minutes

MONDAY_NOON = dt.datetime(2026, 2, 2, 12)


def hours(shop: Shop, now: dt.datetime = MONDAY_NOON, *, helper: bool = False) -> float:
    return longest_session_minutes(shop, now, helper=helper) / 60


def exception(day: dt.date, *spans: tuple[float, float]) -> DayException:
    return DayException(date=day, sessions=tuple(stretch(*span) for span in spans))


def test_the_longest_of_the_week_comes_back_every_week() -> None:
    shop = Shop(week=(*EVENINGS, session(5, 9, 17)))
    assert hours(shop) == 8
    # This Saturday is closed: there is another one next week.
    closed = exception(dt.date(2026, 2, 7))
    assert hours(Shop(week=shop.week, days=(closed,))) == 8


def test_no_hours_at_all_are_no_session() -> None:
    assert hours(Shop()) == 0


def test_sessions_that_touch_count_as_one_over_midnight_and_the_turn_of_the_week() -> None:
    # Sunday 20:00 to 24:00 and Monday 00:00 to 03:00: 7 hours.
    assert hours(Shop(week=(session(0, 0, 3), session(6, 20, 24)))) == 7
    assert hours(Shop(week=(session(2, 9, 12), session(2, 12, 14, helper=True)))) == 5


def test_a_shop_that_never_closes_has_one_endless_session() -> None:
    assert hours(Shop(week=ALWAYS)) == math.inf
    closed = exception(dt.date(2026, 2, 3))
    assert hours(Shop(week=ALWAYS, days=(closed,))) == math.inf


def test_only_hours_with_the_helper_count_for_the_helper() -> None:
    week = (session(5, 8, 12), session(5, 12, 15, helper=True), session(5, 15, 16, helper=True))
    assert hours(Shop(week=week), helper=True) == 4
    assert hours(Shop(week=week)) == 8


def test_a_day_exception_joins_the_days_beside_it() -> None:
    # Friday to 24:00, Saturday as an exception 00:00 to 06:00: 18:00 to 06:00 is 12 hours.
    week = (session(4, 18, 24),)
    shop = Shop(week=week, days=(exception(dt.date(2026, 2, 7), (0, 6)),))
    assert hours(shop) == 12


def test_of_a_session_that_runs_only_the_rest_lies_ahead() -> None:
    shop = Shop(week=EVENINGS, days=(exception(dt.date(2026, 2, 2), (6, 20)),))
    assert hours(shop) == 8  # 12:00 to 20:00
    assert hours(shop, dt.datetime(2026, 2, 2, 19)) == 3  # the evenings are longer now
    assert hours(shop, dt.datetime(2026, 2, 3)) == 3


def test_a_run_of_whole_days_as_exceptions_is_one_session() -> None:
    days = tuple(exception(dt.date(2026, 2, 10 + n), (0, 24)) for n in range(12))
    assert hours(Shop(week=EVENINGS, days=days)) == 12 * 24
