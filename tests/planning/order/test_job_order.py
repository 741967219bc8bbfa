"""The plan: dates, reasons, the path, cost in days and the price of the house rules."""

import datetime as dt
from dataclasses import replace

import pytest

from tests.build.builds import EVENINGS, MONDAY, build_of, session, task
from webapp.build.build_input import BuildInput, Part, StationNeed
from webapp.build.shop import Setup, Station
from webapp.planning.order.job_order import days_cost, make_plan
from webapp.planning.order.plan import Plan, PlannedTask, Reason
from webapp.planning.simulator.house_rules import HouseRules

TIG = Setup(key="tig", name="TIG welder out", hours=0.75)
SATURDAYS = (session(5, 9, 13), session(5, 13, 17, helper=True))


def planned(plan: Plan, key: str) -> PlannedTask:
    return next(t for t in plan.tasks if t.key == key)


def held_by(build: BuildInput, key: str) -> set[tuple[str, str]]:
    return {(r.kind, r.what) for r in planned(make_plan(build), key).held_by}


def test_the_plan_gives_the_date_and_the_shop_hours_of_first_start() -> None:
    build = build_of([task("a", 2), task("z", 2.5)], [("a", "z")], first_start="z", week=EVENINGS)
    plan = make_plan(build)
    # Monday 18 to 21 and Tuesday 18 to 19:30.
    assert plan.first_start_at == dt.datetime(2026, 1, 6, 19, 30)
    assert plan.first_start_shop_hours == 4.5


def test_getting_the_setup_out_stands_between_begin_and_work() -> None:
    build = build_of([task("a", 2, setup="tig")], first_start="a", setups=(TIG,))
    a = planned(make_plan(build), "a")
    assert (a.setup_hours, a.begin_shop_hours, a.end_shop_hours) == (0.75, 0, 2.75)
    out = build_of([task("a", 2, setup="tig")], first_start="a", setups=(TIG,), setup_out="tig")
    assert planned(make_plan(out), "a").setup_hours == 0


def test_a_task_that_begins_at_once_is_held_by_nothing() -> None:
    assert held_by(build_of([task("a", 1)], first_start="a"), "a") == set()


def test_the_first_task_of_a_closed_shop_is_held_by_the_session() -> None:
    build = build_of([task("a", 1)], first_start="a", week=EVENINGS)
    assert held_by(build, "a") == {("session", "2026-01-05T18:00")}


def test_a_build_that_starts_later_is_planned_from_its_first_session() -> None:
    # Today is Monday 5 January, the build starts on Thursday the 8th: 3 h that evening, 1 h on
    # Friday. A part for it comes on Tuesday: that keeps nothing any more.
    build = build_of(
        [task("a", 4)],
        first_start="a",
        week=EVENINGS,
        starts_on=dt.date(2026, 1, 8),
        parts=(Part(key="p", name="P", serves=("a",), arrives_on=dt.date(2026, 1, 6)),),
    )
    plan = make_plan(build)
    assert plan.first_start_at == dt.datetime(2026, 1, 9, 19, 0)
    assert plan.first_start_shop_hours == 4
    assert held_by(build, "a") == {("session", "2026-01-08T18:00"), ("part", "p")}


def test_outside_work_and_waits_run_before_the_build_starts() -> None:
    # Three days outside from Monday 00:00 end on Thursday 00:00, a day of waiting on Friday 00:00;
    # the build starts on Wednesday and is open day and night: the hour of work is Friday's first.
    build = build_of(
        [task("out", 1, outside_days=3), task("a", 1)],
        [("out", "a", 24)],
        first_start="a",
        starts_on=dt.date(2026, 1, 7),
    )
    assert make_plan(build).first_start_at == dt.datetime(2026, 1, 9, 1, 0)


def test_day_by_day_a_later_start_keeps_its_date_until_the_day_comes() -> None:
    # 4 h on Thursday's and Friday's evenings, whichever day of the week before it is.
    days = [dt.datetime(2026, 1, day) for day in (1, 4, 5, 7, 8)]
    build = build_of([task("a", 4)], first_start="a", week=EVENINGS, starts_on=dt.date(2026, 1, 8))
    dates = {make_plan(replace(build, now=now)).first_start_at for now in days}
    assert dates == {dt.datetime(2026, 1, 9, 19, 0)}


def test_a_task_is_held_by_the_one_before_it_and_by_the_hands_it_had() -> None:
    build = build_of([task("a", 1), task("b", 1)], [("a", "b")], first_start="b")
    assert held_by(build, "b") == {("dependency", "a"), ("people", "a")}


def test_hands_on_other_work_are_named_by_that_work() -> None:
    tasks = [task("a", 1, space_litres=9), task("b", 1), task("z", 0)]
    build = build_of(tasks, [("a", "z"), ("b", "z")], first_start="z")
    assert held_by(build, "b") == {("people", "a")}


