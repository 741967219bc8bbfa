"""What is open, why, in which order, and what closed, complete and tested mean."""

import datetime as dt
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
    lying,
    port,
    run,
    through,
)
from webapp.build.build_input import BuildInput, Part
from webapp.build.by_key import get_by_key, replaced_by_key
from webapp.build.plumbing import Component, End, Piece, Run, Stop, Waiver
from webapp.plumbing.plumbed import Plumbed, PlumbedCircuit, plumbed

EARLIER, LATER = DAY - dt.timedelta(days=1), DAY + dt.timedelta(days=1)


def line(*components: Component, runs: tuple[Run, ...] | None = None, **said: Any) -> BuildInput:
    """a.out to b.in by one clamped hose, and what else is given."""
    ends = (component("a", port("out", "out")), component("b", port("in", "in")))
    runs = (done("r", "a.out", "b.in"),) if runs is None else runs
    return build((*ends, *components), (circuit("a.out", "b.in"),), runs, **said)


def only(of: BuildInput) -> PlumbedCircuit:
    (found,) = plumbed(of).circuits
    return found


def told(of: BuildInput) -> list[tuple[str, str]]:
    return [(one.what, one.why) for one in only(of).open]


def test_a_line_that_is_clamped_is_closed() -> None:
    found = only(line())
    assert found.open == ()
    assert found.is_closed
    assert found.kind == "line"
    assert found.way == ("a.out", "b.in")


# --- ports -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("stop", "why"),
    [
        (None, "not joined"),
        (Stop(kind="cover"), "not joined"),
        (Stop(kind="cover", on=DAY), "not joined"),
        (Stop(kind="cap"), "cap missing"),
        (Stop(kind="cap", on=DAY), None),
        (Stop(kind="part"), "part missing"),
        (Stop(kind="part", on=DAY), None),
        (Stop(kind="air"), None),
    ],
)
def test_a_port_is_joined_capped_or_open_to_the_air(stop: Stop | None, why: str | None) -> None:
    of = line(component("a2", port("p", "out", stop=stop)))
    assert told(of) == ([] if why is None else [("a2.p", why)])


@pytest.mark.parametrize(
    ("said", "is_open"),
    [
        ({"size": None, "stop": Stop(kind="cap", on=DAY)}, True),
        ({"size": None, "stop": Stop(kind="air")}, False),
        ({"size": None, "end": "open", "stop": Stop(kind="cap", on=DAY)}, False),
        ({"stop": Stop(kind="cap", on=DAY)}, False),
    ],
)
def test_a_port_is_measured_unless_it_is_open_to_the_air(said: Any, is_open: bool) -> None:
    assert told(line(component("d", port("p", "out", **said)))) == (
        [("d.p", "not measured")] if is_open else []
    )


def test_a_cover_has_to_come_off_before_its_run_is_fitted() -> None:
    covered = component("b", port("in", "in", stop=Stop(kind="cover")))
    a = component("a", port("out", "out"))

    def of(one: Run) -> list[tuple[str, str]]:
        return told(build((a, covered), (circuit("a.out", "b.in"),), (one,), (clamp(40, 60, 2),)))

    cut = run("r", "a.out", "b.in", cut_on=DAY)
    assert of(cut) == [("r", "not fitted")]
    assert of(replace(cut, fitted_on=DAY)) == [("r", "not clamped"), ("b.in", "cover still on")]
    assert of(done("r", "a.out", "b.in")) == [("b.in", "cover still on")]


def test_a_component_is_not_here_until_its_part_has_arrived() -> None:
    d = component("d", port("p", "in", stop=Stop(kind="air")), part="p1")
    part = Part(key="p1", name="Pump")
    (one,) = only(line(d, parts=(part,))).open
    assert (one.what, one.why, one.part) == ("d", "not here", "p1")
    assert only(line(d, parts=(replace(part, arrived=True),))).is_closed


# --- runs ------------------------------------------------------------------------------------

READY = (lying("hose", size=38, length_mm=100, of="rubber"), clamp(40, 60, 2))


