"""Why a task goes before one of an earlier subsystem: each rule by hand, and any build by force."""

import datetime as dt
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.build.builds import EVENINGS, MONDAY, build_of, task
from tests.build.random_builds import builds
from webapp.build.build_input import BuildInput, Part, Subsystem
from webapp.build.house_rules import HOUSE_RULES
from webapp.build.shop import Setup
from webapp.build.time.shop_calendar import Seconds
from webapp.planning.order.departures import KEPT_ORDER, Departure, departures_of
from webapp.planning.order.kept_order import plan_that_holds
from webapp.planning.order.order_that_holds import ranking_that_holds
from webapp.planning.order.run_orders import run_orders
from webapp.planning.simulator.house_rules import HouseRules, Ranking, rank_tasks
from webapp.planning.simulator.simulate import Schedule, simulate
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import Flags, WorkArrays, lay_out

AIR = Subsystem(key="air", name="Air", medium="air", order=1)
WATER = Subsystem(key="water", name="Coolant", medium="water", order=2)
WELDER = Setup(key="tig", name="TIG welder", hours=0.5)


def two(
    *,
    core: dict[str, Any] | None = None,
    hose: dict[str, Any] | None = None,
    waits: float = 0.0,
    **facts: Any,
) -> BuildInput:
    """An hour on a core of the air, an hour on a hose of the coolant, then first start.

    The hose is entered first. Both can begin on Monday at midnight, the shop never closes.
    """
    tasks = [
        task("hose", 1, subsystem="water", **(hose or {})),
        task("core", subsystem="air", **{"hours": 1, **(core or {})}),
        task("z", 1),
    ]
    of_shop = ("week", "people", "setups", "setups_out")
    shop = {name: facts.pop(name) for name in of_shop if name in facts}
    build = build_of(tasks, [("core", "z"), ("hose", "z", waits)], first_start="z")
    return replace(build, shop=replace(build.shop, **shop), subsystems=(AIR, WATER), **facts)


def why(build: BuildInput) -> str:
    """Why the hose goes first; "" where nothing departs from working order."""
    found = departures_of(build, lay_out(build))
    if not found:
        return ""
    (one,) = found
    assert (one.key, one.before) == ("hose", "core")
    return one.why


def test_in_working_order_there_is_nothing_to_say() -> None:
    assert why(two()) == ""
    assert [one.key for one in plan_that_holds(two()).tasks] == ["core", "hose", "z"]


def test_the_longest_way_still_to_go() -> None:
    """A cure of two days behind the hose: 51 hours to first start's end against 2."""
    assert why(two(waits=48.0, house_rules=("longest_way", "working_order"))) == "longest_way"
    assert why(two(waits=48.0)) == ""


def test_the_setup_that_is_out() -> None:
    """The welder is out, the hose wants it and the core does not."""
    facts: dict[str, Any] = {
        "hose": {"setup": "tig"},
        "setups": (WELDER,),
        "house_rules": ("setup_out", "working_order"),
    }
    assert why(two(setups_out=("tig",), **facts)) == "setup_out"
    assert why(two(**facts)) == ""


def test_the_biggest_piece() -> None:
    facts: dict[str, Any] = {"hose": {"space_litres": 80.0}, "core": {"space_litres": 5.0}}
    assert why(two(house_rules=("big_first", "working_order"), **facts)) == "big_first"
    assert why(two(**facts)) == ""


def test_what_is_begun() -> None:
    begun = {"begun_on": MONDAY.date() - dt.timedelta(days=1)}
    assert why(two(hose=begun)) == "begun"
    assert why(two(core=begun)) == ""


def test_what_was_entered_first_where_the_rules_see_no_difference() -> None:
    assert why(two(house_rules=("setup_out",))) == "entered"


def test_the_kept_order() -> None:
    assert why(two(kept_order=("hose", "core", "z"))) == KEPT_ORDER
    assert why(two(kept_order=("core", "hose", "z"))) == ""
    kept = two(kept_order=("hose", "core", "z"))
    assert departures_of(kept, lay_out(kept), rules=HouseRules()) == ()


def test_the_setup_that_is_out_before_a_kept_order() -> None:
    """In the kept order the core is ahead; the welder is out and the hose wants it."""
    kept: dict[str, Any] = {
        "kept_order": ("core", "hose", "z"),
        "kept_setup_first": True,
        "setups": (WELDER,),
    }
    assert why(two(hose={"setup": "tig"}, setups_out=("tig",), **kept)) == "setup_out"
    assert why(two(hose={"setup": "tig"}, **kept)) == ""
    kept["kept_order"] = ("hose", "core", "z")
    assert why(two(core={"setup": "tig"}, **kept)) == KEPT_ORDER


def test_the_first_rule_that_tells_them_apart_is_the_reason() -> None:
    """The hose has the longer way and the bigger piece; no setup is out, so that rule is silent."""
    rules = ("setup_out", "big_first", "longest_way", "working_order")
    build = two(waits=48.0, hose={"space_litres": 80.0}, house_rules=rules)
    assert why(build) == "big_first"
    later = (rules[0], rules[2], rules[1], rules[3])
    assert why(replace(build, house_rules=later)) == "longest_way"


def test_hands_for_both_leave_nobody_waiting() -> None:
    assert why(two(waits=48.0, house_rules=("longest_way",), people=2)) == ""


