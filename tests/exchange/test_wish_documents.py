"""Wishes in the build document: what is written reads the same, and every fault is told."""

import datetime as dt
import json
import re
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator  # type: ignore[import-untyped]

from tests.exchange.documents import small_document, text_of
from tests.storage.rich_build import RICH_BUILD
from webapp.build.build_input import BuildInput
from webapp.build.three_point import ThreePoint
from webapp.build.wish import (
    WISH_SIZES,
    WISH_WAYS,
    WayFigures,
    Wish,
    WishDecision,
    WishPart,
    WishSize,
)
from webapp.exchange.build_document import document_schema, read_document, write_document
from webapp.exchange.week_shift import shift_weeks

NOW = dt.datetime(2026, 2, 9, 18, 30)
SCHEMA = Draft202012Validator(document_schema())
RICH = replace(
    RICH_BUILD,
    tasks=tuple(replace(t, notes="") for t in RICH_BUILD.tasks),
    photographs=(),  # they are written where they are asked for
)


def again(build: BuildInput) -> BuildInput:
    """The build after being written and read, which must find no fault."""
    found, faults = read_document(write_document(build), now=NOW)
    assert [fault.text for fault in faults] == []
    assert found is not None
    return found


def read(**changes: Any) -> BuildInput:
    found, faults = read_document(text_of(small_document(**changes)), now=NOW)
    assert [fault.text for fault in faults] == []
    assert found is not None
    return found


def faults_in(*wishes: dict[str, Any], **changes: Any) -> list[str]:
    document = small_document(wishes=list(wishes), **changes)
    _, faults = read_document(text_of(document), now=NOW)
    return [fault.text for fault in faults]


def wish(**of: Any) -> dict[str, Any]:
    return {"key": "lamp", "text": "A lamp", "logged_on": "2026-02-01", **of}


def test_every_field_of_a_wish_reads_the_same_and_fits_the_schema() -> None:
    assert repr(again(RICH)) == repr(RICH)
    SCHEMA.validate(json.loads(write_document(RICH)))


HOURS = st.floats(0, 10_000)
NUMBERS = st.floats(-1e9, 1e9)
TEXTS = st.text(st.characters(codec="utf-8", categories=("L", "N", "P", "S")), min_size=1)
MOMENTS = st.none() | st.datetimes(dt.datetime(2000, 1, 1), dt.datetime(2100, 1, 1)).map(
    lambda moment: moment.replace(second=0, microsecond=0)
)
POINTS = st.tuples(HOURS, HOURS, HOURS).map(
    lambda p: ThreePoint(optimistic=min(p), most_likely=sorted(p)[1], pessimistic=max(p))
)
FIGURES = st.builds(
    WayFigures,
    way=st.sampled_from(WISH_WAYS),
    likely=MOMENTS,
    firm=MOMENTS,
    move_days=st.none() | NUMBERS,
    move_error_days=st.none() | NUMBERS,
    moved_share=st.none() | NUMBERS,
    headroom_hours=st.none() | NUMBERS,
    hours=NUMBERS,
    cost=NUMBERS,
)
WISHES = st.builds(
    Wish,
    key=st.just("w"),
    text=TEXTS,
    logged_on=st.dates(dt.date(2000, 1, 1), dt.date(2100, 1, 1)),
    size=st.none() | st.just("evening"),
    hours=st.none() | POINTS,
    rough_in_hours=st.none() | POINTS,
    later_extra_hours=st.none() | HOURS,
    cost=st.none() | HOURS,
    parts=st.lists(st.builds(WishPart, name=TEXTS, lead_days=st.floats(0, 3650), cost=HOURS)).map(
        tuple
    ),
    decision=st.none()
    | st.builds(
        WishDecision,
        way=st.sampled_from(WISH_WAYS),
        decided_on=st.dates(dt.date(2000, 1, 1), dt.date(2026, 2, 1)),
        why=st.just("") | TEXTS,
        figures=st.lists(FIGURES, max_size=4).map(tuple),
    ),
)


@settings(derandomize=True, max_examples=60, deadline=None)
@given(one=WISHES, confidence=st.floats(0.5, 0.99), calibrated=st.booleans())
def test_any_wish_reads_the_same(one: Wish, confidence: float, calibrated: bool) -> None:
    build = replace(
        RICH,
        tasks=tuple(replace(task, wish=None) for task in RICH.tasks),
        wishes=(one,),
        looked_at=(),
        confidence=confidence,
        calibrated=calibrated,
    )
    assert again(build) == build


def test_an_older_document_has_undecided_wishes_and_what_the_program_begins_with() -> None:
    build = read(wishes=[wish()])
    assert build.wishes == (Wish(key="lamp", text="A lamp", logged_on=dt.date(2026, 2, 1)),)
    assert build.wish_sizes == WISH_SIZES
    assert (build.confidence, build.calibrated, build.attended) == (0.8, True, True)


