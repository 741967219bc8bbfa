"""More worked numbers of sizing against published and recomputed ones, each with its source."""

import math
from dataclasses import replace
from typing import Any

import pytest

from webapp.build.typed_figures import read_figure
from webapp.plumbing.coolant import Mixture, coolant_fill, mixture_of
from webapp.sizing.air_demand import AirDemand, air_kg_s, free_air_m3_h
from webapp.sizing.answers import Outside
from webapp.sizing.boiling import glycol_moles
from webapp.sizing.charge_heat import Compressor, compressor_outlet_c
from webapp.sizing.coolant_properties import Coolant, CoolantState, coolant_at
from webapp.sizing.expansion import ExpansionRoom, growth_litres
from webapp.sizing.gas_flow import GasFlow, TooFast, lost_kpa, speed_m_s
from webapp.sizing.left_to_others import left_to_others
from webapp.sizing.pipe_loss import SMOOTH_MM, Stretch, area_m2, bend_loss, friction_factor
from webapp.sizing.state_of_air import air_kpa, density_kg_m3, viscosity_pa_s
from webapp.sizing.voltage_drop import WireRun, voltage_drop

HOT = GasFlow(kg_s=0.165528, kpa=209.3, celsius=130.75)


@pytest.mark.parametrize(("bore_mm", "falls_short"), [(60, 0.013), (44.5, 0.045), (38, 0.093)])
def test_the_plain_sum_falls_short_of_the_isothermal_one(
    bore_mm: float, falls_short: float
) -> None:
    """By 1.3, 4.5 and 9.3 % where 0.7, 2.5 and 5 % of the pressure are lost (recomputed); our
    loss of a bend grows in small bores, so a little more there."""
    lost = lost_kpa(HOT, (Stretch(bore_mm=bore_mm, length_mm=1800, turn_deg=360),))
    assert isinstance(lost, float)
    reynolds = HOT.kg_s / area_m2(bore_mm) * bore_mm / 1000 / viscosity_pa_s(HOT.celsius)
    factor = friction_factor(reynolds, SMOOTH_MM / bore_mm)
    assert isinstance(factor, float)
    dynamic = density_kg_m3(HOT.kpa, HOT.celsius) * speed_m_s(HOT, bore_mm) ** 2 / 2 / 1000
    plain = (factor * 1800 / bore_mm + 4 * bend_loss(bore_mm, 90)) * dynamic
    assert 1 - plain / lost == pytest.approx(falls_short, abs=0.008)


def test_where_a_tenth_of_the_pressure_is_lost_no_number_is_given() -> None:
    """32 mm: 23 % between the two at a tenth lost (recomputed), and beyond what is given."""
    way = (Stretch(bore_mm=32, length_mm=1800, turn_deg=360),)
    assert isinstance(lost_kpa(HOT, way), TooFast)


def test_a_bend_of_60_mm() -> None:
    """0.257 by Crane's method (recomputed with fluids)."""
    assert bend_loss(60, 90) == pytest.approx(0.257, abs=3e-3)


def test_coolant_at_90_degrees() -> None:
    """Half and half 3551 J/kg K, 1031 kg/m³, 0.83 mPa s; water 4205, 965, 0.315 (recomputed)."""
    for share, heat, density, viscosity in ((0.5, 3551, 1031, 0.83), (0.0, 4205, 965, 0.315)):
        state = coolant_at(Coolant(share=share), 90)
        assert isinstance(state, CoolantState)
        assert state.heat_j_kg_k == pytest.approx(heat, rel=1e-3)
        assert state.density_kg_m3 == pytest.approx(density, rel=1e-3)
        assert state.viscosity_pa_s * 1000 == pytest.approx(viscosity, rel=6e-3)


def test_topping_up_from_30_to_50_percent() -> None:
    """12 l: drain 12 x 0.2 / 0.7 = 3.43 l, and as much concentrate (by hand)."""
    mixture = mixture_of(0.5)
    assert isinstance(mixture, Mixture)
    fill = coolant_fill(12, mixture, there_litres=12, there_share=0.3)
    assert fill.drained_litres == pytest.approx(3.428571, rel=1e-6)  # type: ignore[union-attr]
    assert fill.concentrate_litres == pytest.approx(3.428571, rel=1e-6)  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("percent", "handbook_c", "near"),
    # 20 to 50 %: within a degree; at 60 % the handbook and ASHRAE differ by three
    [(20, -8, 1.1), (30, -16, 1.1), (40, -25, 1.1), (50, -37, 1.1), (60, -55, 3.1)],
)
def test_freezing_by_volume_as_a_handbook_has_it(
    percent: int, handbook_c: float, near: float
) -> None:
    """Handbook table of ethylene glycol by volume (read)."""
    mixture = mixture_of(percent / 100)
    assert isinstance(mixture, Mixture)
    assert mixture.freezes_at_c == pytest.approx(handbook_c, abs=near)


def test_mole_fractions() -> None:
    """30, 50, 60 % by volume: 0.122, 0.244, 0.327 (recomputed)."""
    for share, moles in ((0.3, 0.122), (0.5, 0.244), (0.6, 0.327)):
        assert glycol_moles(share) == pytest.approx(moles, abs=5e-4)


