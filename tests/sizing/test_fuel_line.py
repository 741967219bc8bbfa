"""Fuel: suction and return."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from webapp.sizing.fuel_line import (
    EITHER,
    NO_LIFT,
    RETURN_HEAT,
    SUCTION,
    FuelReturn,
    FuelSuction,
    fuel_return,
    fuel_suction,
    suction_kpa,
)
from webapp.sizing.pipe_loss import Stretch

CHEAP = settings(max_examples=60, deadline=None)


def line(bore_mm: float = 8, metres: float = 4) -> tuple[Stretch, ...]:
    return (Stretch(bore_mm=bore_mm, length_mm=metres * 1000),)


def test_an_electric_pump_bears_less_than_a_lift_pump() -> None:
    """60 l/h of cold diesel through 4 m of 8 mm takes 4.4 kPa."""
    inputs = FuelSuction(flow_l_h=60, stretches=line())
    assert fuel_suction("f1", inputs, SUCTION["mechanical"]).word == "ok"
    assert fuel_suction("f1", inputs, SUCTION["electric"]).word == "too small"


def test_a_tank_above_the_pump_helps_it() -> None:
    low = suction_kpa(FuelSuction(flow_l_h=60, stretches=line(), lift_m=0.5))
    high = suction_kpa(FuelSuction(flow_l_h=60, stretches=line(), lift_m=-0.5))
    assert isinstance(low, float)
    assert isinstance(high, float)
    assert low - high == pytest.approx(835 * 9.80665 / 1000)


@CHEAP
@given(st.floats(5, 200), st.floats(4, 12), st.floats(0.1, 6), st.floats(1, 1.5))
def test_more_flow_or_a_smaller_bore_never_loses_less(
    flow: float, bore: float, metres: float, more: float
) -> None:
    here = suction_kpa(FuelSuction(flow_l_h=flow, stretches=line(bore, metres)))
    for other in (
        suction_kpa(FuelSuction(flow_l_h=flow * more, stretches=line(bore, metres))),
        suction_kpa(FuelSuction(flow_l_h=flow, stretches=line(bore / more, metres))),
    ):
        if isinstance(here, float) and isinstance(other, float):
            assert other >= here - 1e-9


def test_between_laminar_and_turbulent_more_is_reckoned_and_said() -> None:
    """300 l/h of 3.5 mm²/s in 8 mm: 1.6579 m/s, Re 3789; taken as turbulent f is 0.04151 by hand
    (8 / (2.457 ln(1 / ((7/3789)^0.9 + 0.27 x 0.0015/8)))²), so 4 m lose 0.04151 x 500 x 835 x
    1.6579² / 2 = 23.82 kPa."""
    inputs = FuelSuction(flow_l_h=300, stretches=line(), viscosity_mm2_s=3.5)
    answer = fuel_suction("f1", inputs)
    assert answer.value == pytest.approx(23.82, abs=0.01)
    assert EITHER in answer.remarks
    slow = fuel_suction("f1", replace(inputs, flow_l_h=150))
    assert EITHER not in slow.remarks


def test_petrol_is_told_that_injection_pumps_lift_nothing() -> None:
    inputs = FuelSuction(
        flow_l_h=100, stretches=line(), fuel="petrol", viscosity_mm2_s=0.7, density_kg_m3=745
    )
    assert NO_LIFT in fuel_suction("f1", inputs).remarks


@pytest.mark.parametrize(("back", "word"), [(8, "ok"), (10, "ok"), (6, "tight"), (5, "too small")])
def test_a_return_is_as_wide_as_the_feed_or_a_step_less(back: float, word: str) -> None:
    answer = fuel_return("f4", FuelReturn(feed_bore_mm=8, return_bore_mm=back))
    assert answer.word == word
    assert RETURN_HEAT in answer.remarks
