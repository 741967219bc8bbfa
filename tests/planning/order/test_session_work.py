"""What a plan puts into each session, by hand and beside the hours of its weeks."""

import datetime as dt
from dataclasses import replace

import pytest

from tests.build.builds import EVENINGS, MONDAY, build_of, session, task
from tests.lives.life_builds import life_build
from webapp.planning.order.job_order import make_plan
from webapp.planning.order.session_work import SessionWork, session_work
from webapp.planning.order.week_hours import week_hours

DAY = dt.timedelta(days=1)
FIRST = MONDAY.date()


def told(session: SessionWork) -> list[tuple[str, float, bool]]:
    """The shares of one session: task, hours to the minute, whether it was begun before."""
    return [(one.key, round(one.hours, 2), one.begun_before) for one in session.shares]


def test_a_task_that_spans_sessions_has_its_hours_in_each() -> None:
    # 18:00 to 21:00: 4 h of A fill Monday and an hour of Tuesday, B's 2 h the rest of it.
    build = build_of([task("a", 4), task("b", 2)], [("a", "b")], week=EVENINGS, first_start="b")
    monday, tuesday, wednesday, *_ = session_work(build, make_plan(build), FIRST, FIRST + 6 * DAY)
    assert told(monday) == [("a", 3, False)]
    assert told(tuesday) == [("a", 1, True), ("b", 2, False)]
    assert told(wednesday) == []
    assert (tuesday.date, tuesday.opens_minute, tuesday.closes_minute) == (FIRST + DAY, 1080, 1260)


def test_two_people_at_one_task_count_for_both() -> None:
    build = build_of([task("a", 2, people=2)], week=EVENINGS, first_start="a", people=2)
    monday, *_ = session_work(build, make_plan(build), FIRST, FIRST)
    assert told(monday) == [("a", 4, False)]


def test_a_session_that_is_over_is_left_out_and_one_that_runs_has_the_rest() -> None:
    build = build_of([task("a", 9)], week=EVENINGS, first_start="a")
    build = replace(build, now=MONDAY + DAY + dt.timedelta(hours=20))  # Tuesday 20:00
    tuesday, wednesday, *_ = session_work(build, make_plan(build), FIRST, FIRST + 6 * DAY)
    assert tuesday.date == FIRST + DAY
    assert told(tuesday) == [("a", 1, False)]
    assert told(wednesday) == [("a", 3, True)]


def test_outside_work_and_a_plan_without_tasks_take_no_hours() -> None:
    build = build_of([task("out", 0, outside_days=3)], week=EVENINGS, first_start="out")
    assert [told(one) for one in session_work(build, make_plan(build), FIRST, FIRST)] == [[]]
    bare = build_of([], week=(session(2, 9, 12, helper=True),))
    (wednesday,) = session_work(bare, make_plan(bare), FIRST, FIRST + 6 * DAY)
    assert (wednesday.helper, told(wednesday)) == (True, [])


@pytest.mark.parametrize("seed", range(25))
def test_the_sessions_of_a_week_have_together_what_the_week_has(seed: int) -> None:
    build = life_build(seed)
    plan = make_plan(build)
    for week in week_hours(build, plan):
        sessions = session_work(build, plan, week.monday, week.monday + 6 * DAY)
        summed: dict[str, float] = {}
        for one in sessions:
            for share in one.shares:
                summed[share.key] = summed.get(share.key, 0.0) + share.hours
        assert summed == pytest.approx({share.key: share.hours for share in week.shares})