def test_a_wait_names_the_task_whose_cure_runs() -> None:
    build = build_of([task("seal", 1), task("fill", 1)], [("seal", "fill", 5)], first_start="fill")
    assert held_by(build, "fill") == {("wait", "seal")}


def test_a_wait_after_finished_work_still_holds() -> None:
    seal = task("seal", 1, finished_on=MONDAY - dt.timedelta(hours=2))
    build = build_of([seal, task("fill", 1)], [("seal", "fill", 5)], first_start="fill")
    plan = make_plan(build)
    assert planned(plan, "fill").begins == MONDAY + dt.timedelta(hours=3)
    assert planned(plan, "fill").held_by == (Reason(kind="wait", what="seal"),)
    assert [(s.kind, s.what) for s in plan.path] == [("wait", "seal"), ("task", "fill")]


def test_finished_work_without_a_wait_holds_nothing() -> None:
    done = task("a", 1, finished_on=MONDAY.date())
    build = build_of([done, task("b", 1)], [("a", "b")], first_start="b")
    assert planned(make_plan(build), "b").begin_shop_hours == 0


def test_a_part_on_its_way_is_named() -> None:
    part = Part(key="hose", name="Hose", serves=("a",), arrives_on=dt.date(2026, 1, 6))
    build = build_of([task("a", 1)], first_start="a", parts=(part,))
    assert held_by(build, "a") == {("part", "hose")}
    path = make_plan(build).path
    assert [(s.kind, s.what) for s in path] == [("part", "hose"), ("task", "a")]


def test_an_overdue_part_is_expected_at_once() -> None:
    part = Part(key="hose", name="Hose", serves=("a",), arrives_on=dt.date(2025, 12, 6))
    build = build_of([task("a", 1)], first_start="a", parts=(part,))
    assert planned(make_plan(build), "a").begins == MONDAY


def test_a_station_in_use_is_named_by_its_own_key() -> None:
    lift = (StationNeed(station="lift"),)
    tasks = [task("a", 2, stations=lift), task("b", 1, stations=lift), task("z", 0)]
    stations = (Station(key="lift", name="Lift", count=1),)
    links = [("a", "z"), ("b", "z")]
    build = build_of(tasks, links, first_start="z", people=2, stations=stations)
    assert held_by(build, "b") == {("station", "lift")}


def test_a_setup_in_other_hands_is_named_by_its_own_key() -> None:
    tasks = [task("a", 2, setup="tig"), task("b", 1, setup="tig"), task("z", 0)]
    links = [("a", "z"), ("b", "z")]
    build = build_of(tasks, links, first_start="z", people=2, setups=(TIG,))
    assert held_by(build, "b") == {("setup", "tig")}


def test_the_helper_is_named_by_the_time_of_coming() -> None:
    build = build_of([task("lift", 1, helper=True)], first_start="lift", week=SATURDAYS)
    assert ("helper", "2026-01-10T13:00") in held_by(build, "lift")


def test_a_helper_who_is_there_in_every_session_is_not_waited_for() -> None:
    # Mon to Fri 18:00 to 21:00 and Saturday 9:00 to 13:00, the helper always there: 3.5 h in one
    # go have room on Saturday alone.
    week = (
        *(session(day, 18, 21, helper=True) for day in range(5)),
        session(5, 9, 13, helper=True),
    )
    tasks = [task("a", 1), task("lift", 3.5, helper=True, in_one_go=True)]
    build = build_of(tasks, [("a", "lift")], first_start="lift", week=week)
    assert held_by(build, "lift") == {("session", "2026-01-10T09:00")}


def test_work_in_one_go_that_found_no_room_names_the_session_it_waited_for() -> None:
    tasks = [task("a", 2), task("weld", 2, in_one_go=True)]
    build = build_of(tasks, [("a", "weld")], first_start="weld", week=EVENINGS)
    assert held_by(build, "weld") == {("session", "2026-01-06T18:00")}
    path = make_plan(build).path
    assert [(s.kind, s.what) for s in path if s.kind == "task"] == [("task", "a"), ("task", "weld")]


def test_the_path_walks_back_from_first_start_to_today() -> None:
    tasks = [task("a", 2), task("b", 3), task("c", 1), task("z", 1)]
    links = [("a", "b", 4.0), ("b", "z", 0.0), ("c", "z", 0.0)]
    plan = make_plan(build_of(tasks, links, first_start="z"))
    # c fills the wait after a: it is not on the path.
    steps = [(s.kind, s.what) for s in plan.path]
    assert steps == [("task", "a"), ("wait", "a"), ("task", "b"), ("task", "z")]
    assert {t.key for t in plan.tasks if t.on_path} == {"a", "b", "z"}


def test_a_task_behind_a_set_aside_one_is_not_planned_and_says_why() -> None:
    aside = task("a", 1, set_aside_on=MONDAY.date())
    plan = make_plan(build_of([aside, task("z", 1)], [("a", "z")], first_start="z"))
    assert plan.first_start_at is None
    assert [(u.key, u.kind) for u in plan.unplanned] == [("z", "held")]


