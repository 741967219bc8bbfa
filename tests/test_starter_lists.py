"""Every starter list, fitted to every pair of answers and to many at random.

What must come first, and what may come after the end, is the trade's: common practice, no source,
but for the fire watch.
"""

import datetime as dt
import itertools
import random
import re
from collections.abc import Iterator

import pytest

from webapp.build.build_input import BuildInput
from webapp.build.checks.input_checks import faults_of
from webapp.build.precedence import loops_of, needed_for, topological_order
from webapp.build.starter.fitting import begun_with, kept
from webapp.build.starter.starter_list import Said, StarterList, holds
from webapp.exchange.build_document import read_document, write_document
from webapp.planning.order.job_order import make_plan
from webapp.services.seed_builds import STARTER_LISTS, starter_list

NOW = dt.datetime(2026, 2, 9, 18, 0)
LOCAL_CODES = "Local codes and licensed practice come first."
AFTER_THE_END = {
    "swap": {
        *("prop_shop", "prop_fit", "brake_lines", "brake_bleed", "speedo_drive", "heat_cycle"),
        *("cold_again", "walk_drive", "road_inspection", "oil_early", "registration", "auto_level"),
        *("ac_hoses", "ac_fit", "ac_test", "ac_charge", "ac_sleeve"),
    },
    "electric": {"cold_look", "inspection", "papers_new"},
    "boat": {"gear_berth", "cold_again", "sea_trial", "survey", "shore", "oil_early"},
}
"""What is meant not to lead to the end."""
FIRST = {
    "swap": (
        # The place is made ready before the first current, the first fuel and the first crank.
        ("shop_ready", "battery_fit"),
        ("shop_ready", "fuel_in"),
        ("shop_ready", "oil_prime"),
        ("stop_check", "oil_prime"),
        ("crank_hand", "oil_prime"),
        ("oil_prime", "first_start"),
        ("fuel_in", "battery_fit"),
        ("shutoff_fit", "stop_check"),
        ("rail_check", "first_start"),
        # Measured and asked before money is spent and anything is cut.
        ("swap_measure", "engine_inspect"),
        ("swap_measure", "mock_in"),
        ("approval_ask", "engine_strip"),
        ("approval_ask", "mounts_pattern"),
        ("old_refrigerant", "fluids_drain"),
        ("gearbox_match", "box_join_dry"),
        ("adapter_make", "box_join_dry"),
        # What cannot move is looked at before the mounts are cut, what is big claims its space.
        ("steering_dry", "mounts_pattern"),
        ("steering_look", "mounts_pattern"),
        ("front_drive", "mounts_pattern"),
        ("radiator_dry", "intercooler_dry"),
        ("radiator_dry", "coolant_hoses"),
        ("radiator_dry", "condenser_dry"),
        ("block_flush", "thermostat_fit"),
        # Every bracket, hole and weld is found before the engine comes out and the bay is painted.
        ("sump_look", "engine_out"),
        ("breather_route", "engine_out"),
        ("filter_relocate", "engine_out"),
        ("pedal_fit", "engine_out"),
        ("fan_switch", "engine_out"),
        ("auto_cooler", "engine_out"),
        ("prop_measure", "engine_out"),
        ("bulkhead_holes", "engine_out"),
        ("engine_out", "tubes_weld"),
        ("engine_out", "mounts_weld"),
        ("mounts_weld", "bay_paint"),
        ("mounts_weld", "bay_paint_shop"),
        ("bay_paint", "engine_in"),
        ("bay_paint_shop", "engine_in"),
        ("sump_alter", "engine_in"),
        # Nothing is filled before it is tested, nothing sleeved before it is dry.
        ("water_test", "coolant_fill"),
        ("fuel_test", "lines_sleeve"),
        ("fuel_test", "fuel_in"),
        ("tubes_test", "charge_fit"),
        ("vacuum_test", "ports_check"),
        ("auto_cooler", "gearbox_fill"),
        # The vehicle does not move before its brakes are bled, nor goes on a road uninspected.
        ("brake_bleed", "walk_drive"),
        ("brake_lines", "brake_bleed"),
        ("walk_drive", "road_inspection"),
        ("speedo_drive", "road_inspection"),
        ("road_inspection", "registration"),
    ),
    "electric": (
        # Asked, hired and agreed before a pack is bought or anything is cut.
        ("approval", "pack_buy"),
        ("hv_hire", "pack_buy"),
        ("insurer", "pack_buy"),
        ("approval", "box_make"),
        ("weigh_before", "engine_out"),
        ("ac_out", "fluids_out"),
        ("fuel_out", "frame_repair"),
        # The packs come in last, into boxes that vent outside and were judged by an engineer.
        ("box_engineer", "box_weld"),
        ("box_weld", "paint"),
        ("box_weld", "paint_shop"),
        ("vent_path", "hv_pack_in"),
        ("hv_pack_in", "hv_wire"),
        ("lv_check", "hv_test"),
        ("hv_test", "first_charge"),
        ("home_point", "first_charge"),
        # Nothing turns before the stop works and the wheels are off the ground.
        ("estop", "spin"),
        ("labels", "spin"),
        ("ready", "spin"),
        ("cool_test", "cool_fill"),
        ("cool_fill", "spin"),
        ("spin", "first_drive"),
        ("brake_lic", "first_drive"),
        ("vac_in", "spin"),
        ("steer_in", "first_drive"),
        ("weigh_after", "first_drive"),
        ("inspection", "papers_new"),
    ),
    "boat": (
        ("rules", "undo"),
        ("measure", "jig"),
        ("seacock_shut", "gas_vent"),
        ("gas_vent", "fuel_shut"),
        ("haul", "hull_valves"),
        ("fuel_shut", "old_out"),
        ("jig", "bed_change"),
        ("jig", "shaft_shop"),
        ("bed_change", "bed_seal"),
        ("bed_seal", "engine_in"),
        ("hatch_alter", "engine_in"),
        # All that keeps the sea out is done before she floats.
        ("hull_valves", "launch"),
        ("bearing_new", "launch"),
        ("siphon", "launch"),
        ("raw_hoses", "launch"),
        ("bilge_pump", "launch"),
        ("launch", "align_final"),
        # A way to stop it, something to put a fire out with and air come before fuel and crank.
        ("air_stop", "turn"),
        ("cable_control", "turn"),
        ("fire", "fuel_bleed"),
        ("place", "fuel_bleed"),
        ("fuel_test", "fuel_bleed"),
        ("fresh_test", "fresh_fill"),
        ("align_final", "first_run"),
        ("alarms", "first_run"),
        ("blower", "first_run"),
        ("first_run", "sea_trial"),
    ),
}
"""What comes before what wherever both are kept."""


