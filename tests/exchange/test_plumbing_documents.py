"""Plumbing in a build document: it reads as it was written, and whatever is done to it is told."""

import json
from random import Random
from typing import Any

import jsonschema  # type: ignore[import-untyped]
import pytest

from tests.exchange.damage import damaged
from tests.exchange.documents import small_document, text_of
from tests.exchange.same_readings import reading_of
from tests.plumbing.heron import NOW, heron, heron_document
from webapp.build.plumbing import NOTHING_PLUMBED, Ordered
from webapp.exchange.build_document import document_schema, read_document, write_document

VALIDATOR = jsonschema.Draft202012Validator(document_schema())


def _plumbing(document: dict[str, Any]) -> str:
    """The plumbing of the demo build alone, in a document with nothing else to hit."""
    small = small_document(plumbing=document["plumbing"])
    keys = {key for run in document["plumbing"]["runs"] for key in run.get("tasks", ())}
    keys |= {
        key for circuit in document["plumbing"]["circuits"] for key in circuit.get("holds", ())
    }
    small["tasks"] += [{"key": key, "name": key, "hours": 1} for key in sorted(keys)]
    return text_of(small)


def _faultless_plumbing() -> dict[str, Any]:
    """The same with the subsystems and parts that it names, at the moment of the demo."""
    whole = heron_document()
    small: dict[str, Any] = json.loads(_plumbing(whole))
    named = {component.get("part") for component in whole["plumbing"]["components"]} - {None}
    small["subsystems"] = whole["subsystems"]
    small["build"]["now"] = whole["build"]["now"]
    small["parts"] += [{"key": key, "name": key, "for": ["weld"]} for key in sorted(named)]
    return small


def test_the_small_document_of_the_plumbing_has_no_fault() -> None:
    _, faults = read_document(json.dumps(_faultless_plumbing()), now=NOW)
    assert faults == ()
    assert VALIDATOR.is_valid(_faultless_plumbing())


def test_the_plumbing_of_the_demo_reads_as_it_was_written() -> None:
    build = heron()
    again, faults = read_document(write_document(build), now=NOW)
    assert faults == ()
    assert again == build
    assert repr(again) == repr(build)  # a date stays a date, 38 and 38.0 are one number


def test_the_schema_holds_the_plumbing_of_the_demo_as_it_came_and_as_it_is_written() -> None:
    VALIDATOR.validate(heron_document())
    VALIDATOR.validate(json.loads(write_document(heron())))


def test_a_build_without_plumbing_is_written_without_the_key() -> None:
    build, _ = read_document(text_of(small_document()), now=NOW)
    assert build is not None
    assert build.plumbing == NOTHING_PLUMBED
    assert "plumbing" not in json.loads(write_document(build))


def test_no_passages_at_all_is_not_the_same_as_all_of_them() -> None:
    document = heron_document()
    document["plumbing"]["components"][0]["passages"] = []
    build, _ = read_document(json.dumps(document), now=NOW)
    assert build is not None
    assert build.plumbing.components[0].passages == ()
    again, _ = read_document(write_document(build), now=NOW)
    assert again == build


def test_what_a_part_brings_stands_with_the_part() -> None:
    document = heron_document()
    document["parts"][0]["plumbing"] = [{"what": "hose 38 coolant", "metres": 2}]
    build, faults = read_document(json.dumps(document), now=NOW)
    assert faults == ()
    assert build is not None
    key = document["parts"][0]["key"]
    assert build.plumbing.ordered[0] == Ordered(part=key, what="hose 38 coolant", metres=2)
    written = json.loads(write_document(build))["parts"][0]["plumbing"]
    assert written == [{"what": "hose 38 coolant", "metres": 2}]


@pytest.mark.parametrize(
    ("brought", "words"),
    [
        ({"what": "clamp 40-60"}, "how many of clamp 40-60 it brings, or how many metres"),
        ({"what": " ", "count": 1}, "say what it brings"),
        ({"what": "hose 38", "count": 1, "metres": 2}, "how many of hose 38"),
    ],
)
def test_what_a_part_brings_is_counted_or_measured(brought: dict[str, Any], words: str) -> None:
    document = heron_document()
    document["parts"][0]["plumbing"] = [brought]
    _, faults = read_document(json.dumps(document), now=NOW)
    assert [words in fault.text for fault in faults] == [True]


@pytest.mark.parametrize("luck", [*range(20), 43])
def test_damaged_plumbing_is_answered_with_sentences(luck: int) -> None:
    faults = reading_of(damaged(_plumbing(heron_document()), Random(luck)))["faults"]
    for *_, text in faults:
        assert text.endswith((".", "?", ")"))
        assert text.encode()


def _piece(**fields: Any) -> Any:
    return lambda d: d["plumbing"]["runs"][6]["pieces"].__setitem__(0, fields)


def _port(**fields: Any) -> Any:
    return lambda d: d["plumbing"]["components"][8]["ports"][0].update(fields)


@pytest.mark.parametrize(
    "change",
    [
        _piece(piece="hose", size=38, length_mm=640),
        _piece(piece="hose", size=38),
        _piece(piece="hose", size=38, length_mm=None),
        _piece(piece="hose", length_mm=640),
        _piece(piece="hose", size=None, length_mm=640),
        _piece(piece="tube", ends=[["bead", 38], ["bead", 38]], length_mm=640),
        _piece(piece="coupler", size=38, angle=0),
        _piece(piece="coupler", size=38, wall_mm=0),
        _piece(piece="coupler", size=501),
        _piece(piece="reducer", size=[38, 40, 42]),
        _piece(piece="reducer", size=[38, 40]),
        _piece(piece="adapter"),
        _piece(piece="adapter", ends=None),
        _piece(piece="adapter", ends=[["bead", 38]]),
        _piece(piece="adapter", ends=[["bead", 38], ["bead", None]]),
        _piece(piece="adapter", ends=[["bead", 38], ["snout", 38]]),
        _piece(piece="noodle", size=38),
        _piece(piece="coupler", size=38, colour="blue"),
        _port(size=None),
        _port(size=0),
        _port(flow="up"),
        _port(role="spout"),
        _port(stop={"kind": "hat"}),
        _port(name="a.b"),
        lambda d: d["plumbing"].update(shelf=None),
        lambda d: d["plumbing"].update(shelf=[{"piece": "clamp", "range": [40]}]),
        lambda d: d["plumbing"].update(shelf=[{"piece": "clamp", "range": [40, 60], "count": -1}]),
        lambda d: d["plumbing"]["circuits"][0].update(waived={"no fun": "x"}),
        lambda d: d["plumbing"]["circuits"][0].update(waived={"no drain": "it is air"}),
    ],
)
def test_the_schema_refuses_what_the_reader_refuses(change: Any) -> None:
    document = _faultless_plumbing()
    change(document)
    _, faults = read_document(json.dumps(document), now=NOW)
    assert VALIDATOR.is_valid(document) is not bool(faults)
