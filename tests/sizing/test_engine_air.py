"""The air on its way through an engine."""

from typing import Any

import pytest

from webapp.sizing.answers import Outside
from webapp.sizing.engine_air import EngineAir, EngineInAir, engine_air


def air(**said: Any) -> EngineAir:
    answer = engine_air(
        EngineInAir(**{"displacement_l": 4, "full_power_rpm": 2600, "boost_bar": 1, **said})
    )
    assert isinstance(answer, EngineAir)
    return answer


def test_boost_is_gauge_and_stands_on_the_air_at_that_height() -> None:
    """Sea level 101.325 + 100; at 1500 m 84.56 + 100 kPa."""
    assert air().manifold_kpa == pytest.approx(201.325)
    assert air(height_m=1500).manifold_kpa == pytest.approx(184.56, abs=0.01)
    assert air().pressure_ratio == pytest.approx(201.325 / 101.325)


def test_an_engine_without_boost_has_nothing_that_warms_the_air() -> None:
    plain = air(boost_bar=0)
    assert plain.manifold_c == plain.compressor_c == pytest.approx(25)
    assert plain.density_ratio == pytest.approx(1)


def test_a_cooler_makes_it_denser() -> None:
    assert air(cooler_effectiveness=0.7).kg_s > air().kg_s
    assert air(cooler_effectiveness=0.7).manifold_c < air().manifold_c


def test_losses_before_and_behind_make_the_compressor_work_more() -> None:
    here = air()
    assert air(intake_loss_kpa=5).compressor_c > here.compressor_c
    assert air(charge_loss_kpa=8).compressor_kpa == pytest.approx(here.manifold_kpa + 8)


@pytest.mark.parametrize(
    "said", [{"boost_bar": -0.1}, {"boost_bar": 14.7}, {"height_m": 9000}, {"strokes": 2}]
)
def test_what_lies_outside_gets_no_air(said: dict[str, float]) -> None:
    fields: dict[str, Any] = {"displacement_l": 4, "full_power_rpm": 2600, "boost_bar": 1, **said}
    assert isinstance(engine_air(EngineInAir(**fields)), Outside)
