"""Air asked for, and the filter."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.sizing.air_demand import AirDemand, FilterFlow, air_filter, air_kg_s, free_air_m3_h
from webapp.sizing.answers import Limit, Outside


def test_a_two_stroke_is_refused() -> None:
    answer = air_kg_s(
        AirDemand(displacement_l=1, rpm=3000, manifold_kpa=101, manifold_c=25, strokes=2)
    )
    assert isinstance(answer, Outside)
    assert answer.name == "number of strokes"


@pytest.mark.parametrize("efficiency", [0.5, 0.749, 0.951, 1.1])
def test_an_efficiency_that_no_engine_has_is_refused(efficiency: float) -> None:
    answer = air_kg_s(
        AirDemand(
            displacement_l=4,
            rpm=2600,
            manifold_kpa=201,
            manifold_c=50,
            volumetric_efficiency=efficiency,
        )
    )
    assert isinstance(answer, Outside)
    assert answer.name == "volumetric efficiency"


@given(st.floats(0.1, 20), st.floats(500, 8000), st.floats(60, 400), st.floats(0, 120))
def test_more_of_anything_asks_for_more_air_and_warmth_for_less(
    litres: float, rpm: float, kpa: float, celsius: float
) -> None:
    def asked(**more: float) -> float:
        said = {
            "displacement_l": litres,
            "rpm": rpm,
            "manifold_kpa": kpa,
            "manifold_c": celsius,
        } | more
        answer = air_kg_s(AirDemand(**said))  # type: ignore[arg-type]
        assert isinstance(answer, float)
        return answer

    here = asked()
    assert asked(displacement_l=litres * 2) == pytest.approx(2 * here)
    assert asked(rpm=rpm * 1.2) == pytest.approx(1.2 * here)
    assert asked(manifold_kpa=kpa * 1.4) == pytest.approx(1.4 * here)
    assert asked(manifold_c=celsius + 10) < here


def test_free_air_takes_more_room_higher_up() -> None:
    """At 1500 m the air has 84.56 of 101.325 kPa: 1.198 times the room."""
    low, high = free_air_m3_h(0.1655), free_air_m3_h(0.1655, height_m=1500)
    assert high / low == pytest.approx(101.325 / 84.56, rel=1e-3)


@pytest.mark.parametrize(("asked", "word"), [(400, "ok"), (401, "tight"), (501, "too small")])
def test_a_filter_is_ok_to_four_fifths_of_its_rating(asked: float, word: str) -> None:
    answer = air_filter("airbox", FilterFlow(free_air_m3_h=asked, filter_m3_h=500))
    assert answer.word == word
    assert answer.value == pytest.approx(asked / 5)
    assert answer.limit is not None
    assert answer.limit.words == "common practice, no source"


def test_the_makers_limit_goes_first() -> None:
    limit = Limit(ok=100, tight=100, origin="typed", source="the filter's sheet")
    answer = air_filter("airbox", FilterFlow(free_air_m3_h=480, filter_m3_h=500), limit)
    assert answer.word == "ok"
    assert answer.limit == limit
