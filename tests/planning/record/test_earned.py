"""Earned value of real builds: the baseline's plan, the finished and begun tasks, the log."""

import datetime as dt
import itertools
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.build.builds import EVENINGS, MONDAY, build_of, session, stretch, task
from tests.build.random_builds import builds
from webapp.build.build_input import BuildInput, LogEntry, Part
from webapp.build.shop import DayException, Setup
from webapp.build.time.shop_calendar import calendar_of
from webapp.planning.order.job_order import make_plan
from webapp.planning.order.plan import Plan
from webapp.planning.record import earned_formulas as f
from webapp.planning.record.earned import Earned, earned_of

DAY = dt.timedelta(days=1)


def day(number: int) -> dt.date:
    return MONDAY.date() + number * DAY


def baseline() -> BuildInput:
    """Four tasks of 6, 9, 9 and 6 h in a line: 30 h, 15 a week, so two weeks of evenings."""
    tasks = [task("a", 6), task("b", 9), task("c", 9), task("d", 6)]
    links = [("a", "b"), ("b", "c"), ("c", "d")]
    return build_of(tasks, links, first_start="d", week=EVENINGS, starts_on=day(0))


def held_against(build: BuildInput, base: BuildInput | None = None) -> Earned:
    base = base or baseline()
    return earned_of(base, make_plan(base), build)


def after_a_week() -> BuildInput:
    """Monday of week 2: a took 8 h; 4 of b's hours are done and 6 thought to be left."""
    done = {"begun_on": day(0), "finished_on": day(2)}
    tasks = [
        task("a", 6, **done),
        task("b", 9, begun_on=day(3), hours_left=6.0),
        *baseline().tasks[2:],
        task("idea", 5),
    ]
    log = (
        LogEntry(task="a", on=day(0), hours=3, left=4),
        LogEntry(task="a", on=day(2), hours=5, left=0),
        LogEntry(task="b", on=day(3), hours=4, left=6),
    )
    return replace(baseline(), tasks=tuple(tasks), log=log, now=MONDAY + 7 * DAY)


def test_planned_value_runs_up_with_the_plan_of_the_baseline() -> None:
    weeks = held_against(baseline()).weeks
    # The plan ends on Friday of week 2, 15 h a week.
    assert [(week.iso_week, week.pv) for week in weeks] == [(2, 15), (3, 30)]


def test_figures_after_a_week_worked_by_hand() -> None:
    earned = held_against(after_a_week())
    # a earns its 6 h; b 9 x (1 - 6 / 10) = 3.6; the idea is not in the baseline. Worked 12 h.
    # PV 15, BAC 30; left today 6 + 9 + 6 + 5 = 26. ES: 9.6 / 15 of week 1.
    expected = {
        "PV": 15,
        "EV": 9.6,
        "AC": 12,
        "BAC": 30,
        "CV": -2.4,
        "SV": -5.4,
        "CPI": 0.8,
        "SPI": 0.64,
        "EAC": 37.5,
        "EAC (bottom-up)": 38,
        "EAC (atypical)": 32.4,
        "ETC": 25.5,
        "VAC": -7.5,
        "TCPI": 20.4 / 18,
        "AT": 1,
        "ES": 0.64,
        "SV(t)": -0.36,
        "SPI(t)": 0.64,
        "PD": 2,
        "IEAC(t)": 3.125,
    }
    for name, value in expected.items():
        assert earned.figure(name).value == pytest.approx(value), name


def test_weekly_earned_value_follows_the_log_and_stops_at_now() -> None:
    build = replace(after_a_week(), now=MONDAY + 9 * DAY)
    first, second = held_against(build).weeks
    assert first.ev == pytest.approx(9.6)
    assert first.ac == 12
    assert second.ev == pytest.approx(9.6)
    later = held_against(replace(build, now=MONDAY + 6 * DAY)).weeks[1]
    assert (later.pv, later.ev, later.ac) == (30, None, None)


def test_a_begun_task_earned_its_share_at_each_week_end() -> None:
    # Within a: 3 h logged and 4 left on Monday; the week's record ends that Monday.
    build = after_a_week()
    tasks = tuple(
        replace(t, finished_on=None, hours_left=4.0) if t.key == "a" else t for t in build.tasks
    )
    build = replace(build, tasks=tasks, log=build.log[:1], now=MONDAY + DAY)
    assert held_against(build).figure("EV").value == pytest.approx(6 * 3 / 7)


