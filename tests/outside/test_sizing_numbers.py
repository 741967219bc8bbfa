"""Worked numbers of sizing against published and recomputed ones.

Each says where it comes from: "read" in the source's text, "recomputed" by a script apart from the
program, "common practice, no source".
"""

import math

import pytest

from webapp.build.data_sheet import Pulley
from webapp.sizing.air_demand import AirDemand, air_kg_s, free_air_m3_h
from webapp.sizing.belt import BeltWay, belt_way
from webapp.sizing.boiling import Cap, boils_at_c
from webapp.sizing.charge_heat import (
    Compressor,
    Cooler,
    compressor_outlet_c,
    cooler_outlet_c,
    density_ratio,
)
from webapp.sizing.coolant_flow import CoolantHeat, coolant_flow
from webapp.sizing.coolant_heat import FuelHeat, coolant_kw, fuel_kg_h, fuel_kw
from webapp.sizing.coolant_properties import Coolant
from webapp.sizing.exhaust import gas_kg_s
from webapp.sizing.expansion import ExpansionRoom, growth_litres
from webapp.sizing.fuse import next_fuse_a
from webapp.sizing.gas_flow import GasFlow, lost_kpa, mach, speed_m_s
from webapp.sizing.growth import HotPipe, growth_mm
from webapp.sizing.liquid_flow import LiquidFlow, lift_kpa
from webapp.sizing.liquid_flow import lost_kpa as liquid_lost_kpa
from webapp.sizing.liquid_flow import speed_m_s as liquid_speed_m_s
from webapp.sizing.pipe_loss import (
    SMOOTH_MM,
    STEEL_MM,
    Stretch,
    area_m2,
    bend_loss,
    friction_factor,
    step_up_loss,
)
from webapp.sizing.state_of_air import air_kpa, density_kg_m3, viscosity_pa_s
from webapp.sizing.voltage_drop import WireRun, drop_v

CFM_M3_H = 0.3048**3 * 60
"""A cubic foot a minute in m³/h."""
CUBIC_INCH_L = 0.0254**3 * 1000
KPA_IN_INH2O = 0.249089
"""Inch of water at 4 °C (recomputed)."""
IN_MM = 25.4


def number(value: object) -> float:
    """The number, where there is one."""
    assert isinstance(value, float)
    return value


# --- air asked for ------------------------------------------------------------------------------


def test_air_of_a_four_litre_diesel() -> None:
    """0.88, 2600 rpm, 1.0 bar gauge and 50 °C in the manifold: 0.1655 kg/s, 503 m³/h at 25 °C, 296
    cfm; 0.0903 kg/s and 275 m³/h without boost at 25 °C (recomputed)."""
    said = {"displacement_l": 4.0, "rpm": 2600.0, "volumetric_efficiency": 0.88}
    kg_s = number(air_kg_s(AirDemand(**said, manifold_kpa=201.325, manifold_c=50)))  # type: ignore[arg-type]
    assert kg_s == pytest.approx(0.165528, rel=1e-4)
    assert kg_s * 60 == pytest.approx(9.93, abs=0.005)
    assert free_air_m3_h(kg_s, 25) == pytest.approx(503, abs=0.6)
    assert free_air_m3_h(kg_s, 25) / CFM_M3_H == pytest.approx(296, abs=0.5)
    plain = number(air_kg_s(AirDemand(**said, manifold_kpa=101.325, manifold_c=25)))  # type: ignore[arg-type]
    assert plain == pytest.approx(0.0903, abs=5e-5)
    assert free_air_m3_h(plain, 25) == pytest.approx(275, abs=0.6)


def test_air_by_the_formula_in_cubic_feet() -> None:
    """cfm = cubic inches x rpm / 3456 x efficiency: 360 at 3000 rpm and 80 % is 250 (read)."""
    engine = AirDemand(
        displacement_l=360 * CUBIC_INCH_L,
        rpm=3000,
        manifold_kpa=air_kpa(0),
        manifold_c=25,
        volumetric_efficiency=0.80,
    )
    assert free_air_m3_h(number(air_kg_s(engine)), 25) / CFM_M3_H == pytest.approx(250, abs=0.1)


