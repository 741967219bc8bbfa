"""All checks of the demo build and of small drawings: places, gaps, limits, what is left out."""

import math
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.plumbing.heron import heron
from tests.plumbing.small import build, circuit, component, hose, port, run, through, tube
from webapp.build.build_input import BuildInput
from webapp.build.data_sheet import (
    EMPTY_SHEET,
    FIGURES,
    DataSheet,
    FigureName,
    OwnLimit,
    SheetFigure,
    Wire,
)
from webapp.build.plumbing import Piece
from webapp.plumbing.plumbed import plumbed
from webapp.sizing.answers import Answer
from webapp.sizing.boiling import AS_WATER, NO_TABLE
from webapp.sizing.checks import checks_of
from webapp.sizing.of_others import BY_KIND
from webapp.sizing.of_water import KEPT
from webapp.sizing.way import bores_mm, stretches_of


def checked(of: BuildInput) -> dict[tuple[str, str], Answer]:
    answers = checks_of(of, plumbed(of))
    found: dict[tuple[str, str], Answer] = {(one.check, one.at): one for one in answers}
    assert len(found) == len(answers)
    return found


def with_sheet(of: BuildInput, **lists: object) -> BuildInput:
    return replace(of, data_sheet=replace(of.data_sheet, **lists))  # type: ignore[arg-type]


def typed(of: BuildInput, **figures: float | str) -> BuildInput:
    """The build with figures typed anew."""
    kept = [one for one in of.data_sheet.figures if one.name not in figures]
    names: list[FigureName] = [name for name in FIGURES if name in figures]
    new = [SheetFigure(name=name, value=figures[name]) for name in names]
    return with_sheet(of, figures=(*kept, *new))


def untyped(of: BuildInput, *names: str) -> BuildInput:
    kept = tuple(one for one in of.data_sheet.figures if one.name not in names)
    return with_sheet(of, figures=kept)


def test_the_charge_pipe_of_the_demo_by_hand() -> None:
    """2.2 l at 4000 rpm, efficiency 0.85, boost 1.2 bar at 240 m (98.47 kPa): 218.47 kPa.

    Before the compressor 96.87, behind it 222.57 kPa: ratio 2.2976, 139.3 °C; behind a cooler of
    0.65 65.0 °C. 0.85 x 2.251 x 2.2e-3 x 4000/60/2 = 0.1403 kg/s. In the 51 mm of the reducer
    (2042.8 mm²) at 1.880 kg/m³: 36.5 m/s.
    """
    answer = checked(heron())["charge_speed", "hot1"]
    assert answer.word == "ok"
    assert answer.value == pytest.approx(36.5, abs=0.1)
    inputs = {figure.name: figure for figure in answer.used}
    assert inputs["narrowest bore"].value == 51
    assert inputs["air"].value == pytest.approx(0.1403, abs=2e-4)
    assert inputs["temperature"].value == pytest.approx(139.3, abs=0.1)
    came = {name: figure.came for name, figure in inputs.items()}
    assert came["air"] == came["temperature"] == "worked out"
    assert came["narrowest bore"] == "drawn"
    assert came["volumetric efficiency"] == "assumed"
    assert came["height above sea"] == came["boost (gauge)"] == "typed"
    assert inputs["displacement"].source == "engine plate"


def test_behind_the_cooler_the_air_is_cool_and_hoses_are_not_asked_for_their_rating() -> None:
    found = checked(heron())
    cold = {figure.name: figure.value for figure in found["charge_speed", "cold1"].used}
    assert cold["temperature"] == pytest.approx(65.0, abs=0.1)
    assert ("charge_hose", "hot1") in found
    assert ("charge_hose", "cold1") not in found


def test_the_suction_side_of_the_pump_is_that_behind_the_radiator() -> None:
    found = checked(heron())
    sides = {
        run: next(f.value for f in found["coolant_speed", run].used if f.name == "side")
        for run in ("w_top", "w_foot", "w_pump")
    }
    assert sides == {"w_top": "pressure", "w_foot": "suction", "w_pump": "suction"}


