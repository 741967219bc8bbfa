"""The demo build and the list for an engine swap keep what seed_data/README.md says of them.

What holds of every starter list stands in `test_starter_lists.py`.
"""

import datetime as dt
import re
from functools import cache

import pytest

from webapp.build.assumed_range import COMMON_SHARES
from webapp.build.build_input import BuildInput, Moment, Task
from webapp.build.checks.input_checks import faults_of
from webapp.build.due_days import due_of
from webapp.build.precedence import needed_for
from webapp.build.starter.fitting import begun_with
from webapp.build.verbs.wish_decisions import accept
from webapp.build.wish import WISH_WAYS, Wish, WishDecision, WishWay
from webapp.exchange.build_document import read_document
from webapp.planning.chances.forecast import forecast_of
from webapp.planning.chances.luck import Luck
from webapp.planning.chances.wish_prices import price_wish
from webapp.planning.order.job_order import make_plan
from webapp.planning.record.calibration import factors_of
from webapp.services.seed_builds import starter_list
from webapp.settings import resource_root

SWAP = "swap"
"""The list for an engine swap, answered so that it keeps more than with the usual answers."""
MORE = {"ac": "yes", "old_ac": "yes", "donor": "whole", "pair": "adapter", "intercooler": "used"}
DOCUMENTS = ("heron.json", SWAP)
LOCAL_CODES = "Local codes and licensed practice come first."
STARTER_NOW = dt.datetime(2026, 2, 9, 18, 0)

FIRE_WATCH = "fire watch of at least 30 minutes"  # OSHA 29 CFR 1910.252(a)(2)(iii)(B)
# What a task's name says, and what its caution must then speak of: common practice, no source.
CAUTION_BY_NAME = (
    (r"\b(weld|tack)\b", FIRE_WATCH),
    (r"^(lift (out|the)|lower the engine|set engine)\b", "Lifting:"),
    (r"\b(old|fuel) tank\b|feed and return|fuel pump|lift pump", "vapour"),
    (r"line the tank|^drain, clean and line|wash out the tank", "never weld, cut or heat it"),
    (r"refrigerant|A/C.*(charged|circuit)|\bdrier\b|\bevaporator\b", "certified technician"),
    (r"^fit the battery|^battery box|disconnect the battery", "explodes"),
    (r"bleed the coolant|^drain coolant|^first heat cycle", "scalds"),
    (r"\bbelt\b|\bfan\b|^crank", "Rotating parts"),
    (r"\bbrake servo\b|bleed the brakes|^brakes, steering", "licensed"),
    (r"charge tubes and hoses", "blows off"),
    (r"every water hose", "Coolant is poisonous"),
    (r"^thin the .*loom", "Airbag"),
    (r"pressure hose made", "Steering:"),
    (r"^A/C hoses", "Refrigerant:"),
    (r"^expansion tank", FIRE_WATCH),
    (r"^dry-fit .*steering box", "licensed"),
    (r"prime and paint", "Paint and solvent"),
    (r"^first (start$|heat cycle)", "Exhaust gas kills"),
    (r"^first start$|^crank|shut-off", "run away"),
    (r"^first start$|^injectors", "never feel for a leak by hand"),
)
CAUTION_BY_SETUP = {
    "tig": FIRE_WATCH,
    "mig": FIRE_WATCH,
    "welder": FIRE_WATCH,
    "crane": "Lifting:",
    "paint": "Paint and solvent",
}
CAUTION_BY_STATION = {"lift": "stands on a jack alone", "oven": "Hot metal"}


@cache
def _build(name: str) -> BuildInput:
    if name == SWAP:
        swap = starter_list(SWAP)
        assert swap is not None
        bare = BuildInput(name="Swap", now=STARTER_NOW, first_start=None)
        return begun_with(bare, swap, {**swap.usual, **MORE})
    text = (resource_root() / "seed_data" / name).read_text(encoding="utf-8")
    build, faults = read_document(text, now=STARTER_NOW)
    assert [fault.text for fault in faults] == []
    assert build is not None
    return build


def _tasks(name: str) -> dict[str, Task]:
    return {task.key: task for task in _build(name).tasks}


def _day(moment: Moment) -> dt.date:
    return moment.date() if isinstance(moment, dt.datetime) else moment


def _not_needed(name: str) -> set[str]:
    """Open tasks that first start does not need."""
    build = _build(name)
    assert build.first_start is not None
    needed = needed_for(build, build.first_start)
    return {task.key for task in build.tasks if task.is_open and task.key not in needed}


