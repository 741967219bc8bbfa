"""Workable hours: waiting is not absence, and nothing is lost where nothing could be done."""

import datetime as dt
from dataclasses import replace

import pytest

from tests.build.builds import EVENINGS, MONDAY, build_of, session, task
from tests.lives.life_builds import life_build
from tests.lives.living import lived as passed
from webapp.build.build_input import BuildInput, LogEntry, Part
from webapp.build.shop import Setup
from webapp.build.wish import Wish, WishDecision
from webapp.planning.record.as_lived import AsLived
from webapp.planning.record.attendance import attendance_of, weeks_of_record
from webapp.planning.record.workable import workable_days

TODAY = MONDAY.date()
DAY = dt.timedelta(days=1)


def at(day: int, hour: float) -> dt.datetime:
    return MONDAY + dt.timedelta(days=day, hours=hour)


def logged(day: int, hours: float, key: str = "a", setup_hours: float = 0.0) -> LogEntry:
    return LogEntry(task=key, on=TODAY + day * DAY, hours=hours, setup_hours=setup_hours)


def workable(build: BuildInput, days: int = 7) -> list[float]:
    found = workable_days(build, TODAY, TODAY + (days - 1) * DAY)
    return [day.workable_hours for day in found]


def lived(tasks: list, links: list, *log: LogEntry, now: dt.datetime, **rest: object) -> BuildInput:  # type: ignore[type-arg]
    build = build_of(tasks, links, week=EVENINGS, now=now, first_start="z", log=log)
    return replace(build, starts_on=TODAY, **rest)  # type: ignore[arg-type]


def test_an_evening_on_which_work_was_there_and_nobody_came_is_lost() -> None:
    tasks = [task("a", 20, begun_on=at(0, 18)), task("z", 1)]
    build = lived(tasks, [("a", "z")], logged(0, 3), logged(2, 1), now=at(7, 0))
    assert workable(build) == [3, 3, 3, 3, 3, 0, 0]
    assert [day.lost_hours for day in workable_days(build, TODAY, TODAY + 2 * DAY)] == [0, 3, 2]


def test_twenty_weeks_at_the_machine_shop_are_no_absence() -> None:
    """Two weeks worked in full, then nothing can be done until the block is back."""
    tasks = [
        task("a", 30, begun_on=at(0, 18), finished_on=at(11, 21)),
        replace(task("block", 0, begun_on=at(11, 21)), outside_days=200.0),
        task("z", 8),
    ]
    log = [logged(day, 3) for day in (0, 1, 2, 3, 4, 7, 8, 9, 10, 11)]
    build = lived(tasks, [("a", "block"), ("block", "z")], *log, now=at(22 * 7, 0))
    weeks = weeks_of_record(build)
    assert [week.workable_hours for week in weeks[:3]] == [15, 15, 0]
    attendance = attendance_of(build)
    assert (attendance.mean, attendance.weeks) == (1.0, 2)


def test_a_late_part_makes_no_evening_workable_until_it_is_there() -> None:
    tasks = [task("a", 6), task("z", 1)]
    came = Part(key="hose", name="Hose", serves=("a",), arrives_on=TODAY + 3 * DAY, arrived=True)
    build = lived(tasks, [("a", "z")], now=at(7, 0), parts=(came,))
    assert workable(build) == [0, 0, 0, 3, 3, 0, 0]
    waiting = replace(came, arrived=False)
    assert workable(replace(build, parts=(waiting,))) == [0, 0, 0, 0, 0, 0, 0]


def test_a_wait_that_ends_within_an_evening_leaves_the_rest_of_it() -> None:
    tasks = [task("a", 3, begun_on=at(0, 18), finished_on=at(0, 21)), task("z", 5)]
    build = lived(tasks, [("a", "z", 23)], logged(0, 3), now=at(7, 0))
    # Sealed on Monday at 21:00, cured on Tuesday at 20:00: an hour of that evening.
    assert workable(build) == [3, 1, 3, 3, 3, 0, 0]


