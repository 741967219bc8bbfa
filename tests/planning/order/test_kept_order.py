"""A kept order is followed as far as the facts allow."""

import datetime as dt
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.build.builds import MONDAY, build_of, task
from tests.build.random_builds import builds
from webapp.build.build_input import BuildInput, Part
from webapp.planning.order import settled_order
from webapp.planning.order.job_order import days_cost, make_plan
from webapp.planning.order.kept_order import plan_in_sequence, plan_that_holds
from webapp.planning.proof.plan_checks import violations


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


def test_the_cost_of_a_task_is_counted_with_the_order_kept() -> None:
    # Seal, rack, z: 1 + 24 + 1 = 26. Without the seal 4 + 1, without the rack still 26.
    cost = days_cost(kept_build(), order=("seal", "rack", "z"))
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
    kept = replace(build, kept_order=tuple(keys[: len(keys) // 2 + 1]))
    assert violations(kept, plan_that_holds(kept)) == ()


def test_of_a_large_build_the_first_tasks_are_priced() -> None:
    # Seal, rack, z: without the seal 4 + 1 instead of 26.
    assert days_cost(kept_build(), order=("seal", "rack", "z"), at_most=1) == {"rack": 0.0}
