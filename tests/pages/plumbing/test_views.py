"""What the pages of plumbing say, on the demo build and on small ones."""

import math
import re
from dataclasses import replace

import pytest
from hypothesis import given, settings

from tests.pages.plumbing.seen import heron_seen, seen_in
from tests.plumbing.random_circuits import circuits
from tests.plumbing.small import DAY, build, circuit, component, hose, lying, port, run
from webapp.build.build_input import BuildInput
from webapp.build.plumbing import End, EndKind, Piece, PieceKind, Port, Run, Stop
from webapp.pages.plumbing.bay_view import bay_view
from webapp.pages.plumbing.circuit_view import circuit_view
from webapp.pages.plumbing.list_views import buy_view, joints_view, shelf_view
from webapp.pages.plumbing.run_view import JointLine, PieceLine, run_view
from webapp.pages.words import sizes
from webapp.pages.words.plumbing_open import OF_THE_WHOLE, SHORT, bay_said
from webapp.plumbing.needs import Need

# --- the bay ----------------------------------------------------------------------------------


def test_the_bay_tells_what_each_circuit_needs_first() -> None:
    lines = {line.key: line for line in bay_view(heron_seen()).circuits}
    first = lines["charge"].first
    assert first is not None
    assert first.place == "Turbocharger, compressor out (bead 51)"
    assert first.says == "Hot side is drawn, and not all it needs is here"
    # of the four clamps three lie on the shelf, the tube and the coupler too
    assert first.needs == (
        "Needs: reducer 60-51 silicone lined, bend 60 90° aluminium, bend 60 45° aluminium,"
        " 4 clamps 60-80, 1.255 m of tube 60 aluminium, coupler 60 silicone lined. Not on the"
        " shelf: reducer 60-51 silicone lined, bend 60 90° aluminium, bend 60 45° aluminium and"
        " clamp 60-80."
    )
    assert lines["coolant"].state == "14 open"
    assert lines["coolant"].litres == "about 15.6 l"
    assert [task.name for task in lines["coolant"].holds] == [
        "Pressure-test the water side with air",
        "Fill and bleed the coolant",
        "First start",
    ]
    assert lines["coolant"].test == "not tested yet: 1.0 bar cold, 10 min"
    assert lines["gearvent"].state == "closed"
    assert lines["gearvent"].first is None


def test_everything_open_is_told_in_the_order_of_the_open_list() -> None:
    seen = heron_seen()
    for line in bay_view(seen).circuits:
        told = ([line.first] if line.first else []) + list(line.rest)
        assert len(told) == len(seen.circuits[line.key].open)
        assert all(each.says and not each.says.endswith(".") for each in told)


@pytest.mark.parametrize(
    ("closed", "all_of_them", "things", "said"),
    [
        (0, 3, 5, "None is closed yet; 5 things are open."),
        (1, 3, 1, "1 of 3 is closed; 1 thing is open."),
        (2, 3, 4, "2 of 3 are closed; 4 things are open."),
        (3, 3, 0, "Every circuit is closed."),
        (0, 1, 2, "It is not closed yet; 2 things are open."),
        (1, 1, 0, "It is closed."),
    ],
)
def test_the_bay_in_one_sentence(closed: int, all_of_them: int, things: int, said: str) -> None:
    assert bay_said(closed, all_of_them, things) == said


def test_the_sum_of_what_a_circuit_holds_is_told_with_its_parts() -> None:
    said = " ".join(circuit_view(heron_seen(), "coolant").how.sentences)
    found = re.search(r"Coolant: (.+?) = ([\d.]+) l, but", said)
    assert found is not None
    parts = [float(part) for part in re.findall(r"([\d.]+) l(?: |$)", found[1] + " ")]
    assert sum(parts) == pytest.approx(float(found[2]), abs=0.3)
    # engine 5.6 + radiator 5.2 + tank 1.4 + valve 0.1 + core 0.9 + both Ts 0.07: of components
    assert "Engine, 2.2 turbo-diesel 5.6 l" in found[1]
    assert found[2] == "15.6"


def test_a_single_amount_is_no_sum() -> None:
    """Charge air: tubes of 57 mm inside 1,896 mm long 4.84, of 60.5 mm 180 mm long 0.52, bends
    2 of 90 and one of 45 degrees 0.90, elbow 63 of 45 degrees 0.23, hose 0.01: 6.5 l."""
    said = circuit_view(heron_seen(), "charge").how.sentences[0]
    assert said.startswith("Charge air: hoses and tubes 6.5 l. A hose or tube holds ")


