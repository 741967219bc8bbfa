"""What there is to do in the Sunday half hour, by hand; in lives: planning/bridge/test_lives.py."""

import datetime as dt
from dataclasses import replace

import pytest

from tests.build.builds import EVENINGS, MONDAY, build_of, task
from webapp.build.build_input import BuildInput, LogEntry, LookedAt, Part, RunningClock
from webapp.build.shop import DayException, DayHours
from webapp.build.verbs.looking import (
    comes_back,
    left_said,
    nobody_was_in,
    part_comes,
    put_off,
)
from webapp.build.wish import Wish, WishDecision
from webapp.planning.order.job_order import make_plan
from webapp.planning.record.attendance import attendance_of
from webapp.planning.record.calibration import calibration_of
from webapp.planning.record.to_do import (
    ToDo,
    evenings_among,
    evenings_without_hours,
    late_parts,
    next_sunday,
    open_wishes,
    outrun_tasks,
    outside_due,
    to_do,
)
from webapp.services.planned_state import version_of

DAY = dt.timedelta(days=1)
FIRST = MONDAY.date()
"""Monday 5 January 2026."""
SUNDAY_EVENING = dt.datetime(2026, 1, 11, 20, 0)


def evenings(*tasks: object, now: dt.datetime = SUNDAY_EVENING, **rest: object) -> BuildInput:
    """Monday to Friday 18:00 to 21:00, seen on the Sunday evening; first start is `start`."""
    build = build_of(list(tasks), week=EVENINGS, now=now, first_start="start")  # type: ignore[arg-type]
    return replace(build, starts_on=FIRST, **rest)  # type: ignore[arg-type]


def logged(day: int, hours: float, key: str = "start", **rest: float) -> LogEntry:
    """An entry `day` days after the Monday."""
    return LogEntry(task=key, on=FIRST + day * DAY, hours=hours, **rest)


def dates(build: BuildInput, since: dt.date | None = None) -> list[int]:
    """Days after the Monday of the evenings without hours."""
    return [(evening.date - FIRST).days for evening in evenings_without_hours(build, since)]


# evenings -----------------------------------------------------------------------------------
def test_evenings_with_nothing_logged_are_asked_about_and_those_with_a_little_are_not() -> None:
    # Worked Monday (3 h) and Thursday (20 min of 3 h): Tuesday, Wednesday and Friday are left.
    build = evenings(task("start", 100), log=(logged(0, 3), logged(3, 1 / 3)))
    assert dates(build) == [1, 2, 4]
    assert [evening.hours for evening in evenings_without_hours(build)] == [3, 3, 3]


def test_an_evening_on_which_everything_waited_is_none() -> None:
    # The pump came on Wednesday: nothing could be worked before.
    pump = Part(key="p", name="Pump", serves=("start",), arrived=True, arrives_on=FIRST + 2 * DAY)
    assert dates(evenings(task("start", 100), parts=(pump,))) == [2, 3, 4]


def test_an_evening_of_which_is_known_that_nobody_was_in_is_none_any_more() -> None:
    build = evenings(task("start", 100), log=(logged(0, 3),))
    after = nobody_was_in(build, FIRST + 2 * DAY)
    assert dates(after) == [1, 3, 4]
    assert after.looked_at == (LookedAt(on=dt.date(2026, 1, 11), evening=FIRST + 2 * DAY),)


def test_a_closed_day_and_a_session_that_runs_are_none() -> None:
    build = evenings(
        task("start", 100),
        now=dt.datetime(2026, 1, 9, 20, 59),  # Friday, a minute before the shop closes
    )
    closed = replace(build.shop, days=(DayException(date=FIRST + DAY),))
    assert dates(replace(build, shop=closed)) == [0, 2, 3]
    assert dates(replace(build, shop=closed, now=dt.datetime(2026, 1, 9, 21, 0))) == [0, 2, 3, 4]


