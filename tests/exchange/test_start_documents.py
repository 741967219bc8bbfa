"""First start in the build document: read, written, refused with what is wrong by its own name."""

import datetime as dt
import json
from dataclasses import replace
from typing import Any

import jsonschema  # type: ignore[import-untyped]
import pytest

from tests.exchange.documents import small_document, text_of
from tests.storage.rich_build import RICH_BUILD
from webapp.build.build_input import BuildInput
from webapp.build.checks.first_start_checks import first_start_faults
from webapp.build.first_start import NOTHING_SIGNED, EngineRun, FirstStart, Signature
from webapp.exchange.build_document import document_schema, read_document, write_document

NOW = dt.datetime(2026, 2, 9, 18, 30)
VALIDATOR = jsonschema.Draft202012Validator(document_schema())
SIGNED = {"key": "s1", "check": "battery_off", "at": "2026-02-09T17:30:05.25", "signer": "A. B."}
RUN = {"key": "r1", "kind": "start", "begun_at": "2026-02-09T17:40:00"}


def read(**lists: Any) -> tuple[BuildInput, list[str]]:
    build, faults = read_document(text_of(small_document(start=lists)), now=NOW)
    assert build is not None
    return build, [fault.text for fault in faults]


def test_every_field_comes_back_and_the_schema_takes_it() -> None:
    text = write_document(RICH_BUILD)
    build, _ = read_document(text, now=NOW)
    assert build is not None
    assert build.start == RICH_BUILD.start
    VALIDATOR.validate(json.loads(text))


def test_where_nothing_was_signed_the_document_says_nothing_of_it() -> None:
    text = write_document(replace(RICH_BUILD, start=NOTHING_SIGNED))
    assert "start" not in json.loads(text)
    build, _ = read_document(text, now=NOW)
    assert build is not None
    assert build.start == NOTHING_SIGNED


def test_a_moment_keeps_its_fraction_of_a_second() -> None:
    build, faults = read(signatures=[SIGNED])
    assert not faults
    (one,) = build.start.signatures
    assert one.at == dt.datetime(2026, 2, 9, 17, 30, 5, 250_000).astimezone()


@pytest.mark.parametrize(
    ("lists", "words"),
    [
        ({"signatures": [SIGNED | {"signer": " "}]}, "nobody signed it"),
        ({"signatures": [SIGNED | {"at": "yesterday"}]}, "must be a date and time like"),
        ({"signatures": [SIGNED | {"at": "2026-02-30T10:00"}]}, "not a moment in the calendar"),
        ({"signatures": [SIGNED, SIGNED]}, "a second signature of this key"),
        (
            {"signatures": [SIGNED | {"taken_back_at": "2026-02-09T17:30"}]},
            "taken back before it was signed",
        ),
        (
            {"signatures": [SIGNED | {"readings": [{"name": "V", "unit": "V", "value": 1e99}]}]},
            "Enter a number from",
        ),
        (
            {
                "signatures": [
                    SIGNED | {"paper": {"name": "", "firm": "F", "number": "1", "on": "2026-02-01"}}
                ]
            },
            "name, firm or number of the paper is missing",
        ),
        (
            {
                "set_asides": [
                    {
                        "key": "a",
                        "check": "rested",
                        "at": "2026-02-09T10:00",
                        "name": "",
                        "reason": "no",
                    }
                ]
            },
            "nobody signed it",
        ),
        ({"runs": [RUN | {"kind": "fast"}]}, "must be one of prime, start"),
        ({"runs": [RUN | {"ended_at": "2026-02-09T17:41"}]}, "go together"),
        (
            {"runs": [RUN | {"ended_at": "2026-02-09T17:39", "ending": "stopped"}]},
            "fired or ended before it was begun",
        ),
        ({"runs": [RUN, RUN | {"key": "r2"}]}, "two engine runs go on at once"),
        ({"openings": [{"what": "", "name": "", "how": "begun", "at": "2026-02-09T10:00"}]}, "key"),
        ({"signed": []}, "signed"),
    ],
)
def test_what_cannot_be_is_refused_by_its_name(lists: dict[str, Any], words: str) -> None:
    _, faults = read(**lists)
    assert faults
    assert any(words in fault for fault in faults), faults


def test_too_many_are_told_as_such() -> None:
    many = tuple(
        EngineRun(key=f"r{n}", kind="start", begun_at=NOW, ended_at=NOW, ending="stopped")
        for n in range(5_001)
    )
    build = replace(RICH_BUILD, start=FirstStart(runs=many))
    assert [fault.field for fault in first_start_faults(build)] == ["start"]
    one = Signature(key="s", check="c", at=NOW.replace(year=1900), signer="A. B.")
    build = replace(RICH_BUILD, start=FirstStart(signatures=(one,)))
    assert [fault.field for fault in first_start_faults(build)] == ["at"]