def test_air_of_a_boosted_engine_at_the_filter_and_in_the_manifold() -> None:
    """3.9 l, 2500 rpm, 0.90, 239.325 kPa absolute and 52 °C: 0.1875 kg/s, 335.6 cfm at the filter,
    154.9 at manifold density (recomputed)."""
    kg_s = number(
        air_kg_s(
            AirDemand(
                displacement_l=3.9,
                rpm=2500,
                manifold_kpa=239.325,
                manifold_c=52,
                volumetric_efficiency=0.90,
            )
        )
    )
    assert kg_s == pytest.approx(0.1875, abs=1e-4)
    assert free_air_m3_h(kg_s, 25) / CFM_M3_H == pytest.approx(335.6, abs=0.2)
    in_manifold = kg_s * 3600 / density_kg_m3(239.325, 52)
    assert in_manifold / CFM_M3_H == pytest.approx(154.9, abs=0.1)


def test_the_limit_of_a_dirty_filter_is_25_inches_of_water() -> None:
    """6.22 kPa, US Army TM 5-3820-256-24-5 (read); 15 in clean, a maker's workshop page (read)."""
    from webapp.sizing.pipe_air import INTAKE_LOSS

    assert INTAKE_LOSS.tight == pytest.approx(25 * KPA_IN_INH2O, abs=0.05)
    assert INTAKE_LOSS.ok == pytest.approx(15 * KPA_IN_INH2O, abs=0.05)


# --- charge pipe --------------------------------------------------------------------------------

HOT = GasFlow(kg_s=0.165528, kpa=209.3, celsius=130.75)


def test_the_charge_pipe_of_60_mm() -> None:
    """1.805 kg/m³, 32.4 m/s, Mach 0.080, Re 1.53e5, f 0.0166 (recomputed)."""
    assert density_kg_m3(HOT.kpa, HOT.celsius) == pytest.approx(1.805, abs=1e-3)
    assert speed_m_s(HOT, 60) == pytest.approx(32.4, abs=0.05)
    assert mach(HOT, 60) == pytest.approx(0.080, abs=5e-4)
    reynolds = HOT.kg_s / area_m2(60) * 0.060 / viscosity_pa_s(HOT.celsius)
    assert reynolds == pytest.approx(1.53e5, rel=5e-3)
    assert number(friction_factor(reynolds, SMOOTH_MM / 60)) == pytest.approx(0.0166, abs=5e-5)
    assert speed_m_s(HOT, 44.5) == pytest.approx(58.9, abs=0.1)
    assert speed_m_s(HOT, 38) == pytest.approx(80.8, abs=0.1)
    assert mach(HOT, 38) == pytest.approx(0.20, abs=5e-3)


@pytest.mark.parametrize(
    ("bore_mm", "kpa"),
    # the list reckons with one loss number of 0.257 a bend, that of 60 mm, for every bore; smaller
    # bores have more, so the program says up to 8 % more there
    [(60, 1.466), (44.5, 5.5), (38, 11.324)],
)
def test_pressure_lost_in_a_charge_pipe(bore_mm: float, kpa: float) -> None:
    """1.8 m and four bends of 90 degrees, isothermal (recomputed)."""
    way = (Stretch(bore_mm=bore_mm, length_mm=1800, turn_deg=360),)
    lost = number(lost_kpa(HOT, way))
    assert kpa * 0.99 <= lost <= kpa * 1.08
    if bore_mm == 60:
        assert lost == pytest.approx(kpa, rel=2e-3)


def test_parts_of_that_loss() -> None:
    """Pipe 0.47, bends 0.98 kPa by the plain sum, which falls short by 1.3 % (recomputed)."""
    dynamic = density_kg_m3(HOT.kpa, HOT.celsius) * speed_m_s(HOT, 60) ** 2 / 2 / 1000
    assert 0.0166 * 30 * dynamic == pytest.approx(0.47, abs=5e-3)
    bends = 4 * bend_loss(60, 90)
    assert bends * dynamic == pytest.approx(0.98, abs=8e-3)
    isothermal = number(lost_kpa(HOT, (Stretch(bore_mm=60, length_mm=1800, turn_deg=360),)))
    plain = (0.01658 * 30 + bends) * dynamic
    assert 1 - plain / isothermal == pytest.approx(0.013, abs=2e-3)


