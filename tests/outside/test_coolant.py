"""Freezing points of coolant against CoolProp's fits of the ASHRAE tables (PyPI, MIT).

Tests alone ask it; it takes seconds to load.
"""

import pytest

from webapp.build.plumbing import ANTIFREEZES, Antifreeze
from webapp.plumbing.coolant import Mixture, mixture_for, mixture_of

KELVIN = 273.15
FLUIDS: dict[Antifreeze, str] = {"ethylene": "AEG", "propylene": "APG"}


def freezes_at_c(share: float, antifreeze: Antifreeze) -> float:
    props = pytest.importorskip("CoolProp.CoolProp")
    fluid = f"INCOMP::{FLUIDS[antifreeze]}[{share}]"
    return float(props.PropsSI("T_freeze", "T", 300.0, "P", 101_325, fluid)) - KELVIN


@pytest.mark.slow
@pytest.mark.parametrize("antifreeze", ANTIFREEZES)
def test_freezing_points_are_those_of_the_tables(antifreeze: Antifreeze) -> None:
    """Within 0.1 K where the table has a line, 0.25 K on the chords between: the curve is bent."""
    for percent in range(20, 61):
        mixture = mixture_of(percent / 100, antifreeze)
        assert isinstance(mixture, Mixture)
        near = 0.1 if percent % 5 == 0 else 0.25
        there = freezes_at_c(percent / 100, antifreeze)
        assert mixture.freezes_at_c == pytest.approx(there, abs=near)


@pytest.mark.slow
@pytest.mark.parametrize("antifreeze", ANTIFREEZES)
def test_the_mixture_for_a_frost_is_liquid_there(antifreeze: Antifreeze) -> None:
    for frost_c in range(-50, 0, 5):
        mixture = mixture_for(frost_c, antifreeze)
        assert isinstance(mixture, Mixture)
        assert freezes_at_c(mixture.share, antifreeze) <= frost_c + 0.25


def test_trade_tables_say_minus_37_for_half_and_half() -> None:
    """-36.8 and -37 °C (trade tables, read)."""
    mixture = mixture_of(0.5)
    assert isinstance(mixture, Mixture)
    assert mixture.freezes_at_c == pytest.approx(-37, abs=0.3)