def test_what_could_not_have_begun_then_was_not_passed_over() -> None:
    """The core waits for a part; in the other build it is of three hours in one go, and the
    evening has two left."""
    part = Part(
        key="core", name="Core", serves=("core",), arrives_on=MONDAY.date() + dt.timedelta(days=3)
    )
    assert why(two(parts=(part,))) == ""
    late = two(
        core={"in_one_go": True, "hours": 3}, week=EVENINGS, now=MONDAY + dt.timedelta(hours=19)
    )
    assert [one.key for one in plan_that_holds(late).tasks] == ["hose", "core", "z"]
    assert why(late) == ""


# --- any build ------------------------------------------------------------------------------


def schedule_of(build: BuildInput, work: WorkArrays) -> Schedule:
    return simulate(work, Variants(count=1, rankings=(ranking_that_holds(build, work),)))


def passed_over(work: WorkArrays, plan: Schedule) -> dict[int, list[int]]:
    """By task: those of earlier subsystems that it kept waiting, found by force.

    All picks before it are made again, then the other one is put first: it was kept waiting if it
    is picked in its stead then, and begins at that very moment.
    """
    begin, turn = plan.begin[:, 0], plan.turn[:, 0]
    picked = [int(i) for i in np.argsort(turn, kind="stable") if turn[i] >= 0]
    pairs = [
        (one, other)
        for at, one in enumerate(picked)
        for other in picked[at + 1 :]
        if work.working_order[other] < work.working_order[one]
        and begin[one] < begin[other]
        and (work.people[one] or work.stations[:, one].any())
        and not work.wall_only[other]
    ]
    if not pairs:
        return {}
    orders = []
    for one, other in pairs:
        before = picked[: picked.index(one)]
        rest = [i for i in range(len(work)) if i not in before and i != other]
        orders.append([*before, other, *rest])
    forced = run_orders(work, np.array(orders, np.int64), in_sequence=False)
    found: dict[int, list[int]] = {}
    for row, (one, other) in enumerate(pairs):
        in_its_stead = forced.turn[other, row] == turn[one]
        if in_its_stead and forced.begin[other, row] == begin[one]:
            found.setdefault(one, []).append(other)
    return found


def is_out_before(work: WorkArrays, plan: Schedule, one: int) -> Flags:
    """Whether the setup of each task is out as one begins: of those last used, one a person."""
    turn = plan.turn[:, 0]
    used = {setup: n - len(work.setups_out) for n, setup in enumerate(work.setups_out)}
    for i in np.argsort(turn, kind="stable"):
        if work.setup[i] and 0 <= turn[i] < turn[one]:
            used[int(work.setup[i])] = int(plan.end[i, 0])
    last = sorted(used, key=lambda setup: (used[setup], setup))[-work.people_count :]
    return np.isin(work.setup, last)


def places(ranking: Ranking, is_out: Flags) -> Seconds:
    found: Seconds = np.where(is_out, ranking.rank_out[0], ranking.rank[0])
    return found


def held_rules(build: BuildInput, why: str) -> tuple[str, ...]:
    """The rules in front of the one that is the reason."""
    rules = build.house_rules
    if why == "entered":
        return rules
    return rules[: rules.index(why)] if why in rules else ()


def assert_is_the_reason(
    build: BuildInput, work: WorkArrays, plan: Schedule, one: Departure
) -> None:
    """With the rule the task goes first; with working order in its place the other does."""
    first, other = work.keys.index(one.key), work.keys.index(one.before)
    is_out = is_out_before(work, plan, first)
    if one.why == "begun":
        assert work.begun[first]
        assert not work.begun[other]
        return
    front = tuple(rule for rule in held_rules(build, one.why) if rule != "working_order")
    with_it = front if one.why == "entered" else (*front, one.why)
    by_it = places(rank_tasks(work, HouseRules(order=with_it)), is_out)
    instead = places(rank_tasks(work, HouseRules(order=(*front, "working_order"))), is_out)
    assert by_it[first] < by_it[other]
    assert instead[other] < instead[first]


@settings(derandomize=True, max_examples=150, deadline=None)
@given(builds(max_tasks=14), st.booleans())
def test_wherever_a_plan_departs_there_is_the_reason_and_nowhere_else(
    build: BuildInput, kept: bool
) -> None:
    """By the rules of the build, and by a kept order: that in which the tasks were entered."""
    build = replace(build, kept_order=tuple(one.key for one in build.tasks) if kept else ())
    work = lay_out(build)
    plan = schedule_of(build, work)
    waiting = passed_over(work, plan)
    found = departures_of(build, work)
    assert {one.key for one in found} == {work.keys[i] for i in waiting}
    for one in found:
        others = waiting[work.keys.index(one.key)]
        first = min(others, key=lambda i: (work.working_order[i], i))
        assert one.before == work.keys[first]
        if build.kept_order:
            assert one.why == KEPT_ORDER
        else:
            assert_is_the_reason(build, work, plan, one)


@settings(derandomize=True, max_examples=60, deadline=None)
@given(builds(max_tasks=14))
def test_with_its_rule_off_a_departure_is_gone_or_has_another_reason(build: BuildInput) -> None:
    """And with all rules but working order off, only what is begun goes before."""
    build = replace(build, kept_order=(), house_rules=("longest_way", "setup_out", "working_order"))
    work = lay_out(build)
    for one in departures_of(build, work):
        if one.why in HOUSE_RULES:
            rules = HouseRules(order=build.house_rules).without(one.why)
            assert one not in departures_of(build, work, rules=rules)
    in_order = departures_of(build, work, rules=HouseRules(order=("working_order",)))
    assert {one.why for one in in_order} <= {"begun"}


@pytest.mark.parametrize("count", [0, 1])
def test_a_build_of_nearly_nothing_departs_from_nothing(count: int) -> None:
    build = build_of([task(f"t{i}", 1) for i in range(count)])
    assert departures_of(build, lay_out(build)) == ()
