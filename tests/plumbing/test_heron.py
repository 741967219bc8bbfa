"""The demo build's plumbing: what it says, worked off entry by entry until nothing is open, and a
hose taken off again."""

import datetime as dt
import re
from collections import Counter
from dataclasses import replace
from functools import cache
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.plumbing.heron import heron
from webapp.build.build_input import BuildInput
from webapp.build.by_key import get_by_key, replaced_by_key
from webapp.build.checks.input_checks import faults_of
from webapp.build.circuit_dependencies import circuit_pairs, with_circuit_dependencies
from webapp.build.plumbing import Component, End, Piece, Port, Run, ShelfThing, Stop
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.names import is_by_length, piece_name
from webapp.plumbing.needs import Need
from webapp.plumbing.open_list import Open
from webapp.plumbing.plumbed import Plumbed, PlumbedCircuit, plumbed
from webapp.plumbing.run_work import clamped_run, cut_run, fitted_run, run_taken_off
from webapp.plumbing.shelf import Given, given_out

TODAY = dt.date(2026, 2, 9)
CIRCUITS = (
    *("intake", "charge", "coolant", "fuel", "oil", "steering", "vacuum", "ac", "exhaust"),
    *("breather", "gearvent"),
)
SEALED = "ac"
"""Not needed to start."""


def circuit_of(answer: Plumbed, key: str) -> PlumbedCircuit:
    return next(one for one in answer.circuits if one.circuit.key == key)


def told(answer: Plumbed, key: str) -> list[tuple[str, str]]:
    return [(one.what, one.why) for one in circuit_of(answer, key).open]


# --- as it is ------------------------------------------------------------------------------------


def test_loops_come_back_to_where_they_began_and_lines_do_not() -> None:
    loops = [one.circuit.key for one in plumbed(heron()).circuits if one.kind == "loop"]
    assert loops == ["coolant", "fuel", "oil", "steering", "ac"]


def test_the_coolant_is_told_in_flow_order_from_the_thermostat() -> None:
    """Steps from engine.stat out: the upper hose 0 (it ends there), the radiator's drain behind it
    2, the foot hose and the vent 2 (bottom and vent); the T to the pump 4; the rest hangs on the
    header tank and on what the pump gives back. Senders and the second vent are never reached."""
    open_now = told(plumbed(heron()), "coolant")
    assert open_now[0] == ("w_top", "to make")
    assert {what for what, _ in open_now[1:4]} == {"rad.drain", "w_foot", "w_vent"}
    assert open_now[4] == ("w_pump", "not fitted")
    assert [what for what, _ in open_now[-3:]] == [
        *("engine.water sender", "rad.fan switch", "header.vent b")
    ]
    assert ("heat_core.in", "not measured") in open_now
    assert ("w_core", "pieces missing") not in open_now  # its end is not measured


def test_what_does_not_fit_is_mended_by_what_the_shop_would_take() -> None:
    """A coupler 60 before the 63 of the shut-off becomes a reducer that lies there; the reducer
    19-16 that lies there is of oil hose, so the heater gets one of its own; the banjo's adapter is
    exchanged for one of the right thread."""
    found = {
        one.run: (one.at, one.instead_of, one.pieces, one.source)
        for one in plumbed(heron()).proposals
    }
    assert found == {
        "cold1": (6, 5, ("reducer 63-60 silicone lined",), "shelf"),
        "w_hot": (3, None, ("reducer 19-16 coolant", "joiner 16 steel"), "buy"),
        "s2": (1, 1, ("adapter bead 10 - male M18x1.5",), "buy"),
        "b2": (2, None, ("joiner 19", "reducer 19-16 oil"), "buy"),
    }


def test_the_shelf_serves_the_longest_hose_first() -> None:
    """Hose 19 coolant, 600 and 600 there: 520 and 300 + 300 come off, 240 and 160 are bought."""
    answer = plumbed(heron())
    buy = {
        line.need.what: (line.need.metres or line.need.count, line.ordered) for line in answer.buy
    }
    assert buy["hose 19 coolant"] == (0.4, 0)
    assert buy["bend 60 90° aluminium"] == (2, 2)  # three are ordered, two lack
    # joints of clamped and well-fitting runs need no more than what lies there
    assert "hose 38 coolant" not in buy
    assert "clamp 40-60" not in buy