@pytest.mark.parametrize(
    ("days", "shelf", "state", "why", "needs"),
    [
        ({}, (), "drawn", "pieces missing", {"hose 38 rubber": 0.1, "clamp 40-60": 2}),
        ({}, READY[:1], "drawn", "pieces missing", {"clamp 40-60": 2}),
        ({}, READY[1:], "drawn", "pieces missing", {"hose 38 rubber": 0.1}),
        ({}, READY, "on hand", "to make", {}),
        ({"cut_on": DAY}, READY, "cut", "not fitted", {}),
        ({"cut_on": DAY}, (), "cut", "not fitted", {"clamp 40-60": 2}),
        ({"cut_on": DAY, "fitted_on": DAY}, READY, "fitted", "not clamped", {}),
        ({"cut_on": DAY, "fitted_on": DAY, "clamped_on": DAY}, (), "clamped", None, {}),
    ],
)
def test_a_run_goes_from_drawn_to_clamped(
    days: Any, shelf: Any, state: str, why: str | None, needs: dict[str, float]
) -> None:
    of = line(runs=(run("r", "a.out", "b.in", **days),), shelf=shelf)
    (found,) = plumbed(of).runs
    assert found.state == state
    assert told(of) == ([] if why is None else [("r", why)])
    assert {need.what: need.metres or need.count for need in found.needs} == needs
    if why is not None:
        assert only(of).open[0].needs == found.needs


def test_a_joint_that_does_not_fit_is_named_by_its_number_and_ends() -> None:
    of = line(runs=(run("r", "a.out", "b.in", hose(), hose(32), tasks=("start",)),))
    joints = [(one.why, one.joint, one.ends) for one in only(of).open]
    assert joints == [
        ("does not fit", 2, ("hose 38", "hose 32")),
        ("does not fit", 3, ("hose 32", "bead 38")),  # 6 mm over 32, and 3.2 is the most
    ]
    assert all(one.mend is not None and one.tasks == ("start",) for one in only(of).open)


def test_a_run_with_an_end_that_is_not_measured_says_nothing_beside_it() -> None:
    b = component("b", port("in", "in", size=None))
    of = build(
        (component("a", port("out", "out")), b),
        (circuit("a.out", "b.in"),),
        (run("r", "a.out", "b.in"),),
    )
    assert told(of) == [("b.in", "not measured")]


def test_a_run_against_the_flow_says_nothing_else_of_its_state() -> None:
    of = build(
        (component("a", port("out", "out")), component("b", port("in", "out"))),
        (circuit("a.out", "b.in"),),
        (run("r", "a.out", "b.in"),),
    )
    assert told(of) == [("r", "against the flow")]


# --- the whole circuit ------------------------------------------------------------------------


def water(*ports: Any, **said: Any) -> BuildInput:
    """A loop of water: pump.out, a radiator, pump.in, all clamped; the radiator's other ports."""
    rad = component("rad", port("in", "in"), port("out", "out"), *ports)
    return build(
        (through("pump"), rad),
        (circuit("pump.out", "pump.in", medium="water", **said),),
        (done("r1", "pump.out", "rad.in"), done("r2", "rad.out", "pump.in")),
    )


CAPPED = Stop(kind="cap", on=DAY)
VENT = port("vent", "out", role="vent", stop=CAPPED)
DRAIN = port("drain", "out", role="drain", stop=CAPPED)


def test_water_is_a_loop_with_a_vent_at_the_top_and_a_drain() -> None:
    found = only(water(VENT, DRAIN, highest="rad.vent"))
    assert found.kind == "loop"
    assert found.is_closed
    assert told(water(VENT, DRAIN)) == [("c", "no vent")]
    assert told(water(VENT, DRAIN, highest="rad.drain")) == [("c", "no vent")]
    assert told(water(VENT, highest="rad.vent")) == [("c", "no drain")]


@pytest.mark.parametrize("role", ["vent", "bleed", "fill"])
def test_the_highest_port_may_be_a_vent_a_bleed_or_the_filler(role: Any) -> None:
    vent = port("vent", "both", role=role, stop=CAPPED)
    assert told(water(vent, DRAIN, highest="rad.vent")) == []


def test_what_is_waived_is_not_told_and_nothing_else_is_waived() -> None:
    waived = (
        Waiver(why="no vent", reason="bled by the hose"),
        Waiver(why="no drain", reason="drained by the hose"),
    )
    assert told(water(waived=waived)) == []
    assert told(water(waived=waived[:1])) == [("c", "no drain")]


def test_fuel_has_a_vent_that_is_joined_or_open_to_the_air() -> None:
    def fuel(stop: Stop | None, *runs: Run) -> list[tuple[str, str]]:
        tank = component(
            "tank",
            port("out", "out"),
            port("back", "in"),
            port("vent", "both", role="vent", stop=stop),
        )
        return told(
            build(
                (tank, through("rail"), component("end", port("p", "both", stop=Stop(kind="air")))),
                (circuit("tank.out", "tank.back", medium="fuel"),),
                (done("r1", "tank.out", "rail.in"), done("r2", "rail.out", "tank.back"), *runs),
            )
        )

    assert fuel(Stop(kind="air")) == []
    assert fuel(CAPPED) == [("c", "no vent")]


