"""The range that is assumed round likely hours: common practice, then a kind's own record."""

import datetime as dt

import pytest

from tests.build.builds import build_of, task
from webapp.build.assumed_range import COMMON_SHARES, RangeShares, shares_of_kind
from webapp.build.build_input import BuildInput, LogEntry
from webapp.build.limits import MOST_HOURS
from webapp.build.three_point import ThreePoint

DAY = dt.date(2025, 12, 1)


def record(*worked: float, setup: str | None = None) -> BuildInput:
    """Finished tasks of two likely hours each, with the hours that each took."""
    tasks = [task(f"t{i}", (1, 2, 9), finished_on=DAY, setup=setup) for i in range(len(worked))]
    log = tuple(LogEntry(task=f"t{i}", on=DAY, hours=hours) for i, hours in enumerate(worked))
    return build_of(tasks, log=log)


def test_common_practice_runs_from_three_quarters_to_twice_the_likely_hours() -> None:
    assert COMMON_SHARES.round(4) == ThreePoint(optimistic=3, most_likely=4, pessimistic=8)


def test_the_ends_are_whole_minutes_and_the_range_holds_the_likely_hours() -> None:
    # 0.75 of 10 minutes are 7.5, to the minute 8; a likely minute itself stays in its range.
    ten = COMMON_SHARES.round(10 / 60)
    assert (ten.optimistic * 60, ten.pessimistic * 60) == (8, 20)
    one = COMMON_SHARES.round(0.5 / 60)
    assert one.optimistic <= one.most_likely <= one.pessimistic
    assert COMMON_SHARES.round(MOST_HOURS).pessimistic == MOST_HOURS


def test_seven_finished_tasks_of_a_kind_say_nothing_yet() -> None:
    assert shares_of_kind(record(*[2.0] * 7), None) == COMMON_SHARES


def test_eight_finished_tasks_of_a_kind_say_how_far_its_hours_fall_apart() -> None:
    """Nine tasks of 2 likely hours took 2, 2.5, ..., 6 h: ratios 1 to 3 in steps of 0.25.

    Median 2 (place 4 of 0 to 8). 5 % is place 0.4: 1.1, over the median 0.55. 95 % is place 7.6:
    2.9, over the median 1.45.
    """
    shares = shares_of_kind(record(*(2 + i / 2 for i in range(9))), None)
    assert shares.tasks == 9
    assert shares.low == pytest.approx(0.55)
    assert shares.high == pytest.approx(1.45)


def test_a_level_of_the_record_is_left_to_calibration() -> None:
    # Every task took half as long again as likely: no spread, so the range is a single number.
    assert shares_of_kind(record(*[3.0] * 8), None) == RangeShares(low=1, high=1, tasks=8)


def test_another_kind_of_work_has_its_own_record() -> None:
    assert shares_of_kind(record(*[3.0] * 8, setup="tig"), None) == COMMON_SHARES
    assert shares_of_kind(record(*[3.0] * 8, setup="tig"), "tig").tasks == 8
