"""Friction, bends and steps."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.sizing.answers import Outside
from webapp.sizing.pipe_loss import (
    Stretch,
    bend_loss,
    friction_factor,
    goes_down_and_up,
    may_be_either,
    step_down_loss,
    step_losses,
    step_up_loss,
)


def test_outside_of_the_formulas_nothing_is_given() -> None:
    assert friction_factor(2299, 1e-5) == pytest.approx(64 / 2299)
    for reynolds in (0.0, -1.0, 2e8, float("nan")):
        assert isinstance(friction_factor(reynolds, 1e-5), Outside)
    assert isinstance(friction_factor(5000, 1e-5), float)
    assert isinstance(friction_factor(1e5, 3e-3), Outside)
    assert isinstance(friction_factor(3000, 3e-3), Outside)


def test_between_laminar_and_turbulent_it_is_taken_as_turbulent() -> None:
    """Smooth, Re 3000: (7/3000)^0.9 = 0.004279, 2.457 ln(1/0.004279) = 13.401, 8/13.401² =
    0.04455: twice the laminar 0.0213."""
    assert friction_factor(3000, 0) == pytest.approx(0.04455, abs=2e-5)
    assert [may_be_either(re) for re in (2299, 2300, 4999, 5000)] == [False, True, True, False]


@given(st.floats(1, 1e7), st.floats(1, 2), st.floats(0, 2e-3))
def test_friction_times_the_square_of_the_flow_never_falls(
    reynolds: float, more: float, rough: float
) -> None:
    """So more flow never loses less, over both seams too."""
    here, there = (friction_factor(each, rough) for each in (reynolds, reynolds * more))
    assert isinstance(here, float)
    assert isinstance(there, float)
    assert there * more**2 >= here * (1 - 1e-12)


def test_a_bend_of_half_the_turn_takes_half() -> None:
    assert bend_loss(60, 45) == pytest.approx(bend_loss(60, 90) / 2)
    assert bend_loss(60, 0) == 0
    assert bend_loss(38, 90) > bend_loss(76, 90)


def test_steps_count_where_the_way_is_narrow() -> None:
    ways = (Stretch(bore_mm=51), Stretch(bore_mm=60), Stretch(bore_mm=51), Stretch(bore_mm=51))
    up, down = step_up_loss(51, 60), step_down_loss(60, 51)
    assert step_losses(ways) == pytest.approx((up, 0, down, 0))
    assert step_up_loss(51, 51) == step_down_loss(51, 51) == 0


@pytest.mark.parametrize(
    ("bores", "both"),
    [
        ((51, 45, 51), True),
        ((51, 60, 51), False),
        ((60, 51), False),
        ((), False),
        ((63, 51, 60), True),
    ],
)
def test_a_way_that_goes_down_and_up_again_is_found(bores: tuple[float, ...], both: bool) -> None:
    assert goes_down_and_up(tuple(Stretch(bore_mm=bore) for bore in bores)) is both
