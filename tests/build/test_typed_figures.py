"""Figures of the data sheet typed in any system."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.build.data_sheet import FIGURES, FigureName
from webapp.build.typed_figures import (
    doubt_of,
    figure_text,
    in_unit,
    outside_of,
    own_unit,
    read_figure,
    wire_mm2,
)
from webapp.build.units import ShopUnits


@pytest.mark.parametrize(
    ("name", "texts", "value"),
    [
        # 1.2 bar over 0.0689475729 bar a psi
        ("boost_bar", ("1.2 bar", "1,2", "120 kPa", "17.404528 psi"), 1.2),
        # 745.69987 W, 735.49875 W
        ("power_kw", ("96 kW", "96", "128.738120 hp", "130.523675 PS"), 96),
        ("displacement_l", ("2.2", "2200 cc", "134.252232 cu in"), 2.2),
        ("height_m", ("240", "240 m", "787.401575 ft"), 240),
        ("intake_c", ("25", "25 °C", "77 °F", "77 F", "25 deg C"), 25),
        ("filter_m3_h", ("500 m3/h", "294.288889 cfm"), 500),
        ("pump_flow_l_h", ("70", "18.492043 US gal/h", "15.397848 imp gal/h"), 70),
        ("fuel_g_kwh", ("230", "0.3781170 lb/hph"), 230),
        ("filter_loss_kpa", ("1.6", "0.016 bar", "6.423587 inH2O"), 1.6),
        ("fuel_mm2_s", ("8", "8 cSt"), 8),
        ("tank_room_l", ("0.9", "0.951019 US qt", "900 ml"), 0.9),
    ],
)
def test_any_system_gives_one_answer(
    name: FigureName, texts: tuple[str, ...], value: float
) -> None:
    for text in texts:
        assert read_figure(text, name).value == pytest.approx(value, rel=2e-6)


def test_a_bare_number_is_in_the_shops_own_unit() -> None:
    """Power of 400 lb-ft at 4500 rpm, 342.7 hp (recomputed), is 255.6 kW."""
    assert read_figure("342.7", "power_kw", "us").value == pytest.approx(255.55, abs=0.01)
    assert read_figure("17.4", "boost_bar", "imperial").value == pytest.approx(1.1997, abs=1e-4)
    assert read_figure("10", "pump_flow_l_h", "us").value == pytest.approx(37.85, abs=0.01)
    assert read_figure("10", "pump_flow_l_h", "imperial").value == pytest.approx(45.46, abs=0.01)
    assert own_unit("tank_room_l", "us") == "US gal"
    assert own_unit("displacement_l", "us") == "cu in"
    assert read_figure("134.252232", "displacement_l", "us").value == pytest.approx(2.2)


@pytest.mark.parametrize(
    ("text", "name", "words"),
    [
        ("", "boost_bar", "is no number. Enter one, in bar."),
        ("much", "volumetric_efficiency", "is no number. Enter one."),
        ("12 °F", "boost_bar", "is no unit here. Use one of bar, kPa, psi."),
        ("3 gal", "tank_room_l", "is no unit here. Use one of l, cc"),
    ],
)
def test_what_can_not_be_read_is_told_with_a_remedy(
    text: str, name: FigureName, words: str
) -> None:
    answer = read_figure(text, name)
    assert answer.value is None
    assert words in answer.fault


@given(st.sampled_from(sorted(FIGURES)), st.sampled_from(("metric", "us", "imperial")))
def test_the_own_unit_of_every_figure_is_read(name: FigureName, units: ShopUnits) -> None:
    said = f"3 {own_unit(name, units)}".strip()
    assert read_figure(said, name, units) == read_figure("3", name, units)
    assert read_figure(said, name, units).value is not None


@pytest.mark.parametrize(
    ("gauge", "mm2"),
    # ASTM B258 as handbooks print it
    [
        ("10", 5.261),
        ("AWG 4", 21.15),
        ("2 awg", 33.62),
        ("0", 53.49),
        ("2/0", 67.43),
        ("0000", 107.2),
    ],
)
def test_wire_gauges_by_their_area(gauge: str, mm2: float) -> None:
    assert wire_mm2(gauge) == pytest.approx(mm2, rel=1e-3)


def test_what_is_no_gauge_is_none() -> None:
    assert wire_mm2("50 mm²") is None
    assert wire_mm2("99") is None


def test_gauge_and_absolute_celsius_and_fahrenheit_are_asked_for_where_unlikely() -> None:
    assert doubt_of("boost_bar", 1.2) == ""
    assert "gauge" in doubt_of("boost_bar", 2.3)
    assert "°F" in doubt_of("hottest_coolant_c", 140)
    assert "psi" in doubt_of("cap_bar", 2)
    assert doubt_of("power_kw", 2000) == ""
    assert doubt_of("boost_bar", 0) == ""
    assert doubt_of("boost_bar", 1.5) == ""
    assert "gauge" in doubt_of("boost_bar", 1.5, "petrol")
    # 1.2 and 1.0, meant in bar, in a field of psi
    assert "in that unit" in doubt_of("boost_bar", 1.2 * 0.0689476)
    assert "in that unit" in doubt_of("cap_bar", 0.0689476)
    assert "minus" in doubt_of("frost_c", 25)
    assert "Above 60 %" in doubt_of("antifreeze_percent", 70)


def test_a_figure_that_can_not_be_is_told_in_the_shops_unit_with_the_usual_slip() -> None:
    assert outside_of("boost_bar", 1.2) == ""
    assert outside_of("boost_bar", 18) == (
        "18 bar lies outside 0 to 4 bar. If it is in kPa, write that beside it."
    )
    # 221 °F typed into a field of °C; 105 °C typed into one of °F is 40.6 °C
    assert "If it is in °F" in outside_of("hottest_coolant_c", 221)
    cold = (105 - 32) / 1.8
    assert outside_of("hottest_coolant_c", cold, "us").startswith("105 °F lies outside 140 to 302")
    assert "If it is in °C" in outside_of("hottest_coolant_c", cold, "us")
    for name in ("displacement_l", "full_power_rpm", "exhaust_bore_mm", "filter_m3_h"):
        assert outside_of(name, 0)
        assert outside_of(name, -1)


@given(
    st.sampled_from(sorted(name for name in FIGURES if not FIGURES[name].choices)),
    st.floats(0, 1),
    st.sampled_from(("metric", "us", "imperial")),
)
def test_what_a_field_shows_is_read_back_to_six_figures(
    name: FigureName, share: float, units: ShopUnits
) -> None:
    kind, own = FIGURES[name], own_unit(name, units)
    value = kind.least + share * (kind.most - kind.least)
    text = figure_text(value, kind.unit, own)
    for said in (text, f"{text} {own}".strip()):
        read = read_figure(said, name, units).value
        assert read is not None
        assert in_unit(read, kind.unit, own) == pytest.approx(
            in_unit(value, kind.unit, own), rel=6e-6, abs=1e-6
        )