def test_steps_of_bore() -> None:
    """57 to 70 mm 0.114, 51 to 76 mm 0.302 (recomputed)."""
    assert step_up_loss(57, 70) == pytest.approx(0.114, abs=5e-4)
    assert step_up_loss(51, 76) == pytest.approx(0.302, abs=5e-4)


def test_air_through_pipes_of_inches() -> None:
    """0.15 kg/s at 240 kPa and 52 °C, 2.0 m, 1.5 um: 2.37 in 20.50 m/s and 296 Pa, 2.87 in 13.98
    m/s and 118 Pa; a bend in 2.37 in 115 to 139 Pa by method (recomputed with fluids)."""
    flow = GasFlow(kg_s=0.15, kpa=240, celsius=52)
    for inches, speed, pascal in ((2.37, 20.50, 296), (2.87, 13.98, 118)):
        bore_mm = inches * IN_MM
        assert speed_m_s(flow, bore_mm) == pytest.approx(speed, abs=0.02)
        way = (Stretch(bore_mm=bore_mm, length_mm=2000),)
        assert number(lost_kpa(flow, way)) * 1000 == pytest.approx(pascal, rel=0.02)
    bend = number(lost_kpa(flow, (Stretch(bore_mm=2.37 * IN_MM, turn_deg=90),))) * 1000
    assert 115 <= bend <= 139 * 1.01


def test_bores_of_tubes() -> None:
    """2.5 in outside with a wall of 0.065: 2.370 in, 28.46 cm²; 3.0: 2.870 in, 41.74 cm²
    (recomputed)."""
    from tests.plumbing.small import tube
    from webapp.sizing.way import bores_mm

    for outside, inside, square_cm in ((2.5, 2.370, 28.46), (3.0, 2.870, 41.74)):
        bores = bores_mm(tube(outside * IN_MM, wall_mm=0.065 * IN_MM))
        assert bores == pytest.approx((inside * IN_MM,))
        assert area_m2(inside * IN_MM) * 1e4 == pytest.approx(square_cm, abs=0.01)


# --- heat of the charge -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("inlet_c", "ratio", "efficiency", "outlet_c"),
    [
        # told as a ratio of 2.17: 101.325 + 100 + 8 kPa over 101.325 - 5 (recomputed)
        (25, 209.325 / 96.325, 0.70, 130.746),
        (25, 2.0, 0.70, 118.3),  # formula read in university notes, value recomputed
        (25, 2.4, 0.70, 146.0),  # the same
        # the web quotes 130 from a book for this; the formula gives 102.5 (recomputed)
        (20, 1.8, 0.65, 102.5),
    ],
)
def test_behind_the_compressor(
    inlet_c: float, ratio: float, efficiency: float, outlet_c: float
) -> None:
    compressor = Compressor(
        inlet_c=inlet_c, inlet_kpa=100, outlet_kpa=100 * ratio, efficiency=efficiency
    )
    assert number(compressor_outlet_c(compressor)) == pytest.approx(outlet_c, abs=0.05)


def test_behind_the_cooler() -> None:
    """130.75 to 56.7 and 146.0 to 61.3 °C by 0.70; density 1.80 with it, 1.47 without
    (recomputed)."""
    for hot, cool in ((130.746, 56.72), (146.0, 61.3)):
        cooler = Cooler(inlet_c=hot, cooled_by_c=25, effectiveness=0.70)
        assert number(cooler_outlet_c(cooler)) == pytest.approx(cool, abs=0.05)
    assert density_ratio(201.325, 56.72, 25) == pytest.approx(1.80, abs=5e-3)
    assert density_ratio(201.325, 130.75, 25) == pytest.approx(1.47, abs=5e-3)


# --- coolant ------------------------------------------------------------------------------------