@pytest.mark.parametrize(
    ("name", "check", "at"),
    [
        ("displacement_l", "charge_speed", "hot1"),
        ("boost_bar", "exhaust_loss", "exhaust"),
        ("cooler_loss_kpa", "charge_loss", "charge"),
        ("filter_loss_kpa", "intake_loss", "intake"),
        ("charge_hose_c", "charge_hose", "hot1"),
        ("power_kw", "coolant_speed", "w_top"),
        ("antifreeze_percent", "mixture", "coolant"),
        ("frost_c", "mixture", "coolant"),
        ("tank_room_l", "expansion", "coolant"),
        ("cap_bar", "boiling", "coolant"),
        ("hottest_coolant_c", "boiling", "coolant"),
        ("radiator_air", "radiator", "rad"),
        ("fuel_pump", "fuel_suction", "f1"),
        ("fuel", "exhaust_loss", "exhaust"),
    ],
)
def test_what_is_not_typed_is_named_and_no_number_given(
    name: FigureName, check: str, at: str
) -> None:
    answer = checked(untyped(heron(), name))[check, at]
    assert answer.words == f"not checked: the {FIGURES[name].words} is missing"
    assert answer.value is None


def test_a_way_of_which_no_length_is_drawn_loses_no_pressure_that_could_be_told() -> None:
    """The intake of the demo is drawn as coupler, elbow, joiner and reducer: no pipe is long."""
    answer = checked(heron())["intake_loss", "intake"]
    assert answer.words == "not checked: the length of its pipes is missing"
    assert answer.value is None
    drawn = heron()
    runs = tuple(
        replace(one, pieces=(*one.pieces, Piece(piece="tube", size=60.0, length_mm=400.0)))
        if one.key == "in2"
        else one
        for one in drawn.plumbing.runs
    )
    with_pipe = replace(drawn, plumbing=replace(drawn.plumbing, runs=runs))
    answer = checked(with_pipe)["intake_loss", "intake"]
    assert {one.name: one.value for one in answer.used}["length"] == pytest.approx(0.4)


def test_an_own_limit_of_the_place_goes_before_one_of_everywhere_and_the_usual() -> None:
    everywhere = OwnLimit(check="charge_speed", ok=30, source="turbo maker")
    here = OwnLimit(check="charge_speed", at="hot1", ok=36, tight=40, source="a race shop")
    found = checked(with_sheet(heron(), limits=(everywhere, here)))
    hot, cold = found["charge_speed", "hot1"], found["charge_speed", "cold1"]
    assert hot.limit is not None
    assert cold.limit is not None
    assert (hot.word, hot.limit.words) == ("tight", "typed in: a race shop")
    assert (cold.word, cold.limit.ok, cold.limit.tight) == ("ok", 30, 30)


def test_a_figure_outside_of_a_formula_gives_no_number_anywhere() -> None:
    found = checked(typed(heron(), strokes=2))
    for at in ("hot1", "cold1", "cold2"):
        assert found["charge_speed", at].words == (
            "not checked: the air of a two-stroke is not worked out: nobody can say what its"
            " scavenging takes"
        )
    assert found["exhaust_loss", "exhaust"].value is None


def test_propylene_is_reckoned_as_water_and_checked_where_even_that_is_ok() -> None:
    """Water under 1.0 bar at 240 m (198.5 kPa absolute) boils at 120.0 °C: 15.0 K above 105, 25
    above 95 (steam tables: 120.2 °C at 198.5 kPa)."""
    mild = checked(typed(heron(), antifreeze="propylene", hottest_coolant_c=95))
    answer = mild["boiling", "coolant"]
    assert answer.word == "ok"
    assert answer.value == pytest.approx(25.1, abs=0.3)
    assert AS_WATER in answer.remarks
    assert "share of antifreeze" in {one.name for one in answer.used}
    hot = checked(typed(heron(), antifreeze="propylene", hottest_coolant_c=110))
    assert hot["boiling", "coolant"].words == f"not checked: {NO_TABLE}"
    assert hot["boiling", "coolant"].value is None
    strong = checked(typed(heron(), antifreeze="propylene", antifreeze_percent=70))
    assert strong["boiling", "coolant"].words == (
        "not checked: the share of antifreeze of 70 % lies outside 0 to 60 %"
    )