def test_what_nobody_said_the_volume_of_is_named() -> None:
    said = " ".join(circuit_view(heron_seen(), "oil").how.sentences)
    assert "not in it: Turbo oil feed." in said


# --- one circuit ------------------------------------------------------------------------------


def test_a_complete_circuit_says_that_its_drawing_is_right() -> None:
    assert circuit_view(heron_seen(), "fuel").lede == (
        "2 things are open, and the drawing is right: what is open is to be made or put on."
    )
    assert circuit_view(heron_seen(), "gearvent").lede == "Closed: nothing is open."


def test_the_table_has_the_runs_of_the_picture_under_their_numbers() -> None:
    seen = heron_seen()
    for key in seen.circuits:
        view = circuit_view(seen, key)
        for picture in view.pictures:
            numbers = {number.text for number in picture.numbers}
            numbers |= {words.text.split()[0] for words in picture.words}
            assert {run.number for run in view.runs} <= numbers


def test_every_port_of_the_circuit_stands_with_what_is_on_it() -> None:
    view = circuit_view(heron_seen(), "coolant")
    ports = {
        (component.name, line.name): line.joined
        for component in view.components
        for line in component.ports
    }
    assert view.ports == "7 components with 28 ports"
    assert len(ports) == 28
    assert ports["Radiator, re-cored", "top"] == "1 Upper hose"
    assert ports["Radiator, re-cored", "drain"] == "capped in the drawing, not on yet"
    assert ports["Engine, 2.2 turbo-diesel", "block drain"] == "capped, Sat 15 November 2025"
    assert ports["Expansion tank", "vent b"] == "open"


def test_a_port_with_a_cover_is_open() -> None:
    seen = seen_in(
        build(
            (
                component("a", port("out", "out", stop=Stop(kind="cover"))),
                component("b", port("in", "in")),
            ),
            (circuit("a.out", "b.in"),),
        )
    )
    line, _ = circuit_view(seen, "c").open
    assert line.place == "A, out (bead 38)"
    assert line.says == "nothing is joined to it, and a cover counts as nothing"


def test_an_open_port_under_a_run_leads_to_where_it_is_mended() -> None:
    cover = Stop(kind="cover")
    seen = seen_in(
        build(
            (
                component("a", Port(name="out", end="bead", flow="out")),
                component("b", port("in", "in", stop=cover)),
            ),
            (circuit("a.out", "b.in"),),
            (replace(run("r", "a.out", "b.in", hose()), cut_on=DAY, fitted_on=DAY),),
        )
    )
    for lines in (circuit_view(seen, "c").open, run_view(seen, "r").open):
        by_place = {line.place: line for line in lines if line.of_port}
        unmeasured, covered = by_place["A, out (bead, not measured)"], by_place["B, in (bead 38)"]
        assert unmeasured.address.endswith("port?key=a.out")
        assert unmeasured.to_size == unmeasured.address
        assert unmeasured.press is None
        assert covered.address.endswith("port?key=b.in")
        assert covered.to_size == ""
        assert covered.press is not None
        assert covered.press.words == "The cover is off"


# --- one run ----------------------------------------------------------------------------------


def test_a_run_is_told_piece_by_piece_and_joint_by_joint() -> None:
    view = run_view(heron_seen(), "cold1")
    joints = [step for step in view.steps if isinstance(step, JointLine)]
    pieces = [step for step in view.steps if isinstance(step, PieceLine)]
    assert [joint.at for joint in joints] == [1, 2, 3, 4, 5, 6]
    assert [piece.name for piece in pieces] == [
        "coupler 60 silicone lined",
        "tube 60 aluminium",
        "bend 60 90° aluminium",
        "tube 60 aluminium",
        "coupler 60 silicone lined",
    ]
    assert pieces[1].about == "431 mm"
    assert [joint.fit for joint in joints] == [
        *("fits", "fits", "to be welded", "to be welded", "fits", "does not fit")
    ]
    assert joints[5].ends == "hose 60 to bead 63"
    assert joints[5].step == "3 mm apart"
    (line,) = view.open
    assert line.needs == (
        "Mend: put reducer 63-60 silicone lined in the place of piece 5. It lies on the shelf."
    )
    assert dict(view.dates) == {"Cut": "not yet", "Fitted": "not yet", "Clamped": "not yet"}


def test_a_clamp_is_told_by_the_ring_it_has_to_hold() -> None:
    # hose 60, wall 5 (usual from 25 mm), over 60: the outside stays 70
    view = run_view(heron_seen(), "cold1")
    joint = next(step for step in view.steps if isinstance(step, JointLine) and step.asks)
    assert joint.asks == "a clamp that holds 70 mm"
    assert math.sqrt(60**2 + 70**2 - 60**2) == 70
    said = " ".join(view.how.sentences)
    assert "√(60² + 70² - 60²) = 70 mm" in said
    assert said.endswith("clamp 60-80.")