@pytest.mark.parametrize("name", DOCUMENTS)
def test_every_task_can_be_planned(name: str) -> None:
    plan = make_plan(_build(name))
    assert plan.unplanned == ()
    assert plan.first_start_at is not None


@pytest.mark.parametrize("name", DOCUMENTS)
def test_every_subsystem_setup_and_station_is_used(name: str) -> None:
    build = _build(name)
    assert {task.subsystem for task in build.tasks} == {each.key for each in build.subsystems}
    assert {task.setup for task in build.tasks} - {None} == {each.key for each in build.shop.setups}
    asked = {need.station for task in build.tasks for need in task.stations}
    assert asked == {station.key for station in build.shop.stations}


@pytest.mark.parametrize("name", DOCUMENTS)
def test_the_working_order_is_air_then_coolant_then_the_rest_then_fluids(name: str) -> None:
    order = {each.key: each.order for each in _build(name).subsystems}
    rest = set(order) - {"mounts", "bay", "air", "coolant", "fluids", "checks"}
    assert order["air"] < order["coolant"]
    assert all(order["coolant"] < order[key] < order["fluids"] for key in rest)


@pytest.mark.parametrize("name", DOCUMENTS)
def test_radiator_intercooler_and_condenser_claim_their_space_in_that_order(name: str) -> None:
    claims = {
        piece: task.space_litres
        for task in _build(name).tasks
        for piece in ("radiator", "intercooler", "condenser")
        if task.name.startswith(f"Dry-fit the {piece}")
    }
    assert claims["radiator"] > claims["intercooler"] > claims["condenser"] > 0


@pytest.mark.parametrize(("name", "most"), [("heron.json", 10), (SWAP, 17)])
def test_only_a_handful_of_later_work_stands_beside_the_way_to_first_start(
    name: str, most: int
) -> None:
    assert 3 <= len(_not_needed(name)) <= most


@pytest.mark.parametrize("name", DOCUMENTS)
def test_every_caution_ends_with_local_codes(name: str) -> None:
    cautions = {key: task.caution for key, task in _tasks(name).items() if task.caution}
    assert len(cautions) > len(_tasks(name)) / 2
    assert [key for key, caution in cautions.items() if not caution.endswith(LOCAL_CODES)] == []
    assert [key for key, caution in cautions.items() if caution.count(LOCAL_CODES) != 1] == []


@pytest.mark.parametrize("name", DOCUMENTS)
@pytest.mark.parametrize(("pattern", "caution"), CAUTION_BY_NAME)
def test_a_task_that_can_hurt_by_its_name_carries_its_caution(
    name: str, pattern: str, caution: str
) -> None:
    named = [
        task
        for task in _build(name).tasks
        if re.search(pattern, task.name, re.IGNORECASE)
        if task.outside_days is None or re.search("charged|hose|inspected", task.name)
    ]
    assert named, f"no task of {name} is named like {pattern}"
    assert [task.name for task in named if caution not in task.caution] == []


@pytest.mark.parametrize("name", DOCUMENTS)
def test_setups_and_stations_that_can_hurt_bring_their_caution(name: str) -> None:
    missing = [
        (task.name, caution)
        for task in _build(name).tasks
        for caution in (
            CAUTION_BY_SETUP.get(task.setup or ""),
            *(CAUTION_BY_STATION.get(need.station) for need in task.stations),
        )
        if caution and caution not in task.caution
    ]
    assert missing == []


@pytest.mark.parametrize("name", DOCUMENTS)
def test_all_work_on_the_fuel_system_carries_a_caution(name: str) -> None:
    fuel = [task for task in _build(name).tasks if task.subsystem == "fuel"]
    assert [task.name for task in fuel if not task.caution] == []


def test_all_work_for_hands_that_is_open_in_the_heron_carries_a_caution() -> None:
    open_work = [task for task in _build("heron.json").tasks if task.is_open]
    assert [t.name for t in open_work if t.outside_days is None and not t.caution] == []


def test_a_fire_watch_of_the_heron_waits_at_least_half_an_hour() -> None:
    """OSHA 29 CFR 1910.252(a)(2)(iii)(B): at least 30 minutes after the last arc."""
    links = _build("heron.json").dependencies
    watches = [each.wait_hours for each in links if "fire watch" in each.why]
    assert len(watches) >= 2
    assert min(watches) >= 0.5


@pytest.mark.parametrize("name", DOCUMENTS)
def test_every_wait_says_why(name: str) -> None:
    waits = [each for each in _build(name).dependencies if each.wait_hours]
    assert len(waits) >= 6
    assert [(each.before, each.after) for each in waits if not each.why] == []