def test_no_more_can_be_lost_than_there_was_to_do() -> None:
    """An hour of work, then a cure of a day: of the evening of 3 h one was workable."""
    tasks = [
        task("a", 1, begun_on=at(2, 18), finished_on=at(2, 19)),
        task("z", 1),
    ]
    build = lived(tasks, [("a", "z", 48)], logged(2, 1), now=at(3, 0))
    assert workable(build, 3) == [1, 1, 1]


def test_what_follows_at_once_is_there_to_do_as_well() -> None:
    tasks = [task("a", 1), task("b", 1), task("z", 10)]
    build = lived(tasks, [("a", "b"), ("b", "z", 24)], now=at(1, 0))
    # a and then b: two hours of the evening; z has to wait for the cure after b.
    assert workable(build, 1) == [2]


def test_work_after_first_start_makes_no_hour_workable() -> None:
    tasks = [task("z", 1, begun_on=at(0, 18), finished_on=at(0, 19)), task("trim", 40)]
    build = lived(tasks, [("z", "trim")], logged(0, 1, "z"), now=at(7, 0))
    assert workable(build) == [1, 0, 0, 0, 0, 0, 0]


def test_a_task_of_a_wish_could_not_be_worked_before_it_was_accepted() -> None:
    wish = Wish(
        key="lamp",
        text="Lamp",
        logged_on=TODAY,
        decision=WishDecision(way="fit now", decided_on=TODAY + 2 * DAY),
    )
    tasks = [replace(task("lamp", 9), wish="lamp"), task("z", 1)]
    build = lived(tasks, [("lamp", "z")], now=at(7, 0), wishes=(wish,))
    assert workable(build) == [0, 0, 0, 3, 3, 0, 0]


def test_work_with_the_helper_is_workable_while_the_helper_is_there() -> None:
    week = (session(0, 18, 21), session(5, 9, 12), session(5, 12, 17, helper=True))
    build = build_of([task("z", 9, helper=True)], week=week, now=at(7, 0), first_start="z")
    assert workable(replace(build, starts_on=TODAY)) == [0, 0, 0, 0, 0, 5, 0]


def test_work_in_one_go_needs_a_session_with_room_for_it() -> None:
    week = (session(0, 18, 21), session(5, 9, 17))
    build = build_of([task("z", 5, in_one_go=True)], week=week, now=at(7, 0), first_start="z")
    found = workable(replace(build, starts_on=TODAY))
    # The evening is too short for it; of the Saturday five hours are there to do.
    assert found == [0, 0, 0, 0, 0, 5, 0]


def test_the_session_that_is_running_is_not_lost() -> None:
    tasks = [task("a", 20, begun_on=at(0, 18)), task("z", 1)]
    running = lived(tasks, [("a", "z")], logged(0, 3), now=at(1, 20))
    assert workable(running, 2) == [3, 0]
    over = replace(running, now=at(1, 21))
    assert workable(over, 2) == [3, 3]


def test_getting_a_setup_out_counts_as_being_there() -> None:
    tig = Setup(key="tig", name="TIG welder out", hours=0.5)
    tasks = [task("a", 2.5, setup="tig", begun_on=at(0, 18), finished_on=at(0, 21)), task("z", 0)]
    build = build_of(
        tasks,
        [("a", "z")],
        week=EVENINGS,
        now=at(7, 0),
        first_start="z",
        setups=(tig,),
        log=(logged(0, 2.5, setup_hours=0.5),),
    )
    (monday, *_) = workable_days(replace(build, starts_on=TODAY), TODAY, TODAY)
    assert (monday.worked_hours, monday.lost_hours) == (3, 0)
    assert attendance_of(replace(build, starts_on=TODAY)).mean == 1.0


@pytest.mark.parametrize("seed", range(15))
def test_a_date_with_work_enough_needs_no_laying_out(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What the shortcut says of a date is what laying that date out says."""
    build = life_build(seed)
    build = passed(build, build.now + dt.timedelta(days=12))
    build = replace(build, log=build.log[seed % 2 :: 2])  # evenings of which nothing is written
    last, first = build.now.date(), build.now.date() - 12 * DAY
    at_once = workable_days(build, first, last)
    monkeypatch.setattr(AsLived, "_fills", lambda *_: 0.0)
    assert workable_days(build, first, last) == at_once
