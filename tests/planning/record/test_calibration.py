"""Actual over expected hours by kind of work, drawn toward the level of all work."""

import math
from dataclasses import replace

import pytest

from tests.build.builds import EVENINGS, MONDAY, build_of, task
from webapp.build.build_input import BuildInput, LogEntry, Task
from webapp.build.shop import Setup
from webapp.planning.chances.factors import Attendance, Level
from webapp.planning.record.calibration import calibration_of, factors_of

DONE = {"begun_on": MONDAY.date(), "finished_on": MONDAY.date()}


def build_with(tasks: list[Task], hours: dict[str, float]) -> BuildInput:
    log = tuple(LogEntry(task=key, on=MONDAY.date(), hours=h) for key, h in hours.items())
    setups = (Setup(key="tig", name="TIG welder out", hours=0.5),)
    build = build_of(tasks, week=EVENINGS, setups=setups, log=log)
    return replace(build, starts_on=MONDAY.date())


def test_each_kind_is_drawn_toward_the_level_of_all_of_them() -> None:
    # No setup: two tasks of 2 h took 2 and 4: ratio 1.5, n = 2. TIG: 4 h took 8: ratio 2, n = 1.
    # Scatter: the logs 0 and log 2 lie 0.34657 off their mean: s^2 = (8 x 0.25 + 0.24023) / 9.
    # y = log 1.5 + s^2 / 4 = 0.467694, v = 0.0225 + s^2 / 2 = 0.146957;
    # y = log 2 + s^2 / 2 = 0.817604, v = 0.0225 + s^2 = 0.271414.
    # Level: (3.18252 + 3.01239) / (11.1111 + 6.80471 + 3.68441) = 6.19491 / 21.6002.
    build = build_with(
        [task("a", 2, **DONE), task("b", 2, **DONE), task("w", 4, setup="tig", **DONE)],
        {"a": 2, "b": 4, "w": 8},
    )
    level, (none, tig) = calibration_of(build)
    assert (none.kind, none.count, tig.kind, tig.count) == ("", 2, "tig", 1)
    assert level.count == 3
    assert level.log_mean == pytest.approx(0.286798, abs=1e-5)
    assert level.log_sd == pytest.approx(21.6002**-0.5, abs=1e-5)
    # b = 0.0225 / 0.146957 = 0.153106 and 0.0225 / 0.271414 = 0.082899.
    assert none.log_mean == pytest.approx(0.286798 + 0.153106 * (0.467694 - 0.286798), abs=1e-5)
    assert tig.log_mean == pytest.approx(0.286798 + 0.082899 * (0.817604 - 0.286798), abs=1e-5)
    variance = 0.0225 * (1 - 0.153106) + (1 - 0.153106) ** 2 / 21.6002
    assert none.log_sd(level) == pytest.approx(math.sqrt(variance), abs=1e-5)


def test_a_kind_without_a_record_has_the_level_and_its_own_spread_beside() -> None:
    build = build_with([task("a", 2, **DONE)], {"a": 4})
    factors = factors_of(build)
    unseen = factors.of_kind("tig")
    assert (unseen.log_mean, unseen.count) == (factors.level.log_mean, 0)
    spread = math.hypot(0.15, factors.level.log_sd)
    assert unseen.log_sd(factors.level) == pytest.approx(spread)


def test_without_any_record_every_factor_is_1_with_the_stated_spread() -> None:
    level, kinds = calibration_of(build_with([task("a", 2)], {}))
    assert (level, kinds) == (Level(), ())
    assert level.factor == 1
    assert level.log_sd == pytest.approx(0.30)


def test_a_large_task_counts_for_more_than_a_small_one() -> None:
    # 1 h took 4, 9 h took 9: ratio of sums 1.3; worth (1 + 9)^2 / (1 + 81) = 1.2195 tasks.
    # Scatter: the logs log 4 and 0: s^2 = (2 + log(4)^2 / 2) / 9 = 0.328990.
    build = build_with([task("a", 1, **DONE), task("b", 9, **DONE)], {"a": 4, "b": 9})
    _, (factor,) = calibration_of(build)
    assert factor.count == 2
    assert factor.weight == pytest.approx(0.0225 / (0.0225 + 0.328990 / 1.219512), abs=1e-5)
    # One kind alone: m + b (y - m) = y (0.09 + 0.0225) / (0.09 + 0.0225 + s^2 / n).
    y = math.log(1.3) + 0.328990 / 1.219512 / 2
    shrunk = y * 0.1125 / (0.1125 + 0.328990 / 1.219512)
    assert factor.log_mean == pytest.approx(shrunk, abs=1e-5)


def test_tasks_without_a_record_are_left_out() -> None:
    build = build_with(
        [
            task("unlogged", 2, **DONE),
            task("no_hours", 0, **DONE),
            task("open", 9, begun_on=MONDAY.date()),
            task("away", 2, outside_days=3.0, **DONE),
        ],
        {"no_hours": 1, "open": 9, "away": 1},
    )
    assert calibration_of(build) == (Level(), ())


def test_a_task_that_has_outrun_its_estimate_counts_as_what_it_took_so_far() -> None:
    begun = {"begun_on": MONDAY.date()}
    within = build_with([task("a", 4, **begun)], {"a": 4})
    assert calibration_of(within) == (Level(), ())
    beyond = build_with([task("a", 4, **begun)], {"a": 6})
    finished = build_with([task("a", 4, **DONE)], {"a": 6})
    assert calibration_of(beyond) == calibration_of(finished)
    assert calibration_of(beyond)[0].factor > 1


def test_hours_of_several_entries_are_summed() -> None:
    build = build_with([task("a", 2, **DONE)], {"a": 1})
    build = replace(build, log=build.log * 2)
    assert calibration_of(build) == calibration_of(build_with([task("a", 2, **DONE)], {"a": 2}))


def test_either_half_of_the_record_can_be_switched_off() -> None:
    build = build_with([task("a", 2, **DONE)], {"a": 4})
    build = replace(build, now=build.now.replace(month=2))
    both = factors_of(build)
    assert both.of_kind("").count == 1
    assert both.attendance.weeks > 0
    assert factors_of(build, calibrated=False).level == Level()
    assert factors_of(build, calibrated=False).of_kind("").count == 0
    assert factors_of(build, attended=False).attendance == Attendance()
