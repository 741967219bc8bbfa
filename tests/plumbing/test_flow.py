"""Flow follows from ports and arrows, whichever way round a run was typed in."""

import pytest

from tests.plumbing.small import build, circuit, component, port, run, through
from webapp.build.build_input import BuildInput
from webapp.build.plumbing import Arrow, End, Flow, Piece
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.flow import distances, network_of, reached, run_flow, shortest_way


def one_run(first: Flow, last: Flow, arrow: Arrow | None = None) -> BuildInput:
    ends = (End(kind="bead", size=38), End(kind="bead", size=38))
    valve = Piece(piece="inline", name="valve", ends=ends, arrow=arrow)
    return build(
        (component("a", port("p", first)), component("b", port("p", last))),
        (circuit("a.p", "b.p"),),
        (run("r", "a.p", "b.p", valve),),
    )


@pytest.mark.parametrize(
    ("first", "last", "arrow", "flow"),
    [
        ("out", "in", None, "on"),
        ("in", "out", None, "back"),
        ("both", "in", None, "on"),
        ("both", "out", None, "back"),
        ("both", "both", None, "both"),
        ("out", "out", None, "none"),
        ("in", "in", None, "none"),
        ("out", "in", "to", "on"),
        ("out", "in", "from", "none"),
        ("in", "out", "to", "none"),
        ("in", "out", "from", "back"),
        ("both", "both", "to", "on"),
        ("both", "both", "from", "back"),
    ],
)
def test_a_run_flows_from_out_to_in(
    first: Flow, last: Flow, arrow: Arrow | None, flow: str
) -> None:
    drawing = Drawing(one_run(first, last, arrow))
    assert run_flow(drawing, drawing.plumbing.runs[0]) == flow


def two_cores(passages: tuple[tuple[str, str], ...] | None) -> BuildInput:
    """A cooler with two ports in and two out."""
    ports = (port("in1", "in"), port("out1", "out"), port("in2", "in"), port("out2", "out"))
    return build(
        (component("cooler", *ports, passages=passages), through("a")),
        (circuit("cooler.in1", "cooler.out1"),),
    )


@pytest.mark.parametrize(
    ("passages", "inside"),
    [
        (None, {"in1": {"out1", "out2"}, "in2": {"out1", "out2"}}),
        ((("in1", "out1"), ("out2", "in2")), {"in1": {"out1"}, "in2": {"out2"}}),
        ((("in1", "in2"),), {}),  # joined inside, but nothing leads out
        ((), {}),
    ],
)
def test_inside_a_component_every_port_in_leads_to_every_port_out_unless_said_otherwise(
    passages: tuple[tuple[str, str], ...] | None, inside: dict[str, set[str]]
) -> None:
    network = network_of(Drawing(two_cores(passages)), "c")
    found = {here: theres for here, theres in network.inside.items() if here.startswith("cooler.")}
    assert found == {
        f"cooler.{here}": {f"cooler.{there}" for there in theres} for here, theres in inside.items()
    }


def test_ways_inside_do_not_lead_from_one_circuit_into_another() -> None:
    ports = (port("in", "in"), port("out", "out"), port("oil", "out", circuit="oil"))
    of = build(
        (component("engine", *ports), component("o", port("p", "in"), circuit="oil")),
        (circuit("engine.in", "engine.out"), circuit("engine.oil", "o.p", key="oil")),
    )
    assert network_of(Drawing(of), "c").inside == {"engine.in": {"engine.out"}}
    assert network_of(Drawing(of), "oil").inside == {}


def test_steps_are_runs_and_ways_inside() -> None:
    of = build(
        (through("a"), through("b"), through("d")),
        (circuit("a.out", "d.in"),),
        (run("r1", "a.out", "b.in"), run("r2", "d.in", "b.out")),
    )
    network = network_of(Drawing(of), "c")
    # a.out -r1-> b.in -inside-> b.out -r2, typed the other way round-> d.in -inside-> d.out
    assert distances(network, "a.out") == {"a.out": 0, "b.in": 1, "b.out": 2, "d.in": 3, "d.out": 4}
    assert shortest_way(network, "a.out", "d.in") == ("a.out", "b.in", "b.out", "d.in")
    assert shortest_way(network, "d.in", "a.out") == ()
    assert reached(["a.out"], network.runs, network.inside, without={"b.out"}) == {"a.out", "b.in"}
