"""Tightening where several people have several setups out: by hand, and against all orders."""

import itertools
from dataclasses import replace

import numpy as np
import pytest

from tests.build.builds import build_of, task
from tests.planning.simulator.test_setups_out import ROLLER, TIG, small_build
from webapp.build.build_input import BuildInput, Dependency
from webapp.build.three_point import ThreePoint
from webapp.planning.order.run_orders import run_orders
from webapp.planning.proof.plan_checks import violations
from webapp.planning.simulator.work_arrays import lay_out
from webapp.planning.tighten.bounds import EarliestDates
from webapp.planning.tighten.model_solver import solve
from webapp.planning.tighten.tighten import tighten
from webapp.planning.tighten.work_model import WorkModel


def test_two_people_keep_both_setups_out() -> None:
    # Two chains, weld and roll, roll and weld, two hours each: the welder out 0-1, welded until 3,
    # the roller out 0-0.5, rolled until 2.5; then each at the other: 3-5 and 3-5, first start 5-6.
    tasks = [
        task("w1", 2, setup="tig"),
        task("r1", 2, setup="roller"),
        task("r2", 2, setup="roller"),
        task("w2", 2, setup="tig"),
        task("z", 1),
    ]
    links = [("w1", "r1"), ("r2", "w2"), ("r1", "z"), ("w2", "z")]
    build = build_of(tasks, links, first_start="z", people=2, setups=(TIG, ROLLER))
    answer = tighten(build, seconds=10)
    assert answer.plan.first_start_shop_hours == 6
    assert answer.proved_best
    assert violations(build, answer.plan) == ()


def with_first_start(build: BuildInput) -> BuildInput:
    """The build in quarters of an hour, with an hour of first start behind everything."""
    tasks = tuple(
        replace(one, hours=ThreePoint.certain(round(4 * one.hours.expected) / 4))
        for one in build.tasks
    )
    links = tuple(Dependency(before=one.key, after="z") for one in tasks)
    return replace(
        build,
        tasks=(*tasks, task("z", 1)),
        dependencies=(*build.dependencies, *links),
        first_start="z",
    )


@pytest.mark.parametrize("seed", [5, 12, 30, 50, 66, 105])
def test_no_order_beats_the_bounds(seed: int) -> None:
    # In the last, to put away another setup than the one that has lain unused longest would win a
    # quarter of an hour: what the model leaves free, and so its bound lies below the best order.
    work = lay_out(with_first_start(small_build(seed)))
    orders = np.array([(*one, 5) for one in itertools.permutations(range(len(work) - 1))])
    best = int(run_orders(work, orders, in_sequence=True).end[work.first_start].min())
    dates = EarliestDates(work)
    heads = dates.tightened(seconds=2)
    assert heads.end_shop[work.first_start] <= best
    model = WorkModel(work, dates, best)
    model.minimise(int(heads.end_shop[work.first_start]))
    answer = solve(model, seconds=10, workers=1, seed=0, stop=None, progress=lambda _: None)
    assert answer.bound is not None
    assert answer.bound <= best
    assert best - answer.bound == (900 if seed == 105 else 0)
