"""The build as it is planned: circuits link the work of their runs to what waits for them."""

import datetime as dt
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.plumbing.heron import heron
from tests.plumbing.small import DAY, build, circuit, component, port, run
from webapp.build.build_input import BuildInput, Dependency
from webapp.build.by_key import get_by_key, replaced_by_key
from webapp.build.circuit_dependencies import as_planned, with_circuit_dependencies
from webapp.build.for_planning import are_planned_alike
from webapp.build.precedence import loops_of
from webapp.planning.network.held_now import held_now
from webapp.planning.order.job_order import make_plan
from webapp.services.planned_build import PlannedBuild
from webapp.services.planned_state import version_of

ENTERED = Dependency(before="fill", after="start")


def shop() -> BuildInput:
    """A hose that `fit` fits, in a circuit that holds `fill`, which comes before first start.

    Nothing else ties the two: `fill` was entered first and would come first by itself.
    """
    ends = (component("a", port("out", "out")), component("b", port("in", "in")))
    of = circuit("a.out", "b.in", holds=("fill",))
    drawn = run("r", "a.out", "b.in", tasks=("fit",))
    made = build(ends, (of,), (drawn,), tasks=("fill", "fit"))
    return replace(made, dependencies=(ENTERED,))


def finished(of: BuildInput, key: str, on: dt.date = DAY) -> BuildInput:
    task = replace(get_by_key(of.tasks, key), finished_on=on)
    return replace(of, tasks=replaced_by_key(of.tasks, task))


def links(of: BuildInput) -> set[tuple[str, str]]:
    return {(one.before, one.after) for one in as_planned(of).dependencies}


def order_of(of: BuildInput) -> list[str]:
    plan = PlannedBuild(of).plan()
    assert plan is not None
    return [task.key for task in sorted(plan.tasks, key=lambda task: task.begins)]


def test_the_pages_plan_the_work_of_a_run_before_what_its_circuit_holds() -> None:
    assert order_of(shop()) == ["fit", "fill", "start"]
    bare = replace(shop(), plumbing=replace(shop().plumbing, circuits=(), runs=(), components=()))
    assert order_of(bare)[0] == "fill"


def test_the_bench_says_that_what_a_circuit_holds_can_not_be_begun() -> None:
    held = held_now(PlannedBuild(shop()).linked)
    assert [one.what for one in held["fill"]] == ["fit"]
    assert {one.what for one in held["start"]} == {"fill", "fit"}
    assert [*held_now(PlannedBuild(finished(shop(), "fit")).linked)] == ["start"]


def test_a_link_stays_when_its_first_task_is_finished() -> None:
    """Or the days before it was finished would become days on which the fill could be worked."""
    of = finished(shop(), "fit")
    assert ("fit", "fill") in links(of)
    assert with_circuit_dependencies(of).dependencies == (ENTERED,)
    assert make_plan(as_planned(of)) == make_plan(of)


def test_what_was_finished_in_another_order_makes_no_loop() -> None:
    other = replace(shop(), dependencies=(Dependency(before="fill", after="fit"),))
    of = finished(other, "fit")
    assert ("fit", "fill") not in links(of)
    assert loops_of(as_planned(of)) == ()


def test_asked_once_more_it_adds_nothing() -> None:
    once = as_planned(heron())
    assert as_planned(once) is once
    assert make_plan(once) == make_plan(with_circuit_dependencies(heron()))


@settings(max_examples=40, deadline=None)
@given(chosen=st.lists(st.tuples(st.integers(0, 100), st.integers(0, 30)), max_size=25))
def test_whatever_is_finished_no_loop_comes_of_it(chosen: list[tuple[int, int]]) -> None:
    of = heron()
    for place, day in chosen:
        key = of.tasks[place % len(of.tasks)].key
        of = finished(of, key, dt.date(2026, 1, 1) + dt.timedelta(days=day))
    assert loops_of(as_planned(of)) == ()


def test_a_change_of_pieces_keeps_the_plan_and_one_of_what_is_held_does_not() -> None:
    of = shop()
    longer = replace(of.plumbing, runs=(replace(of.plumbing.runs[0], name="Longer", pieces=()),))
    of_pieces = replace(of, plumbing=longer)
    assert are_planned_alike(of, of_pieces)
    assert version_of(of) == version_of(of_pieces)
    held = tuple(replace(one, holds=()) for one in of.plumbing.circuits)
    freed = replace(of, plumbing=replace(of.plumbing, circuits=held))
    assert not are_planned_alike(of, freed)
    assert version_of(of) != version_of(freed)