@pytest.mark.parametrize(
    ("name", "before", "after"),
    [
        ("heron.json", "mounts_tack", "mounts_weld"),
        ("heron.json", "rad_dry", "hoses_cut"),
        ("heron.json", "intercooler_dry", "hoses_cut"),
        ("heron.json", "fuel_test", "lines_sleeve"),
        ("heron.json", "mock_in", "steering_dry"),
        ("heron.json", "mounts_weld", "brackets_coat"),
        ("heron.json", "engine_out", "tubes_weld"),
        ("heron.json", "header_tank", "heater_pipes"),
        ("heron.json", "vacuum_test", "brake_bleed"),
        ("heron.json", "prop_shop", "prop_fit"),
        ("heron.json", "ports_check", "shop_ready"),
        ("heron.json", "shop_ready", "battery_fit"),
        ("heron.json", "stop_check", "oil_prime"),
        ("heron.json", "brake_bleed", "road_check"),
        ("heron.json", "water_test", "coolant_fill"),
        ("heron.json", "circuits_check", "battery_fit"),
        ("heron.json", "coolant_fill", "battery_fit"),
        ("heron.json", "air_shutoff", "oil_prime"),
        ("heron.json", "oil_prime", "first_start"),
    ],
)
def test_what_the_trade_does_first_comes_first(name: str, before: str, after: str) -> None:
    assert before in needed_for(_build(name), after)


def test_the_air_conditioning_of_the_heron_does_not_hold_first_start() -> None:
    build = _build("heron.json")
    assert build.first_start is not None
    assert {"ac_test", "ac_fit", "ac_charge"}.isdisjoint(needed_for(build, build.first_start))


def test_the_neighbour_stands_at_the_shut_off_when_the_heron_is_started() -> None:
    tasks = _tasks("heron.json")
    assert tasks["stop_check"].helper
    assert tasks["first_start"].helper


def test_the_heron_is_some_ninety_tasks_over_nine_subsystems_a_third_of_it_done() -> None:
    tasks = _tasks("heron.json").values()
    assert 85 <= len(tasks) <= 100
    assert len(_build("heron.json").subsystems) == 9
    assert 0.28 <= sum(task.finished_on is not None for task in tasks) / len(tasks) <= 0.38
    assert sum(task.set_aside_on is not None for task in tasks) == 1
    begun = {t.key: t.outside_days is None for t in tasks if t.is_open and t.begun_on is not None}
    assert (sum(begun.values()), len(begun)) == (2, 5)  # two at the bench, three sent out


def test_the_heron_may_just_miss_its_wanted_by_date() -> None:
    """The likely date keeps it and the firm date is within a week: little headroom, or none."""
    build = _build("heron.json")
    forecast = forecast_of(build, factors=factors_of(build))
    assert forecast is not None
    assert build.wanted_by is not None
    assert forecast.at(0.5).date() <= build.wanted_by
    assert abs((build.wanted_by - forecast.at(build.confidence).date()).days) <= 7


def test_the_herons_record_obeys_its_own_dependencies() -> None:
    tasks = _tasks("heron.json")
    early = []
    for each in _build("heron.json").dependencies:
        begun, finished = tasks[each.after].begun_on, tasks[each.before].finished_on
        if begun is None:
            continue
        assert finished is not None, f"{each.after} was begun before {each.before} was finished"
        if _day(begun) < _day(finished) + dt.timedelta(hours=each.wait_hours):
            early.append((each.before, each.after))
    assert early == []


def test_the_herons_log_begins_and_ends_with_its_tasks() -> None:
    build = _build("heron.json")
    for task in build.tasks:
        entries = [entry for entry in build.log if entry.task == task.key]
        if task.begun_on is None or task.outside_days is not None:
            assert entries == []
            continue
        assert _day(task.begun_on) == entries[0].on
        assert all(entry.on < build.now.date() for entry in entries)
        if task.finished_on is not None:
            assert (_day(task.finished_on), entries[-1].left) == (entries[-1].on, 0)
        elif task.hours_left is not None:
            assert task.hours_left == entries[-1].left


def test_the_herons_log_fits_the_open_hours_of_every_day() -> None:
    build = _build("heron.json")
    exceptions = {each.date: each.sessions for each in build.shop.days}
    for day in {entry.on for entry in build.log}:
        week = tuple(each.hours for each in build.shop.week if each.weekday == day.weekday())
        sessions = exceptions.get(day, week)
        minutes = sum(each.closes_minute - each.opens_minute for each in sessions)
        worked = sum(entry.bench_hours for entry in build.log if entry.on == day)
        assert worked * 60 <= minutes, f"{worked} h logged on {day}"
        helped = [e.task for e in build.log if e.on == day and _tasks("heron.json")[e.task].helper]
        assert not helped or any(each.helper for each in sessions), f"no helper on {day}"


