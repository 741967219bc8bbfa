"""A circuit of a build in its picture: what is open is a gap there, and nothing else is."""

import pytest
from hypothesis import given, settings

from tests.pages.plumbing.seen import heron_seen, seen_in
from tests.pictures.circuits import overlaps
from tests.plumbing.heron import heron
from tests.plumbing.random_circuits import circuits, only_circuit
from tests.plumbing.small import build, circuit, component, done, port, run, through
from webapp.build.build_input import BuildInput
from webapp.pages.plumbing.picture_model import circuit_model
from webapp.pages.plumbing.seen import Seen
from webapp.pages.words.plumbing_open import SHORT
from webapp.pictures.circuit import circuit_pictures
from webapp.pictures.circuit_model import CircuitPicture

HERON = [one.key for one in heron().plumbing.circuits]


def check_open_things(seen: Seen, key: str, picture: CircuitPicture) -> None:
    """Every thing of the open list is a gap (a component a broken outline) that says why."""
    opens = seen.circuits[key].open
    titles = {drawn.key: drawn.title for drawn in picture.runs if drawn.gap}
    boxes = {drawn.key: drawn.title for drawn in picture.boxes if drawn.is_open}
    marks = {number.key for number in picture.numbers}
    wanted = set()
    for one in opens:
        if one.kind == "component":
            assert SHORT[one.why] in boxes[one.what]
            continue
        at = seen.drawing.run_at.get(one.what) if one.kind == "port" else None
        drawn = one.what if at is None else at.key
        drawn = SHORT[one.why] if one.kind == "circuit" else drawn
        wanted.add(drawn)
        assert SHORT[one.why] in titles[drawn]
        if drawn in seen.runs:
            named = f"{seen.numbers[drawn]} {seen.run_name(drawn)}"
            said = any(words.text.startswith(named) for words in picture.words)
            assert drawn in marks or said
    assert titles.keys() == wanted
    assert boxes.keys() == {one.what for one in opens if one.kind == "component"}


@pytest.mark.parametrize("key", HERON)
def test_the_open_list_of_the_demo_is_in_its_pictures(key: str) -> None:
    seen = heron_seen()
    for picture in circuit_pictures(circuit_model(seen, key)):
        check_open_things(seen, key, picture)
        assert list(overlaps(picture)) == []
        assert len(picture.boxes) == len(
            {placed.component.key for placed in seen.drawing.ports_by_circuit[key]}
        )


@given(circuits())
@settings(max_examples=60, deadline=None)
def test_the_open_list_of_any_circuit_is_in_its_pictures(of: BuildInput) -> None:
    seen, key = seen_in(of), only_circuit(of).key
    for picture in circuit_pictures(circuit_model(seen, key)):
        check_open_things(seen, key, picture)
        assert list(overlaps(picture)) == []


def test_a_run_is_drawn_along_the_flow_whichever_way_it_was_typed_in() -> None:
    seen = seen_in(
        build(
            (component("a", port("out", "out")), component("b", port("in", "in"))),
            (circuit("a.out", "b.in"),),
            (done("r", "b.in", "a.out"),),
        )
    )
    (pipe,) = circuit_model(seen, "c").pipes
    assert (pipe.from_box, pipe.to_box) == ("a", "b")
    assert pipe.one_way


def test_a_joint_that_does_not_fit_is_open_where_it_lies_along_the_flow() -> None:
    # typed in against the flow: its first joint is the last along it
    seen = seen_in(
        build(
            (
                component("a", port("out", "out", size=38)),
                component("b", port("in", "in", size=19)),
            ),
            (circuit("a.out", "b.in"),),
            (run("r", "b.in", "a.out"),),
        )
    )
    (pipe,) = circuit_model(seen, "c").pipes
    assert pipe.gap == "end"
    assert pipe.open_words == "does not fit"
    assert pipe.size == "38 to 19"


def test_runs_are_numbered_along_the_flow() -> None:
    seen = seen_in(
        build(
            (component("a", port("out", "out")), through("m"), component("b", port("in", "in"))),
            (circuit("a.out", "b.in"),),
            (done("late", "m.out", "b.in"), done("early", "a.out", "m.in")),
        )
    )
    assert seen.numbers == {"early": 1, "late": 2}


def test_a_closed_circuit_is_drawn_without_a_gap() -> None:
    seen = heron_seen()
    assert seen.circuits["gearvent"].is_closed
    for picture in circuit_pictures(circuit_model(seen, "gearvent")):
        assert not any(drawn.gap for drawn in picture.runs)