def test_heat_from_the_fuel() -> None:
    """110 kW at 230 g/kWh: 25.3 kg/h, 30.3 l/h at 0.835, 300 kW, a quarter 75; 100 kW at 220
    g/kWh: 260.9 kW (recomputed), of which about 30 % go to the coolant (read): 78.3."""
    assert fuel_kg_h(110, 230) == pytest.approx(25.3)
    assert fuel_kg_h(110, 230) / 0.835 == pytest.approx(30.3, abs=0.01)
    engine = FuelHeat(power_kw=110, fuel_g_kwh=230)
    assert number(fuel_kw(engine)) == pytest.approx(300, abs=0.2)
    assert number(coolant_kw(engine)) == pytest.approx(75, abs=0.1)
    other = FuelHeat(power_kw=100, fuel_g_kwh=220, coolant_share=0.30)
    assert number(fuel_kw(other)) == pytest.approx(260.9, abs=0.1)
    assert number(coolant_kw(other)) == pytest.approx(78.3, abs=0.1)


def coolant(heat_kw: float, share: float) -> LiquidFlow:
    flow = coolant_flow(CoolantHeat(heat_kw=heat_kw, rise_k=8, coolant=Coolant(share=share)))
    assert isinstance(flow, LiquidFlow)
    return flow


def test_flow_for_the_heat() -> None:
    """70 kW at 8 K: 2.464 kg/s and 143 l/min of half and half, 129 l/min of water; 80 kW: 164
    (recomputed)."""
    half = coolant(70, 0.5)
    assert half.m3_s * half.density_kg_m3 == pytest.approx(2.464095, rel=5e-4)
    assert half.m3_s * 60_000 == pytest.approx(143, abs=0.5)
    assert coolant(70, 0).m3_s * 60_000 == pytest.approx(129, abs=0.5)
    assert coolant(80, 0.5).m3_s * 60_000 == pytest.approx(164, abs=0.5)


@pytest.mark.parametrize(
    ("bore_mm", "speed", "kpa"),
    [(32, 2.97, 7.3), (35, 2.48, 4.9), (38, 2.11, 3.4), (45, 1.50, 1.6)],
)
def test_coolant_in_a_hose(bore_mm: float, speed: float, kpa: float) -> None:
    """143 l/min, 1.2 m and three bends (recomputed, bends by another method: within 5 %)."""
    flow = coolant(70, 0.5)
    assert liquid_speed_m_s(flow, bore_mm) == pytest.approx(speed, abs=0.01)
    way = (Stretch(bore_mm=bore_mm, length_mm=1200, turn_deg=270),)
    assert number(liquid_lost_kpa(flow, way)) == pytest.approx(kpa, rel=0.05)


def test_what_hoses_hold() -> None:
    """3 m of 19 mm 0.85 l, 1.5 m of 35 mm 1.44 l; a foot of 5/8 in 0.0603, 3/4 0.0869, 1 1/4
    0.2413, 1 1/2 0.3475, 1 3/4 0.4730 l (recomputed)."""
    from tests.plumbing.small import hose
    from webapp.plumbing.litres import piece_litres

    cases = [(19.0, 3000.0, 0.850586), (35.0, 1500.0, 1.443)]
    cases += [
        (inches * IN_MM, 304.8, litres)
        for inches, litres in (
            *((0.625, 0.0603), (0.75, 0.0869), (1.25, 0.2413), (1.5, 0.3475), (1.75, 0.4730)),
        )
    ]
    for bore_mm, length_mm, litres in cases:
        assert number(piece_litres(hose(bore_mm, length_mm))) == pytest.approx(litres, rel=1e-3)


def test_growth_of_coolant() -> None:
    """20 to 95 °C: half and half 4.5 %, 12 l grow by 0.54; water 3.8 %, 0.45 (recomputed)."""
    for share, litres in ((0.5, 0.54), (0.0, 0.45)):
        room = ExpansionRoom(circuit_litres=12, room_litres=1, coolant=Coolant(share=share))
        assert number(growth_litres(room)) == pytest.approx(litres, abs=0.005)