def test_of_two_sessions_on_a_date_the_last_has_to_be_over() -> None:
    twice = DayException(
        date=FIRST,
        sessions=(
            DayHours(opens_minute=8 * 60, closes_minute=9 * 60),
            DayHours(opens_minute=18 * 60, closes_minute=21 * 60),
        ),
    )
    build = evenings(task("start", 100), now=dt.datetime(2026, 1, 5, 12, 0))
    build = replace(build, shop=replace(build.shop, days=(twice,)))
    assert dates(build) == []
    assert dates(replace(build, now=dt.datetime(2026, 1, 5, 21, 0))) == [0]


def test_the_evening_of_the_running_clock_is_not_asked_about() -> None:
    clock = RunningClock(task="start", since=dt.datetime(2026, 1, 8, 18, 0))  # since Thursday
    build = evenings(task("start", 100, begun_on=FIRST + 3 * DAY), on_bench=clock)
    assert dates(build) == [0, 1, 2]


def test_days_before_the_last_close_are_not_asked_about_again() -> None:
    build = evenings(task("start", 100), now=SUNDAY_EVENING + 7 * DAY)
    # Two weeks of five evenings; the first was closed on its Sunday.
    assert dates(build) == [0, 1, 2, 3, 4, 7, 8, 9, 10, 11]
    assert dates(build, dt.date(2026, 1, 11)) == [7, 8, 9, 10, 11]


def test_a_date_before_the_build_or_still_to_come_is_no_evening() -> None:
    build = evenings(task("start", 100))
    assert evenings_among(build, [FIRST - 3 * DAY, FIRST + 7 * DAY, FIRST + 5 * DAY]) == ()


def test_a_build_without_a_first_day_asks_about_nothing() -> None:
    bare = replace(evenings(task("start", 100)), starts_on=None)
    assert dates(bare) == []


def test_that_nobody_was_in_changes_no_record_and_no_date() -> None:
    # 3 h of 15 h were worked in the one whole week: with n = 1 the weight is 1 / (1 + 1.5625)
    # = 0.3902, and attendance 1 + 0.3902 x (0.2 - 1) = 0.6878.
    build = evenings(
        task("start", 100, begun_on=FIRST), log=(logged(0, 3),), now=SUNDAY_EVENING + DAY
    )
    after = build
    for day in range(1, 5):
        after = nobody_was_in(after, FIRST + day * DAY)
    assert dates(build) == [1, 2, 3, 4]
    assert dates(after) == []
    assert round(attendance_of(build).mean, 4) == 0.6878
    assert attendance_of(after) == attendance_of(build)
    assert calibration_of(after) == calibration_of(build)
    assert make_plan(after) == make_plan(build)
    assert version_of(after) == version_of(build)  # no forecast is drawn anew for it


# parts, outside work, wishes, tasks that outran --------------------------------------------
def test_a_part_is_late_once_the_day_that_was_said_has_gone_by() -> None:
    today = SUNDAY_EVENING.date()
    parts = (
        Part(key="late", name="Late", arrives_on=today - DAY),
        Part(key="later", name="Later", promised_on=today - 3 * DAY),
        Part(key="today", name="Today", arrives_on=today),
        Part(key="here", name="Here", arrives_on=today - 5 * DAY, arrived=True),
        Part(key="ordered", name="Ordered", ordered_on=today - 12 * DAY, lead_days=10),
        Part(key="thought", name="Not ordered", lead_days=2),
        Part(key="none", name="Nothing said"),
    )
    build = evenings(task("start", 100), parts=parts)
    # ordered 12 days ago with 10 days of lead time: said for two days ago
    assert [late.part.key for late in late_parts(build)] == ["later", "ordered", "late"]
    moved = part_comes(part_comes(build, "late", today + DAY), "ordered", today + DAY)
    assert [late.part.key for late in late_parts(moved)] == ["later"]
    by_key = {part.key: part for part in moved.parts}
    assert by_key["late"].arrives_on == today + DAY
    assert (by_key["ordered"].arrives_on, by_key["ordered"].promised_on) == (None, today + DAY)