def thermostat(*more: Run, ports: tuple[Any, ...] = ()) -> BuildInput:
    """Pump with a thermostat at its outlet; a bypass where it is given."""
    pump = component(
        "pump",
        port("in", "in"),
        port("stat", "out", shuts=True),
        port("byp", "out", stop=None if more else CAPPED),
        *ports,
    )
    tee = component(
        "tee",
        port("a", "both"),
        port("b", "both"),
        port("branch", "both", stop=None if more else CAPPED),
    )
    return build(
        (pump, through("rad"), tee),
        (
            circuit(
                "pump.stat",
                "pump.in",
                medium="water",
                waived=(Waiver(why="no vent", reason="-"), Waiver(why="no drain", reason="-")),
            ),
        ),
        (
            done("r1", "pump.stat", "rad.in"),
            done("r2", "rad.out", "tee.a"),
            done("r3", "tee.b", "pump.in"),
            *more,
        ),
    )


def test_water_has_a_way_when_the_thermostat_is_shut() -> None:
    assert told(thermostat()) == [("c", "no way when shut")]
    assert told(thermostat(done("r4", "pump.byp", "tee.branch"))) == []


def test_ways_are_asked_about_only_where_everything_is_joined() -> None:
    """One port left open says it all: the lacks behind it would only follow."""
    loose = port("loose", "out")
    assert told(thermostat(ports=(loose,))) == [("pump.loose", "not joined")]


def test_no_way_leads_on_where_passages_part_the_inside() -> None:
    """Through the radiator nothing flows: neither run is on a way from the source to the sink,
    and each core has a way of its own, so only the circuit says it."""
    rad = component("rad", port("in", "in"), port("out", "out"), passages=())
    of = build(
        (through("pump"), rad),
        (circuit("pump.out", "pump.in"),),
        (done("r1", "pump.out", "rad.in"), done("r2", "rad.out", "pump.in")),
    )
    assert told(of) == [("c", "no way")]
    assert only(of).way == ()


def test_what_is_joined_to_nothing_of_the_circuit_stands_apart() -> None:
    of = line(
        through("x"),
        through("y"),
        runs=(
            done("r", "a.out", "b.in"),
            done("r1", "x.out", "y.in"),
            done("r2", "y.out", "x.in"),
        ),
    )
    assert told(of) == [
        ("x", "stands apart"),
        ("y", "stands apart"),
        ("r1", "goes nowhere"),
        ("r2", "goes nowhere"),
    ]


def test_a_run_round_in_a_ring_beside_the_way_goes_nowhere() -> None:
    """d.out leads to e.in and e.out to d.in2: water that comes in by d.in never comes out."""
    d = component("d", port("in", "in"), port("in2", "in"), port("out", "out"))
    tee = component("tee", port("a", "in"), port("b", "out"), port("branch", "out"))
    of = build(
        (
            component("a", port("out", "out")),
            tee,
            component("b", port("in", "in")),
            d,
            through("e"),
        ),
        (circuit("a.out", "b.in"),),
        (
            done("r1", "a.out", "tee.a"),
            done("r2", "tee.b", "b.in"),
            done("r3", "tee.branch", "d.in"),
            done("r4", "d.out", "e.in"),
            done("r5", "e.out", "d.in2"),
        ),
    )
    assert told(of) == [("r3", "goes nowhere"), ("r4", "goes nowhere"), ("r5", "goes nowhere")]


def test_vents_from_and_to_the_air_go_somewhere() -> None:
    tank = component("tank", port("out", "out"), port("vent", "in"))
    end = component("end", port("air", "in", stop=Stop(kind="air")), port("p", "out"))
    of = build(
        (tank, component("b", port("in", "in")), end),
        (circuit("tank.out", "b.in"),),
        (done("r", "tank.out", "b.in"), done("v", "end.p", "tank.vent")),
    )
    assert told(of) == []


def test_what_is_filled_in_by_a_capped_filler_goes_somewhere() -> None:
    """Neck and hose lead from the filler into the tank; nothing else flows through them."""

    def filled(role: Any) -> list[tuple[str, str]]:
        neck = component("neck", port("mouth", "in", role=role, stop=CAPPED), port("out", "out"))
        tank = component("tank", port("filler", "in"), port("out", "out"))
        return told(
            build(
                (neck, tank, component("b", port("in", "in"))),
                (circuit("tank.out", "b.in"),),
                (done("r", "tank.out", "b.in"), done("f", "neck.out", "tank.filler")),
            )
        )

    assert filled("fill") == []
    assert filled(None) == [("f", "goes nowhere")]


