"""The shelf is given out once, in the order of the model, and what lacks is the buy list."""

import datetime as dt
from dataclasses import replace
from typing import Any

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
    tube,
)
from webapp.build.build_input import BuildInput, Part
from webapp.build.plumbing import End, Ordered, Run, ShelfThing, Stop
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.plumbed import plumbed
from webapp.plumbing.shelf import given_out


def runs_of(*lengths: float, size: float = 38, kind: Any = hose) -> tuple[Run, ...]:
    """A run of one piece for each length, r1, r2, ..."""
    return tuple(
        run(f"r{number}", f"a{number}.out", f"b{number}.in", kind(size, length))
        for number, length in enumerate(lengths, start=1)
    )


def shop(runs: tuple[Run, ...], shelf: tuple[ShelfThing, ...] = (), **said: Any) -> BuildInput:
    """Two ends of beads of 38 for each run."""
    begins = (component(one.from_port.partition(".")[0], port("out", "out")) for one in runs)
    lasts = (component(one.to_port.partition(".")[0], port("in", "in")) for one in runs)
    ends = (*begins, *lasts)
    first = runs[0]
    return build(ends, (circuit(first.from_port, first.to_port),), runs, shelf, **said)


def lacking(of: BuildInput) -> dict[str, list[tuple[str, float]]]:
    return {
        key: [(need.what, need.metres or need.count) for need in needs]
        for key, needs in given_out(Drawing(of)).run_needs.items()
    }


def length(mm: float, count: int = 1, kind: Any = "hose", of: str = "rubber") -> ShelfThing:
    return lying(kind, count, size=38, length_mm=mm, of=of)


CLAMPS = clamp(40, 60, 20)


def test_the_longest_piece_is_served_first_from_the_shortest_length_that_takes_it() -> None:
    """500 off the 600 (100 left; the 1000 stays whole), 450 and 400 off the 1000 (150 left), 200 is
    longer than either and bought, and 100 comes off the 100, which leaves the 150."""
    of = shop(runs_of(200, 100, 450, 500, 400), (length(1000), length(600), CLAMPS))
    served: dict[str, list[tuple[str, float]]] = {key: [] for key in ("r2", "r3", "r4", "r5")}
    assert lacking(of) == {"r1": [("hose 38 rubber", 0.2)], **served}
    left = given_out(Drawing(of)).left.bars["hose 38 rubber"].lengths_mm()
    assert sorted(left.elements()) == [0, 150]


def test_a_saw_takes_three_millimetres_between_two_pieces() -> None:
    """Two of 500 out of 1003: 500 + 3 + 500. Out of 1002 there is only one."""
    of = (1003, 1002)
    needs = [
        lacking(
            shop(
                runs_of(500, 500, kind=tube),
                (length(mm, kind="tube", of="steel"),),
            )
        )
        for mm in of
    ]
    tubes = [
        [what for lines in found.values() for what, _ in lines if what.startswith("tube")]
        for found in needs
    ]
    assert tubes == [[], ["tube 38 steel"]]


def test_a_knife_takes_nothing() -> None:
    assert lacking(shop(runs_of(500, 500), (length(1000), CLAMPS))) == {"r1": [], "r2": []}


def test_a_length_of_another_material_or_size_is_another_thing() -> None:
    of = shop(runs_of(100), (length(1000, of="oil"), lying("hose", size=35, length_mm=500), CLAMPS))
    assert lacking(of) == {"r1": [("hose 38 rubber", 0.1)]}


def test_an_inch_and_a_half_lies_with_the_38() -> None:
    of = shop(runs_of(100), (lying("hose", size=38.1, length_mm=100, of="rubber"), CLAMPS))
    assert lacking(of) == {"r1": []}


def test_clamps_go_to_the_runs_in_their_order_also_to_those_that_are_cut() -> None:
    """Three clamps: r1 is clamped and needs none, r2 takes two, r3 one and lacks one."""
    first, second, third = runs_of(100, 100, 100)
    first = done("r1", *first.ports)
    second = replace(second, cut_on=DAY, fitted_on=DAY)
    of = shop((first, second, third), (length(1000), clamp(40, 60, 3)))
    assert lacking(of) == {"r1": [], "r2": [], "r3": [("clamp 40-60", 1)]}


def test_what_is_cut_needs_no_more_pieces() -> None:
    cut = replace(runs_of(100)[0], cut_on=DAY)
    assert lacking(shop((cut,), (CLAMPS,))) == {"r1": []}
    assert given_out(Drawing(shop((cut,)))).cut_pieces == ()


def test_caps_come_after_runs_and_take_what_is_left() -> None:
    cap = lying("cap", ends=(End(kind="bead", size=38),))
    one = component("x", port("p", "out", stop=Stop(kind="cap")))
    two = component("y", port("p", "out", stop=Stop(kind="cap")))
    on = component("z", port("p", "out", stop=Stop(kind="cap", on=DAY)))
    of = shop(runs_of(100), (cap,))
    plumbing = replace(of.plumbing, components=(*of.plumbing.components, one, two, on))
    given = given_out(Drawing(replace(of, plumbing=plumbing)))
    assert {key: need.what for key, need in given.stop_needs.items()} == {"y.p": "cap 38"}


# --- the buy list ----------------------------------------------------------------------------


def bought(of: BuildInput) -> dict[str, tuple[float, float]]:
    return {
        line.need.what: (line.need.metres or line.need.count, line.ordered)
        for line in plumbed(of).buy
    }


PART = Part(key="p1", name="Hose and clamps")


def order(*lines: Ordered, part: Part = PART) -> BuildInput:
    return shop(runs_of(300, 400), parts=(part,), ordered=lines)


def test_what_lacks_is_bought_hose_by_the_metre() -> None:
    assert bought(shop(runs_of(300, 400))) == {"hose 38 rubber": (0.7, 0), "clamp 40-60": (4, 0)}


def test_what_is_ordered_stands_beside_what_lacks_and_is_never_more() -> None:
    lines = (
        Ordered(part="p1", what="hose 38 rubber", metres=2),
        Ordered(part="p1", what="clamp 40-60", count=3),
        Ordered(part="p1", what="clamp 20-32", count=3),
    )
    assert bought(order(*lines)) == {"hose 38 rubber": (0.7, 0.7), "clamp 40-60": (4, 3)}


def test_of_two_parts_both_count() -> None:
    line = Ordered(part="p1", what="clamp 40-60", count=1)
    assert bought(order(line, replace(line, count=2)))["clamp 40-60"] == (4, 3)


def test_what_has_arrived_counts_no_more() -> None:
    line = Ordered(part="p1", what="clamp 40-60", count=3)
    arrived = replace(PART, arrived=True, arrives_on=dt.date(2026, 2, 1))
    assert bought(order(line, part=arrived))["clamp 40-60"] == (4, 0)


def test_a_proposal_is_not_bought_until_it_is_taken_into_the_run() -> None:
    of = shop((run("r1", "a1.out", "b1.in", hose(), hose(19)),))
    assert [proposal.source for proposal in plumbed(of).proposals] == ["buy", "buy"]
    assert set(bought(of)) == {"hose 38 rubber", "hose 19 rubber", "clamp 40-60"}


def test_what_is_to_be_cut_stands_in_groups_the_longest_first() -> None:
    (group,) = plumbed(shop(runs_of(300, 500, 400, kind=tube))).cut
    assert (group.what, group.kerf_mm) == ("tube 38 steel", 3.0)
    cuts = [(piece.run, piece.number, piece.length_mm) for piece in group.pieces]
    assert cuts == [("r2", 1, 500), ("r3", 1, 400), ("r1", 1, 300)]