def test_the_neighbour_comes_whenever_the_shop_is_open_in_its_week() -> None:
    assert all(session.hours.helper for session in _build("heron.json").shop.week)


def test_the_herons_parts_are_arrived_ordered_shared_late_and_overdue() -> None:
    build = _build("heron.json")
    today, coming = build.now.date(), [part for part in build.parts if not part.arrived]
    overdue = [part for part in coming if (due := due_of(part, today)) and _day(due.said) < today]
    assert [part.key for part in overdue] == ["bulkhead_unions"]
    late = [p.key for p in coming if p.promised_on and p.arrives_on and p.promised_on < today]
    assert late == ["alloy_bends"]
    bases = {due.basis for part in coming if (due := due_of(part, today))}
    assert bases == {"arrives", "promised", "lead"}
    assert any(part.arrived for part in build.parts)
    assert sum(len(part.serves) > 1 for part in build.parts) >= 2
    assert all(part.lead_days and part.cost for part in build.parts)


def test_one_estimate_of_the_heron_is_of_likely_hours_alone() -> None:
    assumed = [task for task in _tasks("heron.json").values() if task.spread_assumed]
    assert [task.key for task in assumed] == ["header_tank"]
    assert assumed[0].hours == COMMON_SHARES.round(assumed[0].hours.most_likely)


def test_the_herons_wishes_stand_at_every_stage() -> None:
    wishes = {wish.key: wish for wish in _build("heron.json").wishes}
    ways = [wish.decision.way for wish in wishes.values() if wish.decision is not None]
    assert sorted(ways) == ["fit later", "fit now", "let go"]
    undecided = [wish for wish in wishes.values() if wish.decision is None]
    bare = [w for w in undecided if w == Wish(key=w.key, text=w.text, logged_on=w.logged_on)]
    assert len(bare) == 1
    assert len([w for w in undecided if w.hours and w.after and w.before]) == 1
    assert len([w for w in undecided if w.size and w.parts and w.parts[0].cost]) == 1


def test_the_herons_decisions_have_made_tasks_and_left_none_for_what_was_let_go() -> None:
    build = _build("heron.json")
    made = {task.wish: task for task in build.tasks if task.wish}
    for wish in build.wishes:
        decided = wish.decision is not None and wish.decision.way != "let go"
        assert (wish.key in made) == decided, wish.text
    for key, task in made.items():
        wish = next(wish for wish in build.wishes if wish.key == key)
        assert wish.decision is not None
        assert wish.logged_on <= wish.decision.decided_on
        assert task.begun_on is None or wish.decision.decided_on <= _day(task.begun_on)
        fitted_later = task.key in _not_needed("heron.json")
        assert fitted_later == (wish.decision.way == "fit later")


def test_the_figures_of_the_herons_decisions_agree_with_themselves() -> None:
    for wish in _build("heron.json").wishes:
        if wish.decision is None:
            continue
        figures = {each.way: each for each in wish.decision.figures}
        assert tuple(figures) == WISH_WAYS
        without = figures["let go"]
        assert (without.move_days, without.hours, without.cost) == (0, 0, 0)
        assert without.likely is not None
        assert without.firm is not None
        for each in figures.values():
            assert each.likely is not None
            assert each.firm is not None
            assert each.likely <= each.firm
            assert each.firm >= without.firm
        assert (figures["fit now"].move_days or 0) > 0
        assert figures["fit later"].hours > figures["fit now"].hours


def test_every_undecided_wish_of_the_heron_can_be_priced_four_ways() -> None:
    build = _build("heron.json")
    for wish in build.wishes:
        if wish.decision is None:
            priced = price_wish(build, wish, Luck(50))
            assert [figures.way for figures in priced.ways] == list(WISH_WAYS)
            assert priced.way("let go").move_days == 0
            ways: tuple[WishWay, ...] = ("fit now", "rough in", "fit later")
            for way in ways:
                decided = accept(build, wish, WishDecision(way=way, decided_on=build.now.date()))
                assert faults_of(decided) == ()


def test_every_hands_on_estimate_has_three_points() -> None:
    for name in DOCUMENTS:
        for task in _build(name).tasks:
            if task.outside_days is None:
                assert 0 < task.hours.optimistic < task.hours.pessimistic, task.name
