"""Eight weeks of an invented build, in which one thing after the other goes wrong.

The shop opens on Tuesday and Thursday 18:00 to 21:00 and on Saturday 9:00 to 17:00: 14 hours a
week from Monday 5 January 2026. Eight tasks of 14 hours stand in a line before first start, so
the first plan ends on Saturday 28 February at 17:00, after 112 hours. A snapshot is taken each
Sunday at 20:00.

week  what happened                                 total hours   first start
  1   as planned                                        112       Sat 28 Feb 17:00
  2   the second task took its 14 h and has 6 to go     118       Thu  5 Mar 21:00
  3   a wish of 3 h                                     121       Sat  7 Mar 12:00
  4   Saturday 31 January lost (8 h)                    129       Tue 10 Mar 21:00
  5   a part for the fifth task slips to 18 February    146       Thu 19 Mar 21:00
  6   nothing could be done, as planned                 146       Thu 19 Mar 21:00
  7   Saturday 21 February lost (8 h)                   154       Sat 21 Mar 17:00
  8   as planned                                        154       Sat 21 Mar 17:00

Hours are counted through the shop week: hour 112 is the last of Saturday 28 February, 115 that of
Tuesday 3 March, 118 of Thursday 5, 126 of Saturday 7, 129 of Tuesday 10, 140 of Saturday 14, 143
of Tuesday 17, 146 of Thursday 19 and 154 of Saturday 21 March. The part stops the work for the 17
hours from Tuesday 10 to Tuesday 17 February.
"""

import datetime as dt
import math
from dataclasses import replace
from itertools import combinations, pairwise, permutations

import pytest

from tests.build.builds import build_of, session, task
from tests.planning.bridge.small_bridges import minutes_by_cause
from webapp.build.build_input import BuildInput, Dependency, LogEntry, Part, Task
from webapp.build.checks.input_checks import faults_of
from webapp.build.wish import Wish
from webapp.pages.words.bridge import sentence_of
from webapp.planning.bridge.bridge import Bridge, bridge
from webapp.planning.order.job_order import make_plan
from webapp.planning.record.attendance import attendance_of, weeks_of_record
from webapp.planning.record.calibration import calibration_of
from webapp.planning.record.week_figures import WeekSheet, week_sheet

DAY = dt.timedelta(days=1)
MONDAY = dt.datetime(2026, 1, 5)
SHOP_WEEK = (session(1, 18, 21), session(3, 18, 21), session(5, 9, 17))
PIECES = [f"piece{i}" for i in range(1, 9)]


def on(month: int, day: int) -> dt.date:
    return dt.date(2026, month, day)


def first_plan() -> BuildInput:
    tasks = [*(task(key, 14) for key in PIECES), task("start", 0)]
    radiator = Part(
        key="radiator", name="Radiator", serves=("piece5",), arrives_on=on(2, 2), arrived=False
    )
    chain = [*PIECES, "start"]
    return build_of(
        tasks,
        [*pairwise(chain)],
        first_start="start",
        now=MONDAY,
        week=SHOP_WEEK,
        starts_on=MONDAY.date(),
        parts=(radiator,),
    )


LOG: list[tuple[dt.date, str, float, float]] = [
    # Week 1 and 2: every hour of the shop week; the second piece has 6 h to go then.
    (on(1, 6), "piece1", 3, 11),
    (on(1, 8), "piece1", 3, 8),
    (on(1, 10), "piece1", 8, 0),
    (on(1, 13), "piece2", 3, 11),
    (on(1, 15), "piece2", 3, 10),
    (on(1, 17), "piece2", 8, 6),
    # Week 3: the rest of the second piece, then the third.
    (on(1, 20), "piece2", 3, 3),
    (on(1, 22), "piece2", 3, 0),
    (on(1, 24), "piece3", 8, 6),
    # Week 4: no Saturday.
    (on(1, 27), "piece3", 3, 3),
    (on(1, 29), "piece3", 3, 0),
    # Week 5.
    (on(2, 3), "piece4", 3, 11),
    (on(2, 5), "piece4", 3, 8),
    (on(2, 7), "piece4", 8, 0),
    # Week 6: nothing. Week 7: no Tuesday, no Saturday.
    (on(2, 19), "piece5", 3, 11),
    # Week 8: the fifth piece is done on Saturday at 14:00.
    (on(2, 24), "piece5", 3, 8),
    (on(2, 26), "piece5", 3, 5),
    (on(2, 28), "piece5", 5, 0),
    (on(2, 28), "piece6", 3, 11),
]


