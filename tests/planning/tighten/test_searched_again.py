"""Whether a kept order has aged, measured: against what a short search from it finds now."""

from dataclasses import replace

import pytest

from tests.benchmarks.workshop_builds import workshop_build
from tests.build.builds import build_of, task
from webapp.build.build_input import BuildInput
from webapp.build.shop import Setup
from webapp.planning.chances.factors import NO_RECORD
from webapp.planning.chances.move_costs import move_from
from webapp.planning.order.kept_order import plan_that_holds
from webapp.planning.tighten import searched_again as module
from webapp.planning.tighten.searched_again import searched_again


def kept(build: BuildInput, *order: str) -> BuildInput:
    return replace(build, kept_order=order)


def cure_first() -> BuildInput:
    """A weld that cures for 48 hours, and three hours of bending beside it: welding first lets it
    cure meanwhile."""
    tasks = [task("bend", (2, 3, 5)), task("weld", 1, setup="tig"), task("z", 1)]
    return build_of(
        tasks,
        [("bend", "z"), ("weld", "z", 48.0)],
        first_start="z",
        setups=(Setup(key="tig", name="TIG welder", hours=0.5),),
    )


def test_an_order_that_has_aged_says_what_the_best_of_now_wins() -> None:
    """Bending first: the cure begins those hours later. The order found welds first, and its gain
    is that of the same order asked alone."""
    build = kept(cure_first(), "bend", "weld", "z")
    found = searched_again(build, NO_RECORD)
    assert found is not None
    assert found.order.keys == ("weld", "bend", "z")
    assert found.move.is_some
    assert found.move.days < 0
    alone = move_from(build, NO_RECORD, kept(build, "weld", "bend", "z"), NO_RECORD)
    assert found.move == alone


def test_an_order_that_is_still_the_best_wins_nothing() -> None:
    found = searched_again(kept(cure_first(), "weld", "bend", "z"), NO_RECORD)
    assert found is not None
    assert found.move.days == 0


def test_the_same_build_comes_to_the_same_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "MOST_SCHEDULES", 1_500)
    build = workshop_build(40, 3)
    build = kept(build, *(one.key for one in plan_that_holds(build).tasks))
    one, other = (searched_again(build, NO_RECORD) for _ in range(2))
    assert one is not None
    assert one == other
    assert one.move.days < 0


@pytest.mark.parametrize("build", [cure_first(), kept(build_of([task("a", 1)]), "a")])
def test_without_a_kept_order_or_a_date_nothing_is_measured(build: BuildInput) -> None:
    assert searched_again(build, NO_RECORD) is None
