"""The longest way still to go: what ranks where all else is equal."""

from dataclasses import replace

from tests.build.builds import ALWAYS, build_of, session, task
from webapp.build.build_input import Dependency
from webapp.build.hours_to_go import planned_seconds
from webapp.planning.order.job_order import make_plan
from webapp.planning.simulator.longest_way import longest_ways
from webapp.planning.simulator.work_arrays import lay_out

HOUR = 3600
SATURDAY = (session(5, 9, 17),)


def test_work_waits_and_outside_days_add_up_along_the_longest_chain() -> None:
    """In a shop that is open 8 of 168 hours an hour of work takes 21 of the calendar.

    blast 5 days, then 2 h of paint (42 h) with a cure of 24 h, then 1 h at first start (21 h):
    120 + 42 + 24 + 21 = 207 h; the short way from blast, 3 h of fitting, is 120 + 63 + 21.
    """
    tasks = [
        replace(task("blast", 0), outside_days=5),
        task("paint", 2),
        task("fit", 3),
        task("start", 1),
    ]
    links = [("blast", "paint"), ("blast", "fit"), ("fit", "start")]
    build = build_of(tasks, links, week=SATURDAY, first_start="start")
    cure = Dependency(before="paint", after="start", wait_hours=24)
    build = replace(build, dependencies=(*build.dependencies, cure))
    ways = longest_ways(build, planned_seconds(build))
    assert {key: way / HOUR for key, way in ways.items()} == {
        "blast": 207,
        "paint": 87,
        "fit": 84,
        "start": 21,
    }


def test_work_after_first_start_does_not_lengthen_the_way_to_it() -> None:
    tasks = [task("start", 1), task("a", 1), task("trim", 50)]
    links = [("a", "start"), ("start", "trim"), ("a", "trim")]
    build = build_of(tasks, links, week=ALWAYS, first_start="start")
    assert longest_ways(build, planned_seconds(build))["a"] == 2 * HOUR


def test_of_two_tasks_the_one_with_the_longer_way_goes_first() -> None:
    tasks = [task("short", 1), task("long", 1), task("after", 5), task("start", 0)]
    links = [("short", "start"), ("long", "after"), ("after", "start")]
    build = build_of(tasks, links, first_start="start")
    assert [one.key for one in make_plan(build).tasks[:2]] == ["long", "after"]


def test_hours_laid_out_otherwise_do_not_change_the_ranking() -> None:
    """Twice the hours stretch work, not the cure; the estimates rank all the same."""
    tasks = [task("work", 4), task("cured", 1), task("start", 0)]
    links = [("work", "start")]
    build = build_of(tasks, links, first_start="start")
    cure = Dependency(before="cured", after="start", wait_hours=5)
    build = replace(build, dependencies=(*build.dependencies, cure))
    slower = {key: seconds * 2 for key, seconds in planned_seconds(build).items()}
    work, other = lay_out(build), lay_out(build, work_seconds=slower)
    assert list(other.work_seconds) == [2 * s for s in work.work_seconds]
    assert list(other.longest_way) == list(work.longest_way)