def after_week(number: int) -> BuildInput:
    """The snapshot of the Sunday of a week; 0 is the first plan."""
    build = first_plan()
    if number == 0:
        return build
    now = MONDAY + 7 * DAY * number - dt.timedelta(hours=4)
    log = [entry for entry in LOG if entry[0] <= now.date()]
    tasks = [_as_of(t, log) for t in build.tasks]
    build = replace(
        build,
        now=now,
        tasks=tuple(tasks),
        log=tuple(LogEntry(task=k, on=d, hours=h, left=left) for d, k, h, left in log),
    )
    if number >= 3:
        wish = Wish(key="w1", text="A lamp in the engine bay", logged_on=on(1, 21))
        links = [d for d in build.dependencies if d.after != "start"]
        links += [
            Dependency(before="piece8", after="lamp"),
            Dependency(before="lamp", after="start"),
        ]
        tasks = [*build.tasks[:-1], task("lamp", 3, wish="w1"), build.tasks[-1]]
        build = replace(build, tasks=tuple(tasks), dependencies=tuple(links), wishes=(wish,))
    if number >= 5:
        radiator = replace(build.parts[0], arrives_on=on(2, 18), arrived=number >= 7)
        build = replace(build, parts=(radiator,))
    assert faults_of(build) == ()
    return build


def _as_of(work: Task, log: list[tuple[dt.date, str, float, float]]) -> Task:
    mine = [entry for entry in log if entry[1] == work.key]
    if not mine:
        return work
    if mine[-1][3] == 0:
        return replace(work, begun_on=mine[0][0], finished_on=mine[-1][0])
    return replace(work, begun_on=mine[0][0], hours_left=mine[-1][3])


def bridge_of_week(number: int) -> Bridge:
    return bridge(after_week(number - 1), after_week(number))


def sheet_of_week(number: int) -> WeekSheet:
    baseline = first_plan()
    return week_sheet(
        after_week(number), (2026, number + 1), baseline=baseline, baseline_plan=make_plan(baseline)
    )


def hours(days: int, hours: int) -> int:
    """Minutes of so many days and hours of wall time."""
    return (24 * days + hours) * 60


FIRST_STARTS = [
    dt.datetime(2026, 2, 28, 17),
    dt.datetime(2026, 2, 28, 17),
    dt.datetime(2026, 3, 5, 21),
    dt.datetime(2026, 3, 7, 12),
    dt.datetime(2026, 3, 10, 21),
    dt.datetime(2026, 3, 19, 21),
    dt.datetime(2026, 3, 19, 21),
    dt.datetime(2026, 3, 21, 17),
    dt.datetime(2026, 3, 21, 17),
]


@pytest.mark.parametrize("number", range(9))
def test_first_start_after_each_week(number: int) -> None:
    assert make_plan(after_week(number)).first_start_at == FIRST_STARTS[number]


@pytest.mark.parametrize("number", [1, 6, 8])
def test_weeks_that_went_as_planned_have_an_empty_bridge(number: int) -> None:
    way = bridge_of_week(number)
    assert minutes_by_cause(way) == {}
    assert sentence_of(way).startswith("First start stays on ")


def test_week_2_names_the_bad_estimate() -> None:
    way = bridge_of_week(2)
    assert minutes_by_cause(way) == {"estimates": hours(5, 4)}
    (item,) = way.shares[1].items
    assert (item.kind, item.key, item.minutes, item.hours) == ("task", "piece2", hours(5, 4), 6)
    assert (
        sentence_of(way) == "First start moved from 28 February to 5 March: 5 days for estimates."
    )


def test_week_3_names_the_wish() -> None:
    way = bridge_of_week(3)
    assert minutes_by_cause(way) == {"scope": hours(1, 15)}
    (item,) = way.shares[0].items
    assert (item.kind, item.name, item.hours) == ("wish", "A lamp in the engine bay", 3)
    assert sentence_of(way) == "First start moved from 5 March to 7 March: 2 days for one wish."
    assert [wish.key for wish in sheet_of_week(3).wishes_added] == ["w1"]
    assert sheet_of_week(3).added_tasks == ("lamp",)


def test_week_4_names_the_lost_saturday() -> None:
    way = bridge_of_week(4)
    assert minutes_by_cause(way) == {"shop_time": hours(3, 9)}
    (item,) = way.shares[2].items
    assert (item.kind, item.key, item.minutes, item.hours) == (
        "day",
        "2026-01-31",
        hours(3, 9),
        8,
    )
    sheet = sheet_of_week(4)
    assert (sheet.promised_hours, sheet.worked_hours, sheet.lost_hours) == (14, 6, 8)
    assert sheet.lost_by_day == ((on(1, 31), 8),)


def test_week_5_names_the_late_part() -> None:
    way = bridge_of_week(5)
    assert minutes_by_cause(way) == {"parts": hours(9, 0)}
    (item,) = way.shares[3].items
    assert (item.kind, item.key, item.minutes) == ("part", "radiator", hours(9, 0))
    assert sentence_of(way) == "First start moved from 10 March to 19 March: 9 days for late parts."


def test_week_7_names_the_second_lost_saturday_and_not_the_idle_tuesday() -> None:
    way = bridge_of_week(7)
    assert minutes_by_cause(way) == {"shop_time": hours(1, 20)}
    moved = {item.key: item.minutes for item in way.shares[2].items}
    # Tuesday 17 was not worked either, but the part held the work: nothing of it was lost.
    assert moved == {"2026-02-21": hours(1, 20)}
    assert sheet_of_week(7).lost_by_day == ((on(2, 21), 8),)


