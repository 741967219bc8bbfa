"""The verbs of the plumbing: what each does, and the sentence with which it refuses."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from tests.plumbing.small import (
    DAY,
    build,
    circuit,
    clamp,
    component,
    done,
    hose,
    port,
    run,
    through,
)
from webapp.build.build_input import BuildInput
from webapp.build.edited import Edited
from webapp.build.plumbing import Component, End, Port, Stop
from webapp.build.verbs import circuits, components, runs, shelf

CAP = Stop(kind="cap", on=DAY)


def shop(**said: Any) -> BuildInput:
    """Pump, cooler and back, the cooler's drain capped; tested. A second circuit beside it."""
    ends = (
        component("pump", port("out", "out"), port("in", "in")),
        component(
            "cooler",
            *(port("in", "in"), port("out", "out"), port("drain", "out", stop=CAP)),
            *(port("sender", "none", stop=Stop(kind="part")), port("top", "both")),
        ),
        component("tank", port("a", "out"), port("b", "in"), circuit="fuel"),
    )
    ways = (
        circuit("pump.out", "pump.in", name="Oil round", tested_on=DAY, highest="cooler.top"),
        circuit("tank.a", "tank.b", key="fuel", name="Fuel", medium="fuel"),
    )
    joined = (
        done("out", "pump.out", "cooler.in", hose(), hose(38, 200)),
        run("back", "cooler.out", "pump.in", name="Return hose"),
    )
    return build(ends, ways, joined, (clamp(40, 60, 4),), **said)


def texts(edited: Edited[Any]) -> list[str]:
    """What stands against it; then the build is as it was."""
    return [fault.text for fault in edited.faults]


def is_tested(of: BuildInput) -> bool:
    return of.plumbing.circuits[0].tested_on is not None


def test_a_new_component_gets_a_key_of_its_name_without_a_dot() -> None:
    first = components.add_component(shop(), Component(key="", name="No. 2 cooler", circuit="c"))
    second = components.add_component(
        first.build, Component(key="", name="No. 2 cooler", circuit="c")
    )
    assert (first.made, second.made) == ("No 2 cooler", "No 2 cooler-2")
    assert [one.key for one in second.build.plumbing.components][-2:] == [first.made, second.made]


def test_a_component_that_runs_hang_on_stays_and_they_are_named() -> None:
    kept = components.remove_component(shop(), "cooler")
    assert texts(kept) == [
        "Component Cooler (cooler): 2 runs hang on it: out, Return hose. Remove or join them "
        "elsewhere first."
    ]
    assert kept.build == shop()
    ends = components.remove_component(shop(), "tank")
    assert texts(ends) == [
        "Component Tank (tank): it is where Fuel begins or ends. Choose another port for that "
        "first."
    ]


def test_a_component_that_nothing_hangs_on_goes() -> None:
    more = components.add_component(shop(), through("spare")).build
    assert components.remove_component(more, "spare").build.plumbing.components == (
        shop().plumbing.components
    )


@pytest.mark.parametrize(
    ("first", "last", "said"),
    [
        (
            "cooler.top",
            "pump.in",
            "Port pump.in: it is joined already, by Return hose: put a T into that run, or choose "
            "another port.",
        ),
        (
            "cooler.top",
            "cooler.top",
            "Run run: it runs from cooler.top into itself: choose the port where it ends.",
        ),
        (
            "cooler.top",
            "tank.b",
            "Run run: it joins c (cooler.top) to fuel (tank.b): one run carries one circuit. "
            "Choose another port, or put both ports into one circuit.",
        ),
        (
            "cooler.top",
            "cooler.drain",
            "Run run: cooler.drain is capped. Take that off first, or end the run elsewhere.",
        ),
        (
            "cooler.top",
            "nowhere.at",
            "Run run: there is no port nowhere.at. It was removed or renamed: join the run anew "
            "or remove it.",
        ),
    ],
)
def test_two_ports_that_can_not_be_joined(first: str, last: str, said: str) -> None:
    refused = runs.join_ports(shop(), first, last)
    assert texts(refused) == [said]
    assert refused.build == shop()


def test_two_ports_are_joined() -> None:
    more = components.add_component(shop(), component("header", port("foot", "both")))
    edited = runs.join_ports(more.build, "cooler.top", "header.foot", name="To the header")
    assert edited.faults == ()
    new = edited.build.plumbing.runs[-1]
    assert (new.key, new.ports, new.pieces) == (edited.made, ("cooler.top", "header.foot"), ())


