"""Hours of hands as they fall into each week."""

import datetime as dt
from dataclasses import replace

import pytest
from hypothesis import given, settings

from tests.build.builds import MONDAY, build_of, session, task
from tests.build.random_builds import builds
from webapp.build.build_input import BuildInput
from webapp.build.shop import DayException, Setup
from webapp.build.time.shop_calendar import sessions_on
from webapp.planning.order.job_order import make_plan
from webapp.planning.order.week_hours import WeekHours, week_hours

EVENINGS_AND_SATURDAY = (session(1, 18, 21), session(3, 18, 21), session(5, 9, 17))
"""3 + 3 + 8 = 14 hours a week."""
FIRST, SECOND, THIRD = (MONDAY.date() + dt.timedelta(weeks=i) for i in range(3))


def by_week(build: BuildInput) -> tuple[WeekHours, ...]:
    return week_hours(build, make_plan(build))


def hours(build: BuildInput) -> dict[dt.date, float]:
    return {week.monday: week.hours for week in by_week(build)}


def test_a_task_that_spans_two_weeks_counts_in_each_with_its_hours_there() -> None:
    # 14 h a week: 12 h of the first task and 2 h of the second in week one, its other 8 in two.
    build = build_of(
        [task("a", 12), task("b", 10)],
        [("a", "b")],
        first_start="b",
        week=EVENINGS_AND_SATURDAY,
    )
    assert hours(build) == {FIRST: 14.0, SECOND: 8.0}
    first, second = by_week(build)
    assert [(s.key, s.hours, s.begun_before) for s in first.shares] == [
        ("a", 12.0, False),
        ("b", 2.0, False),
    ]
    assert [(s.key, s.hours, s.begun_before) for s in second.shares] == [("b", 8.0, True)]


def test_a_week_in_which_no_task_begins_has_its_hours() -> None:
    # 30 h in weeks of 14: 14, 14 and 2.
    build = build_of([task("a", 30)], first_start="a", week=EVENINGS_AND_SATURDAY)
    assert hours(build) == {FIRST: 14.0, SECOND: 14.0, THIRD: 2.0}


def test_a_day_exception_takes_its_hours_from_its_week() -> None:
    # The first Saturday is closed: 6 h are left of the week; 10 h of work leave 4 to the next.
    closed = DayException(date=FIRST + dt.timedelta(days=5), sessions=())
    build = build_of([task("a", 10)], first_start="a", week=EVENINGS_AND_SATURDAY, days=(closed,))
    assert hours(build) == {FIRST: 6.0, SECOND: 4.0}


def test_a_session_over_sunday_midnight_is_split_at_monday() -> None:
    # Sunday 20:00 to 24:00 and Monday 0:00 to 3:00 touch: 5 h are 4 of one week, 1 of the next.
    build = build_of(
        [task("a", 5)],
        first_start="a",
        now=MONDAY + dt.timedelta(days=6),
        week=(session(6, 20, 24), session(0, 0, 3)),
    )
    assert hours(build) == {FIRST: 4.0, SECOND: 1.0}


def test_two_people_on_one_task_count_both() -> None:
    # 3 h on Tuesday and 1 h on Thursday with two people: 8 hours of hands.
    build = build_of([task("a", 4, people=2)], week=EVENINGS_AND_SATURDAY, people=2)
    assert hours(build) == {FIRST: 8.0}


def test_getting_a_setup_out_is_work_and_outside_work_and_cures_are_none() -> None:
    # 0.5 h to get the welder out and 2 h of work; the oven needs no hands; coating is outside.
    build = build_of(
        [
            task("a", 2, setup="welder"),
            task("oven", 3, people=0),
            replace(task("coat", 0), outside_days=9.0),
        ],
        week=EVENINGS_AND_SATURDAY,
        setups=(Setup(key="welder", name="Welder out", hours=0.5),),
    )
    assert hours(build) == {FIRST: 2.5}


def test_the_hours_that_have_gone_by_are_not_in_the_week() -> None:
    # On Thursday at 20:00 there are 1 h of the evening and 8 of Saturday: 9 of 12 h, then 3.
    now = MONDAY + dt.timedelta(days=3, hours=20)
    build = build_of([task("a", 12)], now=now, week=EVENINGS_AND_SATURDAY)
    assert hours(build) == {FIRST: 9.0, SECOND: 3.0}


def test_no_task_has_no_weeks() -> None:
    assert by_week(build_of([], week=(session(1, 18, 21),))) == ()


def promised(build: BuildInput, monday: dt.date) -> float:
    """Open hours of a week from `now` on, its minutes counted apart from the calendar."""
    minutes: set[int] = set()
    since = dt.datetime.combine(monday, dt.time())
    gone = -((since - build.now) // dt.timedelta(minutes=1))  # the first that is not over
    for offset in range(7):
        for stretch in sessions_on(build, monday + dt.timedelta(days=offset)):
            opens, closes = (
                offset * 1440 + minute for minute in (stretch.opens_minute, stretch.closes_minute)
            )
            minutes.update(range(max(opens, gone), closes))
    return len(minutes) / 60


@settings(derandomize=True, max_examples=150, deadline=None)
@given(build=builds(max_tasks=12))
def test_no_week_has_more_than_is_promised_and_nothing_is_lost(build: BuildInput) -> None:
    plan = make_plan(build)
    weeks = week_hours(build, plan)
    tasks = {one.key: one for one in build.tasks}
    people = build.shop.people
    for week in weeks:
        assert week.hours <= promised(build, week.monday) * people + 1e-9
    spent = dict.fromkeys(tasks, 0.0)
    for week in weeks:
        for share in week.shares:
            assert share.hours > 0
            spent[share.key] += share.hours
    for one in plan.tasks:
        task_of = tasks[one.key]
        taken = 0.0
        if task_of.outside_days is None:
            taken = (one.end_shop_hours - one.begin_shop_hours) * task_of.people
        assert spent[one.key] == pytest.approx(taken, abs=1e-6)
