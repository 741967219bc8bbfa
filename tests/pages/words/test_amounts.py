"""How dates, hours and days are written. Weekdays of 2026: 10 February is a Tuesday (ISO 8601)."""

import datetime as dt

import pytest

from webapp.pages.words import amounts as words

TODAY = dt.date(2026, 2, 10)


def test_a_date_of_this_year_has_no_year() -> None:
    assert words.day(dt.date(2026, 6, 4), today=TODAY) == "Thu 4 June"
    assert words.short_day(dt.date(2026, 6, 4), today=TODAY) == "Thu 4 Jun"


def test_a_date_of_another_year_has_its_year() -> None:
    assert words.day(dt.date(2027, 1, 4), today=TODAY) == "Mon 4 January 2027"
    assert words.short_day(dt.date(2025, 12, 31), today=TODAY) == "Wed 31 Dec 2025"


@pytest.mark.parametrize(
    ("at", "said"),
    [
        (dt.datetime(2026, 2, 10, 18, 30), "today 18:30"),
        (dt.datetime(2026, 2, 11, 9, 0), "tomorrow 9:00"),
        (dt.datetime(2026, 2, 14, 9, 5), "Sat 9:05"),
        (dt.datetime(2026, 2, 17, 9, 0), "Tue 17 Feb 9:00"),  # a week off: not this Tuesday
        (dt.datetime(2026, 2, 9, 9, 0), "Mon 9 Feb 9:00"),
        (dt.date(2026, 2, 14), "Sat 14 Feb"),
    ],
)
def test_a_moment_is_as_short_as_it_can_be_told_apart(at: dt.date, said: str) -> None:
    assert words.moment(at, today=TODAY) == said


@pytest.mark.parametrize(
    ("value", "said"),
    [(3.0, "3"), (3.5, "3.5"), (0.25, "0.25"), (1234.5, "1,234.5"), (100.0, "100"), (0.001, "0")],
)
def test_a_number_has_no_idle_zeros(value: float, said: str) -> None:
    assert words.number(value) == said


def test_a_number_below_zero_has_a_minus_sign_and_nothing_is_never_below_zero() -> None:
    assert words.number(-1.5) == "\N{MINUS SIGN}1.5"
    assert words.number(-0.001) == "0"


def test_days_move_both_ways_or_not_at_all() -> None:
    assert words.days_move(2) == "+2 days"
    assert words.days_move(1) == "+1 day"
    assert words.days_move(-0.5) == "\N{MINUS SIGN}0.5 days"
    assert words.days_move(0.01) == "no change"


def test_a_clock_counts_hours_beyond_a_day_and_never_runs_backwards() -> None:
    since = dt.datetime(2026, 2, 10, 18, 30)
    assert words.running(since, dt.datetime(2026, 2, 10, 19, 50)) == "1:20"
    assert words.running(since, dt.datetime(2026, 2, 11, 19, 35)) == "25:05"
    assert words.running(since, dt.datetime(2026, 2, 10, 18, 0)) == "0:00"


def test_closing_at_midnight_is_24_00() -> None:
    assert words.clock_minute(1440) == "24:00"
    assert words.clock_minute(545) == "9:05"


def test_names_in_a_sentence() -> None:
    assert words.listed([]) == ""
    assert words.listed(["air"]) == "air"
    assert words.listed(["air", "fuel", "oil"]) == "air, fuel and oil"
    assert words.count(1, "task") == "1 task"
    assert words.count(0, "task") == "0 tasks"


def at(month: int, day: int, hour: int, minute: int = 0) -> dt.datetime:
    return dt.datetime(2026, month, day, hour, minute)


@pytest.mark.parametrize(
    ("begins", "ends", "said"),
    [
        (at(2, 10, 18, 30), at(2, 10, 21), "18:30 to 21:00"),
        (at(2, 10, 18, 30), at(2, 14, 9), "18:30 to Sat 14 Feb 9:00"),
        (at(2, 16, 20), at(2, 17, 0), "20:00 to 24:00"),  # the seventh day, to its very end
        (at(2, 16, 20), at(2, 17, 9), "20:00 to Tue 17 Feb"),  # ends on the eighth
        (at(2, 17, 18, 30), at(2, 17, 21), ""),  # the eighth day: days alone
        (at(2, 17, 18, 30), at(2, 19, 20), "to Thu 19 Feb"),
        (at(2, 10, 18, 30), at(2, 10, 18, 30), "18:30"),  # takes no time
    ],
)
def test_times_of_day_are_told_for_the_next_seven_days_and_days_after_that(
    begins: dt.datetime, ends: dt.datetime, said: str
) -> None:
    assert words.from_to(begins, ends, today=TODAY) == said


def test_a_moment_of_the_plan_has_no_time_of_day_beyond_the_next_seven_days() -> None:
    assert words.planned_moment(at(2, 16, 9), today=TODAY) == "Mon 9:00"
    assert words.planned_moment(at(2, 17, 9), today=TODAY) == "Tue 17 Feb"


def test_planned_hours_are_as_typed_or_to_a_tenth() -> None:
    # 3 h at a pace of 1.11 are 3.33 h
    assert words.planned_hours(1.25) == "1.25 h"
    assert words.planned_hours(3.33) == "3.3 h"


@pytest.mark.parametrize(
    ("hours", "said"),
    [(65 / 60, "1 h 5 min"), (2.0, "2 h"), (0.75, "45 min"), (0.0, "0 h"), (59.6 / 60, "1 h")],
)
def test_worked_hours_are_told_to_the_minute(hours: float, said: str) -> None:
    """59.6 minutes round to 60, which is an hour."""
    assert words.worked(hours) == said


def test_one_line_ends_at_a_clause_or_behind_a_word() -> None:
    assert words.one_line("A van,\n to run", 20) == "A van, to run"
    assert words.one_line("1961 delivery van, to take a diesel", 25) == "1961 delivery van"
    assert words.one_line("A, one long line without any clause", 20) == "A, one long line …"
