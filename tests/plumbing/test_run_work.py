"""Cutting, fitting, clamping and taking off: what each takes from the shelf and gives back."""

from collections import Counter
from dataclasses import replace
from typing import Any

import pytest

from tests.plumbing.heron import heron
from tests.plumbing.small import DAY, build, circuit, clamp, component, hose, lying, port, run, tube
from webapp.build.build_input import BuildInput
from webapp.build.by_key import get_by_key
from webapp.build.checks.plumbing_checks import plumbing_faults
from webapp.build.plumbing import Piece, Run, ShelfThing
from webapp.plumbing.names import piece_name
from webapp.plumbing.plumbed import plumbed
from webapp.plumbing.run_work import clamped_run, cut_run, fitted_run, run_taken_off


def shop(drawn: Run, *shelf: ShelfThing, **said: Any) -> BuildInput:
    """One run between two beads of 38."""
    ends = (component("a", port("out", "out")), component("b", port("in", "in")))
    return build(ends, (circuit("a.out", "b.in", tested_on=DAY, **said),), (drawn,), shelf)


def on_the_shelf(of: BuildInput) -> dict[str, list[float]]:
    """What lies there: the lengths, or how many, by name."""
    found: dict[str, list[float]] = {}
    for thing in of.plumbing.shelf:
        found.setdefault(piece_name(thing), []).extend(
            [thing.length_mm] * thing.count if thing.length_mm else [thing.count]
        )
    return found


TWO_CUTS = run("r", "a.out", "b.in", hose(38, 300), tube(38, 400), hose(38, 250))
LYING = (
    lying("hose", 2, size=38.1, length_mm=600, of="rubber"),
    lying("tube", size=38, length_mm=1000, of="steel"),
    clamp(40, 60, 6),
)


def test_cutting_takes_the_lengths_and_leaves_what_is_left_of_the_bars() -> None:
    """Both hoses off one 600: 50 left. Off the tube 400 and 3 of kerf: 597 left."""
    cut = cut_run(shop(TWO_CUTS, *LYING), "r", on=DAY)
    assert cut.plumbing.runs[0].cut_on == DAY
    assert on_the_shelf(cut) == {
        "hose 38 rubber": [600, 50],
        "tube 38 steel": [597],
        "clamp 40-60": [6],  # clamps are taken by clamping
    }


def test_a_short_end_is_thrown_away() -> None:
    cut = cut_run(shop(run("r", "a.out", "b.in", hose(38, 585)), *LYING), "r", on=DAY)
    assert on_the_shelf(cut)["hose 38 rubber"] == [600]


def test_cutting_takes_whole_pieces_by_their_name() -> None:
    drawn = run("r", "a.out", "b.in", Piece(piece="coupler", size=38))
    cut = cut_run(shop(drawn, lying("coupler", 2, size=38, of="rubber")), "r", on=DAY)
    assert on_the_shelf(cut) == {"coupler 38 rubber": [1]}


def test_what_does_not_lie_there_is_not_taken() -> None:
    assert on_the_shelf(cut_run(shop(TWO_CUTS), "r", on=DAY)) == {}


def test_clamping_takes_clamps_and_seals_and_taking_off_gives_the_clamps_back() -> None:
    of = shop(TWO_CUTS, *LYING)
    fitted = fitted_run(cut_run(of, "r", on=DAY), "r", on=DAY)
    assert on_the_shelf(fitted)["clamp 40-60"] == [6]
    clamped = clamped_run(fitted, "r", on=DAY)
    assert on_the_shelf(clamped)["clamp 40-60"] == [2]  # four joints of a hose
    off = run_taken_off(clamped, "r")
    assert on_the_shelf(off)["clamp 40-60"] == [6]
    assert off.plumbing.runs[0] == replace(TWO_CUTS, cut_on=DAY)
    dry = run_taken_off(fitted, "r")
    assert on_the_shelf(dry)["clamp 40-60"] == [6]  # none were on yet


def test_a_seal_never_comes_back_and_a_v_clamp_does() -> None:
    def bolted(**said: Any) -> list[str]:
        ends = (
            component("a", port("out", "out", **said)),
            component("b", port("in", "in", **said)),
        )
        drawn = Run(key="r", from_port="a.out", to_port="b.in", cut_on=DAY, fitted_on=DAY)
        of = build(
            ends,
            (circuit("a.out", "b.in"),),
            (drawn,),
            (lying("seal", name="gasket x"), lying("clamp", name="V clamp 63")),
        )
        return [*on_the_shelf(run_taken_off(clamped_run(of, "r", on=DAY), "r"))]

    assert bolted(end="flange", size="x") == ["V clamp 63"]
    assert bolted(end="vband", size=63) == ["gasket x", "V clamp 63"]


@pytest.mark.parametrize(
    "verb",
    [
        lambda of: cut_run(of, "r", on=DAY),
        lambda of: fitted_run(of, "r", on=DAY),
        lambda of: clamped_run(of, "r", on=DAY),
        lambda of: run_taken_off(of, "r"),
    ],
)
def test_whatever_is_done_to_a_run_its_circuit_is_to_be_tested_anew(verb: Any) -> None:
    assert verb(shop(TWO_CUTS, *LYING)).plumbing.circuits[0].tested_on is None


def test_a_run_that_is_not_there_is_no_run() -> None:
    with pytest.raises(KeyError):
        cut_run(shop(TWO_CUTS), "s", on=DAY)


def _lacking(of: BuildInput) -> Counter[str]:
    return Counter(
        {line.need.what: line.need.count for line in plumbed(of).buy if line.need.metres is None}
    )


def test_in_the_demo_no_run_takes_what_another_was_given() -> None:
    """Whatever run is cut and clamped, nothing counted lacks afterwards that did not before."""
    before = _lacking(heron())
    for drawn in heron().plumbing.runs:
        if drawn.cut_on is not None:
            continue
        of = heron()
        for verb in (cut_run, fitted_run, clamped_run):
            of = verb(of, drawn.key, on=DAY)
        assert not _lacking(of) - before, drawn.key
        assert list(plumbing_faults(of)) == []
        assert get_by_key(of.plumbing.runs, drawn.key).clamped_on == DAY