def the(key: str) -> StarterList:
    found = starter_list(key)
    assert found is not None
    return found


def fitted(key: str, *answers: tuple[str, str]) -> BuildInput:
    """A new build of a list, the usual answers but for these."""
    said = {**the(key).usual, **dict(answers)}
    return begun_with(BuildInput(name="Fitted", now=NOW, first_start=None), the(key), said)


def one_answer_each(key: str) -> Iterator[tuple[tuple[str, str], ...]]:
    """The usual answers, then each other answer to each question among them."""
    yield ()
    for question in the(key).questions:
        for answer in question.answers:
            if not answer.usual:
                yield ((question.key, answer.key),)


def every_pair_of_answers(key: str) -> Iterator[tuple[tuple[str, str], ...]]:
    """Whole sets of answers in which any two answers to two questions stand together."""
    ahead = {
        ((one.key, first.key), (other.key, second.key))
        for one, other in itertools.combinations(the(key).questions, 2)
        for first, second in itertools.product(one.answers, other.answers)
    }
    for way in at_random(key, 10_000):
        fresh = ahead & set(itertools.combinations(way, 2))
        if fresh:
            ahead -= fresh
            yield way
        if not ahead:
            return
    raise AssertionError(f"never drawn: {ahead}")


def at_random(key: str, times: int) -> Iterator[tuple[tuple[str, str], ...]]:
    dice = random.Random(f"answers to {key}")
    for _ in range(times):
        yield tuple(
            (question.key, dice.choice(question.answers).key) for question in the(key).questions
        )


def before_each(build: BuildInput) -> dict[str, set[str]]:
    """All that must come before each task."""
    straight: dict[str, set[str]] = {task.key: set() for task in build.tasks}
    for link in build.dependencies:
        straight[link.after].add(link.before)
    before: dict[str, set[str]] = {}
    for key in topological_order(build):
        before[key] = straight[key].union(*(before[other] for other in straight[key]))
    return before


def what_is_wrong(key: str, build: BuildInput) -> list[str]:
    """Everything that a fitted build must not be."""
    assert build.first_start is not None
    wrong = [fault.text for fault in faults_of(build)]
    if loops := loops_of(build):
        return [*wrong, *(f"loop: {loop}" for loop in loops)]
    before_all = before_each(build)
    needed = before_all[build.first_start] | {build.first_start}
    there = {task.key for task in build.tasks}
    wrong += [f"leads nowhere: {each}" for each in there - needed - AFTER_THE_END[key]]
    wrong += [
        f"{before} is not before {after}"
        for before, after in FIRST[key]
        if {before, after} <= there and before not in before_all[after]
    ]
    wrong += [
        f"a wait without a reason: {link}"
        for link in build.dependencies
        if link.wait_hours and not link.why
    ]
    return wrong