def test_getting_a_setup_out_earns_nothing() -> None:
    welder = Setup(key="tig", name="TIG welder out", hours=1)
    work = task("a", 2, setup="tig")
    base = build_of([work], first_start="a", week=EVENINGS, setups=(welder,), starts_on=day(0))
    # Monday 18:00 to 21:00: one hour of getting out, two of work. At 20:00 half is planned.
    build = replace(base, now=MONDAY.replace(hour=20))
    figures = held_against(build, base)
    assert figures.figure("PV").value == pytest.approx(1)
    assert figures.figure("BAC").value == 2


def test_outside_work_and_unplanned_tasks_are_worth_nothing() -> None:
    tasks = [
        task("a", 2),
        task("away", 2, outside_days=3.0),
        task("bake", 2, people=0),
        task("aside", 2, set_aside_on=day(0)),
        task("held", 2),
    ]
    base = build_of(tasks, [("aside", "held")], first_start="a", week=EVENINGS)
    assert held_against(base, base).figure("BAC").value == 2


def test_what_was_done_before_the_baseline_is_planned_and_earned() -> None:
    base = after_a_week()
    figures = held_against(base, base)
    assert figures.figure("PV").value == figures.figure("EV").value == pytest.approx(9.6)
    assert figures.figure("BAC").value == 35


def test_undefined_figures_are_none() -> None:
    fresh = held_against(baseline())
    for name in ("CPI", "SPI", "EAC", "ETC", "VAC", "SPI(t)", "IEAC(t)", "EAC (CPI x SPI)"):
        assert fresh.figure(name).value is None, name
    assert fresh.figure("TCPI").value == 1
    assert f.to_complete_index(10, 10, 5) is None
    assert f.earned_schedule([], [], 3, 0) is None
    with pytest.raises(KeyError):
        fresh.figure("XYZ")


def test_earned_schedule_where_the_plan_stands_still_is_the_time_nearest_to_now() -> None:
    # Nothing is planned from 1 to 2: with all of the first earned the plan is met all along.
    times, pv = [0, 1, 2, 3], [0, 10, 10, 20]
    met = [f.earned_schedule(times, pv, 10, at) for at in (0.5, 1, 1.5, 2, 2.5)]
    assert met == [1, 1, 1.5, 2, 2]
    assert f.earned_schedule(times, pv, 5, 1.5) == 0.5
    # What is planned in full is reached when it is, however late it is now.
    assert f.earned_schedule([0, 1, 2, 3, 4], [0, 10, 20, 20, 20], 20, 4) == 2


@given(st.lists(st.floats(0, 50), min_size=1, max_size=12), st.floats(0, 700), st.floats(0, 13))
def test_earned_schedule_is_where_the_planned_curve_has_the_earned_value(
    rises: list[float], ev: float, at: float
) -> None:
    times, pv = [*range(len(rises) + 1)], [0.0, *itertools.accumulate(rises)]
    es = f.earned_schedule(times, pv, ev, at)
    if es is None:
        assert pv[-1] == 0
        return
    assert np.interp(es, times, pv) == pytest.approx(min(ev, pv[-1]), abs=1e-5)


# --- lived as planned -----------------------------------------------------------------------

SATURDAYS = (*EVENINGS, session(5, 9, 15))


def ten_weeks() -> BuildInput:
    """210 h of work, 21 h a week, with all that makes a plan stand still.

    A setup is got out, a cure of two days and a part hold everything up, one week has no hours.
    """
    hours = {"a": 7, "b": 34.5, "c": 20, "d": 65, "e": 83.5}
    tasks = [task(key, each, setup="tig" if key == "b" else None) for key, each in hours.items()]
    links: list[tuple[str, str] | tuple[str, str, float]] = [
        *(("a", "b"), ("b", "c", 48.0), ("c", "d"), ("d", "e"))
    ]
    closed = tuple(DayException(date=day(28 + i), sessions=()) for i in range(7))
    return build_of(
        tasks,
        links,
        first_start="e",
        week=SATURDAYS,
        days=closed,
        setups=(Setup(key="tig", name="TIG welder out", hours=1.5),),
        parts=(Part(key="p", name="Pump", arrives_on=day(38), serves=("d",)),),
        starts_on=day(0),
    )