def test_growth_from_a_frost_is_not_given() -> None:
    """0.70 l of 12 from -20 °C (recomputed): the surfaces begin at 0 °C, so nothing is said."""
    room = ExpansionRoom(circuit_litres=12, room_litres=1, coolant=Coolant(share=0.5), cold_c=-20)
    assert isinstance(growth_litres(room), Outside)


def test_a_feed_in_percent() -> None:
    """10 A, 8 m: 5.3 % of 12 V in 2.5 mm², 3.3 % in 4 mm² (recomputed)."""
    for mm2, percent in ((2.5, 5.3), (4.0, 3.3)):
        run = WireRun(current_a=10, area_mm2=mm2, out_and_back_m=8)
        assert voltage_drop("w", run).value == pytest.approx(percent, abs=0.05)


def test_the_handbook_s_short_form_of_a_belt_is_a_hundredth_short() -> None:
    """2 C + pi/2 (d1 + d2) + (d2 - d1)² / 4C: 936.62 beside 936.63 (recomputed)."""
    short = 600 + math.pi / 2 * 210 + 90**2 / 1200
    assert short == pytest.approx(936.62, abs=5e-3)


@pytest.mark.slow
def test_real_air_behind_a_compressor_is_half_a_degree_cooler() -> None:
    """130.3 °C with CoolProp's air (recomputed) beside 130.7 of the formula."""
    props: Any = pytest.importorskip("CoolProp.CoolProp").PropsSI
    inlet, low, high, efficiency = 298.15, 96.325e3, 209.325e3, 0.70
    before = props("H", "T", inlet, "P", low, "Air")
    entropy = props("S", "T", inlet, "P", low, "Air")
    ideal = props("H", "P", high, "S", entropy, "Air")
    real = props("T", "P", high, "H", before + (ideal - before) / efficiency, "Air") - 273.15
    assert real == pytest.approx(130.3, abs=0.1)
    mine = compressor_outlet_c(
        Compressor(inlet_c=25, inlet_kpa=96.325, outlet_kpa=209.325, efficiency=efficiency)
    )
    assert mine == pytest.approx(real, abs=0.6)


@pytest.mark.parametrize(
    ("mass_share", "published_c"), [(0.3, -14.58), (0.4, -23.81), (0.5, -35.99), (0.6, -51.20)]
)
def test_freezing_by_mass_is_never_told_colder_than_it_is_published(
    mass_share: float, published_c: float
) -> None:
    """CoolProp's INCOMP::MEG works by mass (recomputed); 0.1 and 0.2 are thinner than is told of.

    The program works by volume: w / 1113 of w / 1113 + (1 - w) / 998.2, the densities in kg/m³ of
    glycol and water at 20 °C. Two data sets differ by 0.5 to 3.2 K here; the program's is the one
    that promises less.
    """
    glycol, water = mass_share / 1113, (1 - mass_share) / 998.2
    mixture = mixture_of(glycol / (glycol + water))
    assert isinstance(mixture, Mixture)
    assert published_c <= mixture.freezes_at_c <= published_c + 3.3


def test_power_of_a_torque_is_read_in_horsepower() -> None:
    """450 lb-ft at 4500 rpm is 385.6 hp: x 4500 / 5252.113 (by hand). No torque is typed in.

    1 lb-ft = 1.3558179 Nm; kW = Nm x rpm / 9549.297: 610.118 x 4500 / 9549.297 = 287.51.
    """
    assert pytest.approx(385.6, abs=0.05) == 450 * 4500 / 5252.113
    kilowatts = 450 * 1.3558179 * 4500 / 9549.297
    assert read_figure("385.565 hp", "power_kw").value == pytest.approx(kilowatts, rel=1e-4)


def test_an_engine_that_fills_itself_wholly_is_outside_of_the_formula() -> None:
    """360 cubic inches at 3000 rpm and 100 % are 312.5 cfm (read): no engine breathes so without
    boost, so nothing is said; at 95 %, the most that is, it is 0.95 of that: 296.9."""
    said = {"displacement_l": 360 * 0.016387064, "rpm": 3000.0, "manifold_kpa": air_kpa(0)}
    whole = AirDemand(**said, manifold_c=25, volumetric_efficiency=1.0)  # type: ignore[arg-type]
    assert isinstance(air_kg_s(whole), Outside)
    most = air_kg_s(replace(whole, volumetric_efficiency=0.95))
    assert isinstance(most, float)
    assert free_air_m3_h(most, 25) / 1.699011 == pytest.approx(0.95 * 312.5, abs=0.1)


def test_the_whirl_of_a_propshaft_is_left_to_its_shop() -> None:
    """6440 rpm for 1.4 m of 76.2 x 2.1 mm (recomputed): balance and welds are licensed practice,
    so no speed is worked out, whatever is drawn."""
    answer = left_to_others("propshaft", "the propshaft")
    assert (answer.word, answer.value, answer.limit) == ("not checked", None, None)
    assert "a propshaft shop" in answer.words
