"""The exact model solved: for a proof, and for orders alone."""

import numpy as np
import pytest

from tests.build.builds import build_of, task
from webapp.build.build_input import BuildInput, StationNeed
from webapp.build.shop import Station
from webapp.planning.order.run_orders import run_orders
from webapp.planning.simulator.work_arrays import WorkArrays, for_first_start_only, lay_out
from webapp.planning.tighten.bounds import EarliestDates
from webapp.planning.tighten.model_solver import Aim, solve
from webapp.planning.tighten.work_model import WorkModel

HOUR = 3600


def two_vices() -> BuildInput:
    """12 hours of work at two vices: 3 + 3 beside 2 + 2 + 2 are 6 h, shortest first takes 7."""
    needs = (StationNeed(station="vice", count=1),)
    hours = {"a": 2, "b": 2, "c": 2, "d": 3, "e": 3}
    tasks = [task(key, long, people=0, stations=needs) for key, long in hours.items()]
    links = [(key, "z") for key in hours]
    vices = (Station(key="vice", name="Vice", count=2),)
    return build_of([*tasks, task("z", 0)], links, first_start="z", stations=vices)


def hinted_model(work: WorkArrays, order: list[int]) -> WorkModel:
    dates = EarliestDates(work)
    plan = run_orders(work, np.array([order]), in_sequence=True)
    model = WorkModel(work, dates, int(plan.end_wall(work.first_start)[0]))
    model.minimise(int(dates.heads.end_shop[work.first_start]))
    columns = (plan.begin, plan.wall_begin, plan.end, plan.setup_seconds)
    model.hint(*(column[:, 0] for column in columns))
    return model


@pytest.mark.parametrize("aim", ["proof", "orders", "both"])
def test_whatever_the_aim_a_better_order_is_found_and_no_bound_lies_above_it(aim: Aim) -> None:
    work = for_first_start_only(lay_out(two_vices()))
    in_turn = list(range(len(work)))  # a and b, then c and d, then e: 2 + 2 + 3 = 7 h
    model = hinted_model(work, in_turn)
    assert model.horizon_shop == 7 * HOUR
    answer = solve(
        model, seconds=1.0, workers=2, seed=0, stop=None, progress=lambda _: None, aim=aim
    )
    assert answer.order is not None
    assert answer.bound is not None
    found = run_orders(work, answer.order[np.newaxis, :], in_sequence=True)
    assert int(found.end_wall(work.first_start)[0]) == 6 * HOUR
    assert answer.bound <= 6 * HOUR