def test_what_it_holds_in_coolant() -> None:
    """By hand: components 5.6 + 5.2 + 1.4 + 0.1 + 0.9 + 0.05 + 0.02 = 13.27 l. Hoses of 38: 1280 mm
    1.4517 l; of 19: 240 + 520 + 160 + 300 + 300 = 1520 mm 0.4310; of 16: 270 mm 0.0543; of 18:
    120 mm 0.0305; of 8: 700 mm 0.0352; tubes of 19 less walls of 1.5, bore 16: 1670 mm 0.3358."""
    litres = circuit_of(plumbed(heron()), "coolant").litres
    assert abs(litres.litres - 15.6085) < 0.002
    assert litres.without == ()


def test_the_order_of_work_knows_all_pairs_already() -> None:
    """48 pairs of a run's task and what waits for its circuit; the dependencies bring each."""
    build = heron()
    pairs = {(before, after, circuit.key) for before, after, circuit in circuit_pairs(build)}
    assert len(pairs) == 48
    after: dict[str, set[str]] = {}
    for dependency in build.dependencies:
        after.setdefault(dependency.before, set()).add(dependency.after)

    def behind(key: str) -> set[str]:
        seen: set[str] = set()
        ahead = [key]
        while ahead:
            new = after.get(ahead.pop(), set()) - seen
            seen |= new
            ahead += new
        return seen

    assert all(later in behind(before) for before, later, _ in pairs)
    added = len(with_circuit_dependencies(build).dependencies) - len(build.dependencies)
    assert 0 < added < 48  # those that are not entered word for word, of open tasks


# --- worked off ----------------------------------------------------------------------------------

PROPOSED = {
    "reducer 63-60 silicone lined": Piece(piece="reducer", size=(60, 63)),
    "reducer 19-16 coolant": Piece(piece="reducer", size=(19, 16)),
    "joiner 16 steel": Piece(piece="joiner", size=16),
    "adapter bead 10 - male M18x1.5": Piece(
        piece="adapter", ends=(End(kind="male", size="M18x1.5"), End(kind="bead", size=10))
    ),
    "joiner 19": Piece(piece="joiner", size=19),
    "reducer 19-16 oil": Piece(piece="reducer", size=(19, 16)),
}
NEXT: dict[str, Any] = {
    "to make": cut_run,
    "not fitted": fitted_run,
    "not clamped": clamped_run,
}


def with_port(build: BuildInput, address: str, **said: Any) -> BuildInput:
    key, _, name = address.partition(".")
    owner = get_by_key(build.plumbing.components, key)
    ports: tuple[Port, ...] = tuple(
        replace(port, **said) if port.name == name else port for port in owner.ports
    )
    components: tuple[Component, ...] = replaced_by_key(
        build.plumbing.components, replace(owner, ports=ports)
    )
    return replace(build, plumbing=replace(build.plumbing, components=components))


def with_run(build: BuildInput, run: Run) -> BuildInput:
    runs = replaced_by_key(build.plumbing.runs, run)
    return replace(build, plumbing=replace(build.plumbing, runs=runs))


def on_the_shelf(need: Need, build: BuildInput) -> ShelfThing:
    """What is bought of a need: a clamp by its range, a length as it is sold, the rest by name."""
    if found := re.fullmatch(r"clamp ([\d.]+)-([\d.]+)", need.what):
        return ShelfThing(
            piece="clamp", range_mm=(float(found[1]), float(found[2])), count=need.count
        )
    if need.metres is not None:
        drawn = next(
            replace(piece, of=piece.of if piece.of is not None else material)
            for run in build.plumbing.runs
            for piece, circuit in Drawing(build).pieces_of(run)
            for material in [circuit.hose if piece.piece == "hose" else circuit.tube]
            if is_by_length(piece) and piece_name(piece, circuit) == need.what
        )
        return ShelfThing(
            piece=drawn.piece, size=drawn.size, of=drawn.of, length_mm=need.length_mm + 20
        )
    return ShelfThing(piece="seal", name=need.what, count=need.count)