@pytest.mark.parametrize("key", STARTER_LISTS)
def test_with_every_pair_of_answers_and_many_at_random_a_list_is_whole(key: str) -> None:
    ways = (*one_answer_each(key), *every_pair_of_answers(key), *at_random(key, 40))
    assert {way: wrong for way in ways if (wrong := what_is_wrong(key, fitted(key, *way)))} == {}


@pytest.mark.parametrize("key", STARTER_LISTS)
def test_with_every_answer_the_end_is_reached_and_no_task_is_left_over(key: str) -> None:
    for way in one_answer_each(key):
        plan = make_plan(fitted(key, *way))
        assert plan.unplanned == (), way
        assert plan.first_start_at is not None, way


@pytest.mark.parametrize("key", STARTER_LISTS)
def test_order_among_what_is_kept_is_the_order_of_the_whole_list(key: str) -> None:
    """A before B before C holds A before C where B is dropped, whatever is dropped between."""
    for way in at_random(key, 10):
        build = fitted(key, *way)
        said = {answer.question: answer.answer for answer in build.starter_answers}
        after: dict[str, set[str]] = {}
        for each in the(key).dependencies:
            if holds(each.hangs_on, said):
                after.setdefault(each.dependency.before, set()).add(each.dependency.after)
        before = before_each(build)
        for task in build.tasks:
            reached, ahead = set[str](), [task.key]
            while ahead:
                fresh = after.get(ahead.pop(), set()) - reached
                reached |= fresh
                ahead += fresh
            for later in reached & set(before):
                assert task.key in before[later], (task.key, later, way)


@pytest.mark.parametrize("key", STARTER_LISTS)
def test_cautions_stay_with_their_tasks_in_full(key: str) -> None:
    listed = {each.key: each.task for each in the(key).tasks}
    for way in at_random(key, 20):
        for task in fitted(key, *way).tasks:
            assert task.caution == listed[task.key].caution
    for task in listed.values():
        assert task.caution.count(LOCAL_CODES) == (1 if task.caution else 0), task.name
        assert task.caution == "" or task.caution.endswith(LOCAL_CODES)


@pytest.mark.parametrize("key", STARTER_LISTS)
def test_every_estimate_is_marked_as_a_guess_and_nothing_is_done(key: str) -> None:
    build = fitted(key)
    assert all(task.hours_guessed for task in build.tasks)
    assert (build.log, build.wishes, build.starts_on, build.wanted_by) == ((), (), None, None)
    for task in build.tasks:
        assert (task.begun_on, task.finished_on, task.set_aside_on) == (None, None, None)
        if task.outside_days is None:
            assert 0 < task.hours.optimistic < task.hours.pessimistic, task.name
    assert all(part.lead_days and not part.arrived for part in build.parts)


@pytest.mark.parametrize("key", STARTER_LISTS)
def test_every_answer_makes_a_difference_and_every_entry_can_be_kept_and_hangs_on_what_is_asked(
    key: str,
) -> None:
    starter = the(key)
    offered = {q.key: {answer.key for answer in q.answers} for q in starter.questions}
    hung = [entry.hangs_on for entry in starter.entries]
    for each in itertools.chain(*hung, *(link.hangs_on for link in starter.dependencies)):
        assert set(each.answers) <= offered[each.question], each
        assert set(each.answers) != offered[each.question], each
    for question in starter.questions:
        assert sum(answer.usual for answer in question.answers) == 1
        ways = [{**best(starter), question.key: answer.key} for answer in question.answers]
        made = [kept(starter, way) for way in ways]
        assert len(set(made)) == len(made), question.ask
    keys = [entry.key for entry in starter.entries]
    assert len(set(keys)) == len(keys)  # what was left out is known by its key alone
    tasks = {each.key for each in starter.tasks}
    for link in starter.dependencies:
        assert {link.dependency.before, link.dependency.after} <= tasks, link
    for part in starter.parts:
        assert part.part.serves, part.key
        assert set(part.part.serves) <= tasks, part.key


def best(starter: StarterList) -> Said:
    """Answers under which every question counts."""
    said = dict(starter.usual)
    for question in starter.questions:
        said |= {each.question: each.answers[0] for each in question.only_if}
    return said


@pytest.mark.parametrize("key", STARTER_LISTS)
def test_a_build_with_its_answers_is_the_same_after_it_was_written_and_read(key: str) -> None:
    build = fitted(key)
    again, faults = read_document(write_document(build), now=NOW)
    assert faults == ()
    assert again == build


# the list for an engine swap -----------------------------------------------------------------
ON_THE_BENCH = {"tubes_weld", "sump_alter"}
"""Welded away from the vehicle."""


