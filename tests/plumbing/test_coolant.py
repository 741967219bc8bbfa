"""Coolant: the mixture for a frost, and what is poured and drained to come to it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.build.plumbing import ANTIFREEZES, Antifreeze
from webapp.plumbing.coolant import (
    FREEZES_AT_C,
    CoolantFill,
    Mixture,
    NoMixture,
    coolant_fill,
    mixture_for,
    mixture_of,
    topped_up,
)


def half() -> Mixture:
    mixture = mixture_of(0.5)
    assert isinstance(mixture, Mixture)
    return mixture


def fill(litres: float, of: Mixture, **there: float) -> CoolantFill:
    answer = coolant_fill(litres, of, **there)
    assert isinstance(answer, CoolantFill)
    return answer


@pytest.mark.parametrize(
    ("frost_c", "share"),
    [
        (-37.1, 0.50),
        (-52.0, 0.60),
        (-24.8, 0.40),
        # between -24.8 at 40 % and -30.5 at 45 %: 5.2 of 5.7 degrees on
        (-30.0, 0.40 + 0.05 * 5.2 / 5.7),
        (-9.0, 0.30),  # 20 % would do for the frost, 30 % for the corrosion
        (5.0, 0.30),
    ],
)
def test_the_mixture_for_a_frost(frost_c: float, share: float) -> None:
    mixture = mixture_for(frost_c)
    assert isinstance(mixture, Mixture)
    assert mixture.share == pytest.approx(share)
    assert mixture.freezes_at_c <= frost_c + 1e-9


def test_what_no_mixture_protects_from_and_what_is_too_strong_are_refused() -> None:
    assert mixture_for(-52.1) == NoMixture(why="too cold")
    assert mixture_for(-51.2, "propylene") == NoMixture(why="too cold")
    assert mixture_of(0.61) == NoMixture(why="too strong")
    assert mixture_of(0.19) == NoMixture(why="too weak")
    thin = mixture_of(0.25)
    assert isinstance(thin, Mixture)
    assert thin.is_thin
    assert not half().is_thin


@given(st.floats(-50, 20), st.sampled_from(ANTIFREEZES))
def test_a_harder_frost_never_takes_less(frost_c: float, antifreeze: Antifreeze) -> None:
    mild, hard = mixture_for(frost_c, antifreeze), mixture_for(frost_c - 1, antifreeze)
    assert isinstance(mild, Mixture)
    assert isinstance(hard, Mixture)
    assert mild.share <= hard.share <= 0.6
    assert FREEZES_AT_C[antifreeze][-1][1] <= mild.freezes_at_c <= frost_c + 1e-9 or (
        mild.share == 0.3
    )


def test_an_empty_circuit_takes_its_share_of_each() -> None:
    answer = fill(12, half())
    assert (answer.drained_litres, answer.concentrate_litres, answer.water_litres) == (0, 6, 6)


def test_a_full_circuit_is_drained_for_concentrate() -> None:
    """12 l from 30 to 50 %: 12 (0.5 - 0.3) / (1 - 0.3) = 3.43 l out, and in as concentrate."""
    answer = fill(12, half(), there_litres=12, there_share=0.3)
    assert answer.drained_litres == pytest.approx(3.428571, abs=1e-6)
    assert answer.concentrate_litres == pytest.approx(3.428571, abs=1e-6)
    assert answer.water_litres == pytest.approx(0)


def test_a_full_circuit_that_is_too_strong_is_drained_for_water() -> None:
    """10 l of 60 % to 50 %: 6 l of glycol are in it, 5 wanted: 1 / 0.6 l out, water in."""
    answer = fill(10, half(), there_litres=10, there_share=0.6)
    assert answer.drained_litres == pytest.approx(10 / 6)
    assert answer.concentrate_litres == pytest.approx(0)
    assert answer.water_litres == pytest.approx(10 / 6)


def test_a_circuit_that_is_half_full_of_another_mix_is_topped_up() -> None:
    """6 of 12 l at 30 % hold 1.8 l; 6 are wanted: 4.2 l of concentrate, 1.8 of water."""
    answer = fill(12, half(), there_litres=6, there_share=0.3)
    assert answer.drained_litres == 0
    assert answer.concentrate_litres == pytest.approx(4.2)
    assert answer.water_litres == pytest.approx(1.8)


@given(st.floats(1, 40), st.floats(0, 1), st.floats(0, 1), st.floats(0.2, 0.6))
def test_whatever_was_in_it_comes_to_the_mixture_and_is_full(
    litres: float, full: float, there_share: float, share: float
) -> None:
    mixture = mixture_of(share)
    assert isinstance(mixture, Mixture)
    there = min(full * litres, litres)
    answer = fill(litres, mixture, there_litres=there, there_share=there_share)
    stays = there - answer.drained_litres
    poured = answer.concentrate_litres + answer.water_litres
    assert stays + poured == pytest.approx(litres)
    glycol = stays * there_share + answer.concentrate_litres
    assert glycol / litres == pytest.approx(share)
    assert -1e-9 <= answer.drained_litres <= there + 1e-9
    # drained only where nothing else would do
    if answer.drained_litres > 1e-9:
        assert min(answer.concentrate_litres, answer.water_litres) == pytest.approx(0, abs=1e-9)


def test_filled_up_with_a_ready_mix_it_lies_between() -> None:
    """4 of 10 l at 25 %, 6 l of 50 %: (1 + 3) / 10."""
    assert topped_up(10, 4, 0.25, 0.5) == pytest.approx(0.4)


def test_a_circuit_of_unknown_volume_and_one_with_too_much_in_it_are_refused() -> None:
    assert coolant_fill(0, half()) == NoMixture(why="no volume")
    assert coolant_fill(10, half(), there_litres=11) == NoMixture(why="more than it holds")
    assert coolant_fill(10, half(), there_litres=1, there_share=1.1) == NoMixture(why="too strong")
