"""Friction, bends and steps."""

import pytest

from webapp.sizing.answers import Outside
from webapp.sizing.pipe_loss import (
    Stretch,
    bend_loss,
    friction_factor,
    goes_down_and_up,
    step_down_loss,
    step_losses,
    step_up_loss,
)


def test_between_laminar_and_turbulent_nothing_is_given() -> None:
    assert friction_factor(2299, 1e-5) == pytest.approx(64 / 2299)
    for reynolds in (0.0, 2300.0, 3500.0, 4999.0, 2e8, float("nan")):
        assert isinstance(friction_factor(reynolds, 1e-5), Outside)
    assert isinstance(friction_factor(5000, 1e-5), float)
    assert isinstance(friction_factor(1e5, 3e-3), Outside)


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