def test_outside_work_is_due_when_its_days_are_over_and_moves_in_whole_days() -> None:
    sent = dt.datetime(2026, 1, 5, 12, 0)
    machine = task("machine", 0, outside_days=6.0, begun_on=sent)
    build = evenings(machine, task("plate", 0, outside_days=7.0, begun_on=FIRST), task("start", 9))
    # Monday 12:00 and 6 days: Sunday 12:00; the plater has it until Monday 00:00.
    assert [(out.task.key, out.due) for out in outside_due(build)] == [
        ("machine", dt.datetime(2026, 1, 11, 12, 0))
    ]
    later = comes_back(build, "machine", dt.date(2026, 1, 14))  # nine days after Monday
    assert next(t for t in later.tasks if t.key == "machine").outside_days == 9.0
    assert outside_due(later) == ()


@pytest.mark.parametrize(
    ("day", "sunday"),
    [(11, 18), (10, 18), (9, 11), (12, 18), (13, 18), (5, 11)],
    ids=["Sunday", "Saturday", "Friday", "Monday", "Tuesday", "the first Monday"],
)
def test_what_is_put_off_is_asked_again_on_the_next_sunday(day: int, sunday: int) -> None:
    assert next_sunday(dt.date(2026, 1, day)) == dt.date(2026, 1, sunday)


def test_a_wish_stays_until_it_is_decided_or_put_off_to_the_next_sunday() -> None:
    lamp = Wish(key="lamp", text="A lamp", logged_on=FIRST)
    gone = WishDecision(way="let go", decided_on=FIRST)
    build = evenings(
        task("start", 9),
        wishes=(lamp, replace(lamp, key="horn"), replace(lamp, key="step", decision=gone)),
    )
    assert [wish.key for wish in open_wishes(build)] == ["lamp", "horn"]
    later = put_off(build, "lamp")
    assert [wish.key for wish in open_wishes(later)] == ["horn"]
    saturday = replace(later, now=SUNDAY_EVENING + 6 * DAY)
    assert [wish.key for wish in open_wishes(saturday)] == ["horn"]
    sunday = replace(later, now=SUNDAY_EVENING + 7 * DAY)
    assert [wish.key for wish in open_wishes(sunday)] == ["lamp", "horn"]
    again = put_off(sunday, "lamp")  # in place of what was said a week ago
    assert [(one.wish, one.on) for one in again.looked_at] == [("lamp", dt.date(2026, 1, 18))]


def outrun(*log: LogEntry, hours: float = 4, left: float | None = None) -> BuildInput:
    """A begun task of `hours`, with what was logged on it."""
    begun = task("start", hours, begun_on=FIRST, hours_left=left)
    return evenings(begun, log=log)


def test_a_task_outran_its_estimate_once_all_expected_hours_are_worked() -> None:
    assert outrun_tasks(outrun(logged(0, 3.9))) == ()
    (one,) = outrun_tasks(outrun(logged(0, 3), logged(1, 1)))
    assert (one.task.key, one.worked_hours) == ("start", 4)
    # getting a setup out is no work on it
    assert outrun_tasks(outrun(logged(0, 3, setup_hours=2))) == ()


def test_what_is_left_is_asked_where_no_more_than_the_least_is_reckoned_with() -> None:
    over = (logged(0, 5),)
    assert len(outrun_tasks(outrun(*over, left=0.25))) == 1
    assert outrun_tasks(outrun(*over, left=2)) == ()
    said = left_said(outrun(*over), "start", 2)
    assert (said.tasks[0].hours_left, outrun_tasks(said)) == (2, ())
    least = left_said(outrun(*over), "start", 0.25)
    assert outrun_tasks(least) == ()
    assert len(outrun_tasks(replace(least, now=SUNDAY_EVENING + 7 * DAY))) == 1


def test_finished_work_and_what_is_on_the_bench_are_not_asked_about() -> None:
    build = outrun(logged(0, 5))
    clock = RunningClock(task="start", since=SUNDAY_EVENING)
    assert outrun_tasks(replace(build, on_bench=clock)) == ()
    finished = replace(build.tasks[0], finished_on=SUNDAY_EVENING)
    assert outrun_tasks(replace(build, tasks=(finished,))) == ()


def test_a_build_with_nothing_open_has_nothing_to_do() -> None:
    assert to_do(evenings(task("start", 0))) == ToDo()