@pytest.mark.parametrize(
    ("share", "boils"),
    [
        (0.0, (99.8, 111.6, 118.9, 121.1, 122.1, 126.4)),
        (0.3, (103.5, 115.5, 122.9, 125.1, 126.2, 130.6)),
        (0.5, (107.8, 120.1, 127.7, 129.9, 131.0, 135.5)),
        (0.6, (111.1, 123.6, 131.3, 133.6, 134.7, 139.3)),
    ],
)
def test_boiling_under_a_cap(share: float, boils: tuple[float, ...]) -> None:
    """Caps of 0, 0.5, 0.9, 1.034, 1.1, 1.4 bar at sea level (recomputed)."""
    for cap, celsius in zip((0, 0.5, 0.9, 1.034, 1.1, 1.4), boils, strict=True):
        found = number(boils_at_c(Cap(cap_bar=cap, height_m=0, share=share)))
        assert found == pytest.approx(celsius, abs=0.06)


def test_boiling_as_it_is_published() -> None:
    """Half and half: 226 °F in the open, 262 to 265 °F under 15 psi (read)."""
    free = number(boils_at_c(Cap(cap_bar=0, height_m=0, share=0.5)))
    assert free * 1.8 + 32 == pytest.approx(226, abs=0.5)
    pressed = number(boils_at_c(Cap(cap_bar=1.034, height_m=0, share=0.5)))
    assert 262 <= pressed * 1.8 + 32 <= 266


def test_boiling_higher_up() -> None:
    """1500 m is 84.56 kPa (ISA); half and half under 0.9 bar boils at 124.7 °C (recomputed)."""
    assert air_kpa(1500) == pytest.approx(84.56, abs=0.01)
    found = number(boils_at_c(Cap(cap_bar=0.9, height_m=1500, share=0.5)))
    assert found == pytest.approx(124.7, abs=0.06)


# --- fuel ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("mm2_s", "bore_mm", "speed", "kpa"),
    [(3.5, 6, 0.59, 6.1), (3.5, 8, 0.33, 1.923), (3.5, 10, 0.21, 0.8), (8.0, 8, 0.33, 4.4)],
)
def test_fuel_in_a_line(mm2_s: float, bore_mm: float, speed: float, kpa: float) -> None:
    """60 l/h through 4 m; the list reckons with 2.9 mPa s, 828.57 kg/m³ (recomputed)."""
    flow = LiquidFlow(m3_s=60 / 3.6e6, density_kg_m3=2.9e-3 / 3.5e-6, viscosity_m2_s=mm2_s * 1e-6)
    assert liquid_speed_m_s(flow, bore_mm) == pytest.approx(speed, abs=5e-3)
    lost = number(liquid_lost_kpa(flow, (Stretch(bore_mm=bore_mm, length_mm=4000),)))
    assert lost == pytest.approx(kpa, abs=0.05)
    if kpa == 1.923:
        assert lost == pytest.approx(1.923122, rel=1e-5)


def test_lift_of_fuel() -> None:
    """Half a metre 4.1 kPa (recomputed)."""
    assert lift_kpa(835, 0.5) == pytest.approx(4.1, abs=0.01)


# --- wire, fuse, exhaust, belt, growth ----------------------------------------------------------


@pytest.mark.parametrize(
    ("amps", "mm2", "metres", "celsius", "volts"),
    [
        (300, 25, 5, 20, 1.17),
        (300, 35, 5, 20, 0.83),
        (300, 50, 5, 20, 0.579),
        (300, 70, 5, 20, 0.41),
        (300, 50, 5, 60, 0.670019),
        (10, 2.5, 8, 20, 0.64),
        (10, 4, 8, 20, 0.40),
    ],
)
def test_volts_lost(amps: float, mm2: float, metres: float, celsius: float, volts: float) -> None:
    """IEC 60228 class 5 (read in three tables), drops recomputed."""
    wire = WireRun(current_a=amps, area_mm2=mm2, out_and_back_m=metres, celsius=celsius)
    assert number(drop_v(wire)) == pytest.approx(volts, abs=5e-3)


