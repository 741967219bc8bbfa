"""Workable hours of a date, by the facts as they were lived."""

import datetime as dt
from dataclasses import replace

import pytest

from tests.build.builds import EVENINGS, MONDAY, build_of, stretch, task
from webapp.build.build_input import BuildInput, Dependency, LogEntry, Part
from webapp.build.shop import Setup, WeekSession
from webapp.build.time.promised_days import PromisedDays
from webapp.planning.order.job_order import make_plan
from webapp.planning.record.workable import workable_days

DAY = dt.timedelta(days=1)
FIRST = MONDAY.date()


def evenings(*tasks: object, **rest: object) -> BuildInput:
    """Monday to Friday 18:00 to 21:00, seen on the Monday after; first start is `start`."""
    build = build_of(list(tasks), week=EVENINGS, now=MONDAY + 7 * DAY, first_start="start")  # type: ignore[arg-type]
    return replace(build, starts_on=FIRST, **rest)  # type: ignore[arg-type]


def workable(build: BuildInput) -> list[float]:
    """Workable hours of Monday to Friday of the first week."""
    return [day.workable_hours for day in workable_days(build, FIRST, FIRST + 4 * DAY)]


def test_an_evening_with_work_for_first_start_that_nobody_did_is_lost() -> None:
    days = workable_days(evenings(task("start", 100)), FIRST, FIRST + 6 * DAY)
    assert [day.lost_hours for day in days] == [3, 3, 3, 3, 3, 0, 0]


def test_waiting_for_the_machine_shop_makes_no_hour_workable() -> None:
    # Heads taken off in full on Monday, then the machine shop has them.
    build = evenings(
        task("heads", 3, begun_on=FIRST, finished_on=FIRST),
        task("machine", 0, outside_days=60, begun_on=FIRST),
        task("start", 10),
        dependencies=(
            Dependency(before="heads", after="machine"),
            Dependency(before="machine", after="start"),
        ),
        log=(LogEntry(task="heads", on=FIRST, hours=3),),
    )
    assert workable(build) == [3, 0, 0, 0, 0]


def test_work_after_first_start_makes_no_hour_workable() -> None:
    build = evenings(
        task("start", 10),
        task("trim", 50),
        parts=(Part(key="p", name="Pump", serves=("start",)),),
    )
    assert workable(build) == [0, 0, 0, 0, 0]


def test_a_part_makes_hours_workable_from_the_day_it_came() -> None:
    pump = Part(key="p", name="Pump", serves=("start",), arrived=True, arrives_on=FIRST + 2 * DAY)
    assert workable(evenings(task("start", 100), parts=(pump,))) == [0, 0, 3, 3, 3]


def test_the_house_rules_say_how_much_of_an_evening_could_have_been_worked() -> None:
    # One hour of work to do, then a cure of 20 h: from 18:00 the house rules work until 19:00.
    build = evenings(
        task("seal", 1),
        task("start", 10),
        dependencies=(Dependency(before="seal", after="start", wait_hours=20),),
    )
    assert workable(build)[0] == 1


def test_the_session_that_runs_is_not_lost() -> None:
    build = replace(evenings(task("start", 100)), now=MONDAY + dt.timedelta(hours=20))
    (day,) = workable_days(build, FIRST, FIRST)
    assert (day.promised_hours, day.lost_hours) == (2, 0)


def lived_as_planned() -> BuildInput:
    """A build with setups, a cure, a helper, a part and outside work, lived just as planned."""
    build = build_of(
        [
            task("heads", 4, setup="tig"),
            task("machine", 0, outside_days=6),
            task("seal", 2),
            task("lift", 2, helper=True, in_one_go=True),
            task("pump", 5, setup="roller"),
            task("start", 3),
        ],
        week=(*EVENINGS, WeekSession(weekday=5, hours=stretch(9, 17, helper=True))),
        first_start="start",
        starts_on=FIRST,
        setups=(
            Setup(key="tig", name="Welder", hours=0.75),
            Setup(key="roller", name="Roller", hours=0.5),
        ),
        dependencies=(
            ("heads", "machine"),
            ("seal", "pump", 20),
            ("machine", "lift"),
            ("lift", "start"),
            ("pump", "start"),
        ),
        parts=(Part(key="p", name="Pump", serves=("pump",), arrives_on=FIRST + 3 * DAY),),
    )
    plan = make_plan(build)
    planned = {one.key: one for one in plan.tasks}
    promised = PromisedDays(build)
    log = []
    for one in plan.tasks:
        if one.key != "machine":
            day = one.begins.date()
            while day <= one.ends.date():
                hours = promised.hours(day, since=one.begins, until=one.ends)
                log.append(LogEntry(task=one.key, on=day, hours=hours))
                day += DAY
    return replace(
        build,
        now=max(one.ends for one in plan.tasks) + DAY,
        tasks=tuple(
            replace(t, begun_on=planned[t.key].begins, finished_on=planned[t.key].ends)
            for t in build.tasks
        ),
        parts=tuple(replace(part, arrived=True) for part in build.parts),
        log=tuple(entry for entry in log if entry.hours),
    )


def test_a_build_lived_exactly_as_planned_has_lost_nothing() -> None:
    build = lived_as_planned()
    days = workable_days(build, FIRST, build.now.date())
    assert sum(day.worked_hours for day in days) == pytest.approx(4 + 0.75 + 2 + 2 + 5.5 + 3)
    assert {day.date: day.lost_hours for day in days if day.lost_hours > 1e-6} == {}