def test_a_port_that_is_not_measured_stands_on_the_page_of_its_run() -> None:
    view = run_view(heron_seen(), "w_core")
    assert [line.says for line in view.open] == ["its size is not measured"]


def test_ends_that_look_alike_are_told_apart() -> None:
    seen = seen_in(
        build(
            (
                component("a", port("out", "out", "flare37_male", "-6")),
                component("b", port("in", "in", "flare45_female", 9.5)),
            ),
            (circuit("a.out", "b.in"),),
            (Run(key="r", from_port="a.out", to_port="b.in"),),
        )
    )
    (line,) = run_view(seen, "r").open
    assert line.place == "A, out to B, in, joint 1"
    assert line.says.startswith(
        "37° flare, male, -6 and 45° flare, female, 9.5 do not fit. They look alike and must not"
        " meet: "
    )


@pytest.mark.parametrize(
    ("pieces", "says"),
    [
        (
            ("hose", "hose"),
            "hose 19 and hose 19 do not fit: neither hose goes over the other",
        ),
        (
            (),
            "bead 19 and spigot 19 do not fit: a hose goes over each of them, neither goes over"
            " the other",
        ),
    ],
)
def test_ends_of_one_size_that_do_not_fit_say_why(pieces: tuple[PieceKind, ...], says: str) -> None:
    seen = seen_in(
        build(
            (
                component("a", port("out", "out", "bead", 19)),
                component("b", port("in", "in", "spigot", 19)),
            ),
            (circuit("a.out", "b.in"),),
            (
                Run(
                    key="r",
                    from_port="a.out",
                    to_port="b.in",
                    pieces=tuple(Piece(piece=one, size=19, length_mm=100) for one in pieces),
                ),
            ),
        )
    )
    assert [line.says for line in run_view(seen, "r").open] == [says]


@pytest.mark.parametrize(
    ("facing", "state", "pieces"),
    [
        ("spigot", "nothing in it yet", "nothing in it yet"),  # a hose belongs between the two
        ("hose", "on hand", "bolted straight together"),
    ],
)
def test_a_run_without_pieces_is_on_hand_where_its_ports_go_together(
    facing: EndKind, state: str, pieces: str
) -> None:
    seen = seen_in(
        build(
            (
                component("a", port("out", "out", "bead", 19)),
                component("b", port("in", "in", facing, 19)),
            ),
            (circuit("a.out", "b.in"),),
            (Run(key="r", from_port="a.out", to_port="b.in"),),
            shelf=(lying("clamp", range_mm=(20, 32), count=2),),
        )
    )
    assert run_view(seen, "r").state == state
    (line,) = circuit_view(seen, "c").runs
    assert (line.state, line.pieces) == (state, pieces)


# --- lists ------------------------------------------------------------------------------------


def test_the_buy_list_has_every_line_with_what_it_is_for() -> None:
    seen = heron_seen()
    view = buy_view(seen)
    assert len(view.lines) == len(seen.plumbed.buy) == 41
    lines = {line.name: line for line in view.lines}
    assert lines["clamp 60-80"].amount == "8"
    assert [run.name for run in lines["clamp 60-80"].for_runs] == [
        *("Hot side", "Cold side", "Shut-off to manifold")
    ]
    assert [said for _, said in lines["bend 60 90° aluminium"].in_parts] == ["3, ordered"]
    assert lines["plug M14x1.5"].for_ports == ("Downpipe with flexible joint, heat probe",)
    assert all(line.for_runs or line.for_ports for line in view.lines)


def test_lengths_of_the_example_sum_to_what_is_to_be_bought() -> None:
    said = " ".join(buy_view(heron_seen()).how.sentences)
    found = re.search(r": ([\d. +,]+) = ([\d,.]+) mm\.$", said)
    assert found is not None
    parts = [float(part.replace(",", "")) for part in found[1].split(" + ")]
    assert len(parts) > 1
    assert sum(parts) == pytest.approx(float(found[2].replace(",", "")))


def test_the_shelf_says_what_each_thing_is_spoken_for_by() -> None:
    lines = {line.name: line for line in shelf_view(heron_seen()).lines}
    assert lines["hose 19 coolant"].amount == "2 of 600 mm"
    assert [(run.name, amount) for run, amount in lines["hose 38 coolant"].given] == [
        ("Upper hose", "640 mm")
    ]
    assert lines["plug G1/4"].ports == ("Radiator, re-cored, drain",)
    assert [joint.name for joint in lines["reducer 63-60 silicone lined"].mends] == [
        "Cold side, joint 6"
    ]


