"""A kept order is followed as far as the facts allow."""

import datetime as dt
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.benchmarks.workshop_builds import workshop_build
from tests.build.builds import MONDAY, build_of, task
from tests.build.random_builds import builds
from webapp.build.build_input import BuildInput, Part
from webapp.build.shop import Setup
from webapp.planning.order import settled_order
from webapp.planning.order.job_order import days_cost, make_plan
from webapp.planning.order.kept_order import keys_in_sequence, plan_in_sequence, plan_that_holds
from webapp.planning.proof.plan_checks import violations
from webapp.planning.simulator.house_rules import HouseRules, rank_tasks
from webapp.planning.simulator.work_arrays import lay_out


def kept_build(**facts: object) -> BuildInput:
    tasks = [task("rack", 4, space_litres=50), task("seal", 1), task("z", 1)]
    build = build_of(tasks, [("seal", "z", 24), ("rack", "z")], first_start="z")
    return replace(build, **facts)  # type: ignore[arg-type]


def test_a_kept_order_is_followed() -> None:
    plan = plan_in_sequence(kept_build(), ("seal", "rack", "z"))
    assert [t.key for t in plan.tasks] == ["seal", "rack", "z"]
    assert violations(kept_build(), plan) == ()


def test_finished_tasks_drop_out_of_a_kept_order_and_new_ones_are_set_in() -> None:
    build = kept_build()
    seal = replace(build.tasks[1], finished_on=MONDAY)
    new = task("wash", 1)
    build = replace(build, tasks=(build.tasks[0], seal, build.tasks[2], new))
    plan = plan_in_sequence(build, ("seal", "rack", "z", "gone"))
    assert {t.key for t in plan.tasks} == {"rack", "z", "wash"}
    assert violations(build, plan) == ()


def test_a_kept_order_does_not_stand_idle_for_a_part_that_comes_late() -> None:
    tasks = [task("a", 1), task("b", 5), task("z", 1)]
    late = Part(key="p", name="Hose", serves=("a",), arrives_on=MONDAY + dt.timedelta(hours=6))
    build = build_of(tasks, [("a", "z"), ("b", "z")], first_start="z", parts=(late,))
    # In sequence a, b, z it would end at 6 + 1 + 5 + 1; b goes first while a is held.
    assert plan_in_sequence(build, ("a", "b", "z")).first_start_shop_hours == 8


def by_turns(**facts: object) -> BuildInput:
    """Three hours of work by turns of the welder and the vice, each got out in half an hour."""
    tasks = [task("a", 1, setup="tig"), task("b", 1, setup="vice"), task("c", 1, setup="tig")]
    build = build_of(
        [*tasks, task("z", 1)],
        [("a", "z"), ("b", "z"), ("c", "z")],
        first_start="z",
        setups=(Setup(key="tig", name="Welder", hours=0.5), Setup(key="vice", name="V", hours=0.5)),
    )
    return replace(build, kept_order=("a", "b", "c", "z"), **facts)  # type: ignore[arg-type]


def test_what_needs_the_setup_that_is_out_goes_first_where_the_kept_order_says_so() -> None:
    # Got out three times: 3 x 1.5 + 1. With the welder used up first twice: 1.5 + 1 + 1.5 + 1.
    plan = plan_that_holds(by_turns())
    assert [t.key for t in plan.tasks] == ["a", "b", "c", "z"]
    assert plan.first_start_shop_hours == 5.5
    plan = plan_that_holds(by_turns(kept_setup_first=True))
    assert [t.key for t in plan.tasks] == ["a", "c", "b", "z"]
    assert plan.first_start_shop_hours == 5.0
    assert keys_in_sequence(by_turns()) == ("a", "b", "c", "z")
    assert keys_in_sequence(by_turns(kept_setup_first=True)) == ("a", "c", "b", "z")
    assert keys_in_sequence(replace(by_turns(kept_setup_first=True), kept_order=())) == ()