@pytest.mark.parametrize("size", [0, 10_000])
def test_a_bore_that_no_hose_has_is_refused(size: float) -> None:
    refused = runs.add_piece(shop(), "back", hose(size))
    assert texts(refused) == [
        f"Run Return hose, piece 2 (hose) (back): {size:,} is no bore or diameter: from 1 to "
        "500 mm."
    ]


@pytest.mark.parametrize("length", [-5.0, 0.0, 50_000.0])
def test_a_length_that_no_hose_has_is_refused(length: float) -> None:
    (said,) = texts(runs.change_piece(shop(), "back", 1, hose(38, length)))
    assert said.endswith("mm is no length: from 1 to 20,000 mm.")


def test_two_thousand_and_one_runs_are_too_many() -> None:
    many = replace(
        shop().plumbing,
        components=(
            *shop().plumbing.components,
            *(component(f"k{n}", port("a", "both"), port("b", "both")) for n in range(999)),
        ),
    )
    of = replace(shop(), plumbing=many)
    said = texts(components.add_component(of, through("more")))
    assert said == ["Build Bench: it has 1,003 components, and 1,000 is the most. Leave some out."]


def test_pieces_are_put_in_moved_and_taken_out_by_their_number() -> None:
    long, short = hose(38, 900), hose(38, 50)
    of = runs.add_piece(shop(), "out", long, before=2).build
    of = runs.add_piece(of, "out", short).build

    def lengths(of: BuildInput) -> list[float | None]:
        return [piece.length_mm for piece in of.plumbing.runs[0].pieces]

    assert lengths(of) == [100, 900, 200, 50]
    assert lengths(runs.move_piece(of, "out", 4, 1).build) == [50, 100, 900, 200]
    assert lengths(runs.remove_piece(of, "out", 3).build) == [100, 900, 50]
    assert texts(runs.remove_piece(of, "back", 2)) == [
        "Run Return hose (back): there is no piece 2, it has 1. Look at it again."
    ]


Verb = Callable[[BuildInput], Edited[Any]]
STALE: dict[str, Verb] = {
    "a piece more": lambda of: runs.add_piece(of, "back", hose()),
    "a port measured": lambda of: components.measure_port(of, "cooler.top", 40),
    "a cap off": lambda of: components.open_port(of, "cooler.drain"),
    "a run gone": lambda of: runs.remove_run(of, "back"),
    "a component more": lambda of: components.add_component(of, through("more")),
}
STILL: dict[str, Verb] = {
    "a component renamed": lambda of: components.change_component(
        of, replace(of.plumbing.components[1], name="Oil cooler")
    ),
    "a port renamed": lambda of: components.rename_port(of, "pump.out", "feed"),
    "a run renamed": lambda of: runs.change_run(of, replace(of.plumbing.runs[0], name="Feed")),
    "a run drawn from its other end": lambda of: runs.turn_run(of, "out"),
    "a circuit renamed": lambda of: circuits.change_circuit(
        of, replace(of.plumbing.circuits[0], name="Oil")
    ),
    "the other circuit changed": lambda of: components.measure_port(of, "tank.a", 8),
    "the shelf changed": lambda of: shelf.put_on_shelf(of, clamp(40, 60)),
    "no drain wanted": lambda of: circuits.waive(of, "c", "no drain", "the sump has one"),
}


@pytest.mark.parametrize("verb", STALE)
def test_what_changes_a_circuit_makes_it_untested(verb: str) -> None:
    edited = STALE[verb](shop())
    assert edited.faults == ()
    assert edited.build != shop()
    assert not is_tested(edited.build)


@pytest.mark.parametrize("verb", STILL)
def test_what_only_names_or_moves_keeps_the_test(verb: str) -> None:
    edited = STILL[verb](shop())
    assert edited.faults == ()
    assert edited.build != shop()
    assert is_tested(edited.build)


def test_a_port_is_renamed_wherever_it_is_named() -> None:
    of = components.rename_port(shop(), "cooler.top", "upper").build
    of = components.rename_port(of, "pump.out", "feed").build
    first = of.plumbing.circuits[0]
    assert (first.from_port, first.highest) == ("pump.feed", "cooler.upper")
    assert of.plumbing.runs[0].from_port == "pump.feed"


def test_a_cover_comes_off_and_nothing_else_does() -> None:
    covered = components.shut_port(shop(), "cooler.top", Stop(kind="cover")).build
    bare = components.cover_off(covered, "cooler.top").build
    assert [one.stop for one in bare.plumbing.components[1].ports if one.name == "top"] == [None]
    assert texts(components.cover_off(shop(), "cooler.drain")) == [
        "Component Cooler (cooler): port drain has no cover on it, but a stop for good. Take that "
        "off."
    ]


