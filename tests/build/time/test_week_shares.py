"""Sessions of a week dealt out between builds, and what each gives away by it."""

import datetime as dt
from dataclasses import replace

from tests.build.builds import build_of, session
from webapp.build.build_input import BuildInput
from webapp.build.sharing import HandedOver, Sharing, SharingBuild
from webapp.build.shop import DayException, GivenAway, WeekSession
from webapp.build.time.given_by_rule import Given, given_by_shares
from webapp.build.time.shared_sessions import drawn_together
from webapp.build.time.shop_calendar import sessions_on
from webapp.build.time.week_shares import dealt

DAY = dt.timedelta(days=1)
SUNDAY_NIGHT = dt.datetime(2026, 1, 4, 23, 0)
THRICE = (session(1, 18, 21), session(3, 18, 21), session(5, 9, 17))
"""Tuesday and Thursday evening, Saturday: from Monday 5 January 2026 the 6th, 8th and 10th."""
HERON, BOAT = "heron", "boat"
TWO_TO_ONE = Sharing(
    way="week",
    builds=(SharingBuild(slug=HERON, sessions=2), SharingBuild(slug=BOAT, sessions=1)),
)


def two_builds(boat: tuple[WeekSession, ...] = THRICE) -> dict[str, BuildInput]:
    heron = build_of([])
    return {
        HERON: replace(heron, name="The Heron", shop=replace(heron.shop, week=THRICE)),
        BOAT: replace(heron, name="The Boat", shop=replace(heron.shop, week=boat)),
    }


def own_days(builds: dict[str, BuildInput], given: Given, days: int = 14) -> dict[str, list[int]]:
    """By build the days of January from the 5th on with sessions of its own."""
    found: dict[str, list[int]] = {}
    for slug, build in builds.items():
        own = replace(build, shop=replace(build.shop, given=given[slug]))
        dates = (dt.date(2026, 1, 5) + DAY * i for i in range(days))
        found[slug] = [date.day for date in dates if sessions_on(own, date)]
    return found


def test_two_to_one_is_the_first_and_the_third_session() -> None:
    # Owed after n of 3: 2n/3 and n/3 less what each has: 2/3 > 1/3; 1/3 < 2/3; 1 > 0.
    assert dealt([(HERON, BOAT)] * 3, {HERON: 2, BOAT: 1}) == [HERON, BOAT, HERON]


def test_even_shares_take_turns_and_the_first_begins() -> None:
    assert dealt([(HERON, BOAT)] * 4, {HERON: 1, BOAT: 1}) == [HERON, BOAT, HERON, BOAT]


def test_a_session_goes_to_a_build_that_has_hours_in_it() -> None:
    assert dealt([("pump", BOAT), (HERON, BOAT)], {HERON: 5, BOAT: 1, "pump": 1}) == [BOAT, HERON]


def test_every_session_of_every_week_belongs_to_one_build() -> None:
    builds = two_builds()
    given = given_by_shares(builds, TWO_TO_ONE, SUNDAY_NIGHT)
    assert own_days(builds, given) == {HERON: [6, 10, 13, 17], BOAT: [8, 15]}
    thursdays = GivenAway(
        first_on=dt.date(2026, 1, 8),
        last_on=None,
        opens_minute=18 * 60,
        closes_minute=21 * 60,
        belongs_to="The Boat",
    )
    assert given[HERON] == (thursdays,)


def test_hours_of_one_build_alone_are_in_nobody_s_question() -> None:
    # The boat has Wednesday evenings; only Saturday overlaps (12 to 15 in 9 to 17).
    builds = two_builds((session(2, 18, 21), session(5, 12, 15)))
    given = given_by_shares(builds, TWO_TO_ONE, SUNDAY_NIGHT)
    assert own_days(builds, given) == {HERON: [6, 8, 10, 13, 15, 17], BOAT: [7, 14]}


def test_a_date_that_its_build_is_closed_on_is_the_other_s_and_turns_nothing_round() -> None:
    builds = two_builds()
    away = DayException(date=dt.date(2026, 1, 6))
    heron = builds[HERON]
    builds[HERON] = replace(heron, shop=replace(heron.shop, days=(away,)))
    given = given_by_shares(builds, TWO_TO_ONE, SUNDAY_NIGHT)
    assert own_days(builds, given) == {HERON: [10, 13, 17], BOAT: [6, 8, 15]}


def test_what_was_handed_over_goes_before_the_share_and_ends_with_its_date() -> None:
    builds = two_builds()
    by_hand = HandedOver(
        date=dt.date(2026, 1, 6), opens_minute=18 * 60, closes_minute=21 * 60, slug=BOAT
    )
    sharing = replace(TWO_TO_ONE, handed_over=(by_hand,))
    given = given_by_shares(builds, sharing, SUNDAY_NIGHT)
    assert own_days(builds, given) == {HERON: [10, 13, 17], BOAT: [6, 8, 15]}


def test_a_build_that_has_not_begun_takes_no_session() -> None:
    builds = two_builds()
    builds[BOAT] = replace(builds[BOAT], starts_on=dt.date(2026, 1, 12))
    given = given_by_shares(builds, TWO_TO_ONE, SUNDAY_NIGHT)
    assert own_days(builds, given) == {HERON: [6, 8, 10, 13, 17], BOAT: [15]}


def test_what_is_over_is_the_same_said_as_facts() -> None:
    builds, later = two_builds(), dt.datetime(2026, 1, 15, 12, 0)
    facts = given_by_shares(builds, TWO_TO_ONE, SUNDAY_NIGHT, later)
    ahead = given_by_shares(builds, TWO_TO_ONE, later)
    whole = given_by_shares(builds, TWO_TO_ONE, SUNDAY_NIGHT)
    for slug in builds:
        assert drawn_together((*facts[slug], *ahead[slug])) == whole[slug]
