"""Actual over expected hours by kind of work, shrunk toward the estimates."""

import math
from dataclasses import replace

import pytest

from tests.build.builds import EVENINGS, MONDAY, build_of, task
from webapp.build.build_input import BuildInput, LogEntry, Setup, Task
from webapp.planning.chances.factors import Attendance
from webapp.planning.record.calibration import calibration_of, factors_of

DONE = {"begun_on": MONDAY.date(), "finished_on": MONDAY.date()}


def build_with(tasks: list[Task], hours: dict[str, float]) -> BuildInput:
    log = tuple(LogEntry(task=key, on=MONDAY.date(), hours=h) for key, h in hours.items())
    setups = (Setup(key="tig", name="TIG welder out", hours=0.5),)
    build = build_of(tasks, week=EVENINGS, setups=setups, log=log)
    return replace(build, starts_on=MONDAY.date())


def test_each_kind_of_work_has_its_own_factor() -> None:
    # No setup: two tasks of 2 h took 2 and 4: ratio 1.5, n = 2, weight 2 / 8.25.
    # TIG: one task of 4 h took 8: ratio 2, n = 1, weight 1 / 7.25.
    build = build_with(
        [task("a", 2, **DONE), task("b", 2, **DONE), task("w", 4, setup="tig", **DONE)],
        {"a": 2, "b": 4, "w": 8},
    )
    none, tig = calibration_of(build)
    assert (none.kind, none.count, tig.kind, tig.count) == ("", 2, "tig", 1)
    assert none.log_mean == pytest.approx(2 / 8.25 * math.log(1.5))
    assert tig.factor == pytest.approx(2 ** (1 / 7.25))
    assert none.log_sd == pytest.approx(0.2 * math.sqrt(6.25 / 8.25))


def test_a_large_task_counts_for_more_than_a_small_one() -> None:
    # 1 h took 4, 9 h took 9: ratio of sums 1.3; worth (1 + 9)^2 / (1 + 81) = 1.2195 tasks.
    build = build_with([task("a", 1, **DONE), task("b", 9, **DONE)], {"a": 4, "b": 9})
    (factor,) = calibration_of(build)
    assert factor.count == 2
    assert factor.log_mean == pytest.approx(1.2195 / (1.2195 + 6.25) * math.log(1.3), abs=1e-5)


def test_tasks_without_a_record_are_left_out() -> None:
    build = build_with(
        [
            task("unlogged", 2, **DONE),
            task("no_hours", 0, **DONE),
            task("open", 2, begun_on=MONDAY.date()),
            task("away", 2, outside_days=3.0, **DONE),
        ],
        {"no_hours": 1, "open": 9, "away": 1},
    )
    assert calibration_of(build) == ()


def test_hours_of_several_entries_are_summed() -> None:
    build = build_with([task("a", 2, **DONE)], {"a": 1})
    build = replace(build, log=build.log * 2)
    assert calibration_of(build)[0].log_mean == 0


def test_either_half_of_the_record_can_be_switched_off() -> None:
    build = build_with([task("a", 2, **DONE)], {"a": 4})
    build = replace(build, now=build.now.replace(month=2))
    both = factors_of(build)
    assert both.of_kind("").count == 1
    assert both.attendance.weeks > 0
    assert factors_of(build, calibrated=False).of_kind("").count == 0
    assert factors_of(build, attended=False).attendance == Attendance()
