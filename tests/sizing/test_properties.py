"""What holds for any build: more flow or a smaller bore never loses less, units change nothing,
and no number stands where a formula does not hold."""

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.plumbing.heron import heron
from tests.sizing.test_checks import checked, typed
from webapp.build.build_input import BuildInput
from webapp.build.data_sheet import FIGURES, DataSheet, FigureName, SheetFigure
from webapp.build.plumbing import Piece
from webapp.build.typed_figures import figure_text, own_unit, read_figure
from webapp.build.units import ShopUnits
from webapp.sizing.answers import Answer
from webapp.sizing.way import bores_mm

WHOLE = settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
LOSES: tuple[tuple[str, str], ...] = (
    *(("intake_loss", "intake"), ("charge_loss", "charge"), ("exhaust_loss", "exhaust")),
    *(("fuel_suction", "f1"), ("charge_speed", "hot1"), ("coolant_speed", "w_top")),
)
RANK = {"ok": 0, "tight": 1, "too small": 2}
NUMBERS: tuple[FigureName, ...] = tuple(name for name in FIGURES if not FIGURES[name].choices)


def is_no_less(here: Answer, there: Answer) -> bool:
    """Whether `there` loses at least as much as `here`; where one of them holds no formula, there
    is nothing to compare but the word."""
    if "not checked" in (here.word, there.word):
        return True
    if here.value is None or there.value is None:
        return RANK[there.word] >= RANK[here.word]
    return there.value >= here.value * (1 - 1e-9) and RANK[there.word] >= RANK[here.word]


@WHOLE
@given(st.floats(1, 1.6))
def test_a_bigger_engine_never_loses_less_anywhere(more: float) -> None:
    here = checked(heron())
    bigger = typed(heron(), displacement_l=2.2 * more, power_kw=96 * more, pump_flow_l_h=70 * more)
    there = checked(bigger)
    for key in LOSES:
        assert is_no_less(here[key], there[key]), key


def narrowed(build: BuildInput, run: str, share: float) -> BuildInput:
    """The build with every bore of a run smaller; what counts as no bore stays so."""

    def piece(one: Piece) -> Piece:
        bores = bores_mm(one)
        return one if not bores else replace(one, bore_mm=min(bores) * share)

    runs = tuple(
        replace(one, pieces=tuple(map(piece, one.pieces))) if one.key == run else one
        for one in build.plumbing.runs
    )
    return replace(build, plumbing=replace(build.plumbing, runs=runs))


@WHOLE
@given(
    st.sampled_from(
        (
            *(("hot1", "charge_speed", "hot1"), ("hot1", "charge_loss", "charge")),
            *(("in2", "intake_loss", "intake"), ("w_top", "coolant_speed", "w_top")),
            ("f1", "fuel_suction", "f1"),
        )
    ),
    st.floats(0.6, 1),
)
def test_a_smaller_bore_in_the_drawing_never_loses_less(
    of: tuple[str, str, str], share: float
) -> None:
    run, check, at = of
    here = checked(narrowed(heron(), run, 1.0))[check, at]
    there = checked(narrowed(heron(), run, share))[check, at]
    assert is_no_less(here, there)


@pytest.mark.parametrize("units", ["us", "imperial"])
def test_a_data_sheet_typed_in_any_system_gives_one_answer(units: ShopUnits) -> None:
    """Every figure of the demo written in the shop's units, to six figures, and read again."""
    figures = []
    for one in heron().data_sheet.figures:
        kind, value = FIGURES[one.name], one.value
        if not isinstance(value, str):
            own = own_unit(one.name, units)
            read = read_figure(f"{figure_text(value, kind.unit, own)} {own}", one.name, "metric")
            assert read.value is not None
            value = read.value
        figures.append(SheetFigure(name=one.name, value=value, source=one.source))
    sheet = replace(heron().data_sheet, figures=tuple(figures))
    here, there = checked(heron()), checked(replace(heron(), data_sheet=sheet))
    assert here.keys() == there.keys()
    for key, answer in here.items():
        assert there[key].words == answer.words, key
        if answer.value is not None:
            assert there[key].value == pytest.approx(answer.value, rel=1e-4), key


@st.composite
def one_out(draw: st.DrawFn) -> tuple[FigureName, float]:
    """A figure far outside of its range: what an older or a foreign document might hold."""
    name = draw(st.sampled_from(NUMBERS))
    kind = FIGURES[name]
    wide = kind.most - kind.least
    below = draw(st.booleans())
    return name, kind.least - wide if below else kind.most + wide


@WHOLE
@given(one_out())
def test_a_figure_outside_of_its_range_never_gives_a_number_that_hangs_on_it(
    out: tuple[FigureName, float],
) -> None:
    """Even where no form ever looked at it: what was worked out from it is not given."""
    name, value = out
    if name in ("silencers_kpa", "battery_v") and value < 0:
        value = -1e6
    for answer in checked(typed(heron(), **{name: value})).values():
        used = {figure.name: figure.value for figure in answer.used}
        if used.get(FIGURES[name].words) == value and answer.check in HANGS.get(name, ()):
            assert answer.value is None, (name, answer.check)


HANGS: dict[FigureName, tuple[str, ...]] = {
    "displacement_l": ("charge_speed", "charge_loss", "intake_speed", "intake_loss"),
    "full_power_rpm": ("charge_speed", "charge_loss", "intake_speed", "intake_loss"),
    "boost_bar": ("charge_speed", "charge_loss", "charge_hose"),
    "volumetric_efficiency": ("charge_speed", "charge_loss", "exhaust_loss"),
    "height_m": ("charge_speed", "charge_hose", "boiling"),
    "intake_c": ("charge_speed", "charge_hose"),
    "compressor_efficiency": ("charge_speed", "charge_hose"),
    "cooler_effectiveness": ("charge_speed", "charge_loss"),
    "power_kw": ("coolant_speed",),
    "fuel_g_kwh": ("coolant_speed",),
    "heat_share_percent": ("coolant_speed",),
    "coolant_rise_k": ("coolant_speed",),
    "antifreeze_percent": ("coolant_speed", "mixture", "expansion", "boiling"),
    "cap_bar": ("boiling",),
    "pump_flow_l_h": ("fuel_suction",),
    "fuel_lift_m": ("fuel_suction",),
    "fuel_mm2_s": ("fuel_suction",),
    "exhaust_gas_c": ("exhaust_loss", "growth"),
    "silencers_kpa": ("exhaust_loss",),
    "battery_v": ("voltage_drop",),
}
"""What is worked out from a figure by a formula that has a range for it."""


@pytest.mark.parametrize("name", sorted(HANGS))
def test_each_figure_far_above_its_range_stops_what_hangs_on_it(name: FigureName) -> None:
    kind = FIGURES[name]
    found = checked(typed(heron(), **{name: kind.most * 10 + 100}))
    stopped = [one for one in found.values() if one.check in HANGS[name]]
    assert stopped
    for answer in stopped:
        assert answer.value is None, answer.check
        assert answer.word in ("not checked", "too small")


def test_nothing_typed_gives_no_number_but_what_the_drawing_alone_gives() -> None:
    found = checked(replace(heron(), data_sheet=DataSheet()))
    given_out = {one.check for one in found.values() if one.value is not None}
    assert given_out == {"fuel_return"}  # one bore beside another
