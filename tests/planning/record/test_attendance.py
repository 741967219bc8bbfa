"""Hours promised and worked by ISO week, and attendance shrunk toward 1."""

import datetime as dt
import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.build.builds import EVENINGS, MONDAY, build_of, stretch, task
from webapp.build.build_input import BuildInput, LogEntry
from webapp.build.logged_hours import worked_by_day
from webapp.build.shop import DayException
from webapp.planning.chances.factors import Attendance
from webapp.planning.record.attendance import attendance_of, weeks_of_record

DAY = dt.timedelta(days=1)
WHOLE_WEEKS = 4


def logged(day: int, hours: float, key: str = "a") -> LogEntry:
    """An entry `day` days after Monday 5 January 2026."""
    return LogEntry(task=key, on=MONDAY.date() + day * DAY, hours=hours)


def evenings_build(*log: LogEntry, weeks: float = WHOLE_WEEKS, **rest: object) -> BuildInput:
    """Three hours on each of five evenings, some weeks into the build."""
    now = MONDAY + dt.timedelta(weeks=weeks)
    work = task("a", 100, begun_on=MONDAY.date())
    build = build_of([work], week=EVENINGS, now=now, starts_on=MONDAY.date(), log=log)
    return replace(build, **rest)  # type: ignore[arg-type]


def test_a_build_on_which_nothing_was_ever_logged_has_no_record() -> None:
    build = build_of([task("a", 10)], first_start="a", starts_on=dt.date(2025, 12, 1))
    assert attendance_of(build) == Attendance()


def test_a_week_promises_its_sessions_and_counts_the_log() -> None:
    # 5 evenings of 3 h = 15 h; 2 + 3 worked in week 2, 20 in week 3 (more than promised).
    first, second, third, fourth, running = weeks_of_record(
        evenings_build(logged(0, 2), logged(4, 3), logged(8, 20))
    )
    assert (first.promised_hours, first.worked_hours, first.lost_hours) == (15, 5, 10)
    # What was worked beyond the promise was workable.
    assert (second.workable_hours, second.worked_hours, second.lost_hours) == (20 + 12, 20, 12)
    assert (third.lost_hours, fourth.lost_hours) == (15, 15)
    assert (first.iso_year, first.iso_week, first.whole) == (2026, 2, True)
    # `now` is Monday 00:00 of week 6: that week has promised nothing yet.
    assert (running.iso_week, running.promised_hours, running.whole) == (6, 0, False)


def test_the_running_week_is_cut_at_now() -> None:
    now = MONDAY + 1 * DAY + dt.timedelta(hours=19)  # Tuesday 19:00: Monday 3 h, Tuesday 1 h
    (week,) = weeks_of_record(evenings_build(now=now))
    assert (week.promised_hours, week.whole) == (4, False)


def test_a_day_exception_changes_what_was_promised() -> None:
    days = (
        DayException(date=MONDAY.date()),  # closed: 3 h less
        DayException(date=MONDAY.date() + 5 * DAY, sessions=(stretch(9, 17),)),  # 8 h more
    )
    build = evenings_build()
    build = replace(build, shop=replace(build.shop, days=days))
    assert weeks_of_record(build)[0].promised_hours == 15 - 3 + 8


def test_the_record_begins_with_the_build_in_the_middle_of_a_week() -> None:
    # Starts on Thursday: two evenings are left of that week. Hours before it are left out.
    build = evenings_build(logged(1, 3), logged(3, 3), starts_on=MONDAY.date() + 3 * DAY)
    first = weeks_of_record(build)[0]
    assert (first.promised_hours, first.worked_hours) == (6, 3)


def test_the_record_begins_with_the_first_entry_where_the_build_has_no_start() -> None:
    build = evenings_build(logged(9, 1), starts_on=None)
    weeks = weeks_of_record(build)
    assert weeks[0].iso_week == 3
    assert weeks[0].promised_hours == 3 * 3  # Wednesday, Thursday, Friday


def test_a_build_without_start_or_log_has_no_record() -> None:
    assert weeks_of_record(evenings_build(starts_on=None)) == ()
    assert attendance_of(evenings_build(starts_on=None)) == Attendance()


def test_weeks_run_over_the_turn_of_the_year_by_iso_8601() -> None:
    # ISO 8601: Thursday 2026-12-31 lies in 2026-W53, Monday 2027-01-04 in 2027-W01.
    build = evenings_build(starts_on=dt.date(2026, 12, 31), now=dt.datetime(2027, 1, 5))
    weeks = [(week.iso_year, week.iso_week) for week in weeks_of_record(build)]
    assert weeks == [(2026, 53), (2027, 1)]


def test_attendance_is_shrunk_toward_one_by_the_number_of_weeks() -> None:
    # 4 whole weeks, 45 of 60 h: ratio 0.75. Weight 4 / (4 + 1.5625) = 0.7191.
    # Mean 1 - 0.7191 x 0.25 = 0.82022, spread 0.2 x sqrt(0.2809) = 0.106.
    evenings = [logged(7 * week + day, 3) for week in range(3) for day in range(5)]
    attendance = attendance_of(evenings_build(*evenings))
    assert attendance.weeks == 4
    assert attendance.mean == pytest.approx(0.82022, abs=1e-5)
    assert attendance.sd == pytest.approx(0.2 * math.sqrt(1.5625 / 5.5625))


def test_attendance_is_never_more_than_one_and_never_falls_to_nothing() -> None:
    every_evening_double = [logged(7 * w + d, 6) for w in range(WHOLE_WEEKS) for d in range(5)]
    assert attendance_of(evenings_build(*every_evening_double)).mean == 1
    never_there_again = evenings_build(logged(0, 1), weeks=2000)
    assert attendance_of(never_there_again).mean == 0.05


def test_the_running_week_does_not_count_for_attendance() -> None:
    assert attendance_of(evenings_build(logged(0, 1), weeks=0.9)) == Attendance()


def test_two_people_at_two_tasks_use_the_shop_once() -> None:
    build = evenings_build(logged(0, 3, "a"), logged(0, 2, "b"), logged(1, 3, "both"))
    tasks = (*build.tasks, task("b", 9), task("both", 9, people=2))
    build = replace(build, tasks=tasks, shop=replace(build.shop, people=2))
    worked = worked_by_day(build, build.log)
    # Monday: (3 + 2) / 2 = 2.5, but task a was at work for 3. Tuesday: 3 x 2 / 2.
    assert list(worked.values()) == [3, 3]


@settings(derandomize=True, max_examples=25, deadline=None)
@given(st.lists(st.floats(0, 24), max_size=28), st.floats(0.1, 8))
def test_attendance_lies_between_the_record_and_one(hours: list[float], weeks: float) -> None:
    build = evenings_build(*(logged(i, h) for i, h in enumerate(hours)), weeks=weeks)
    whole = [week for week in weeks_of_record(build) if week.whole]
    workable = sum(week.workable_hours for week in whole)
    ratio = sum(week.worked_hours for week in whole) / workable if workable else 1
    mean = attendance_of(build).mean
    assert min(1, ratio) - 1e-9 <= mean <= max(1, ratio) + 1e-9
