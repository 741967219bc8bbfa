"""Exhaust pipes."""

import pytest

from webapp.sizing.answers import Outside
from webapp.sizing.exhaust import WITHOUT_SILENCERS, ExhaustWay, exhaust_loss, gas_kg_s, pipes_kpa
from webapp.sizing.pipe_loss import Stretch


def way(bore_mm: float, air: float = 0.1655, **said: float) -> ExhaustWay:
    stretches = (Stretch(bore_mm=bore_mm, length_mm=4000, turn_deg=360),)
    return ExhaustWay(air_kg_s=air, stretches=stretches, **said)  # type: ignore[arg-type]


def test_the_gas_is_air_and_fuel() -> None:
    assert gas_kg_s(0.1655, "diesel") == pytest.approx(0.1655 * 1.04)
    assert gas_kg_s(0.1, "petrol") == pytest.approx(0.1 * 15.7 / 14.7)


def test_silencers_come_on_top_and_their_lack_is_said() -> None:
    alone, fitted = exhaust_loss("exhaust", way(76)), exhaust_loss("exhaust", way(76, fitted_kpa=4))
    assert WITHOUT_SILENCERS in alone.remarks
    assert WITHOUT_SILENCERS not in fitted.remarks
    assert alone.value is not None
    assert fitted.value is not None
    # a little less than 4 on top: the gas is denser before the silencer
    assert alone.value + 3.7 < fitted.value < alone.value + 4
    assert (alone.word, fitted.word) == ("ok", "tight")


def test_gas_leaves_at_the_pressure_of_the_air() -> None:
    """What is lost from the pressure found at the beginning leads back to 101.325 kPa."""
    from webapp.sizing.gas_flow import GasFlow, lost_kpa

    lost = pipes_kpa(way(63.5))
    assert isinstance(lost, float)
    flow = GasFlow(kg_s=gas_kg_s(0.1655, "diesel"), kpa=101.325 + lost, celsius=550)
    again = lost_kpa(flow, way(63.5).stretches, 0.05)
    assert again == pytest.approx(lost, rel=1e-4)


def test_too_narrow_gets_no_number_and_no_gas_is_that_hot() -> None:
    answer = exhaust_loss("exhaust", way(45))
    assert (answer.word, answer.value) == ("too small", None)
    assert isinstance(pipes_kpa(way(76, gas_c=1200)), Outside)
