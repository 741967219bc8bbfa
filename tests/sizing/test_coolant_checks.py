"""Coolant: flow, hose, radiator, mixture, room to expand, cap and boiling."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from webapp.plumbing.coolant import Mixture, mixture_for
from webapp.sizing.answers import Answer, Limit, Outside
from webapp.sizing.boiling import (
    BoilingMargin,
    Cap,
    CapOnCircuit,
    boiling,
    boils_at_c,
    cap_rating,
)
from webapp.sizing.coolant_flow import (
    SUCKED_FLAT,
    CoolantHeat,
    CoolantHose,
    coolant_flow,
    coolant_speed,
)
from webapp.sizing.coolant_heat import (
    NEVER_SHUT,
    NOBODY_CAN_TELL,
    FuelHeat,
    RadiatorCompared,
    coolant_kw,
    fuel_kw,
    radiator,
)
from webapp.sizing.coolant_properties import Coolant, coolant_at
from webapp.sizing.expansion import ExpansionRoom, expansion, growth_litres
from webapp.sizing.liquid_flow import LiquidFlow, lost_kpa
from webapp.sizing.mixture import THIN, MixtureForFrost, mixture
from webapp.sizing.pipe_loss import Stretch

CHEAP = settings(max_examples=60, deadline=None)
HALF = Coolant(share=0.5)


def flow(litres_min: float) -> LiquidFlow:
    return LiquidFlow(m3_s=litres_min / 60_000, density_kg_m3=1031, viscosity_m2_s=0.8e-6)


def hose(litres_min: float, bore_mm: float, is_suction: bool = False) -> Answer:
    stretches = (Stretch(bore_mm=bore_mm, length_mm=1200, turn_deg=270),)
    return coolant_speed(
        "w_top", CoolantHose(flow=flow(litres_min), stretches=stretches, is_suction=is_suction)
    )


@pytest.mark.parametrize(
    ("bore_mm", "pressed", "sucked"),
    # 143 l/min: 2.97, 2.48, 2.11, 1.50 m/s
    [
        (28, "too small", "too small"),
        (32, "tight", "too small"),
        (35, "ok", "tight"),
        (38, "ok", "tight"),
        (45, "ok", "ok"),
    ],
)
def test_the_suction_side_is_held_tighter(bore_mm: float, pressed: str, sucked: str) -> None:
    assert hose(143.4, bore_mm).word == pressed
    answer = hose(143.4, bore_mm, is_suction=True)
    assert answer.word == sucked
    assert answer.remarks == (SUCKED_FLAT,)


def test_a_rise_that_no_engine_has_gets_no_flow() -> None:
    for said in ({"rise_k": 1}, {"heat_kw": 0}, {"coolant_c": 120}):
        asked = {"heat_kw": 70.0, "rise_k": 8.0, **said}
        assert isinstance(coolant_flow(CoolantHeat(**asked, coolant=HALF)), Outside)
    for share in (0.1, 0.7):
        heat = CoolantHeat(heat_kw=70, rise_k=8, coolant=Coolant(share=share))
        assert isinstance(coolant_flow(heat), Outside)


@CHEAP
@given(st.floats(1, 400), st.floats(15, 70), st.floats(0, 3000), st.floats(1, 1.5))
def test_more_flow_or_a_smaller_hose_never_loses_less(
    litres_min: float, bore: float, length: float, more: float
) -> None:
    def lost(flowing: float, wide: float) -> float | Outside:
        return lost_kpa(flow(flowing), (Stretch(bore_mm=wide, length_mm=length, turn_deg=90),))

    here = lost(litres_min, bore)
    for other in (lost(litres_min * more, bore), lost(litres_min, bore / more)):
        if isinstance(here, float) and isinstance(other, float):
            assert other >= here - 1e-9


def test_the_share_of_heat_lies_where_the_book_has_it() -> None:
    engine = FuelHeat(power_kw=110, fuel_g_kwh=230, coolant_share=0.4)
    assert isinstance(coolant_kw(engine), Outside)
    assert isinstance(fuel_kw(FuelHeat(power_kw=110, fuel_g_kwh=50)), Outside)
    petrol = FuelHeat(power_kw=110, fuel_g_kwh=280, fuel="petrol", coolant_share=0.3)
    assert isinstance(coolant_kw(petrol), Outside)


def test_a_radiator_is_compared_and_never_worked_out() -> None:
    same = radiator("rad", RadiatorCompared(core="same or more", air="same or more"), 75)
    assert (same.word, same.value, same.remarks) == ("ok", None, (NEVER_SHUT,))
    for core, air in (("less", "same or more"), ("same or more", "less")):
        answer = radiator("rad", RadiatorCompared(core=core, air=air))  # type: ignore[arg-type]
        assert answer.word == "tight"
        assert NOBODY_CAN_TELL in answer.remarks


@pytest.mark.parametrize(
    ("share", "frost_c", "words"),
    [
        (0.5, -30, "ok"),
        (0.5, -40, "too weak"),
        (0.25, -10, "tight"),
        (0.65, -30, "not checked: the share of antifreeze of 65 % lies outside 20 to 60 %"),
    ],
)
def test_a_mixture_is_held_against_the_frost(share: float, frost_c: float, words: str) -> None:
    answer = mixture("coolant", MixtureForFrost(share=share, frost_c=frost_c))
    assert answer.words == words
    assert (THIN in answer.remarks) == (share < 0.3)


def test_a_mixture_for_a_frost_stands_that_very_frost() -> None:
    """Worked out of a frost and back the freezing point may differ in its last digits."""
    for tenths in range(-520, -156):
        found = mixture_for(tenths / 10)
        assert isinstance(found, Mixture)
        inputs = MixtureForFrost(share=100 * found.share / 100, frost_c=tenths / 10)
        assert mixture("coolant", inputs).word == "ok", tenths
    # 40 % freezes at -24.8 °C: a hundredth of a degree more is too much
    assert mixture("coolant", MixtureForFrost(share=0.4, frost_c=-24.81)).word == "too weak"


@pytest.mark.parametrize(
    ("room", "word"), [(0.96, "ok"), (0.95, "tight"), (0.6, "tight"), (0.59, "too small")]
)
def test_room_to_expand(room: float, word: str) -> None:
    """12 l: 8 % are 0.96 l, 5 % 0.6 l."""
    answer = expansion("coolant", ExpansionRoom(circuit_litres=12, room_litres=room, coolant=HALF))
    assert answer.word == word


def test_a_circuit_of_no_volume_is_not_checked() -> None:
    answer = expansion("coolant", ExpansionRoom(circuit_litres=0, room_litres=1, coolant=HALF))
    assert answer.word == "not checked"
    assert isinstance(
        growth_litres(ExpansionRoom(circuit_litres=9, room_litres=1, coolant=Coolant(share=0.9))),
        Outside,
    )


@pytest.mark.parametrize(
    ("hottest", "word"), [(112.6, "ok"), (112.8, "tight"), (119.6, "tight"), (119.8, "too hot")]
)
def test_the_margin_to_boiling(hottest: float, word: str) -> None:
    """Half and half boils at 127.7 °C under 0.9 bar: 15 K below is 112.7, 8 K below 119.7."""
    margin = BoilingMargin(cap=Cap(cap_bar=0.9, height_m=0, share=0.5), hottest_c=hottest)
    answer = boiling("coolant", margin)
    assert answer.word == word
    assert "Never open it hot." in answer.remarks


@CHEAP
@given(st.floats(0, 2), st.floats(0, 4000), st.floats(0, 0.6))
def test_it_boils_later_with_more_cap_more_glycol_and_lower_down(
    cap: float, height: float, share: float
) -> None:
    here = boils_at_c(Cap(cap_bar=cap, height_m=height, share=share))
    if isinstance(here, Outside):
        return
    for other in (
        Cap(cap_bar=cap + 0.1, height_m=height, share=share),
        Cap(cap_bar=cap, height_m=height - 100, share=share),
        Cap(cap_bar=cap, height_m=height, share=min(share + 0.05, 0.6)),
    ):
        there = boils_at_c(other)
        assert isinstance(there, float)
        assert there >= here - 1e-6


def test_boiling_below_where_the_formula_begins_is_not_given() -> None:
    """Water in the open boils at 95 °C at 1500 m; the formula begins at 99."""
    assert isinstance(boils_at_c(Cap(cap_bar=0, height_m=1500, share=0)), Outside)
    assert isinstance(boils_at_c(Cap(cap_bar=0.9, height_m=0, share=0.7)), Outside)
    assert isinstance(boils_at_c(Cap(cap_bar=15, height_m=0, share=0.5)), Outside)


def test_a_cap_above_the_weakest_part_is_too_high() -> None:
    weak = CapOnCircuit(cap_bar=1.0, weakest_bar=0.9)
    assert cap_rating("header", weak, "the core's label").word == "too high"
    enough = CapOnCircuit(cap_bar=1.0, weakest_bar=1.0)
    assert cap_rating("header", enough, "the core's label").word == "ok"


def test_a_typed_limit_goes_first() -> None:
    limit = Limit(ok=3.5, tight=3.5, origin="typed", source="the engine's book")
    stretches = (Stretch(bore_mm=32),)
    answer = coolant_speed("w", CoolantHose(flow=flow(143), stretches=stretches), limit)
    assert answer.word == "ok"


def test_coolant_is_known_from_freezing_to_a_hundred_degrees() -> None:
    for celsius in (-1.0, 101.0):
        assert isinstance(coolant_at(HALF, celsius), Outside)
    cold, hot = coolant_at(HALF, 20), coolant_at(HALF, 95)
    assert not isinstance(cold, Outside)
    assert not isinstance(hot, Outside)
    assert cold.density_kg_m3 > hot.density_kg_m3
    assert cold.viscosity_pa_s > hot.viscosity_pa_s
