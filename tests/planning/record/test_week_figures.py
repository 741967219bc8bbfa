"""The week sheet of small builds, worked by hand."""

import datetime as dt
from dataclasses import replace

import pytest
from hypothesis import given

from tests.build.builds import EVENINGS, MONDAY, build_of, task
from tests.build.random_builds import builds
from webapp.build.build_input import BuildInput, LogEntry, Subsystem
from webapp.build.shop import DayException
from webapp.build.wish import Wish, WishDecision
from webapp.planning.order.job_order import make_plan
from webapp.planning.record.week_figures import week_of, week_sheet

DAY = dt.timedelta(days=1)
WEEK_2 = (2026, 2)


def day(number: int) -> dt.date:
    return MONDAY.date() + number * DAY


def a_week() -> BuildInput:
    """Evenings of 3 h; Wednesday of week 2 closed. Frozen on Sunday at 20:00."""
    tasks = [
        task("pipe", 4, subsystem="air", begun_on=day(0), finished_on=day(1)),
        task("filter", 6, subsystem="air", begun_on=day(3), hours_left=5.0),
        task("hose", 2, subsystem="water"),
        task("old", 1, subsystem="water", begun_on=day(-7), finished_on=day(-6)),
        task("start", 1),
        task("never", 9, set_aside_on=day(0)),
    ]
    log = (
        LogEntry(task="old", on=day(-6), hours=2),
        LogEntry(task="pipe", on=day(0), hours=3, left=2),
        LogEntry(task="pipe", on=day(1), hours=2),
        LogEntry(task="filter", on=day(3), hours=2.5, left=5),
    )
    build = build_of(
        tasks,
        [("pipe", "filter"), ("filter", "start"), ("hose", "start")],
        first_start="start",
        week=EVENINGS,
        days=(DayException(date=day(2)),),
        now=MONDAY + 6 * DAY + dt.timedelta(hours=20),
        starts_on=day(-7),
        log=log,
        subsystems=(
            Subsystem(key="water", name="Coolant", order=2),
            Subsystem(key="air", name="Air", order=1),
        ),
    )
    wishes = (
        Wish(key="w1", text="A second horn", logged_on=day(6)),
        Wish(
            key="w2",
            text="A hook for the lamp",
            logged_on=day(-1),
            decision=WishDecision(way="fit later", decided_on=day(3)),
        ),
    )
    return replace(build, wishes=wishes)


def test_hours_promised_worked_and_lost() -> None:
    sheet = week_sheet(a_week(), WEEK_2)
    # Four evenings of 3 h, Wednesday closed; 3 + 2 + 2.5 worked.
    assert (sheet.promised_hours, sheet.worked_hours, sheet.lost_hours) == (12, 7.5, 4.5)
    # Tuesday 1 h short, Thursday 0.5, Friday 3.
    assert sheet.lost_by_day == ((day(1), 1), (day(3), 0.5), (day(4), 3))
    assert sheet.monday == day(0)
    assert [week.iso_week for week in sheet.record] == [1, 2]


def test_subsystems_in_working_order_with_the_tasks_of_the_week() -> None:
    air, coolant, none = week_sheet(a_week(), WEEK_2).subsystems
    assert (air.name, coolant.name, none.key) == ("Air", "Coolant", "")
    assert (air.expected_hours, air.worked_hours, air.left_hours) == (10, 7.5, 5)
    assert [line.key for line in air.tasks] == ["pipe", "filter"]
    # Nothing of the coolant was touched this week; 2 h were worked before, 2 h are left.
    assert (coolant.worked_hours, coolant.worked_in_all_hours, coolant.left_hours) == (0, 2, 2)
    assert coolant.tasks == ()
    # What is set aside has no hours to come.
    assert (none.expected_hours, none.left_hours) == (1, 1)


def test_finished_tasks_show_how_far_off_the_estimate_was() -> None:
    (pipe,) = week_sheet(a_week(), WEEK_2).finished
    # 5 h for 4: a quarter over.
    assert (pipe.key, pipe.worked_in_all_hours, pipe.estimate_error) == ("pipe", 5, 0.25)
    (old,) = week_sheet(a_week(), (2026, 1)).finished
    assert old.estimate_error == 1


def test_wishes_and_tasks_that_were_added_or_decided() -> None:
    build = a_week()
    assert [wish.key for wish in week_sheet(build, WEEK_2).wishes_added] == ["w1"]
    assert [wish.key for wish in week_sheet(build, WEEK_2).wishes_decided] == ["w2"]
    assert week_sheet(build, (2026, 1)).wishes_decided == ()
    baseline = replace(build, tasks=build.tasks[:-1])
    assert week_sheet(build, WEEK_2, baseline=baseline).added_tasks == ("never",)
    assert week_sheet(build, WEEK_2).added_tasks == ()


def test_the_baseline_against_now() -> None:
    build = a_week()
    baseline = build_of(
        [task("pipe", 4), task("filter", 6), task("start", 1)],
        [("pipe", "filter"), ("filter", "start")],
        first_start="start",
        week=EVENINGS,
    )
    sheet = week_sheet(build, WEEK_2, baseline=baseline, baseline_plan=make_plan(baseline))
    assert sheet.earned is not None
    # pipe 4 h, and of filter 6 x (1 - 5 / 7.5) = 2 h.
    assert sheet.earned.figure("EV").value == pytest.approx(6)
    assert week_sheet(build, WEEK_2).earned is None


def test_the_running_week_promises_up_to_now() -> None:
    build = replace(a_week(), now=MONDAY + dt.timedelta(hours=19))
    assert week_sheet(build, WEEK_2).promised_hours == 1


def test_weeks_at_the_turn_of_the_year_by_iso_8601() -> None:
    # ISO 8601: 2027-01-01 is 2026-W53-5; 2026-W53 begins on Monday 28 December.
    assert week_of(dt.date(2027, 1, 1)) == (2026, 53)
    assert week_of(dt.datetime(2024, 12, 30, 8)) == (2025, 1)
    assert week_sheet(a_week(), (2026, 53)).monday == dt.date(2026, 12, 28)
    with pytest.raises(ValueError, match="week"):
        week_sheet(a_week(), (2025, 53))


@given(builds())
def test_the_subsystems_hold_all_hours_of_the_week(build: BuildInput) -> None:
    sheet = week_sheet(build, week_of(build.now))
    monday = sheet.monday
    logged = sum(e.hours for e in build.log if monday <= e.on < monday + 7 * DAY)
    assert sum(s.worked_hours for s in sheet.subsystems) == pytest.approx(logged)
    assert sum(len(s.tasks) for s in sheet.subsystems) <= len(build.tasks)