# --- all eight weeks at once ----------------------------------------------------------------


def test_all_eight_weeks_at_once_share_the_move_by_an_independent_count() -> None:
    way = bridge(after_week(0), after_week(8))
    causes = ("scope", "estimates", "shop_time", "parts")
    ends = {
        frozenset(subset): _end_with(frozenset(subset))
        for size in range(5)
        for subset in combinations(causes, size)
    }
    assert ends[frozenset()] == FIRST_STARTS[0]
    assert ends[frozenset(causes)] == FIRST_STARTS[8]
    for cause in causes:
        # The mean over all 24 orders of what the cause adds when it comes in.
        added = []
        for order in permutations(causes):
            before = frozenset(order[: order.index(cause)])
            added.append((ends[before | {cause}] - ends[before]) / dt.timedelta(minutes=1))
        assert minutes_by_cause(way)[cause] == pytest.approx(sum(added) / 24, abs=1), cause
    assert way.move_minutes == hours(21, 0)
    assert "order" not in minutes_by_cause(way)


def _end_with(causes: frozenset[str]) -> dt.datetime:
    """First start with some of the causes, counted hour by hour through the calendar."""
    to_do = [(key, 14) for key in PIECES]
    if "estimates" in causes:
        to_do[1] = ("piece2", 20)
    if "scope" in causes:
        to_do.append(("lamp", 3))
    part_on = on(2, 18) if "parts" in causes else on(2, 2)
    lost_days = {on(1, 31), on(2, 21)}
    moment, end = MONDAY, MONDAY
    queue = [key for key, count in to_do for _ in range(count)]
    while queue:
        is_open = (moment.weekday() in (1, 3) and 18 <= moment.hour < 21) or (
            moment.weekday() == 5 and 9 <= moment.hour < 17
        )
        lost = "shop_time" in causes and moment.date() in lost_days
        held = queue[0] == "piece5" and moment.date() < part_on
        moment += dt.timedelta(hours=1)
        if is_open and not lost and not held:
            queue.pop(0)
            end = moment
    return end


def test_the_sheets_tell_the_same_story_in_hours() -> None:
    weeks = weeks_of_record(after_week(8))
    assert [week.worked_hours for week in weeks] == [14, 14, 14, 6, 14, 0, 3, 14]
    assert all(week.promised_hours == 14 for week in weeks)
    # In week 6 and on Tuesday of week 7 the part held all work: no hour of them was workable.
    assert [week.workable_hours for week in weeks] == [14, 14, 14, 14, 14, 0, 11, 14]
    # The week of the last snapshot still runs: 6 whole weeks with something to do, 65 of 81 h,
    # weight 6 / (6 + 1.5625).
    attendance = attendance_of(after_week(8))
    assert attendance.weeks == 6
    assert attendance.mean == pytest.approx(1 - 6 / 7.5625 * (1 - 65 / 81))


def test_the_bad_estimate_shows_in_the_sheet_and_in_the_calibration() -> None:
    (piece2,) = sheet_of_week(3).finished
    assert (piece2.key, piece2.expected_hours, piece2.worked_in_all_hours) == ("piece2", 14, 20)
    assert piece2.estimate_error == pytest.approx(6 / 14)
    level, (factor,) = calibration_of(after_week(8))
    # Five pieces done: 14 + 20 + 14 + 14 + 14 for 70. Scatter: one log of log(20 / 14), four of
    # 0: s^2 = (8 x 0.25 + 0.8 x log(20 / 14)^2) / 12 = 0.175148. One kind alone: the log of
    # 76 / 70 and s^2 / 10, times 0.1125 / (0.1125 + s^2 / 5); the level 0.09 of the same.
    assert factor.count == level.count == 5
    log_ratio, variance = math.log(76 / 70) + 0.0175148, 0.1125 + 0.0350296
    assert factor.log_mean == pytest.approx(log_ratio * 0.1125 / variance, abs=1e-5)
    assert level.log_mean == pytest.approx(log_ratio * 0.09 / variance, abs=1e-5)


def test_earned_value_and_schedule_after_eight_weeks() -> None:
    earned = sheet_of_week(8).earned
    assert earned is not None
    # Five pieces and 3 / 14 of the sixth: 73 h earned of the 112 planned, 79 worked.
    expected = {
        "PV": 112,
        "EV": 73,
        "AC": 79,
        "BAC": 112,
        "CPI": 73 / 79,
        "SPI": 73 / 112,
        # Week by week 14 h were planned: 73 h by 73 / 14 weeks. All hours of 8 weeks are over.
        "ES": 73 / 14,
        "AT": 8,
        "EAC (bottom-up)": 79 + 11 + 14 + 14 + 3,
    }
    for name, value in expected.items():
        assert earned.figure(name).value == pytest.approx(value), name
