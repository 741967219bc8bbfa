"""A build made into a starter list of one's own: what goes along, what stays, and the hours."""

import dataclasses
import datetime as dt
import json
import re
from collections import defaultdict
from dataclasses import replace
from typing import Any

import pytest

from tests.build.builds import EVENINGS, MONDAY, build_of, session, task
from tests.build.random_builds import random_build
from tests.storage.rich_build import RICH_BUILD
from webapp.build.build_input import BuildInput, LogEntry, Part, Task
from webapp.build.by_key import get_by_key
from webapp.build.checks.input_checks import faults_of
from webapp.build.first_start import FirstStart
from webapp.build.house_rules import SOONEST_RULES
from webapp.build.logged_hours import logged_hours
from webapp.build.plumbing import Plumbing
from webapp.build.shop import Setup, Shop
from webapp.build.starter.own_list import NO_DAY, begun_from, count_taken, own_list
from webapp.exchange.build_document import read_document, write_document
from webapp.services.seed_builds import shipped_demo

DAY = dt.date(2026, 1, 5)
DONE = {"begun_on": DAY, "finished_on": DAY}
TAKEN = {
    BuildInput: "name now first_start end_name starter_list starter_answers starter_left_out units"
    " currency shop subsystems tasks dependencies parts plumbing start",
    Shop: "people week setups stations",
    Task: "key name hours subsystem setup people helper in_one_go stations outside_days"
    " space_litres caution steps measures spread_assumed hours_guessed hours_taken"
    " cost offer_cost offer_days",
    Part: "key name serves lead_days cost",
    Plumbing: "components circuits runs ordered sold",
    FirstStart: "answers own_checks",
}
LEFT = {
    BuildInput: "starts_on wanted_by vehicle wishes wish_sizes confidence calibrated attended log"
    " looked_at photographs kept_order kept_on kept_setup_first on_bench rooms data_sheet"
    " money_limit house_rules earlier_records",
    Shop: "setups_out days later_weeks ranges given",
    Task: "begun_on finished_on set_aside_on hours_left notes wish paid",
    Part: "arrives_on arrived promised_on ordered_on supplier paid",
    Plumbing: "shelf",
    FirstStart: "signatures set_asides changes openings runs stop_lines",
}


def worked(key: str, hours: float) -> LogEntry:
    return LogEntry(task=key, on=DAY, hours=hours)


def points(build: BuildInput, key: str) -> tuple[float, float, float]:
    hours = get_by_key(build.tasks, key).hours
    return hours.optimistic, hours.most_likely, hours.pessimistic


# --- hours -----------------------------------------------------------------------------------


def test_a_typed_range_goes_along_in_its_proportions_and_its_mean_is_what_it_took() -> None:
    # 2, 4, 8 is 0.5, 1, 2 times the likely hours, of which the mean is (0.5 + 4 + 2) / 6 = 6.5 / 6.
    # 13 hours taken: likely 13 * 6 / 6.5 = 12, so 6, 12, 24, and (6 + 48 + 24) / 6 = 13.
    build = build_of([task("mount", (2, 4, 8), **DONE)], log=(worked("mount", 13),))
    made = own_list(build, "The next one")
    assert points(made, "mount") == (6, 12, 24)
    (mount,) = made.tasks
    assert mount.hours.expected == 13
    assert mount.hours_taken
    assert not mount.spread_assumed


def test_without_a_typed_range_it_is_three_quarters_to_twice() -> None:
    # (0.75 + 4 + 2) / 6 = 1.125: 9 hours taken are 8 likely, 6 to 16
    build = build_of([task("loom", 5, **DONE)], log=(worked("loom", 4), worked("loom", 5)))
    made = own_list(build, "The next one")
    assert points(made, "loom") == (6, 8, 16)
    assert made.tasks[0].spread_assumed


def test_eight_finished_tasks_of_a_kind_say_how_far_its_hours_run() -> None:
    # Of 21 tasks of 10 likely hours that took 10 to 30, one an hour, the median is 2.0 times, the
    # 5th percentile 1.1 and the 95th 2.9: shares 0.55 and 1.45, whose mean with 4 is exactly 1.
    tasks = [task(f"t{hours}", (5, 10, 40), **DONE) for hours in range(10, 31)]
    log = tuple(worked(f"t{hours}", hours) for hours in range(10, 31))
    made = own_list(build_of(tasks, log=log), "The next one")
    assert points(made, "t20") == pytest.approx((11, 20, 29))
    assert all(one.spread_assumed for one in made.tasks)


