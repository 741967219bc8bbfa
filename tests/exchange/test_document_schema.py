"""The published schema is JSON Schema 2020-12 and says of documents what the reader says.

Checked with jsonschema, a reference implementation.
"""

import datetime as dt
import json
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]
import pytest
from hypothesis import HealthCheck, given, settings

from tests.build.random_builds import builds
from tests.exchange.documents import small_document, small_task, text_of
from webapp.build.build_input import BuildInput
from webapp.exchange.build_document import document_schema, read_document, write_document
from webapp.settings import resource_root

NOW = dt.datetime(2026, 2, 2, 9)
SEEDS = sorted((resource_root() / "seed_data").glob("*.json"))
SCHEMA = document_schema()
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)


def test_the_schema_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"


def test_every_object_of_the_schema_is_described() -> None:
    for name, definition in SCHEMA["$defs"].items():
        assert definition["description"], name


@pytest.mark.parametrize("path", SEEDS, ids=lambda path: path.stem)
def test_seed_documents_are_valid(path: Path) -> None:
    VALIDATOR.validate(json.loads(path.read_text(encoding="utf-8")))


@settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(builds())
def test_written_documents_are_valid(build: BuildInput) -> None:
    VALIDATOR.validate(json.loads(write_document(build)))


def _task(**fields: Any) -> dict[str, Any]:
    return small_document(tasks=[small_task("weld", **fields), small_task("start")])


def _shop(**fields: Any) -> dict[str, Any]:
    return small_document(shop=small_document()["shop"] | fields)


@pytest.mark.parametrize(
    "document",
    [
        small_document(),
        _task(hours=[2, 3, 6], people=0, stations={"lift": 1}, begun_on="2026-02-01T09:00"),
        _task(hours=None, outside_days=3),
        _task(setup=None, people=None, stations=None),
        _shop(days=[{"date": "2026-02-14", "closed": True}]),
        _shop(days=[{"date": "2026-02-14", "opens": "09:00", "closes": "24:00", "helper": True}]),
        small_document(version=2),
        small_document(format="other"),
        small_document(colour="brass"),
        small_document(tasks={}),
        _task(colour="brass"),
        _task(hours=None),
        _task(hours="2"),
        _task(hours=[1, 2]),
        _task(hours=-1),
        _task(people=1.5),
        _task(stations={"lift": 0}),
        _task(begun_on="2026-02-01 09:00"),
        _task(begun_on="2026-02-01T09:00Z"),
        _task(name=None),
        _task(name=""),
        _shop(days=[{"date": "2026-02-14"}]),
        _shop(days=[{"date": "2026-02-14", "closed": True, "opens": "09:00", "closes": "12:00"}]),
        _shop(week=[{"day": "saturday", "opens": "09:00", "closes": "17:00"}]),
        _shop(week=[{"day": "sat", "opens": "9:00", "closes": "17:00"}]),
        _shop(people=0),
        _shop(people=True),
    ],
    ids=range(27),
)
def test_schema_and_reader_agree_on_form(document: dict[str, Any]) -> None:
    _, faults = read_document(text_of(document), now=NOW)
    assert VALIDATOR.is_valid(document) == (faults == ())
