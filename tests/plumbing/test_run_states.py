"""How far a run is, caps on and off, a run branched, a part come: with the shelf behind each."""

import datetime as dt
from collections import Counter
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings

from tests.plumbing.heron import heron
from tests.plumbing.random_circuits import circuits
from tests.plumbing.small import (
    DAY,
    NOW,
    build,
    circuit,
    clamp,
    component,
    hose,
    lying,
    port,
    run,
    tube,
)
from webapp.build.build_input import BuildInput, Part
from webapp.build.by_key import get_by_key
from webapp.build.checks.plumbing_checks import plumbing_faults
from webapp.build.edited import Edited
from webapp.build.plumbing import End, Ordered, Piece, Run, ShelfThing, Stop
from webapp.build.verbs.plumbing_edits import with_stale_tests
from webapp.build.verbs.runs import remove_run
from webapp.plumbing.arrivals import brought_to_shelf
from webapp.plumbing.branching import branch_here
from webapp.plumbing.cap_work import put_cap_on, take_cap_off
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.named_things import things_named
from webapp.plumbing.names import piece_name
from webapp.plumbing.next_piece import end_before, size_before
from webapp.plumbing.plumbed import plumbed
from webapp.plumbing.run_states import (
    mark_clamped,
    mark_cut,
    mark_fitted,
    mark_tested,
    not_cut,
    take_off,
)

DRAWN = run("r", "a.out", "b.in", hose(38, 300), name="Long hose")


def shop(drawn: Run = DRAWN, *shelf: ShelfThing, **said: Any) -> BuildInput:
    """One run between two beads of 38, and a port to cap."""
    ends = (
        component("a", port("out", "out")),
        component("b", port("in", "in"), port("drain", "out", stop=Stop(kind="cap"))),
    )
    return build(ends, (circuit("a.out", "b.in"),), (drawn,), shelf, **said)


def texts(edited: Edited[Any]) -> list[str]:
    return [fault.text for fault in edited.faults]


def counted(of: BuildInput) -> dict[str, int]:
    """How many of each thing lie on the shelf, lengths aside."""
    return dict(Counter({piece_name(one): one.count for one in of.plumbing.shelf}))


def clamped(of: BuildInput) -> BuildInput:
    for mark in (mark_cut, mark_fitted, mark_clamped):
        edited = mark(of, "r", on=DAY)
        assert edited.faults == ()
        of = edited.build
    return of


def test_a_run_keeps_the_clamps_that_it_took_and_gives_them_back() -> None:
    """Over a bead of 38 with walls of 5: sqrt(38² + 48² - 38²) = 48 mm; a clamp 40-80 holds that
    well (46 to 74) and is not the one that would be bought."""
    of = clamped(shop(DRAWN, clamp(40, 80, 3)))
    assert of.plumbing.runs[0].clamps == ("clamp 40-80", "clamp 40-80")
    assert counted(of) == {"clamp 40-80": 1}
    off = take_off(of, "r").build
    assert off.plumbing.runs[0].clamps == ()
    assert off.plumbing.runs[0].cut_on == DAY
    assert counted(off) == {"clamp 40-80": 3}


def test_a_clamp_that_did_not_lie_there_is_on_it_all_the_same() -> None:
    """One of the two lay there; the other is as it would be bought: 40-60 holds 48 well."""
    of = clamped(shop(DRAWN, clamp(40, 80, 1)))
    assert sorted(of.plumbing.runs[0].clamps) == ["clamp 40-60", "clamp 40-80"]


def test_days_out_of_order_or_to_come_are_refused() -> None:
    of = mark_cut(shop(), "r", on=DAY).build
    tomorrow = NOW.date() + dt.timedelta(days=1)
    assert texts(mark_fitted(of, "r", on=tomorrow)) == [
        "Run Long hose (r): fitted: 2026-02-10 is still to come. Leave it empty until it is done."
    ]
    order = "Run Long hose (r): it is cut, then fitted, then clamped; the dates say otherwise. "
    assert texts(mark_fitted(of, "r", on=DAY - dt.timedelta(days=1))) == [order + "Correct them."]
    assert texts(mark_clamped(of, "r", on=DAY)) == [order + "Correct them."]
    assert texts(mark_cut(of, "r", on=DAY)) == ["Run Long hose (r): it is cut already."]
    assert texts(take_off(of, "r")) == [
        "Run Long hose (r): it is not fitted, so there is nothing to take off."
    ]
    assert not_cut(of, "r").build.plumbing == shop().plumbing
    assert texts(not_cut(clamped(shop()), "r")) == [
        "Run Long hose (r): it is fitted. Take it off first."
    ]