def test_no_more_is_spoken_for_than_lies_there() -> None:
    seen = heron_seen()
    there: dict[str, int] = {}
    for thing in seen.build.plumbing.shelf:
        if thing.piece not in ("hose", "tube"):
            there[thing.piece] = there.get(thing.piece, 0) + thing.count
    given = sum(
        need.count for one in seen.plumbed.runs for need in one.from_shelf if not need.length_mm
    )
    assert 0 < given <= sum(there.values())


def test_the_list_of_joints_has_every_joint_once() -> None:
    seen = heron_seen()
    view = joints_view(seen)
    told = [joint for each in view.circuits for run in each.runs for joint in run.joints]
    assert len(told) == sum(len(one.joints) for one in seen.plumbed.runs)
    charge = next(each for each in view.circuits if each.key == "charge")
    assert charge.summary == "20 joints, 1 does not fit yet"


def test_what_the_shelf_has_is_told_apart_from_what_it_lacks() -> None:
    seen = seen_in(
        build(
            (component("a", port("out", "out")), component("b", port("in", "in"))),
            (circuit("a.out", "b.in"),),
            (run("r", "a.out", "b.in"),),
            (lying("hose", size=38, length_mm=500, of="rubber"),),
        )
    )
    (line,) = circuit_view(seen, "c").open
    # hose 38 with a wall of 5 over 38 is 48 outside: clamp 40-60 holds that well
    assert line.needs == (
        "Needs: 2 clamps 40-60, 100 mm of hose 38 rubber: 2 clamps 40-60 are not on the shelf."
    )


# --- sizes ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("need", "said"),
    [
        (Need(what="coupler 63 silicone", count=1), "coupler 63 silicone"),
        (Need(what="clamp 60-80", count=4), "4 clamps 60-80"),
        (Need(what="slip clamp 64", count=2), "2 slip clamps 64"),
        (
            Need(what="check valve bead 10 - bead 10", count=2),
            "2 times check valve bead 10 - bead 10",
        ),
        (Need(what="hose 5 vacuum", length_mm=420), "420 mm of hose 5 vacuum"),
        (Need(what="hose 5 vacuum", length_mm=1420), "1.42 m of hose 5 vacuum"),
        (
            Need(what="fuel hose quick_female 9.5 - quick_female 9.5", count=1),
            "fuel hose quick end female 9.5 - quick end female 9.5",
        ),
    ],
)
def test_so_much_of_a_thing(need: Need, said: str) -> None:
    assert sizes.so_many(need) == said


@pytest.mark.parametrize(
    ("end", "said"),
    [
        (End(kind="bead", size=38.1), "bead 38"),
        (End(kind="female", size="G1/4"), "female thread G1/4"),
        (End(kind="flare37_male", size="-6"), "37° flare, male, -6"),
        (End(kind="flare37_male"), "37° flare, male, not measured"),
        (End(kind="open"), "open end"),
    ],
)
def test_ends_in_words(end: End, said: str) -> None:
    assert sizes.end(end) == said


def test_every_reason_has_its_words() -> None:
    circuit_words = {"no vent", "no drain", "no way", "no way when shut"}
    assert circuit_words == set(OF_THE_WHOLE)
    assert circuit_words < set(SHORT)
    assert len(SHORT) == 18  # the eighteen whys of the open list


# --- whatever is drawn ------------------------------------------------------------------------


@given(circuits())
@settings(max_examples=60, deadline=None)
def test_every_page_of_any_circuit_is_told(of: BuildInput) -> None:
    seen = seen_in(of)
    (line,) = bay_view(seen).circuits
    told = ([line.first] if line.first else []) + list(line.rest)
    assert len(told) == len(seen.circuits[line.key].open)
    view = circuit_view(seen, line.key)
    assert [each.place for each in view.open] == [each.place for each in told]
    assert (view.lede == "Closed: nothing is open.") == (not told)
    for one in seen.plumbed.runs:
        steps = run_view(seen, one.run.key).steps
        assert len(steps) == len(one.joints) + len(one.run.pieces)
    joints = [run for each in joints_view(seen).circuits for run in each.runs]
    assert len(joints) == len(seen.plumbed.runs)
    assert len(buy_view(seen).lines) == len(seen.plumbed.buy)
    assert shelf_view(seen).lines == ()