# --- order, complete, tested -------------------------------------------------------------------


def test_the_list_is_in_flow_order_whatever_the_order_of_the_document() -> None:
    """Steps from a.out: r1 0; d.in 1, d.spare 2, r2 2; r3 4; then the circuit's own."""
    d = component("d", port("spare", "out"), port("in", "in"), port("out", "out"))
    of = build(
        (
            component("b", port("in", "in")),
            through("e"),
            d,
            component("a", port("out", "out")),
            component("far", port("p", "in")),
        ),
        (circuit("a.out", "b.in", medium="water"),),
        (run("r3", "e.out", "b.in"), run("r2", "e.in", "d.out"), run("r1", "d.in", "a.out")),
    )
    assert told(of) == [
        ("r1", "pieces missing"),
        ("d.spare", "not joined"),
        ("r2", "pieces missing"),
        ("r3", "pieces missing"),
        ("far.p", "not joined"),  # not reached
        ("c", "no vent"),
        ("c", "no drain"),
    ]


def test_complete_is_a_right_drawing_with_only_work_left() -> None:
    drawn = line(
        component("d", port("p", "out", stop=Stop(kind="cap"))), runs=(run("r", "a.out", "b.in"),)
    )
    assert only(drawn).is_complete
    assert not only(drawn).is_closed
    assert not only(line(component("d", port("p", "out")))).is_complete


@pytest.mark.parametrize(
    ("tested", "is_tested"),
    [(None, False), (EARLIER, False), (DAY, True), (LATER, True)],
)
def test_tested_is_since_the_last_clamp(tested: dt.date | None, is_tested: bool) -> None:
    of = line()
    circuits = (replace(of.plumbing.circuits[0], tested_on=tested),)
    found = only(replace(of, plumbing=replace(of.plumbing, circuits=circuits)))
    assert found.is_tested is is_tested


def test_a_cap_put_on_after_the_test_asks_for_another() -> None:
    capped = component("d", port("p", "out", stop=Stop(kind="cap", on=LATER)))
    part = component("d", port("p", "out", stop=Stop(kind="part", on=LATER)))
    for one, is_tested in ((capped, False), (part, True)):
        of = line(one)
        circuits = (replace(of.plumbing.circuits[0], tested_on=DAY),)
        found = only(replace(of, plumbing=replace(of.plumbing, circuits=circuits)))
        assert found.is_closed
        assert found.is_tested is is_tested


def test_what_is_open_is_not_tested() -> None:
    of = line(component("d", port("p", "out")))
    circuits = (replace(of.plumbing.circuits[0], tested_on=LATER),)
    assert not only(replace(of, plumbing=replace(of.plumbing, circuits=circuits))).is_tested


# --- worth a look --------------------------------------------------------------------------------


def looks(of: Plumbed) -> list[tuple[str, str, int | None]]:
    return [(look.run, look.why, look.joint) for look in of.look]


def test_tight_joints_and_runs_that_nobody_clamped_are_worth_a_look() -> None:
    tight = run("r", "a.out", "b.in", hose(36), tasks=("fit",))  # 2 mm over 36: 5 % is 1.8
    of = line(runs=(tight,), tasks=("fit",))
    assert looks(plumbed(of)) == [("r", "tight", 1), ("r", "tight", 2)]
    fitted = replace(get_by_key(of.tasks, "fit"), finished_on=DAY)
    finished = replace(of, tasks=replaced_by_key(of.tasks, fitted))
    assert looks(plumbed(finished))[2:] == [("r", "tasks finished, not clamped", None)]


def test_a_run_that_bolts_straight_on_has_one_joint() -> None:
    flange: Any = {"end": "flange", "size": "3-stud 48"}
    of = build(
        (component("a", port("out", "out", **flange)), component("b", port("in", "in", **flange))),
        (circuit("a.out", "b.in"),),
        (Run(key="r", from_port="a.out", to_port="b.in"),),
    )
    (found,) = plumbed(of).runs
    assert [(joint.at, joint.fit.word) for joint in found.joints] == [(1, "ok")]
    assert [need.what for need in found.needs] == ["gasket 3-stud 48"]


def test_a_piece_says_its_own_ends() -> None:
    ends = (End(kind="bead", size=60), End(kind="spigot", size=60))
    beaded = Piece(piece="tube", size=60, length_mm=100, ends=ends)
    of = build(
        (component("a", port("out", "out", end="hose", size=60)), component("b", port("in", "in"))),
        (circuit("a.out", "b.in"),),
        (run("r", "a.out", "b.in", beaded),),
    )
    assert plumbed(of).runs[0].joints[0].ends == ("hose 60", "bead 60")
