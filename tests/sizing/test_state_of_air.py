"""Air as a gas: gauge and absolute pressure meet in one place."""

import pytest

from webapp.sizing.state_of_air import absolute_kpa, air_kpa, density_kg_m3


def test_gauge_pressure_stands_on_that_of_the_air() -> None:
    assert absolute_kpa(1.0) == pytest.approx(201.325)
    assert absolute_kpa(0.0, 1500) == pytest.approx(air_kpa(1500))
    assert absolute_kpa(1.0, 1500) - air_kpa(1500) == pytest.approx(100)


def test_air_is_thinner_where_it_is_warm_or_thin() -> None:
    """101325 / (287.05 x 288.15) = 1.225 kg/m³."""
    assert density_kg_m3(101.325, 15) == pytest.approx(1.225, abs=5e-4)
    assert density_kg_m3(202.65, 15) == pytest.approx(2 * 1.225, abs=1e-3)
