"""Levers: each against the plan of the changed build, by hand."""

import datetime as dt
from dataclasses import replace
from typing import Any

import pytest

from tests.build.builds import EVENINGS, MONDAY, build_of, session, task
from tests.planning.chances.test_wish_prices import EXACT
from webapp.build.build_input import BuildInput, Part
from webapp.build.shop import DayHours, LaterWeek
from webapp.build.wish import Wish, WishDecision
from webapp.planning.chances.factors import Attendance, Factors
from webapp.planning.chances.firm_by import firm_by, with_more
from webapp.planning.chances.levers import Lever, levers_of
from webapp.planning.order.job_order import make_plan

TODAY = MONDAY.date()
SATURDAYS = (session(5, 9, 17),)


def levers(build: BuildInput, factors: Factors = EXACT) -> dict[tuple[str, str], Lever]:
    return {(one.kind, one.what): one for one in levers_of(build, factors, draws=40)}


def days_between(build: BuildInput, changed: BuildInput) -> float:
    before, after = make_plan(build).first_start_at, make_plan(changed).first_start_at
    assert before is not None
    assert after is not None
    return (before - after).total_seconds() / 86_400


def chain(hours: float = 12, **rest: object) -> BuildInput:
    tasks = [task("a", hours), task("z", 1)]
    return build_of(tasks, [("a", "z")], first_start="z", week=SATURDAYS, **rest)  # type: ignore[arg-type]


def test_one_more_evening_is_tried_on_a_free_day_as_long_as_the_usual_one() -> None:
    """13 h on Saturdays of 8 h end on the second; with Mondays of 8 h on the first Saturday."""
    build = chain()
    found = levers(build)["evening", ""]
    assert found.session == replace(SATURDAYS[0], weekday=0)
    assert found.hours_a_week == 8
    assert found.session is not None
    more = replace(build.shop, week=(*SATURDAYS, found.session))
    assert found.days_won == pytest.approx(days_between(build, replace(build, shop=more)))
    assert found.firm_at == make_plan(replace(build, shop=more)).first_start_at


def test_an_hour_longer_on_a_session() -> None:
    """17 h on Saturdays take 8 + 8 + 1, three of them; with 9 h a Saturday two."""
    build = chain(16)
    found = levers(build)["longer", ""]
    assert found.session is not None
    assert found.session.hours == DayHours(opens_minute=540, closes_minute=1080)
    # Saturday 24 January 10:00 becomes Saturday 17 January 17:00.
    assert found.days_won == pytest.approx(7 - 7 / 24)


def test_a_session_that_the_next_one_follows_at_once_is_not_made_longer() -> None:
    both = (session(5, 9, 13), session(5, 13, 17))
    build = build_of([task("a", 30)], first_start="a", week=both)
    found = levers(build)["longer", ""]
    assert found.session is not None
    assert found.session.hours.opens_minute == 13 * 60


def test_a_part_and_outside_work_a_week_earlier() -> None:
    """Of a part that comes in ten days seven are won, of three days of outside work all three."""
    tasks = [task("fit", 1), replace(task("blast", 0), outside_days=3.0), task("z", 1)]
    hose = Part(key="hose", name="Hose", serves=("fit",), arrives_on=TODAY + dt.timedelta(days=10))
    links = [("fit", "z"), ("blast", "z")]
    build = build_of(tasks, links, first_start="z", parts=(hose,))
    found = levers(build)
    assert found["part", "hose"].days_won == pytest.approx(7)
    assert ("outside", "blast") not in found
    without = replace(build, parts=())
    # 3 days and an hour; without the wait two hours of work are left.
    assert levers(without)["outside", "blast"].days_won == pytest.approx(3 - 1 / 24)
    assert not found["part", "hose"].costs_hours


@pytest.mark.parametrize(
    "entered",
    [
        {"lead_days": 10.0},
        {"lead_days": 14.0, "ordered_on": TODAY - dt.timedelta(days=4)},
        {"promised_on": TODAY + dt.timedelta(days=10)},
    ],
)
def test_a_part_that_is_only_assumed_to_come_may_come_earlier_too(entered: dict[str, Any]) -> None:
    """Reckoned with in ten days, by whatever was entered: a week earlier wins seven days."""
    hose = Part(key="hose", name="Hose", serves=("fit",), **entered)
    build = build_of([task("fit", 1)], first_start="fit", parts=(hose,))
    assert levers(build)["part", "hose"].days_won == pytest.approx(7)


def test_an_accepted_wish_fitted_later_takes_its_work_out_of_the_way() -> None:
    wish = Wish(
        key="lamp",
        text="Lamp",
        logged_on=TODAY,
        decision=WishDecision(way="fit now", decided_on=TODAY),
    )
    tasks = [task("a", 2), replace(task("lamp", 6), wish="lamp"), task("z", 1)]
    build = build_of(tasks, [("a", "z"), ("lamp", "z")], first_start="z")
    build = replace(build, wishes=(wish,))
    assert levers(build)["wish", "lamp"].days_won == pytest.approx(6 / 24)
    begun = replace(
        build,
        tasks=tuple(replace(t, begun_on=MONDAY) if t.key == "lamp" else t for t in build.tasks),
    )
    assert ("wish", "lamp") not in levers(begun)