@pytest.mark.parametrize("people", [1, 2])
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_order_of_the_rules_with_the_setup_first_is_the_rules(seed: int, people: int) -> None:
    """Which setup is out decides first by these rules: what is left of them is one fixed order, of
    the work that first start does not need too."""
    build = workshop_build(40, seed)
    tasks = tuple(replace(task, begun_on=None) for task in build.tasks)
    later = (task("later", 3, setup=build.shop.setups[0].key), task("at last", 2))
    build = replace(
        build,
        tasks=(*tasks, *later),
        shop=replace(build.shop, people=people),
        house_rules=("setup_out", "longest_way", "working_order", "big_first"),
    )
    work = lay_out(build)
    rest = rank_tasks(work, HouseRules(order=build.house_rules[1:]))
    keys = tuple(work.keys[i] for i in np.argsort(rest.rank[0], kind="stable").tolist())
    kept = replace(build, kept_order=keys, kept_setup_first=True)
    by_rules, by_order = plan_that_holds(build), plan_that_holds(kept)
    assert by_order.tasks == by_rules.tasks
    assert plan_that_holds(replace(kept, kept_setup_first=False)).tasks != by_rules.tasks


def test_the_cost_of_a_task_is_counted_with_the_order_kept() -> None:
    # Seal, rack, z: 1 + 24 + 1 = 26. Without the seal 4 + 1, without the rack still 26.
    cost = days_cost(kept_build(kept_order=("seal", "rack", "z")))
    assert cost == {"seal": 21 / 24, "rack": 0.0, "z": 1 / 24}


@settings(derandomize=True, max_examples=60, deadline=None)
@given(builds(max_tasks=10), st.randoms(use_true_random=False))
def test_any_kept_order_gives_a_plan_that_obeys(build: BuildInput, chance: object) -> None:
    keys = [t.key for t in build.tasks]
    chance.shuffle(keys)  # type: ignore[attr-defined]
    assert violations(build, plan_in_sequence(build, tuple(keys[: len(keys) // 2 + 1]))) == ()


@settings(derandomize=True, max_examples=60, deadline=None)
@given(builds(max_tasks=10), st.randoms(use_true_random=False))
def test_an_order_that_takes_too_long_to_settle_is_followed_as_priorities(
    build: BuildInput, chance: object
) -> None:
    keys = [t.key for t in build.tasks]
    chance.shuffle(keys)  # type: ignore[attr-defined]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(settled_order, "MOST_TRIED", 0)
        assert violations(build, plan_in_sequence(build, tuple(keys))) == ()


def test_the_plan_that_holds_is_that_of_the_kept_order_where_there_is_one() -> None:
    build = kept_build()
    assert plan_that_holds(build) == make_plan(build)
    kept = replace(build, kept_order=("seal", "rack", "z"))
    assert [t.key for t in plan_that_holds(kept).tasks] == ["seal", "rack", "z"]


def test_a_kept_order_makes_nothing_wait_that_could_start() -> None:
    tasks = [task("a", 1), task("b", 5), task("z", 1)]
    late = Part(key="p", name="Hose", serves=("a",), arrives_on=MONDAY + dt.timedelta(hours=6))
    build = build_of(tasks, [("a", "z"), ("b", "z")], first_start="z", parts=(late,))
    kept = replace(build, kept_order=("a", "b", "z"))
    assert [t.key for t in plan_that_holds(kept).tasks] == ["b", "a", "z"]


@settings(derandomize=True, max_examples=60, deadline=None)
@given(builds(max_tasks=10), st.randoms(use_true_random=False))
def test_any_order_that_holds_gives_a_plan_that_obeys(build: BuildInput, chance: object) -> None:
    keys = [t.key for t in build.tasks]
    chance.shuffle(keys)  # type: ignore[attr-defined]
    kept = replace(
        build,
        kept_order=tuple(keys[: len(keys) // 2 + 1]),
        kept_setup_first=chance.random() < 0.5,  # type: ignore[attr-defined]
    )
    assert violations(kept, plan_that_holds(kept)) == ()


def test_of_a_large_build_the_first_tasks_are_priced() -> None:
    # Seal, rack, z: without the seal 4 + 1 instead of 26.
    assert days_cost(kept_build(kept_order=("seal", "rack", "z")), at_most=1) == {"rack": 0.0}
