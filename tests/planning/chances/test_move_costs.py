"""What a change, a task and a house rule cost, as means over common draws."""

from dataclasses import replace

import numpy as np
import pytest

from tests.build.builds import EVENINGS, build_of, session, task
from tests.planning.chances.test_wish_prices import EXACT
from webapp.build.build_input import BuildInput
from webapp.build.shop import Setup
from webapp.planning.chances.factors import Factors
from webapp.planning.chances.move_costs import move_from, task_costs
from webapp.planning.chances.moves import move_between

TIG = Setup(key="tig", name="TIG welder out", hours=0.75)
SAW = Setup(key="saw", name="Band saw", hours=0.75)


def chain(week: tuple = EVENINGS) -> BuildInput:  # type: ignore[type-arg]
    tasks = [task("a", (1, 2, 4)), task("b", (2, 3, 7)), task("z", 1), task("later", 5)]
    return build_of(tasks, [("a", "b"), ("b", "z"), ("z", "later")], first_start="z", week=week)


def test_a_change_of_a_certain_hour_moves_first_start_by_it() -> None:
    always = build_of([task("a", 2), task("z", 1)], [("a", "z")], first_start="z")
    longer = build_of([task("a", 5), task("z", 1)], [("a", "z")], first_start="z")
    move = move_from(always, EXACT, longer, EXACT, draws=50)
    assert move is not None
    assert move.days == pytest.approx(3 / 24)
    assert (move.error_days, move.later_share) == (0, 1)


def test_nothing_changed_moves_nothing_at_all() -> None:
    build = chain()
    move = move_from(build, Factors(), build, Factors(), draws=50)
    assert move is not None
    assert (move.mean_days, move.error_days, move.later_share) == (0, 0, 0)


def test_a_task_costs_what_first_start_gains_without_it_draw_by_draw() -> None:
    build = chain()
    costs = task_costs(build, Factors(), draws=200)
    assert set(costs) == {"a", "b", "z", "later"}
    assert costs["later"].days == 0
    # The build without b, its order passing through: a straight to z.
    without = build_of(
        [task("a", (1, 2, 4)), task("z", 1), task("later", 5)],
        [("a", "z"), ("z", "later")],
        first_start="z",
        week=EVENINGS,
    )
    by_hand = move_from(without, Factors(), build, Factors(), draws=200)
    assert by_hand is not None
    assert costs["b"].mean_days == pytest.approx(by_hand.mean_days)
    assert costs["b"].mean_days > costs["a"].mean_days > costs["z"].mean_days > 0


def test_costs_do_not_stick_to_the_ends_of_sessions() -> None:
    """On Saturdays alone a plan moves by weeks or not at all; the means tell tasks apart."""
    build = chain((session(5, 9, 17),))
    costs = task_costs(build, Factors(), draws=400)
    assert len({round(costs[key].mean_days, 2) for key in ("a", "b", "z")}) == 3


def test_without_a_date_nothing_has_a_cost() -> None:
    build = build_of([task("a", 1), task("b", 1)], first_start=None)
    assert task_costs(build, EXACT) == {}
    assert move_from(build, EXACT, build, EXACT) is None


def test_a_kept_order_is_followed_by_moves() -> None:
    tasks = [task("rack", 4), task("seal", 1), task("z", 1)]
    build = build_of(tasks, [("seal", "z", 24), ("rack", "z")], first_start="z")
    kept = replace(build, kept_order=("rack", "seal", "z"))
    move = move_from(build, EXACT, kept, EXACT, draws=20)
    assert move is not None
    assert move.days == pytest.approx(4 / 24)


def test_moves_are_told_from_none_by_twice_their_standard_error() -> None:
    before = np.zeros(100, np.int64)
    one_in_a_hundred = np.where(np.arange(100) == 0, 86_400, 0)
    move = move_between(before, before + one_in_a_hundred)
    # Mean 0.01, spread 0.1, error 0.01: within two errors of nothing.
    assert move.mean_days == pytest.approx(0.01)
    assert move.error_days == pytest.approx(0.01)
    assert move.days == 0.0
    assert move_between(before, before + 86_400).days == 1.0
    with pytest.raises(ValueError, match="50 draws"):
        move_between(before[:50], before)