def test_what_is_not_finished_or_was_not_logged_keeps_its_estimate_as_a_guess() -> None:
    build = build_of(
        [task("open", (1, 2, 3), begun_on=DAY, hours_left=9), task("unlogged", (1, 2, 3), **DONE)],
        log=(worked("open", 30),),
    )
    made = own_list(build, "The next one")
    for key in ("open", "unlogged"):
        assert points(made, key) == (1, 2, 3)
        assert get_by_key(made.tasks, key).hours_guessed
        assert not get_by_key(made.tasks, key).hours_taken
    assert count_taken(made) == 0


def test_outside_work_and_parts_take_the_days_that_they_took() -> None:
    away = {"outside_days": 5, "people": 0}
    build = build_of(
        [
            task("coat", 0, begun_on=DAY, finished_on=dt.date(2026, 1, 17), **away),
            task("grind", 0, finished_on=DAY, **away),
        ],
        parts=(
            Part(
                key="tube",
                name="Tube",
                serves=("coat",),
                lead_days=7,
                ordered_on=DAY,
                arrives_on=dt.date(2026, 1, 26),
                arrived=True,
                cost=50,
                paid=41.5,
                supplier="Ask Wendelin",
            ),
            Part(key="clamp", name="Clamp", lead_days=7, ordered_on=DAY, arrives_on=DAY),
        ),
    )
    made = own_list(build, "The next one")
    assert [one.outside_days for one in made.tasks] == [12, 5]  # 5 to 17 January; not known
    assert made.parts == (
        Part(key="tube", name="Tube", serves=("coat",), lead_days=21, cost=41.5),
        Part(key="clamp", name="Clamp", lead_days=7),
    )


def test_work_that_was_split_after_all_is_cut_to_the_session_it_has_to_fit_into() -> None:
    build = build_of(
        [task("weld", (1, 2, 3), in_one_go=True, **DONE)],
        week=EVENINGS,
        first_start="weld",
        log=(worked("weld", 6),),
    )
    made = own_list(build, "The next one")
    assert get_by_key(made.tasks, "weld").hours.expected == pytest.approx(3)
    assert faults_of(made) == ()


def test_a_helper_who_came_on_single_days_comes_to_the_longest_session() -> None:
    week = (session(1, 18, 21), session(5, 9, 17))
    build = build_of([task("lift_in", 2, helper=True, **DONE)], week=week)
    made = own_list(build, "The next one")
    assert [one.hours.helper for one in made.shop.week] == [False, True]


# --- what goes along -------------------------------------------------------------------------


def before(build: BuildInput, keys: set[str]) -> set[tuple[str, str]]:
    """Every pair of these tasks of which one comes before the other, by any way."""
    after = defaultdict(set)
    for link in build.dependencies:
        after[link.before].add(link.after)
    pairs = set()
    for key in keys:
        ahead, seen = [key], set[str]()
        while ahead:
            for follower in after[ahead.pop()] - seen:
                seen.add(follower)
                ahead.append(follower)
        pairs |= {(key, one) for one in seen & keys}
    return pairs


@pytest.mark.parametrize("first", range(0, 400, 50))
def test_random_builds_begun_anew_have_the_same_network_and_the_hours_they_took(first: int) -> None:
    for seed in range(first, first + 50):
        build = random_build(1 + seed % 14, seed)
        text = write_document(own_list(build, "The next one"))
        made, faults = read_document(text, now=MONDAY)
        assert made is not None
        assert faults == ()
        begun = begun_from(made, name="Anew", now=MONDAY, starts_on=DAY)
        assert faults_of(begun) == ()
        assert begun.house_rules == SOONEST_RULES
        aside = {one.key for one in build.tasks if one.set_aside_on is not None}
        aside.discard(build.first_start or "")
        keys = {one.key for one in build.tasks} - aside
        assert {one.key for one in begun.tasks} == keys
        assert before(begun, keys) == before(build, keys)
        if not aside:
            assert begun.dependencies == build.dependencies
        logged = logged_hours(build.log)
        for one in begun.tasks:
            was = get_by_key(build.tasks, one.key)
            assert one.is_open
            assert one.begun_on is None
            took = logged.get(one.key, 0.0)
            if was.outside_days is not None or was.finished_on is None or not took:
                assert one.hours == was.hours or one.in_one_go or one.helper
            elif not (one.in_one_go or one.helper):
                assert one.hours.expected == pytest.approx(took, abs=0.011)  # 3 roundings of 0.005
                assert one.hours.optimistic <= one.hours.most_likely <= one.hours.pessimistic