def test_what_is_left_to_licensed_practice_is_told_of_and_never_sized() -> None:
    found = checked(heron())
    told = [at for check, at in found if check == "left_to_others"]
    assert told == ["fuel", "oil", "s1", "vacuum", "ac"]
    sized = {one.at for one in found.values() if one.check != "left_to_others"}
    # neither the steering's pressure hose nor any run of refrigerant, brakes or turbo oil
    assert not sized & {"s1", "a1", "a2", "a3", "a4", "v1", "v2", "v3", "o1", "o2"}
    assert set(BY_KIND.values()) >= {"brakes", "refrigerant", "injection"}


def test_without_a_drawing_and_a_data_sheet_nothing_is_checked() -> None:
    empty = build((), ())
    assert checks_of(empty, plumbed(empty)) == ()
    wire = Wire(key="fan", name="Fan", current_a=14, area_mm2=2.5, out_and_back_m=6)
    wired = replace(empty, data_sheet=DataSheet(wires=(wire,)))
    assert [one.check for one in checks_of(wired, plumbed(wired))] == ["voltage_drop", "fuse"]


def test_a_circuit_that_leads_nowhere_is_said_to() -> None:
    turbo = component("turbo", port("out", "out"), kind="turbo")
    engine = component("engine", port("in", "in"), kind="engine")
    bare = build((turbo, engine), (circuit("turbo.out", "engine.in", medium="air"),))
    (answer,) = checks_of(bare, plumbed(bare))
    assert answer.words == "not checked: no way leads through the circuit yet"


def test_a_run_that_was_typed_the_other_way_round_is_the_same_run() -> None:
    turbo = component("turbo", port("out", "out", size=51), kind="turbo")
    engine = component("engine", port("in", "in", size=63), kind="engine")
    there = run("r", "turbo.out", "engine.in", Piece(piece="reducer", size=(51, 63)), hose(63))
    back = run("r", "engine.in", "turbo.out", hose(63), Piece(piece="reducer", size=(63, 51)))
    answers = []
    for one in (there, back):
        drawn = build((turbo, engine), (circuit("turbo.out", "engine.in", medium="air"),), (one,))
        answers.append(checked(replace(drawn, data_sheet=heron().data_sheet)))
    assert answers[0]["charge_loss", "c"].value == pytest.approx(
        answers[1]["charge_loss", "c"].value
    )
    assert answers[0]["charge_speed", "r"].value is not None


def test_a_bore_that_nobody_knows_is_named() -> None:
    line = Piece(piece="line", name="oil hose", length_mm=300)
    assert bores_mm(line) is None
    found = stretches_of(run("r", "a.b", "c.d", line))
    assert getattr(found, "names", None) == ("bore of the oil hose in r",)


def test_bores_of_tubes_are_less_their_walls() -> None:
    """60 less twice 1.5; 8 less twice 1; 63.5 less twice 2."""
    assert bores_mm(tube(60)) == (57,)
    assert bores_mm(tube(8)) == (6,)
    assert bores_mm(tube(63.5, wall_mm=2)) == (59.5,)
    assert bores_mm(hose(38)) == (38,)
    assert bores_mm(Piece(piece="reducer", size=(51, 60))) == (51, 60)


def test_a_bend_takes_its_arc_off_what_is_straight() -> None:
    """A quarter turn of one and a half bores of 57 is 134.3 mm long."""
    (stretch,) = stretches_of(run("r", "a.b", "c.d", Piece(piece="bend", size=60, length_mm=300)))  # type: ignore[misc]
    assert stretch.turn_deg == 90
    assert stretch.length_mm == pytest.approx(300 - 134.3, abs=0.1)