def test_a_fuse_for_14_amps() -> None:
    """14 / 0.8 = 17.5, the next blade is 20 A (ISO 8820-3, cited)."""
    assert next_fuse_a(14) == 20


@pytest.mark.parametrize(
    ("bore_mm", "speed", "kpa"),
    [(63.5, 117, 7.5), (70, 97, 4.8), (76, 82, 3.3), (89, 60, 1.6)],
)
def test_exhaust_gas_in_a_pipe(bore_mm: float, speed: float, kpa: float) -> None:
    """0.172 kg/s at 550 °C, 4 m and four bends (recomputed): by the plain sum, at 109.3 kPa. The
    isothermal form says 12 % more where 7 % of the pressure is lost, and less apart in wider
    pipes."""
    assert gas_kg_s(0.1655, "diesel") == pytest.approx(0.172, abs=5e-4)
    flow = GasFlow(kg_s=0.172, kpa=109.3, celsius=550)
    assert speed_m_s(flow, bore_mm) == pytest.approx(speed, abs=0.6)
    reynolds = flow.kg_s / area_m2(bore_mm) * bore_mm / 1000 / viscosity_pa_s(550)
    factor = number(friction_factor(reynolds, STEEL_MM / bore_mm))
    dynamic = density_kg_m3(109.3, 550) * speed_m_s(flow, bore_mm) ** 2 / 2 / 1000
    plain = (factor * 4000 / bore_mm + 4 * bend_loss(bore_mm, 90)) * dynamic
    assert plain == pytest.approx(kpa, rel=0.03)
    way = (Stretch(bore_mm=bore_mm, length_mm=4000, turn_deg=360),)
    isothermal = number(lost_kpa(flow, way, STEEL_MM))
    assert plain < isothermal < plain * 1.13


def pulleys(*circles: tuple[float, float, float], back: int | None = None) -> tuple[Pulley, ...]:
    return tuple(
        Pulley(name=f"{at}", x_mm=x, y_mm=y, diameter_mm=2 * r, is_back=at == back)
        for at, (x, y, r) in enumerate(circles)
    )


def belt(*circles: tuple[float, float, float], back: int | None = None) -> BeltWay:
    way = belt_way(pulleys(*circles, back=back))
    assert isinstance(way, BeltWay)
    return way


def test_belts_round_two_pulleys_open_and_crossed() -> None:
    """60 and 150 mm at 300: 936.63, crossed 967.007 mm (Shigley, sections 17-1 and 17-2, cited;
    recomputed). Open by hand: b = asin(90/600), 600 cos b + pi 105 + 90 b."""
    angle = math.asin(90 / 600)
    by_hand = 600 * math.cos(angle) + math.pi * 105 + 90 * angle
    assert by_hand == pytest.approx(936.629971, abs=1e-5)
    assert belt((0, 0, 30), (300, 0, 75)).length_mm == pytest.approx(by_hand, abs=1e-9)
    crossed = belt((0, 0, 30), (300, 0, 75), back=1).length_mm
    assert crossed == pytest.approx(967.00698, abs=1e-4)


def test_a_belt_round_three_pulleys() -> None:
    """Radii 75, 35, 60: 1185.194 mm, wraps 143.5, 92.9, 123.7 degrees (recomputed)."""
    way = belt((0, 0, 75), (260, 90, 35), (120, 280, 60))
    assert way.length_mm == pytest.approx(1185.193889, abs=1e-5)
    assert way.wraps_deg == pytest.approx((143.5, 92.9, 123.7), abs=0.05)


@pytest.mark.parametrize(
    ("material", "metres", "hot_c", "grows_mm"),
    [("stainless", 1.5, 600, 14.964), ("aluminium", 1.2, 140, 3.4)],
)
def test_growth_by_heat(material: str, metres: float, hot_c: float, grows_mm: float) -> None:
    """From 20 °C; coefficients of handbooks (cited), lengths recomputed."""
    pipe = HotPipe(length_mm=metres * 1000, material=material, hot_c=hot_c, gives_way=True)
    assert number(growth_mm(pipe)) == pytest.approx(grows_mm, abs=0.04)