def test_a_circuit_is_tested_once_it_is_closed() -> None:
    of = clamped(shop())
    assert texts(mark_tested(of, "c", on=DAY)) == [
        "Circuit Circuit (c): one thing is open in it: b.drain cap missing. Close it first."
    ]
    of = put_cap_on(of, "b.drain", on=DAY).build
    tested = mark_tested(of, "c", on=DAY).build
    assert plumbed(tested).circuits[0].is_tested
    assert not plumbed(take_off(tested, "r").build).circuits[0].is_tested
    assert take_cap_off(tested, "b.drain").build.plumbing.circuits[0].tested_on is None


def test_a_cap_goes_from_the_shelf_and_comes_back() -> None:
    of = shop(DRAWN, lying("cap", ends=(End(kind="bead", size=38.0),)))
    on = put_cap_on(of, "b.drain", on=DAY).build
    assert on.plumbing.shelf == ()
    assert counted(take_cap_off(on, "b.drain").build) == {"cap 38": 1}
    assert texts(take_cap_off(of, "b.drain")) == [
        "Port b.drain: no cap is on it, so there is nothing to take off."
    ]
    assert texts(put_cap_on(of, "a.out", on=DAY)) == [
        "Run Long hose (r): a.out is capped. Take that off first, or end the run elsewhere."
    ]


# branch here ----------------------------------------------------------------------------------
def test_a_hose_is_parted_and_a_tee_put_in_that_fits_both_halves() -> None:
    edited = branch_here(shop(), "r", before=1, at_mm=120)
    assert edited.faults == ()
    one, other = edited.build.plumbing.runs
    assert (one.key, one.ports, other.key, other.ports) == (
        *("r", ("a.out", "T.a")),
        *("r-2", ("T.b", "b.in")),
    )
    assert [p.length_mm for p in (*one.pieces, *other.pieces)] == [120, 180]
    tee = edited.build.plumbing.components[-1]
    assert [(p.name, p.end, p.size, p.flow) for p in tee.ports] == [
        (name, "bead", 38, "both") for name in ("a", "b", "branch")
    ]
    answer = plumbed(edited.build)
    assert [joint.fit.word for run in answer.runs for joint in run.joints] == ["ok"] * 4
    assert ("T.branch", "not joined") in [(o.what, o.why) for o in answer.circuits[0].open]


def test_between_two_pieces_each_side_fits_its_own() -> None:
    of = shop(run("r", "a.out", "b.in", hose(), tube(), hose()))
    tee = branch_here(of, "r", before=2, name="Y piece").build.plumbing.components[-1]
    # Before the tube stands a hose, which goes over a bead; the tube itself is welded on.
    assert [(p.name, p.end) for p in tee.ports] == [
        *(("a", "bead"), ("b", "weld"), ("branch", "bead"))
    ]
    assert tee.key == "Y piece"


def test_where_a_run_can_not_be_branched() -> None:
    assert texts(branch_here(shop(), "r", before=3)) == [
        "Run Long hose (r): there is no place 3 to branch at: it has 1 piece."
    ]
    assert texts(branch_here(shop(), "r", before=1, at_mm=300)) == [
        "Run Long hose (r): piece 1 can not be parted there: only hose and tube are, between both "
        "ends."
    ]


def test_what_was_clamped_is_off_and_still_cut_after_a_branch() -> None:
    of = clamped(shop(DRAWN, clamp(40, 60, 2)))
    edited = branch_here(of, "r", before=1, at_mm=100)
    assert [(run.cut_on, run.clamped_on) for run in edited.build.plumbing.runs] == [(DAY, None)] * 2
    assert counted(edited.build) == {"clamp 40-60": 2}