def test_the_helper_on_one_more_day_is_tried_where_work_waits_for_one() -> None:
    week = (session(2, 18, 21), session(5, 9, 17, helper=True))
    build = build_of([task("a", 2, helper=True)], first_start="a", week=week)
    found = levers(build)["helper", ""]
    # From Monday: Wednesday 20:00 in place of Saturday 11:00.
    assert found.days_won == pytest.approx(2 + 15 / 24)
    alone = build_of([task("a", 2)], first_start="a", week=week)
    assert ("helper", "") not in levers(alone)


def test_every_promised_hour_worked_takes_the_record_s_attendance_away() -> None:
    half = replace(EXACT, attendance=Attendance(mean=0.5, sd=0.0, weeks=9))
    build = build_of([task("a", 4), task("z", 2)], [("a", "z")], first_start="z", week=EVENINGS)
    found = levers(build, half)["attendance", ""]
    # 12 h in evenings of 3 h end on Thursday 21:00, 6 h on Tuesday 21:00; 7.5 h a week are lost.
    assert found.days_won == pytest.approx(2)
    assert found.hours_a_week == 7.5
    assert ("attendance", "") not in levers(build)


def test_what_wins_nothing_is_left_out_and_what_costs_no_hours_stands_first() -> None:
    late = Part(key="hose", name="Hose", serves=("z",), arrives_on=TODAY + dt.timedelta(days=60))
    build = chain(parts=(late,))
    found = levers_of(build, EXACT, draws=40)
    # Everything waits for the part: no hour more helps.
    assert [(one.kind, one.what) for one in found] == [("part", "hose")]
    several = levers_of(chain(30), EXACT, draws=40)
    won = [one.days_won for one in several]
    assert won == sorted(won, reverse=True)
    assert levers_of(build_of([task("a", 1)], first_start=None), EXACT) == ()


def test_an_order_that_is_earlier_is_a_lever_that_costs_nothing() -> None:
    tasks = [task("rack", 4), task("seal", 1), task("z", 1)]
    build = build_of(tasks, [("seal", "z", 24), ("rack", "z")], first_start="z")
    slow = replace(build, kept_order=("rack", "seal", "z"))
    (found,) = (
        one
        for one in levers_of(slow, EXACT, order=("seal", "rack", "z"), draws=20)
        if one.kind == "order"
    )
    assert found.days_won == pytest.approx(4 / 24)
    assert not found.costs_hours


def test_it_takes_so_many_more_hours_a_week_to_be_firm_by_the_wanted_date() -> None:
    """17 h by Saturday 17 January, the second: 8 h a Saturday are half an hour short each."""
    build = chain(16, wanted_by=dt.date(2026, 1, 17))
    found = firm_by(build, EXACT, draws=40)
    assert found is not None
    assert found.more_hours == 0.5
    assert make_plan(build).first_start_at == dt.datetime(2026, 1, 24, 10)


def test_firm_already_takes_no_more_and_what_waits_can_not_be_bought_with_hours() -> None:
    soon = firm_by(chain(2, wanted_by=dt.date(2026, 1, 17)), EXACT, draws=40)
    assert soon is not None
    assert soon.more_hours == 0
    late = Part(key="hose", name="Hose", serves=("z",), arrives_on=TODAY + dt.timedelta(days=60))
    never = firm_by(chain(2, wanted_by=dt.date(2026, 1, 17), parts=(late,)), EXACT, draws=40)
    assert never is not None
    assert never.more_hours is None
    assert firm_by(chain(), EXACT) is None


def test_half_hours_are_spread_over_the_sessions_and_end_at_midnight() -> None:
    week = (session(0, 18, 21), session(5, 22, 24))
    longer = with_more(week, 3)
    assert longer is not None
    assert [one.hours.closes_minute for one in longer] == [22 * 60 + 30, 24 * 60]
    assert with_more(week, 7) is None


def test_work_that_somebody_else_would_do_is_tried_as_done_by_them() -> None:
    """17 h take the Saturdays 10, 17 and 24 January, to 10:00; done elsewhere in three days the
    last hour is worked on the 10th, to 10:00: fourteen days."""
    build = chain(16)
    offered = replace(build.tasks[0], offer_cost=300.0, offer_days=3.0)
    found = levers(replace(build, tasks=(offered, build.tasks[1])))
    assert found["offer", "a"].days_won == pytest.approx(14)
    assert not found["offer", "a"].costs_hours
    assert ("offer", "a") not in levers(build)


def test_a_lever_changes_the_week_that_holds_and_those_to_come() -> None:
    """From Monday on 8 h Saturdays hold in place of Sundays: 17 h are 8 + 8 + 1, to 24 January
    10:00. With 9 h a Saturday they are 9 + 8, to the 17th at 17:00."""
    build = chain(16)
    later = LaterWeek(from_on=TODAY, week=SATURDAYS)
    shop = replace(build.shop, week=(session(6, 9, 10),), later_weeks=(later,))
    found = levers(replace(build, shop=shop))["longer", ""]
    assert found.session is not None
    assert found.session.weekday == 5
    assert found.days_won == pytest.approx(7 - 7 / 24)