def lived(base: BuildInput, plan: Plan, now: dt.datetime) -> BuildInput:
    """The build at `now` if every hour of its plan was worked as it was laid out."""
    calendar = calendar_of(base, shop_hours=500, until=now)
    gone = float(calendar.shop_of(calendar.wall_of(now))) / 3600
    planned = {each.key: each for each in plan.tasks}
    tasks, log = [], []
    for each in base.tasks:
        place = planned[each.key]
        worked = min(gone - place.begin_shop_hours - place.setup_hours, each.hours.expected)
        if place.ends <= now:
            each = replace(each, begun_on=place.begins, finished_on=place.ends)
        elif worked > 0:
            left = each.hours.expected - worked
            each = replace(each, begun_on=place.begins, hours_left=left)
        if worked > 0:
            log.append(LogEntry(task=each.key, on=now.date(), hours=worked))
        tasks.append(each)
    return replace(base, tasks=tuple(tasks), log=tuple(log), now=now)


def test_on_plan_the_index_in_time_is_1_at_every_hour() -> None:
    base = ten_weeks()
    plan = make_plan(base)
    assert plan.first_start_at is not None
    hour = base.now
    while hour < plan.first_start_at + 2 * DAY:
        hour += dt.timedelta(hours=1)
        earned = earned_of(base, plan, lived(base, plan, hour))
        assert earned.figure("SV").value == pytest.approx(0, abs=1e-6), hour
        assert earned.figure("SV(t)").value == pytest.approx(0, abs=1e-6), hour
        if hour > MONDAY.replace(hour=18):
            assert earned.figure("SPI(t)").value == pytest.approx(1, abs=1e-6), hour
            duration = earned.figure("PD").value
            assert earned.figure("IEAC(t)").value == pytest.approx(duration, abs=1e-5), hour


def test_time_stops_at_the_finish() -> None:
    # 30 h in two weeks of 15; done a week late, on Friday of week 3, and looked at in week 6.
    tasks = tuple(replace(each, begun_on=day(0), finished_on=day(18)) for each in baseline().tasks)
    late = replace(baseline(), tasks=tasks, now=MONDAY + 40 * DAY)
    figures = held_against(late)
    assert figures.figure("AT").value == pytest.approx(3)
    assert figures.figure("ES").value == pytest.approx(2)
    assert figures.figure("SPI(t)").value == pytest.approx(2 / 3)
    assert figures.figure("IEAC(t)").value == pytest.approx(3)


def test_a_week_that_the_shop_is_closed_is_no_time_gone_by() -> None:
    closed = tuple(DayException(date=day(7 + i), sessions=()) for i in range(5))
    base = baseline()
    base = replace(base, shop=replace(base.shop, days=closed))
    nothing_done = replace(base, now=MONDAY + 14 * DAY)
    assert held_against(nothing_done, base).figure("AT").value == pytest.approx(1)


def test_a_shop_without_a_week_has_an_index_but_no_weeks() -> None:
    days = tuple(DayException(date=day(i), sessions=(stretch(18, 21),)) for i in range(4))
    base = build_of([task("a", 12)], first_start="a", week=(), days=days, starts_on=day(0))
    half = replace(base.tasks[0], begun_on=day(0), hours_left=6.0)
    log = (LogEntry(task="a", on=day(1), hours=6),)
    figures = held_against(replace(base, tasks=(half,), log=log, now=MONDAY + 3 * DAY), base)
    assert figures.figure("SPI(t)").value == pytest.approx(6 / 9)
    assert figures.figure("AT").value is None
    assert figures.figure("IEAC(t)").value is None


@settings(deadline=None)
@given(builds())
def test_a_random_build_held_against_itself(build: BuildInput) -> None:
    earned = held_against(build, build)
    bac = earned.figure("BAC").value
    assert bac is not None
    # All that is planned is planned by the end, and the curve never falls.
    assert earned.weeks[-1].pv == pytest.approx(bac)
    pv = [week.pv for week in earned.weeks]
    assert all(after >= before - 1e-9 for before, after in itertools.pairwise(pv))
    assert 0 <= (earned.figure("EV").value or 0) <= bac + 1e-9
