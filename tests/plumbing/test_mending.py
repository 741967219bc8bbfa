"""A proposal taken into its run: the joint fits, and nothing is given or bought twice."""

import pytest

from tests.plumbing.heron import heron
from tests.plumbing.small import build, circuit, component, lying, port, run
from webapp.build.build_input import BuildInput
from webapp.build.by_key import get_by_key
from webapp.plumbing.mending import take_mend
from webapp.plumbing.plumbed import Plumbed, plumbed
from webapp.plumbing.proposals import Proposal

PROPOSALS = plumbed(heron()).proposals


def unfit(found: Plumbed, key: str) -> int:
    """How many joints of a run do not fit."""
    joints = next(one.joints for one in found.runs if one.run.key == key)
    return sum(joint.fit.word == "no" for joint in joints)


def taken(of: BuildInput, mend: Proposal) -> BuildInput:
    edited = take_mend(of, mend.run, mend.at, mend.pieces)
    assert edited.faults == ()
    return edited.build


@pytest.mark.parametrize("mend", PROPOSALS, ids=lambda mend: mend.run)
def test_every_proposal_of_the_demo_mends_its_joint(mend: Proposal) -> None:
    before = plumbed(heron())
    after = plumbed(taken(heron(), mend))
    assert unfit(after, mend.run) == unfit(before, mend.run) - 1
    assert (mend.run, mend.at) not in {(one.run, one.at) for one in after.proposals}
    assert mend.pieces
    given = next(one.from_shelf for one in after.runs if one.run.key == mend.run)
    there = {need.what for need in given}
    if mend.source == "buy":  # one of two may lie there, alone of no use
        there |= {line.need.what for line in after.buy}
    assert set(mend.pieces) <= there


def test_the_piece_in_whose_place_it_comes_goes() -> None:
    mend = next(one for one in PROPOSALS if one.run == "cold1")
    assert mend.instead_of == 5
    pieces = get_by_key(taken(heron(), mend).plumbing.runs, "cold1").pieces
    assert [piece.piece for piece in pieces] == ["coupler", "tube", "bend", "tube", "reducer"]
    assert pieces[4].size == (60, 63)  # the tube of 60 before it, the bead of 63 behind it


def between(first: float, last: float, *shelf: object) -> BuildInput:
    """A hose of 38 between two beads of those sizes."""
    return build(
        (
            component("a", port("out", "out", size=first)),
            component("b", port("in", "in", size=last)),
        ),
        (circuit("a.out", "b.in"),),
        (run("r", "a.out", "b.in"),),
        shelf,  # type: ignore[arg-type]
    )


@pytest.mark.parametrize(("first", "last"), [(38, 19), (19, 38)])
def test_pieces_are_turned_the_right_way_round(first: float, last: float) -> None:
    reducer = lying("reducer", size=(38, 19), of="rubber")
    joiner = lying("joiner", size=38, of="steel")
    of = between(first, last, reducer, joiner)
    (mend,) = plumbed(of).proposals
    after = plumbed(taken(of, mend))
    assert unfit(after, "r") == 0
    assert after.proposals == ()


def test_a_joint_that_fits_by_now_stays_as_it_is() -> None:
    of = between(38, 38)
    edited = take_mend(of, "r", 1, ("reducer 38-19 rubber",))
    assert edited.faults == ()
    assert edited.build == of


def test_what_was_shown_otherwise_is_refused() -> None:
    mend = PROPOSALS[0]
    edited = take_mend(heron(), mend.run, mend.at, ("coupler 60",))
    assert [fault.kind for fault in edited.faults] == ["run"]
    assert "Look at it again" in edited.faults[0].text
    assert edited.build == heron()


def test_a_run_or_joint_that_is_not_there_is_told() -> None:
    lost = take_mend(heron(), "nowhere", 1, ()).lost
    assert lost is not None
    assert lost.kind == "run"
    assert take_mend(heron(), "w_top", 9, ()).faults