def test_units_typed_in_any_system_give_one_answer() -> None:
    """17.4 psi, 787 ft, 77 °F and 1.2 bar, 240 m, 25 °C are the same engine."""
    from webapp.build.units import read_amount

    def amount(text: str, quantity: str) -> float:
        value = read_amount(text, quantity, "us").value  # type: ignore[arg-type]
        assert value is not None
        return value

    metric = typed(
        heron(),
        boost_bar=amount("1.2 bar", "pressure"),
        height_m=amount("240 m", "length") / 1000,
        intake_c=amount("25 °C", "temperature"),
    )
    other = typed(
        heron(),
        boost_bar=amount(f"{1.2 / 0.0689475729:.6f}", "pressure"),
        height_m=amount(f"{240 / 0.3048:.6f} ft", "length") / 1000,
        intake_c=amount("77", "temperature"),
    )
    one, same = checked(metric), checked(other)
    assert one.keys() == same.keys()
    for key, answer in one.items():
        assert answer.word == same[key].word
        assert (answer.value is None) == (same[key].value is None)
        assert answer.value is None or answer.value == pytest.approx(same[key].value, rel=1e-5)


def test_no_date_hangs_on_the_data_sheet() -> None:
    from webapp.build.for_planning import are_planned_alike

    assert are_planned_alike(heron(), replace(heron(), data_sheet=EMPTY_SHEET))


def test_a_circuit_of_unknown_volume_is_named_where_room_to_expand_is_asked() -> None:
    rad = through("rad", kind="radiator")
    round_it = circuit("rad.out", "rad.in", medium="water")
    drawn = build((rad,), (round_it,), (run("r", "rad.out", "rad.in"),))
    answer = checked(replace(drawn, data_sheet=heron().data_sheet))["expansion", "c"]
    assert answer.words == "not checked: the volume of Rad is missing"


@st.composite
def sheets(draw: st.DrawFn) -> DataSheet:
    """Any data sheet without faults: any figures anywhere in their ranges, or none."""
    figures = []
    for name, kind in FIGURES.items():
        if draw(st.booleans()):
            value: float | str = (
                draw(st.sampled_from(kind.choices))
                if kind.choices
                else draw(st.floats(kind.least, kind.most))
            )
            figures.append(SheetFigure(name=name, value=value))
    return DataSheet(figures=tuple(figures))


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(sheets())
def test_any_data_sheet_gets_an_answer_and_a_number_only_where_it_was_checked(
    sheet: DataSheet,
) -> None:
    found = checked(replace(heron(), data_sheet=sheet))
    assert found.keys() >= {("charge_speed", "hot1"), ("boiling", "coolant")}
    for answer in found.values():
        if answer.word == "not checked":
            assert answer.value is None
            assert answer.limit is None
            assert answer.words.startswith("not checked: ")
            assert answer.words != "not checked: nothing to check it by"
        elif answer.value is None:
            assert answer.check == "radiator" or answer.word == "too small"
        else:
            assert math.isfinite(answer.value)
            assert answer.limit is not None or answer.check == "growth"
        assert "safe" not in answer.words


def test_the_coolant_that_is_kept_with_a_circuit_goes_before_the_sheet() -> None:
    """The Heron's sheet says 45 % for -25 °C; -37.1 °C is half ethylene glycol in the table."""
    of = heron()
    circuits = tuple(
        replace(one, frost_c=-37.1, antifreeze="ethylene") if one.key == "coolant" else one
        for one in of.plumbing.circuits
    )
    kept = checked(replace(of, plumbing=replace(of.plumbing, circuits=circuits)))
    before, after = checked(of)["mixture", "coolant"], kept["mixture", "coolant"]
    assert (before.word, after.word) == ("ok", "ok")
    assert after.value == pytest.approx(-37.1)
    share = next(one for one in after.used if one.name == "share of antifreeze")
    assert share.value == pytest.approx(50)
    assert share.source == KEPT
    # 20 l of it in place of what is drawn: the room it needs grows with it
    whole = tuple(replace(one, full_litres=20.0) if one.frost_c else one for one in circuits)
    fuller = checked(replace(of, plumbing=replace(of.plumbing, circuits=whole)))
    held = {one.name: one for one in fuller["expansion", "coolant"].used}
    assert held["circuit holds about"].value == 20