@pytest.mark.parametrize("key", [run.key for run in heron().plumbing.runs])
def test_every_run_of_the_demo_can_be_branched_anywhere(key: str) -> None:
    drawn = get_by_key(heron().plumbing.runs, key)
    for before in range(1, len(drawn.pieces) + 2):
        edited = branch_here(heron(), key, before=before)
        assert edited.faults == ()
        was = Drawing(heron()).joints[key]
        now = Drawing(edited.build).joints
        words = [
            joint.fit.word
            for joint in (
                *now[key],
                *now[
                    edited.build.plumbing.runs[
                        [one.key for one in edited.build.plumbing.runs].index(key) + 1
                    ].key
                ],
            )
        ]
        old = [joint.fit.word for joint in was]
        # The joint that was parted is two now, which fit; all the others are as they were.
        assert words[: before - 1] == old[: before - 1]
        assert words[before + 1 :] == old[before:]
        assert set(words[before - 1 : before + 1]) <= {"ok", "weld", "not measured"}


# the next piece -------------------------------------------------------------------------------
def test_a_new_piece_begins_with_the_size_of_the_end_before_it() -> None:
    reducer = Piece(piece="reducer", size=(38.0, 32.0))
    of = shop(run("r", "a.out", "b.in", reducer))
    assert size_before(of, "r", 1) == 38  # the port
    assert size_before(of, "r") == 32  # the small end of the reducer
    assert end_before(of, "r") == End(kind="hose", size=32.0)
    assert (end_before(of, "gone"), end_before(of, "r", 3)) == (None, None)


# what a part brings ---------------------------------------------------------------------------
def arriving(*lines: Ordered, arrived: bool = True) -> BuildInput:
    part = Part(key="p", name="Parcel", arrived=arrived)
    return shop(DRAWN, clamp(40, 60, 1), parts=(part,), ordered=lines)


def test_what_a_part_brings_is_on_the_shelf_at_one_press_and_not_twice() -> None:
    of = arriving(
        Ordered(part="p", what="hose 38 rubber", metres=2.5),
        Ordered(part="p", what="clamp 40-60", count=4),
    )
    brought = brought_to_shelf(of, "p").build
    assert [(piece_name(one), one.length_mm, one.count) for one in brought.plumbing.shelf] == [
        *(("clamp 40-60", None, 5), ("hose 38 rubber", 2500, 1))
    ]
    assert brought.plumbing.ordered == ()
    assert brought_to_shelf(brought, "p").build == brought


def test_a_part_that_is_not_here_brings_nothing_yet() -> None:
    line = Ordered(part="p", what="clamp 40-60", count=4)
    assert texts(brought_to_shelf(arriving(line, arrived=False), "p")) == [
        "Part Parcel (p): it is not here yet. Say first that it has come."
    ]


def test_a_name_that_no_thing_has_is_told() -> None:
    assert texts(brought_to_shelf(arriving(Ordered(part="p", what="a hose", count=1)), "p")) == [
        "Part Parcel (p): nothing on the shelf is called a hose. Put it there by hand, and take it "
        "out of what the part brings."
    ]


def test_everything_on_the_buy_list_of_the_demo_can_lie_on_the_shelf_by_its_name() -> None:
    of = heron()
    assert len(plumbed(of).buy) > 5
    for line in plumbed(of).buy:
        need = line.need
        things = things_named(Drawing(of), need.what, count=need.count, metres=need.metres)
        assert things
        assert {piece_name(one) for one in things} == {need.what}


# a removed run --------------------------------------------------------------------------------
@settings(max_examples=60, deadline=None)
@given(of=circuits())
def test_a_removed_run_opens_exactly_its_two_ends(of: BuildInput) -> None:
    """Whatever the circuit: of what is not joined only the two ports of the run are new."""
    if not of.plumbing.runs or tuple(plumbing_faults(of)):
        return
    gone = of.plumbing.runs[0]
    off = take_off(of, gone.key).build
    edited = remove_run(off, gone.key)
    assert edited.faults == ()
    assert unjoined(edited.build) - unjoined(of) == set(gone.ports)
    assert unjoined(of) <= unjoined(edited.build)


def unjoined(of: BuildInput) -> set[str]:
    return {
        one.what
        for circuit in plumbed(of).circuits
        for one in circuit.open
        if one.why == "not joined"
    }


def test_a_test_that_is_signed_with_the_change_stays() -> None:
    of = shop()
    signed = tuple(replace(one, tested_on=DAY) for one in of.plumbing.circuits)
    after = replace(of.plumbing, runs=(), circuits=signed)
    assert with_stale_tests(of.plumbing, after) == after
