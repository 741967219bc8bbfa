"""Rooms in the build document: read, written, refused, and taken back thing by thing."""

import datetime as dt
import json
from dataclasses import replace
from typing import Any

import jsonschema  # type: ignore[import-untyped]
import pytest

from tests.exchange.documents import small_document, text_of
from webapp.build.build_input import BuildInput
from webapp.build.room import InRoom, Room
from webapp.build.verbs.taking_back import taken_back
from webapp.exchange.build_document import document_schema, read_document, write_document

NOW = dt.datetime(2026, 2, 2, 9)
VALIDATOR = jsonschema.Draft202012Validator(document_schema())
FAN = {"name": "fan", "mm": 52.5, "plus_minus_mm": 2}
NOSE = {"key": "nose", "name": "Nose", "measured_mm": 200, "plus_minus_mm": 3, "holds": [FAN]}


def document(**fields: Any) -> dict[str, Any]:
    return small_document(rooms=[NOSE | fields])


def held(**fields: Any) -> dict[str, Any]:
    return document(holds=[FAN | fields])


def read(of: dict[str, Any]) -> BuildInput:
    build, faults = read_document(text_of(of), now=NOW)
    assert build is not None
    assert faults == ()
    return build


def faults_in(of: dict[str, Any]) -> list[str]:
    return [fault.text for fault in read_document(text_of(of), now=NOW)[1]]


def test_a_room_is_read_and_written_as_it_is() -> None:
    build = read(document())
    assert build.rooms == (
        Room(
            key="nose",
            name="Nose",
            measured_mm=200,
            plus_minus_mm=3,
            holds=(InRoom(name="fan", mm=52.5, plus_minus_mm=2),),
        ),
    )
    VALIDATOR.validate(json.loads(write_document(build)))
    assert read_document(write_document(build), now=NOW) == (build, ())
    assert "rooms" not in json.loads(write_document(read(small_document())))


@pytest.mark.parametrize(
    ("of", "words"),
    [
        (document(measured_mm=0), "Room Nose (nose): what was measured, in mm: 0. Enter a number"),
        (document(measured_mm="wide"), '"measured_mm" must be a number'),
        (document(plus_minus_mm=-1), "give or take, in mm: -1."),
        (document(name=""), "it has no name"),
        (held(name=" "), "it has no name. Enter one"),
        (held(mm=-3), "Room Nose, fan (nose): its mm: -3."),
        (held(kind="hole"), "must be one of piece, gap, not “hole”."),
        (held(depth=3), 'the field "depth" is unknown'),
        (document(holds=[FAN, FAN]), "it stands there twice"),
        (document(holds=[FAN | {"name": f"{n}"} for n in range(61)]), "60 is the most"),
    ],
)
def test_what_can_not_be_is_said_of_its_room(of: dict[str, Any], words: str) -> None:
    assert words in " ".join(faults_in(of))


def test_two_rooms_of_one_key_are_told_apart() -> None:
    assert "Nose has the key nose already" in " ".join(
        faults_in(small_document(rooms=[NOSE, NOSE | {"name": "Tunnel"}]))
    )


@pytest.mark.parametrize(
    "of",
    [
        document(),
        document(measured_mm=None, holds=None),
        held(kind="gap", plus_minus_mm=None),
        held(kind="hole"),
        held(mm=None),
        held(mm=30_000),
        document(measured_mm=0.5),
        document(colour="brass"),
    ],
)
def test_the_schema_says_what_the_reader_says(of: dict[str, Any]) -> None:
    assert bool(faults_in(of)) == (not VALIDATOR.is_valid(of))


def test_a_piece_is_taken_back_without_what_came_later_beside_it() -> None:
    before = read(document())
    (room,) = before.rooms

    def holding(*more: str) -> BuildInput:
        added = tuple(InRoom(name=name, mm=10) for name in more)
        return replace(before, rooms=(replace(room, holds=(*room.holds, *added)),))

    undone = taken_back(holding("radiator", "gap"), before=before, after=holding("radiator"))
    (left,) = undone.build.rooms
    assert [one.name for one in left.holds] == ["fan", "gap"]