def worked_off(build: BuildInput, one: Open) -> BuildInput:
    """The build after one open thing was seen to, as a person would."""
    plumbing = build.plumbing
    if one.why == "not measured":
        return with_port(build, one.what, size=16)
    if one.why in ("not joined", "cap missing"):
        return with_port(build, one.what, stop=Stop(kind="cap", on=TODAY))
    if one.why == "part missing":
        return with_port(build, one.what, stop=Stop(kind="part", on=TODAY))
    if one.why == "cover still on":
        return with_port(build, one.what, stop=None)
    if one.why == "not here":
        part = replace(get_by_key(build.parts, one.part or ""), arrived=True)
        return replace(build, parts=replaced_by_key(build.parts, part))
    run = get_by_key(plumbing.runs, one.what)
    if one.why == "does not fit":
        assert one.mend is not None
        assert one.joint is not None
        pieces = tuple(PROPOSED[name] for name in one.mend.pieces)
        at = one.joint - 1 if one.mend.instead_of is None else one.mend.instead_of - 1
        behind = run.pieces[at if one.mend.instead_of is None else at + 1 :]
        return with_run(build, replace(run, pieces=(*run.pieces[:at], *pieces, *behind)))
    if one.needs:
        bought = tuple(on_the_shelf(need, build) for need in one.needs)
        return replace(build, plumbing=replace(plumbing, shelf=(*plumbing.shelf, *bought)))
    after: BuildInput = NEXT[one.why](build, one.what, on=TODAY)
    return after


def all_open(answer: Plumbed) -> list[Open]:
    return [one for circuit in answer.circuits for one in circuit.open]


@cache
def closed() -> tuple[BuildInput, tuple[Open, ...]]:
    """The demo with everything seen to, one thing after the other, and what that was."""
    build, done = heron(), []
    while open_now := all_open(plumbed(build)):
        done.append(open_now[0])
        build = worked_off(build, open_now[0])
        assert len(done) < 300
    return build, tuple(done)


def test_it_is_worked_off_entry_by_entry_until_nothing_is_open() -> None:
    build, done = closed()
    answer = plumbed(build)
    assert [one.circuit.key for one in answer.circuits if one.is_closed] == list(CIRCUITS)
    assert answer.buy == ()
    assert answer.cut == ()
    assert answer.proposals == ()
    assert {one.state for one in answer.runs} == {"clamped"}
    assert faults_of(build) == ()
    # each thing is told until it is seen to, and never again
    told_once = [(one.what, one.why, one.joint, one.needs) for one in done]
    assert len(set(told_once)) == len(told_once)


def test_closed_circuits_that_want_a_test_still_hold_first_start() -> None:
    build, _ = closed()
    held = {one.task: {(hold.circuit, hold.why) for hold in one.by} for one in plumbed(build).held}
    assert held == {"first_start": {(key, "not tested") for key in ("coolant", "fuel", "vacuum")}}
    circuits = tuple(replace(one, tested_on=TODAY) for one in build.plumbing.circuits)
    tested = plumbed(replace(build, plumbing=replace(build.plumbing, circuits=circuits)))
    assert tested.held == ()
    assert all(one.is_tested for one in tested.circuits)


def test_a_hose_taken_off_again_opens_its_circuit_and_no_other() -> None:
    build, _ = closed()
    circuits = tuple(replace(one, tested_on=TODAY) for one in build.plumbing.circuits)
    build = replace(build, plumbing=replace(build.plumbing, circuits=circuits))
    foot = get_by_key(build.plumbing.runs, "w_foot")
    assert foot.cut_on is not None
    off_build = run_taken_off(build, "w_foot")
    off = plumbed(off_build)
    assert told(off, "coolant") == [("w_foot", "not fitted")]
    assert [one.circuit.key for one in off.circuits if not one.is_closed] == ["coolant"]
    assert [one.circuit.key for one in off.circuits if not one.is_tested] == ["coolant"]
    assert get_by_key(off_build.plumbing.circuits, "coolant").tested_on is None
    held = {one.task: [hold.circuit for hold in one.by] for one in off.held}
    assert held == {key: ["coolant"] for key in ("water_test", "coolant_fill", "first_start")}