def test_every_field_of_a_build_is_taken_or_left_on_purpose() -> None:
    for kind, taken in TAKEN.items():
        names = {field.name for field in dataclasses.fields(kind)}
        assert set(taken.split()) | set(LEFT[kind].split()) == names
        assert not set(taken.split()) & set(LEFT[kind].split())
    made = own_list(RICH_BUILD, "The next one")
    things: list[Any] = [made, made.shop, *made.tasks, *made.parts, made.plumbing, made.start]
    for thing in things:
        for name in LEFT[type(thing)].split():
            field = next(one for one in dataclasses.fields(thing) if one.name == name)
            assert getattr(thing, name) == field.default, (type(thing), name)


def persons_of(build: BuildInput) -> set[str]:
    """Every text of a build that names a person, or that somebody wrote down on a day."""
    start = build.start
    papers = [one.paper for one in start.signatures if one.paper is not None]
    said = {
        *(text for one in start.signatures for text in (one.signer, one.helper, one.seen)),
        *(text for one in papers for text in (one.name, one.firm, one.number)),
        *(text for one in start.set_asides for text in (one.name, one.reason)),
        *(text for one in start.changes for text in (one.name, one.words)),
        *(text for one in start.runs for text in (one.abort, one.cause)),
        *(one.words for one in start.stop_lines),
        *(one.text for one in build.wishes),
        *(one.decision.why for one in build.wishes if one.decision is not None),
        *(one.caption for one in build.photographs),
        *(one.digest for one in build.photographs),
        *(one.notes for one in build.tasks),
        *(one.supplier for one in build.parts),
    }
    # a wish that was accepted is work by now, and called so
    return said - {""} - {one.name for one in build.tasks}


@pytest.mark.parametrize("build", [RICH_BUILD, shipped_demo()], ids=["rich", "heron"])
def test_nothing_of_the_log_of_days_or_of_persons_is_anywhere_in_a_list(build: BuildInput) -> None:
    heard = replace(
        build,
        vehicle="Wendelin's van",
        tasks=tuple(replace(one, notes="Wendelin rang") for one in build.tasks),
        parts=tuple(replace(one, supplier="Wendelin & daughter") for one in build.parts),
        plumbing=replace(
            build.plumbing,
            runs=tuple(replace(one, licensed="Wendelin") for one in build.plumbing.runs),
        ),
    )
    made = own_list(heard, "The next one")
    stored = write_document(made)
    assert "Wendelin" not in stored
    heard_of = persons_of(heard)
    assert len(heard_of) > 10, "there is something to be left out"
    for text in heard_of:
        assert json.dumps(text, ensure_ascii=False)[1:-1] not in stored
    assert '"log": []' in stored
    assert set(re.findall(r"\d{4}-\d{2}-\d{2}", stored)) == {f"{NO_DAY:%Y-%m-%d}"}
    assert not re.search(r'"(signer|helper|photographs|supplier|notes|at)": "', stored)


def test_a_list_of_a_list_that_nothing_was_done_in_says_the_same() -> None:
    made = own_list(shipped_demo(), "The next one")
    assert own_list(made, "The next one") == made


def test_the_setups_and_stations_come_along_and_none_is_out() -> None:
    setup = Setup(key="tig", name="TIG", hours=1)
    made = own_list(build_of([task("a", 1)], setups=(setup,), setup_out="tig"), "The next one")
    assert made.shop.setups == (setup,)
    assert made.shop.setups_out == ()
