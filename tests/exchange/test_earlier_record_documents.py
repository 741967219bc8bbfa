"""Records of earlier builds in a document: read, refused, written again."""

import datetime as dt
import json
from dataclasses import replace
from typing import Any

import pytest

from tests.build.builds import EVENINGS, build_of, task
from webapp.build.earlier_record import EarlierKind, EarlierRecord
from webapp.exchange.build_document import read_document, write_document

NOW = dt.datetime(2026, 1, 5, 9)
KIND: dict[str, Any] = {
    "name": "TIG welder out",
    "tasks": 3,
    "actual_hours": 9,
    "expected_hours": 6,
    "worth": 2.5,
    "log_squares": 0.2,
}
RECORD: dict[str, Any] = {
    "key": "heron",
    "name": "The Heron",
    "taken_on": "2026-01-04",
    "kinds": [KIND],
    "weeks": 8,
    "workable_hours": 80,
    "worked_hours": 66,
}


def texts_of(*records: dict[str, Any]) -> list[str]:
    document = json.loads(write_document(build_of([task("a", 1)], week=EVENINGS, first_start="a")))
    text = json.dumps(document | {"earlier_records": list(records)})
    return [fault.text for fault in read_document(text, now=NOW)[1]]


def test_it_reads_as_it_was_written_and_an_older_document_has_none() -> None:
    build = build_of([task("a", 1)], week=EVENINGS, first_start="a")
    assert "earlier_records" not in write_document(build)
    kinds = (EarlierKind(tasks=2, actual_hours=3.25, expected_hours=2.0, worth=1.5),)
    record = EarlierRecord(
        key="one", name="One", taken_on=NOW.date(), counts=False, kinds=kinds, weeks=0
    )
    with_it = replace(build, earlier_records=(record,))
    assert read_document(write_document(with_it), now=build.now) == (with_it, ())
    assert read_document(write_document(build), now=build.now) == (build, ())
    assert texts_of(RECORD) == []


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"weeks": 3, "workable_hours": 0}, "of 3 weeks no hour could be worked"),
        ({"worked_hours": -1}, "the hours that were worked: -1. Enter a number from 0"),
        ({"name": ""}, "it has no name. Enter one."),
        ({"kinds": [KIND, KIND | {"name": "tig  WELDER out"}]}, "it stands there twice"),
        ({"kinds": [KIND | {"expected_hours": 0}]}, "Take the record anew from that build"),
        ({"kinds": [KIND | {"tasks": 0}]}, "its tasks: 0. Enter a number from 1"),
        ({"kinds": [KIND | {"worth": 4}]}, "its 3 tasks are worth 4 of one size"),
        ({"kinds": [KIND | {"log_squares": -1}]}, "the squares of its logs: -1"),
        ({"kinds": [{"name": "TIG"}]}, "The Heron, TIG"),
        ({"taken_on": "yesterday"}, "must be a date like 2026-03-02"),
    ],
)
def test_what_no_record_can_be_is_told_by_the_builds_own_name(
    change: dict[str, Any], said: str
) -> None:
    texts = texts_of(RECORD | change)
    assert any(said in text for text in texts), texts
    assert all(text.startswith("Earlier record ") for text in texts), texts


def test_two_records_of_one_build_are_refused() -> None:
    (text,) = texts_of(RECORD, RECORD | {"name": "Heron"})
    assert "has the key heron already" in text