def test_a_bypass_that_is_taken_out_leaves_no_way_with_the_thermostat_shut() -> None:
    """Water comes back by the heater too, until its valve is shut: then by the bypass alone."""
    build, _ = closed()
    runs = tuple(run for run in build.plumbing.runs if run.key != "w_byp")
    shut = replace(build, plumbing=replace(build.plumbing, runs=runs))
    for address in ("engine.bypass", "tee_byp.a"):
        shut = with_port(shut, address, stop=Stop(kind="cap", on=TODAY))
    assert told(plumbed(shut), "coolant") == [("coolant", "no way when shut")]


# --- the shelf, given once -----------------------------------------------------------------------


@settings(max_examples=30, deadline=None)
@given(st.data())
def test_each_thing_on_the_shelf_is_given_once(data: st.DataObject) -> None:
    """Any counts on the shelf, any runs cut already: what was given and what is left are what lay
    there, and what lacks is what was asked for less what was given."""
    build = heron()
    shelf = tuple(
        replace(thing, count=data.draw(st.integers(0, 4))) for thing in build.plumbing.shelf
    )
    runs = tuple(
        run if run.cut_on is not None or data.draw(st.booleans()) else replace(run, cut_on=TODAY)
        for run in build.plumbing.runs
    )
    build = replace(build, plumbing=replace(build.plumbing, shelf=shelf, runs=runs))
    drawing = Drawing(build)
    given_now = given_out(drawing)
    lacks = Counter[str]()
    for needs in (*given_now.run_needs.values(), tuple(given_now.stop_needs.values())):
        lacks.update({need.what: need.count for need in needs if need.metres is None})
    asked = asked_by_name(drawing)
    lay = Counter[str]()
    for thing in shelf:
        if not is_by_length(thing):
            lay[piece_name(thing)] += thing.count
    for name, count in asked.items():
        assert lacks[name] == max(0, count - lay[name]), name
        assert given_now.left.counts[name] == max(0, lay[name] - count), name
    clamps = sum(n for name, n in lacks.items() if name.startswith("clamp "))
    taken = sum(
        n - given_now.left.counts[name] for name, n in lay.items() if name.startswith("clamp ")
    )
    joints = [joint for run in runs if run.clamped_on is None for joint in drawing.joints[run.key]]
    assert clamps + taken == sum(joint.fit.clamp_over_mm is not None for joint in joints)
    assert all(count >= 0 for count in given_now.left.counts.values())
    _lengths_are_given_once(shelf, given_now)
    left = Counter(given_now.left.counts)
    proposals = plumbed(build).proposals
    used = Counter(name for one in proposals if one.source == "shelf" for name in one.pieces)
    assert all(used[name] <= left[name] for name in used)


def asked_by_name(drawing: Drawing) -> Counter[str]:
    """Whole pieces of what is not cut, seals of what is not clamped, caps: all by their names."""
    asked = Counter[str]()
    for run in drawing.plumbing.runs:
        if run.cut_on is None:
            asked.update(
                piece_name(piece, circuit)
                for piece, circuit in drawing.pieces_of(run)
                if not is_by_length(piece)
            )
        if run.clamped_on is None:
            asked.update(seal for joint in drawing.joints[run.key] for seal in joint.fit.seals)
    asked.update(("plug G1/4", "plug M14x1.5"))  # rad.drain and dpipe.heat probe are not capped
    return asked


def _lengths_are_given_once(shelf: tuple[ShelfThing, ...], given_now: Given) -> None:
    """Millimetres that lay there = given + kerfs + left, each kind of hose or tube by itself."""
    lay, cut, lack = Counter[str](), Counter[str](), Counter[str]()
    kerfs = Counter[str]()
    for thing in shelf:
        if is_by_length(thing):
            lay[piece_name(thing)] += round((thing.length_mm or 0) * thing.count)
    lacking = {
        (key, need.what): need.length_mm
        for key, needs in given_now.run_needs.items()
        for need in needs
    }
    for piece in given_now.cut_pieces:
        cut[piece.what] += round(piece.length_mm)
        kerfs[piece.what] += round(piece.kerf_mm)
    for (_, what), length_mm in lacking.items():
        lack[what] += round(length_mm)
    for what, millimetres in lay.items():
        lengths = given_now.left.bars[what].lengths_mm()
        left = round(sum(length * count for length, count in lengths.items()))
        given_mm = cut[what] - lack[what]
        lost = millimetres - given_mm - left
        assert 0 <= lost <= kerfs[what]
        assert min((length for length, count in lengths.items() if count), default=0) >= -3
