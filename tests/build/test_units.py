"""Factors against their definitions, amounts as typed, and back."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.build.units import (
    SHOP_UNITS,
    UNITS,
    Quantity,
    ShopUnits,
    amount_words,
    inner,
    outer,
    read_amount,
    unit_of,
)


@pytest.mark.parametrize(
    ("value", "unit", "expected"),
    [
        (1, "in", 25.4),
        (1, "ft", 304.8),
        # 0.45359237 kg x 9.80665 m/s2 over (0.0254 m)2, NIST SP 811: 6894.757293168361 Pa
        (1, "psi", 0.06894757293168361),
        (100, "kPa", 1),
        (32, "°F", 0),
        (212, "°F", 100),
        (-40, "°F", -40),
        # 231 cubic inches; NIST SP 811: 3.785411784 l
        (1, "US gal", 3.785411784),
        (4, "US qt", 3.785411784),
        (1, "imp gal", 4.54609),
    ],
)
def test_the_factors_are_those_of_the_definitions(value: float, unit: str, expected: float) -> None:
    assert inner(value, unit) == pytest.approx(expected, rel=1e-15, abs=1e-12)


@given(st.floats(-1000, 10_000), st.sampled_from([unit.name for unit in UNITS]))
def test_there_and_back_is_the_same(value: float, unit: str) -> None:
    assert outer(inner(value, unit), unit) == pytest.approx(value, rel=1e-12, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "quantity", "units", "expected"),
    [
        ("1.1", "pressure", "metric", 1.1),
        ("1,1 bar", "pressure", "us", 1.1),
        ("15", "pressure", "us", 15 * 0.06894757293168361),
        ("15 PSI", "pressure", "metric", 15 * 0.06894757293168361),
        ("110 kPa", "pressure", "metric", 1.1),
        ("-13", "temperature", "imperial", -25),
        ("-25 °C", "temperature", "us", -25),
        ("-25c", "temperature", "us", -25),
        ("3", "volume", "us", 11.356235352),
        ("3", "volume", "imperial", 13.63827),
        ("3 US gal", "volume", "imperial", 11.356235352),
        ("12 l", "volume", "us", 12),
    ],
)
def test_what_is_typed_in_any_system_is_one_value(
    text: str, quantity: Quantity, units: ShopUnits, expected: float
) -> None:
    assert read_amount(text, quantity, units).value == pytest.approx(expected, rel=1e-12)


def test_what_can_not_be_read_says_how_to_write_it() -> None:
    assert read_amount("cold", "temperature").fault == "“cold” is no number. Enter one, in °C."
    assert "US gal or imp gal" in read_amount("3 gallons", "volume", "us").fault
    wrong = read_amount("3 psi", "volume")
    assert wrong.value is None
    assert wrong.fault == "“psi” is no unit here. Use one of l, ml, US gal, US qt, imp gal."


@given(
    st.floats(0, 400),
    st.sampled_from(["pressure", "temperature", "volume", "length"]),
    st.sampled_from(SHOP_UNITS),
)
def test_what_is_written_reads_as_the_same_to_its_last_digit(
    value: float, quantity: Quantity, units: ShopUnits
) -> None:
    unit = unit_of(quantity, units)
    written = amount_words(value, quantity, units)
    step = float(unit.factor) * 10**-unit.decimals
    for shop in SHOP_UNITS:  # its unit stands beside it, so any shop reads the same
        read = read_amount(written, quantity, shop).value
        assert read == pytest.approx(value, abs=step / 2 + 1e-9)


def test_amounts_are_written_in_the_units_of_the_shop() -> None:
    assert amount_words(1.1, "pressure") == "1.1 bar"
    assert amount_words(1.1, "pressure", "us") == "16 psi"
    assert amount_words(-25, "temperature", "imperial") == "-13 °F"
    assert amount_words(12, "volume", "us") == "3.17 US gal"
    assert amount_words(12, "volume", "imperial") == "2.64 imp gal"
