"""Heat of the charge, and what bears it."""

import pytest

from webapp.sizing.answers import Limit, Outside
from webapp.sizing.charge_heat import (
    COOLANT_HOSE,
    Compressor,
    Cooler,
    HotPart,
    charge_hose,
    compressor_outlet_c,
    cooler_heat,
    cooler_outlet_c,
)


def test_a_compressor_that_is_none_is_refused() -> None:
    for said in ({"outlet_kpa": 90}, {"outlet_kpa": 600}, {"efficiency": 0.4}, {"inlet_c": 95}):
        compressor = {"inlet_c": 25, "inlet_kpa": 100, "outlet_kpa": 200, **said}
        assert isinstance(compressor_outlet_c(Compressor(**compressor)), Outside)


def test_without_pressure_nothing_warms_up_and_without_a_cooler_nothing_cools() -> None:
    same = Compressor(inlet_c=25, inlet_kpa=100, outlet_kpa=100)
    assert compressor_outlet_c(same) == pytest.approx(25)
    assert cooler_outlet_c(Cooler(inlet_c=130, cooled_by_c=25, effectiveness=0)) == 130
    assert isinstance(
        cooler_outlet_c(Cooler(inlet_c=130, cooled_by_c=25, effectiveness=1.1)), Outside
    )


@pytest.mark.parametrize(
    ("rated_c", "word"), [(151, "ok"), (150, "tight"), (131, "tight"), (125, "too hot")]
)
def test_a_hose_is_ok_twenty_kelvin_below_its_rating(rated_c: float, word: str) -> None:
    answer = charge_hose("hot1", HotPart(charge_c=130.7, rated_c=rated_c), "the hose")
    assert answer.word == word
    assert answer.limit is not None
    assert answer.limit.words == "typed in: the hose"


def test_coolant_hose_on_the_hot_side_is_told_of() -> None:
    hose = HotPart(charge_c=100, rated_c=150, material="coolant")
    assert charge_hose("hot1", hose, "the hose").remarks == (COOLANT_HOSE,)
    silicone = HotPart(charge_c=100, rated_c=150, material="silicone lined")
    assert charge_hose("hot1", silicone, "the hose").remarks == ()


def test_a_plastic_cooler_is_held_against_its_maker() -> None:
    limit = Limit(ok=130, tight=140, origin="typed", source="its sheet")
    hot = HotPart(charge_c=135, rated_c=180)
    assert cooler_heat("cooler", hot, "its sheet", limit).word == "tight"
    assert cooler_heat("cooler", hot, "its sheet").word == "ok"
