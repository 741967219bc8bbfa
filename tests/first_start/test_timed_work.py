"""Checks that take their time are offered as tasks, and what the list holds is told as reasons."""

import datetime as dt
from dataclasses import replace

from tests.first_start.lists import DAY, ENGINE, LISTS, signed, standing, start_build
from tests.first_start.walker import Walker, to_it_ran
from webapp.build.build_input import BuildInput, Subsystem, Task
from webapp.build.checks.input_checks import faults_of
from webapp.build.first_start import CheckChange
from webapp.build.three_point import ThreePoint
from webapp.first_start.timed_work import make_work, offered_work
from webapp.pages.words.first_start import held_by_checks

HOUR = ThreePoint.certain(1.0)


def build_of_tasks(*tasks: Task) -> BuildInput:
    return replace(
        start_build(ENGINE),
        subsystems=(Subsystem(key="w", name="Coolant"),),
        tasks=(*tasks, Task(key="start", name="Start", hours=HOUR)),
        first_start="start",
    )


def test_the_tests_and_soaks_of_a_list_are_offered_until_a_task_is_for_them() -> None:
    for checks in LISTS:
        build = start_build(checks)
        offered = [one.check.key for one in offered_work(build, standing(build, checks, at=DAY))]
        assert offered
        made = make_work(build, checks, offered[0]).build
        again = offered_work(made, standing(made, checks, at=DAY))
        assert [one.check.key for one in again] == offered[1:]
        assert make_work(made, checks, offered[0]).is_refused


def test_a_task_of_the_starter_list_stands_for_its_check() -> None:
    build = build_of_tasks(Task(key="fuel_test", name="Fuel test", hours=HOUR))
    found = offered_work(build, standing(build, ENGINE, at=DAY))
    assert "fuel_held" not in {one.check.key for one in found}
    assert "coolant_pressure" in {one.check.key for one in found}


def test_a_check_made_a_task_stands_before_first_start_with_its_wait_and_holds_its_signature() -> (
    None
):
    made = make_work(build_of_tasks(), ENGINE, "bores_oiled")
    task = made.build.tasks[-1]
    (link,) = made.build.dependencies
    assert (task.key, link.before, link.after, link.wait_hours) == (
        *("bores_oiled", "bores_oiled", "start"),
        24,
    )
    assert task.hours_guessed
    assert not [fault for fault in faults_of(made.build) if fault.kind in ("task", "dependency")]
    taken = CheckChange(check="bores_oiled", at=DAY, name="A", choice="taken in")
    build = replace(made.build, start=replace(made.build.start, changes=(taken,)))
    one = Walker(build, ENGINE)
    assert one.sign("battery_off")
    one.wait(seconds=9)
    assert not one.sign("bores_oiled")
    done = replace(task, finished_on=DAY.replace(tzinfo=None))
    one.build = replace(one.build, tasks=(*one.build.tasks[:-1], done))
    one.wait(seconds=9)
    assert one.sign("bores_oiled"), one.last


def test_a_task_lies_in_the_subsystem_of_its_circuit() -> None:
    assert make_work(build_of_tasks(), ENGINE, "coolant_pressure").build.tasks[-1].subsystem == "w"


def test_the_list_is_told_as_reasons_stage_by_stage() -> None:
    build = signed(start_build(ENGINE), ENGINE, "dry", "fluids", at=DAY)
    left = tuple(one for one in build.start.signatures if one.check != "belt_right")
    build = replace(build, start=replace(build.start, signatures=left, stop_lines=()))
    told = held_by_checks(standing(build, ENGINE, at=DAY + dt.timedelta(hours=1)))
    assert told[0].startswith("1 check of “Fluids in” not signed, the first: Lay a straight edge")
    assert "of “The place, then fuel” not signed, the first: " in told[1]
    assert told[-1] == "4 lines that say how to stop it not typed"


def test_way_10_it_ran_finishes_first_start_and_what_comes_after_waits_until_it_is_cold() -> None:
    one = Walker(build_of_tasks(), ENGINE)
    to_it_ran(one)
    (start,) = (task for task in one.build.tasks if task.key == "start")
    (run,) = (run for run in one.build.start.runs if run.ran_at)
    assert run.fired_at is not None
    assert start.finished_on == run.fired_at.replace(second=0, microsecond=0, tzinfo=None)
    added = {task.key for task in one.build.tasks} - {"start"}
    assert added == {"levels_again", "clamps_again", "torque_again"}
    waits = {link.after: (link.before, link.wait_hours) for link in one.build.dependencies}
    assert waits == dict.fromkeys(added, ("start", 8.0))
    done = replace(one.build, now=one.at.replace(tzinfo=None))
    assert not [fault for fault in faults_of(done) if fault.kind in ("task", "dependency")]
