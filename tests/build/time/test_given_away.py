"""Sessions that belong to another build are no hours of this one, whoever asks."""

import datetime as dt
import random
from dataclasses import replace

import pytest

from tests.build.builds import MONDAY, build_of, session
from tests.build.random_builds import random_build
from webapp.build.build_input import BuildInput
from webapp.build.shop import DayException, DayHours, DayRange, GivenAway, LaterWeek, Shop
from webapp.build.time.given_away import own_hours
from webapp.build.time.promised_days import PromisedDays
from webapp.build.time.session_lengths import longest_session_minutes
from webapp.build.time.shop_calendar import calendar_of, sessions_on
from webapp.build.time.shop_weeks import lasting_week
from webapp.planning.proof.open_hours import OpenHours

DAY = dt.timedelta(days=1)
TUESDAY = dt.date(2026, 1, 6)
TWICE = (session(1, 18, 21), session(3, 18, 21))
"""Tuesday and Thursday, 18:00 to 21:00; MONDAY is 5 January 2026."""


def given(first: dt.date, last: dt.date | None, opens: int = 18, closes: int = 21) -> GivenAway:
    return GivenAway(
        first_on=first,
        last_on=last,
        opens_minute=opens * 60,
        closes_minute=closes * 60,
        belongs_to="The Boat",
    )


def open_days(shop: Shop, days: int = 14) -> list[int]:
    """The days of January from the 5th on with sessions."""
    build = replace(build_of([]), shop=shop)
    return [5 + i for i in range(days) if sessions_on(build, MONDAY.date() + i * DAY)]


def test_a_single_date_is_not_ones_own() -> None:
    assert open_days(Shop(week=TWICE)) == [6, 8, 13, 15]
    assert open_days(Shop(week=TWICE, given=(given(TUESDAY, TUESDAY),))) == [8, 13, 15]


def test_what_comes_back_every_week_is_gone_from_its_first_day_on() -> None:
    from_the_second = given(dt.date(2026, 1, 13), None)
    assert open_days(Shop(week=TWICE, given=(from_the_second,))) == [6, 8, 15]


def test_a_session_that_overlaps_goes_whole_and_one_that_touches_stays() -> None:
    shop = Shop(week=TWICE, given=(given(TUESDAY, TUESDAY, 20, 23),))
    assert open_days(shop) == [8, 13, 15]
    assert open_days(replace(shop, given=(given(TUESDAY, TUESDAY, 21, 23),))) == [6, 8, 13, 15]


def test_what_gives_way_after_first_start_alone_is_there_for_first_start() -> None:
    later = replace(given(TUESDAY, None), after_first_start=True)
    shop = Shop(week=TWICE, given=(later,))
    assert open_days(shop) == [6, 8, 13, 15]
    assert own_hours(shop) == shop
    assert open_days(own_hours(shop, of_later_work=True)) == [8, 15]


def test_the_week_that_holds_in_the_end_is_ones_own_part_of_it() -> None:
    assert lasting_week(own_hours(Shop(week=TWICE, given=(given(TUESDAY, None),)))) == TWICE[1:]


def test_holidays_a_day_of_its_own_and_a_later_week_are_taken_from_alike() -> None:
    # Tue 6 in the shop week; Tue 13 and Thu 15 in a range with the same hours; Tue 20 a day of its
    # own 18 to 20; from Thu 22 on Tuesdays 17 to 22. All Tuesdays are the other build's.
    shop = Shop(
        week=TWICE,
        days=(DayException(date=dt.date(2026, 1, 20), sessions=(_hours(18, 20),)),),
        ranges=(DayRange(first_on=dt.date(2026, 1, 9), last_on=dt.date(2026, 1, 16), week=TWICE),),
        later_weeks=(LaterWeek(from_on=dt.date(2026, 1, 22), week=(session(1, 17, 22),)),),
        given=(given(TUESDAY, None),),
    )
    assert open_days(shop, 30) == [8, 15]


def _hours(opens: int, closes: int) -> DayHours:
    return DayHours(opens_minute=opens * 60, closes_minute=closes * 60)


def with_given(seed: int) -> BuildInput:
    """A random build with up to four stretches given away, some for ever."""
    chance, build = random.Random(f"given {seed}"), random_build(4, seed)
    today = build.now.date()
    found = []
    for _ in range(chance.randint(1, 4)):
        first = today + chance.randint(-20, 40) * DAY
        opens = chance.randint(0, 22)
        last = None if chance.random() < 0.4 else first + 7 * chance.randint(0, 5) * DAY
        found.append(given(first, last, opens, chance.randint(opens + 1, 24)))
    return replace(build, shop=replace(build.shop, given=tuple(found)))


@pytest.mark.parametrize("first", range(0, 200, 50))
def test_whoever_asks_gets_the_same_hours_as_day_by_day_in_plain_datetimes(first: int) -> None:
    for seed in range(first, first + 50):
        build = with_given(seed)
        plain = replace(build, shop=own_hours(build.shop))
        assert plain.shop.given == ()
        promised = PromisedDays(build)
        for number in range(-30, 120):
            day = build.now.date() + number * DAY
            assert sessions_on(build, day) == sessions_on(plain, day), (seed, day)
            hours = sum(s.closes_minute - s.opens_minute for s in sessions_on(build, day)) / 60
            assert promised.hours(day) == pytest.approx(hours), (seed, day)
        until = build.now + 200 * DAY
        calendar = calendar_of(build, shop_hours=0, until=until)
        by_day = OpenHours(build.shop, build.now, starts_on=build.starts_on)
        for number in range(190):
            moment = build.now + number * DAY
            seconds = int(calendar.shop_of([calendar.wall_of(moment)])[0])
            assert seconds in (by_day.open_seconds(moment), 1 << 40), (seed, moment)
        for helper in (False, True):
            longest = longest_session_minutes(build.shop, build.now, helper=helper)
            assert longest == longest_session_minutes(plain.shop, build.now, helper=helper)