def test_nothing_is_welded_on_the_vehicle_with_its_tank_in_it() -> None:
    for way in (*one_answer_each("swap"), *at_random("swap", 20)):
        build = fitted("swap", *way)
        welding = {task.key for task in build.tasks if task.setup == "welder"} - ON_THE_BENCH
        assert welding <= needed_for(build, "tank_in"), way
        for key in welding:
            assert "tank_out" in needed_for(build, key), (key, way)


def test_the_fire_watch_is_in_the_hours_of_the_welding_and_no_wait() -> None:
    """A wait runs on while the shop is shut and nobody stands there.

    OSHA 29 CFR 1910.252(a)(2)(iii)(B): at least 30 minutes after the last arc.
    """
    swap = the("swap")
    assert [e for e in swap.dependencies if "fire watch" in e.dependency.why] == []
    welding = [each.task for each in swap.tasks if each.task.setup == "welder"]
    assert len(welding) >= 15
    for task in welding:
        assert "a fire watch of at least 30 minutes after the last arc" in task.caution, task.name
        assert "in the hours of this task" in task.caution, task.name
        assert task.hours.optimistic >= 1.5, task.name


def test_somebody_stands_by_when_the_engine_is_first_started() -> None:
    tasks = {task.key: task for task in fitted("swap").tasks}
    assert all(tasks[key].helper for key in ("stop_check", "first_start", "walk_drive"))


def test_an_automatic_gearbox_holds_first_start_until_the_brakes_are_bled() -> None:
    automatic, manual = fitted("swap", ("gearbox", "automatic")), fitted("swap")
    assert "brake_bleed" in needed_for(automatic, "first_start")
    assert "brake_bleed" not in needed_for(manual, "first_start")


def test_the_air_conditioning_does_not_hold_first_start() -> None:
    build = fitted("swap", ("ac", "yes"))
    needed = needed_for(build, "first_start")
    assert {"ac_fit", "ac_test", "ac_charge", "ac_sleeve", "ac_hoses"}.isdisjoint(needed)


def test_without_a_turbo_nine_tasks_and_four_parts_are_dropped() -> None:
    usual, bare = fitted("swap"), fitted("swap", ("turbo", "no"))
    dropped = {t.key for t in usual.tasks} - {t.key for t in bare.tasks}
    assert dropped == {
        *("turbo_clock", "turbo_oil", "intercooler_dry", "cold_tubes", "hot_tubes"),
        *("tubes_weld", "tubes_clean", "tubes_test", "charge_fit"),
    }
    parts = {p.key for p in usual.parts} - {p.key for p in bare.parts}
    assert parts == {"intercooler", "charge_tube", "charge_hose", "turbo_gaskets"}


# the lists for an electric conversion and for a boat ---------------------------------------------
@pytest.mark.parametrize(
    ("key", "end", "called"),
    [
        ("swap", "first_start", "first start"),
        ("electric", "first_drive", "first drive"),
        ("boat", "first_run", "first run"),
    ],
)
def test_each_list_names_its_own_end(key: str, end: str, called: str) -> None:
    build = fitted(key)
    assert (build.first_start, build.the_end) == (end, called)


def test_high_voltage_is_the_work_of_others_and_every_task_near_it_says_so() -> None:
    electric = the("electric")
    said = "only people licensed for it open, join or measure it"
    for each in electric.tasks:
        task = each.task
        if task.subsystem == "hv":
            assert said in task.caution, task.name
            assert task.outside_days is not None or task.key == "hv_route", task.name
        if re.search("high.voltage|by the firm|packs? lifted|first charge", task.name, re.I):
            assert "igh voltage" in task.caution or "high-voltage" in task.caution.lower(), (
                task.name
            )


@pytest.mark.parametrize("key", ["electric", "boat"])
def test_setups_that_can_hurt_bring_their_caution(key: str) -> None:
    """Common practice; the fire watch OSHA 29 CFR 1910.252(a)(2)(iii)(B)."""
    by_setup = {
        "welder": "a fire watch of at least 30 minutes after the last arc",
        "crane": "rated for the load",
        "hoist": "rated for the load",
        "laminate": "Glass dust and resin",
    }
    for each in the(key).tasks:
        wanted = by_setup.get(each.task.setup or "")
        assert wanted is None or wanted in each.task.caution, each.task.name
        if each.task.subsystem == "fuel":
            assert "uel" in each.task.caution, each.task.name


def test_a_boat_floats_on_nothing_that_was_not_looked_at() -> None:
    cautions = {each.key: each.task.caution for each in the("boat").tasks}
    assert "sinks the boat" in cautions["raw_hoses"]
    assert "floats on this seal" in cautions["bearing_new"]
    assert "Nobody under a boat in slings" in cautions["launch"]
    assert "run away" in cautions["first_run"]
    assert "kills without smell" in cautions["first_run"]
