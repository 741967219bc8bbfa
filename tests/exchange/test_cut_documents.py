"""The cut document: its schema says what its reader says, and what is written reads the same."""

import json
from typing import Any

import jsonschema  # type: ignore[import-untyped]
import pytest
from hypothesis import given, settings

from tests.command.test_cut import document
from tests.plumbing.cutting.cut_jobs import small_jobs
from webapp.exchange.cut_document import cut_schema, read_cut_document, write_cut_document
from webapp.plumbing.cutting.cut_list import CutJob

VALIDATOR = jsonschema.Draft202012Validator(cut_schema())


def test_the_schema_is_a_schema_and_describes_its_objects() -> None:
    jsonschema.Draft202012Validator.check_schema(cut_schema())
    for name, definition in cut_schema()["$defs"].items():
        assert definition["description"], name


@settings(max_examples=30, deadline=None)
@given(small_jobs())
def test_a_written_job_is_valid_and_reads_as_the_same(of: CutJob) -> None:
    written = write_cut_document(of)
    VALIDATOR.validate(written)
    assert read_cut_document(json.dumps(written)) == (of, ())


STOCK = {"name": "bar", "length_mm": 6000}
PIECE = {"name": "a", "length_mm": 412}


@pytest.mark.parametrize(
    "fields",
    [
        {},
        {"square_end": None, "kerf_mm": None},
        {"version": 2},
        {"format": "x"},
        {"colour": "brass"},
        {"kerf_mm": 51},
        {"kerf_mm": "3"},
        {"square_end": 1},
        {"stock": {}},
        {"stock": [STOCK | {"price": -1}]},
        {"stock": [STOCK | {"count": 2.5}]},
        {"stock": [STOCK | {"length_mm": 0.5}]},
        {"stock": [STOCK | {"length_mm": None}]},
        {"stock": [STOCK | {"name": ""}]},
        {"pieces": [PIECE | {"count": 0}]},
        {"pieces": [PIECE | {"count": None}]},
        {"pieces": [PIECE | {"length_mm": 2_000_000}]},
        {"pieces": [{"length_mm": 3}]},
        {"pieces": [3]},
    ],
)
def test_schema_and_reader_agree_on_what_is_no_cut_document(fields: dict[str, Any]) -> None:
    faulty = document(**fields)
    refused = bool(read_cut_document(json.dumps(faulty))[1])
    assert refused == (not VALIDATOR.is_valid(faulty))