def test_a_part_without_a_date_leaves_its_tasks_unplanned() -> None:
    part = Part(key="hose", name="Hose", serves=("a",))
    plan = make_plan(build_of([task("a", 1), task("z", 1)], first_start="z", parts=(part,)))
    assert [u.key for u in plan.unplanned] == ["a"]
    assert plan.first_start_at is not None


def test_what_needs_a_session_that_never_comes_is_unplanned_not_hung() -> None:
    tasks = [task("lift", 1, helper=True), task("z", 1)]
    plan = make_plan(build_of(tasks, [("lift", "z")], first_start="z", week=EVENINGS))
    assert [u.key for u in plan.unplanned] == ["lift", "z"]
    assert plan.first_start_at is None


def test_a_part_no_longer_holds_a_begun_task_but_dependencies_do() -> None:
    part = Part(key="hose", name="Hose", serves=("b",), arrives_on=dt.date(2026, 2, 6))
    begun = task("b", 2, begun_on=dt.date(2026, 1, 4))
    build = build_of([task("a", 1), begun], [("a", "b")], first_start="b", parts=(part,))
    assert planned(make_plan(build), "b").begin_shop_hours == 1


def test_begun_outside_work_ends_its_days_after_its_begin_but_never_before_now() -> None:
    out = task("out", 0, outside_days=3, begun_on=dt.datetime(2026, 1, 4, 12))
    late = task("late", 0, outside_days=3, begun_on=dt.datetime(2025, 12, 4, 12))
    plan = make_plan(build_of([out, late], first_start="out"))
    assert planned(plan, "out").ends == dt.datetime(2026, 1, 7, 12)
    assert planned(plan, "late").ends == MONDAY


def test_a_task_of_no_hours_stands_where_its_last_wait_ends_even_in_closed_hours() -> None:
    tasks = [task("a", 2), task("mark", 0), task("z", 1)]
    build = build_of(tasks, [("a", "mark", 4), ("mark", "z")], first_start="z", week=EVENINGS)
    mark = planned(make_plan(build), "mark")
    # Monday 20:00 plus 4 h.
    assert (mark.begins, mark.ends) == (dt.datetime(2026, 1, 6), dt.datetime(2026, 1, 6))


def test_the_cost_of_a_task_is_how_much_earlier_first_start_would_be_without_it() -> None:
    tasks = [task("a", 3), task("b", 24), task("side", 1), task("z", 1)]
    links = [("a", "b"), ("b", "z")]
    costs = days_cost(build_of(tasks, links, first_start="z"))
    assert costs == {"a": 3 / 24, "b": 1.0, "side": 0.0, "z": 1 / 24}


def test_a_task_that_fills_a_wait_costs_nothing() -> None:
    tasks = [task("seal", 1), task("c", 2), task("z", 1)]
    costs = days_cost(build_of(tasks, [("seal", "z", 10), ("c", "z")], first_start="z"))
    assert costs["c"] == 0
    # Without the sealing its wait goes too; c's 2 h are left before z: 12 h less 3 h.
    assert costs["seal"] == pytest.approx((12 - 3) / 24)


def test_the_price_of_a_house_rule_is_what_first_start_moves_without_it() -> None:
    tasks = [task("a", 1, setup="tig"), task("b", 1, setup="saw"), task("c", 1, setup="tig")]
    saw = Setup(key="saw", name="Band saw", hours=0.75)
    links = [(t.key, "z") for t in tasks]
    build = build_of([*tasks, task("z", 0)], links, first_start="z", setups=(TIG, saw))
    # Tig, tig, saw gets two setups out; tig, saw, tig three: 0.75 h more.
    assert make_plan(build).first_start_at == MONDAY + dt.timedelta(hours=3 + 2 * 0.75)
    without = make_plan(build, HouseRules().without("setup_out")).first_start_at
    assert without == MONDAY + dt.timedelta(hours=3 + 3 * 0.75)


def test_a_build_without_first_start_still_has_an_order() -> None:
    build = build_of([task("a", 1), task("b", 1)], first_start=None)
    assert [t.key for t in make_plan(build).tasks] == ["a", "b"]
    assert days_cost(build) == {}


def test_a_build_without_tasks_has_an_empty_plan() -> None:
    plan = make_plan(build_of([]))
    assert (plan.tasks, plan.unplanned, plan.path) == ((), (), ())


def test_work_that_would_take_centuries_is_unplanned_not_an_accident() -> None:
    # An hour a week: 20,000 hours are 385 years, past every calendar.
    week = (session(0, 18, 19),)
    tasks = [task("a", 10_000), task("b", 10_000)]
    plan = make_plan(build_of(tasks, [("a", "b")], first_start="b", week=week))
    assert plan.first_start_at is None
    assert [u.key for u in plan.unplanned] == ["b"]
    assert plan.unplanned[0].kind == "beyond_dates"