def test_a_port_with_a_part_on_it_can_be_taken_out_and_a_joined_one_not() -> None:
    of = components.remove_port(shop(), "cooler.sender").build
    assert [one.name for one in of.plumbing.components[1].ports] == ["in", "out", "drain", "top"]
    assert texts(components.remove_port(shop(), "cooler.in")) == [
        "Component Cooler (cooler): port in is joined by out. Remove that first."
    ]


def test_a_port_that_a_circuit_begins_at_stays_and_one_that_is_its_highest_point_goes() -> None:
    left = replace(shop().plumbing, runs=())
    assert texts(components.remove_port(replace(shop(), plumbing=left), "pump.out")) == [
        "Component Pump (pump): Oil round begins or ends at port out. Choose another for that."
    ]
    of = components.remove_port(shop(), "cooler.top")
    assert texts(of) == []
    assert of.build.plumbing.circuits[0].highest is None
    assert not is_tested(of.build)  # an end is gone


def test_a_component_turned_round_lets_in_where_it_let_out_and_stays_tested() -> None:
    of = components.turn_component(shop(), "cooler", "c").build
    flows = {port.name: port.flow for port in of.plumbing.components[1].ports}
    assert flows == {"in": "out", "out": "in", "drain": "in", "sender": "none", "top": "both"}
    assert is_tested(of)
    assert components.turn_component(of, "cooler", "c").build == shop()
    drained = components.change_port(
        shop(), "cooler.drain", port("drain", "out", role="drain", stop=CAP)
    ).build
    turned = components.turn_component(drained, "cooler", "c").build.plumbing.components[1]
    assert {one.name: one.flow for one in turned.ports}["drain"] == "out"  # whatever way it stands
    assert components.turn_component(shop(), "cooler", "fuel").build == shop()


def test_a_clamped_run_is_taken_off_before_it_is_removed() -> None:
    assert texts(runs.remove_run(shop(), "out")) == [
        "Run out: it is clamped. Take it off first, so that its clamps come back to the shelf."
    ]


def test_a_circuit_comes_with_its_ends_and_goes_with_them() -> None:
    ends = Component(
        key="box",
        name="Box",
        ports=(
            Port(name="a", end="bead", flow="out", size=51),
            Port(name="b", end="bead", flow="in", size=51),
        ),
    )
    new = circuit("box.a", "box.b", key="", name="Intake", medium="air")
    added = circuits.add_circuit(shop(), new, ends)
    assert (added.made, added.faults) == ("Intake", ())
    assert added.build.plumbing.components[-1].circuit == "Intake"
    assert circuits.remove_circuit(added.build, "Intake").build == shop()
    assert texts(circuits.remove_circuit(shop(), "c")) == [
        "Circuit Oil round (c): Pump, Cooler belong to it. Remove them, or put them into another "
        "circuit first."
    ]


def test_a_waiver_needs_its_reason() -> None:
    assert texts(circuits.waive(shop(), "c", "no vent", " ")) == [
        "Circuit Oil round (c): say why it may go with no vent."
    ]
    waived = circuits.waive(shop(), "c", "no vent", "it is flat").build
    assert circuits.waive_no_more(waived, "c", "no vent").build == shop()


def test_what_lies_there_already_is_counted_up_and_a_line_that_moved_is_left_alone() -> None:
    more = shelf.put_on_shelf(shop(), clamp(40, 60, 2)).build
    (lying,) = more.plumbing.shelf
    assert lying.count == 6
    stale = shelf.take_from_shelf(more, 0, clamp(40, 60, 4))
    assert texts(stale) == [
        "Shelf clamp: the shelf was changed meanwhile. Look at it again, then press once more."
    ]
    assert shelf.take_from_shelf(more, 0, lying).build.plumbing.shelf == ()


def test_what_is_gone_meanwhile_is_lost() -> None:
    for edited in (
        runs.remove_run(shop(), "gone"),
        components.measure_port(shop(), "pump.gone", 8),
        circuits.waive(shop(), "gone", "no vent", "x"),
    ):
        assert edited.lost is not None
        assert edited.build == shop()


def test_a_piece_turned_round_has_its_ends_and_its_arrow_turned() -> None:
    ends = (End(kind="bead", size=38.0), End(kind="male", size="M16x1.5"))
    valve = replace(hose(), piece="inline", ends=ends, arrow="to", size=None, length_mm=None)
    turned = runs.turned_piece(valve)
    assert (turned.ends, turned.arrow) == (ends[::-1], "from")
    assert runs.turned_piece(turned) == valve