def test_null_means_left_out() -> None:
    names = ("subsystem", "after", "before", "size", "hours", "setup", "rough_in_hours")
    more = ("later_extra_hours", "parts", "cost", "decision")
    nothing = dict.fromkeys((*names, *more))
    assert read(wishes=[wish(**nothing)], wish_sizes=None).wishes == read(wishes=[wish()]).wishes


def test_own_quick_sizes_take_the_place_of_the_four() -> None:
    build = read(wish_sizes=[{"key": "lunch", "name": "a lunch break", "hours": [0.25, 0.5, 1]}])
    points = ThreePoint(optimistic=0.25, most_likely=0.5, pessimistic=1)
    assert build.wish_sizes == (WishSize(key="lunch", name="a lunch break", hours=points),)
    assert again(build) == build


def test_a_wish_shifts_with_its_decision_by_whole_weeks() -> None:
    moved = shift_weeks(RICH, 2)
    lamp = next(w for w in moved.wishes if w.key == "lamp")
    assert lamp.decision is not None
    assert lamp.decision.decided_on == dt.date(2026, 2, 15)
    assert lamp.decision.figures[0].likely == dt.datetime(2026, 5, 26, 20, 15)
    assert lamp.decision.figures[1].likely is None
    assert shift_weeks(moved, -2) == RICH


@pytest.mark.parametrize(
    ("of", "words"),
    [
        ({"hours": "2"}, 'Wish A lamp (lamp): "hours" must be a number, not the text "2".'),
        ({"hours": [1, 2]}, '"hours" has 2 numbers. Give one, or three'),
        ({"befor": "start"}, 'the field "befor" is unknown. Did you mean "before"?'),
        ({"text": None}, '"text" must be text in double quotes, not null.'),
        ({"logged_on": "2026-02-30"}, "2026-02-30 is not a date in the calendar"),
        ({"parts": {"name": "Bulb"}}, '"parts" must be a list of objects, not an object.'),
        (
            {"parts": [{"name": "Bulb", "cost": True}]},
            'Wish A lamp, part Bulb (lamp): "cost" must be a number, not true.',
        ),
        ({"parts": [{"cost": 2}]}, 'Wish A lamp, part 1 (lamp): "name" is missing. Add it.'),
        ({"decision": "fit now"}, '"decision" must be an object with its fields'),
        (
            {"decision": {"way": "now", "decided_on": "2026-02-01"}},
            'its decision (lamp): "way" must be one of fit now, rough in, fit later, let go',
        ),
        (
            {
                "decision": {
                    "way": "let go",
                    "decided_on": "2026-02-01",
                    "figures": [{"way": "fit now", "likely": "soon", "hours": 1, "cost": 0}],
                }
            },
            'figures fit now (lamp): "likely" must be a date and time',
        ),
        ({"size": "month"}, "there is no quick size month"),
        ({"later_extra_hours": -1}, "the extra hours if fitted later: -1."),
    ],
)
def test_a_fault_of_a_wish_is_told_by_its_own_name(of: dict[str, Any], words: str) -> None:
    told = faults_in(wish(**of))
    assert len(told) == 1
    assert words in told[0]


def test_every_fault_of_a_wish_is_told_at_once() -> None:
    told = faults_in(
        wish(
            hours="2",
            setup="mig",
            parts=[{"name": "Bulb", "cost": "x"}, {"nam": "Socket"}],
            decision={"way": "now"},
        )
    )
    assert len(told) == 7, told


def test_a_task_is_not_blamed_for_a_wish_that_could_not_be_read() -> None:
    tasks = small_document()["tasks"]
    marked = [{**tasks[0], "wish": "lamp"}, tasks[1]]
    told = faults_in(wish(logged_on="soon"), tasks=marked)
    assert len(told) == 1
    assert '"logged_on" must be a date' in told[0]


def test_a_confidence_out_of_bounds_is_told() -> None:
    build = {**small_document()["build"], "confidence": 0.3}
    assert faults_in(build=build) == [
        "Build The Heron: the share of cases that “firm” stands for: 0.3. "
        "Enter a number from 0.5 to 0.99."
    ]


def test_figures_of_older_documents_are_read_under_their_former_names() -> None:
    text = write_document(RICH_BUILD)
    # a licensed person's firm is called so as well: the date of a wish is a date, or null
    older = re.sub(r'"firm": (?="\d|null)', '"safe": ', text).replace(
        '"move_days": ', '"safe_days": 3, "likely_days": '
    )
    assert older != text
    assert read_document(older, now=NOW) == read_document(text, now=NOW)
