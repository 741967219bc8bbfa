"""Whole builds: what is written comes back, under an address of its own."""

import dataclasses
import datetime as dt
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from sqlalchemy.dialects import sqlite
from sqlalchemy.exc import IntegrityError

from tests.build.random_builds import builds
from tests.storage.rich_build import NOW, RICH_BUILD
from webapp.build import (
    build_input,
    data_sheet,
    earlier_record,
    first_start,
    plumbing,
    room,
    shop,
    three_point,
    wish,
)
from webapp.build.build_input import BuildInput, Dependency
from webapp.build.checks.input_checks import faults_of
from webapp.build.plumbing import AnyPiece, Plumbing
from webapp.storage.build_loader import load_build
from webapp.storage.builds import create_build, delete_build, list_builds, revision_of
from webapp.storage.database import Database
from webapp.storage.decided_figures import figures_of_text, figures_text
from webapp.storage.tables.column_types import StoredExact


def stored(database: Database, build: BuildInput) -> BuildInput | None:
    """The build after being written and read back, at its own `now`."""
    with database.writing() as session:
        slug = create_build(session, build)
    with database.reading() as session:
        return load_build(session, slug, now=build.now)


def _things_in(value: Any) -> Iterator[Any]:
    if dataclasses.is_dataclass(value):
        yield value
        for field in dataclasses.fields(value):
            yield from _things_in(getattr(value, field.name))
    elif isinstance(value, tuple):
        for item in value:
            yield from _things_in(item)


NOUNS = (
    *(build_input, three_point, shop, wish, data_sheet, earlier_record),
    *(first_start, plumbing, room),
)
APART = (
    build_input.Fault,
    build_input.RunningClock,
    AnyPiece,
    room.RoomLeft,
    data_sheet.FigureKind,
)
"""A fault is not stored; the clock is in no document, and tested in test_changes; pieces and things
on the shelf have a base in common."""


def test_the_rich_build_has_no_fault_of_reference_and_sets_every_field() -> None:
    """Guards the tests of this folder: a field added later must be added to the rich build."""
    assert not [fault for fault in faults_of(RICH_BUILD) if "unknown" in fault.text]
    things = [thing for thing in _things_in(RICH_BUILD) if type(thing) not in APART]
    kinds = {
        kind
        for module in NOUNS
        for kind in vars(module).values()
        if isinstance(kind, type) and dataclasses.is_dataclass(kind) and kind not in APART
    }
    assert {type(thing) for thing in things} == kinds
    for thing in things:
        for field in dataclasses.fields(thing):
            values = {repr(getattr(t, field.name)) for t in things if type(t) is type(thing)}
            if field.name != "on_bench":
                assert values != {repr(field.default)}, f"{type(thing).__name__}.{field.name}"


def test_every_field_of_a_build_comes_back(database: Database) -> None:
    assert stored(database, RICH_BUILD) == RICH_BUILD


def test_a_date_stays_a_date_and_a_moment_a_moment(database: Database) -> None:
    # `==` does not tell: a datetime never equals a date, but 2.0 == 2 and True == 1 do.
    build = stored(database, RICH_BUILD)
    assert repr(build) == repr(RICH_BUILD)


def test_an_empty_build_comes_back(database: Database) -> None:
    empty = BuildInput(name="", now=NOW, first_start=None)
    assert stored(database, empty) == empty


def test_now_is_asked_for_rather_than_stored(database: Database) -> None:
    later = NOW + dt.timedelta(days=3)
    with database.writing() as session:
        slug = create_build(session, RICH_BUILD)
        assert load_build(session, slug, now=later) == replace(RICH_BUILD, now=later)


@settings(
    max_examples=40,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(build=builds())
def test_any_build_comes_back(database: Database, build: BuildInput) -> None:
    assert stored(database, build) == build


def test_text_that_utf8_can_not_hold_is_replaced_rather_than_refused(database: Database) -> None:
    build = replace(
        RICH_BUILD,
        name="half \ud83d pair",
        tasks=(replace(RICH_BUILD.tasks[0], key="\udc00"), *RICH_BUILD.tasks[1:]),
        dependencies=(Dependency(before="\udc00", after="start"),),
        parts=(),
        log=(),
        looked_at=(),
        photographs=(),
        plumbing=Plumbing(),
    )
    loaded = stored(database, build)
    assert loaded is not None
    assert loaded.name == "half \N{REPLACEMENT CHARACTER} pair"
    assert loaded.dependencies[0].before == loaded.tasks[0].key == "\N{REPLACEMENT CHARACTER}"


def test_an_address_is_made_from_the_name_and_is_unlike_any_other(database: Database) -> None:
    names = ["The Heron", "the  heron!", "Zürich/Ærø", "橋", "new", "import", "x" * 500, "../a"]
    with database.writing() as session:
        slugs = [create_build(session, replace(RICH_BUILD, name=name)) for name in names]
    assert slugs == [
        "the-heron",
        "the-heron-2",
        "zurich-r",
        "build",
        "new-2",  # /builds/new and /builds/import are pages of their own
        "import-2",
        "x" * 60,
        "a",
    ]


def test_builds_are_listed_with_the_last_changed_first(database: Database) -> None:
    with database.writing() as session:
        for name in ("First", "Second"):
            create_build(session, replace(RICH_BUILD, name=name))
    with database.reading() as session:
        listed = list_builds(session)
    assert [heading.name for heading in listed] == ["Second", "First"]
    assert listed[0].vehicle == "1961 delivery van"
    assert listed[0].revision == 1
    assert abs(dt.datetime.now(dt.UTC) - listed[0].changed_at) < dt.timedelta(minutes=1)


def test_a_deleted_build_takes_nothing_of_another_along(database: Database) -> None:
    with database.writing() as session:
        gone = create_build(session, RICH_BUILD)
        kept = create_build(session, RICH_BUILD)
    with database.writing() as session:
        delete_build(session, gone)
    with database.reading() as session:
        assert load_build(session, gone, now=NOW) is None
        assert revision_of(session, gone) is None
        assert load_build(session, kept, now=NOW) == RICH_BUILD


def test_deleting_an_unknown_build_raises(database: Database) -> None:
    with database.writing() as session, pytest.raises(KeyError, match="no-such"):
        delete_build(session, "no-such")


@pytest.mark.parametrize(
    "broken",
    [
        replace(RICH_BUILD, first_start="nobody"),
        replace(RICH_BUILD, shop=replace(RICH_BUILD.shop, setups_out=("nobody",))),
        replace(RICH_BUILD, subsystems=()),
        replace(RICH_BUILD, dependencies=(Dependency(before="mount", after="nobody"),)),
        replace(RICH_BUILD, tasks=(*RICH_BUILD.tasks, RICH_BUILD.tasks[0])),
    ],
    ids=["first start", "setup out", "subsystem", "dependency", "two tasks with one key"],
)
def test_a_build_that_refers_to_nothing_is_refused_whole(
    database: Database, broken: BuildInput
) -> None:
    with pytest.raises(IntegrityError), database.writing() as session:
        create_build(session, broken)
    with database.reading() as session:
        assert list_builds(session) == ()


def test_figures_that_were_stored_under_their_former_names_are_read() -> None:
    figures = next(w.decision for w in RICH_BUILD.wishes if w.decision is not None).figures
    text = figures_text(figures).replace('"firm"', '"safe"')
    text = text.replace('"move_days": ', '"firm_days": 2.5, "likely_days": ')
    assert "move_days" not in text
    assert figures_of_text(text) == figures


def test_a_moment_of_first_start_comes_back_with_its_offset_and_an_old_one_gets_the_machines() -> (
    None
):
    column, dialect = StoredExact(), sqlite.dialect()
    summer = dt.datetime(2026, 10, 25, 2, 30, tzinfo=dt.timezone(dt.timedelta(hours=2)))
    text = column.process_bind_param(summer, dialect)
    assert text == "2026-10-25T02:30:00+02:00"
    back = column.process_result_value(text, dialect)
    assert back is not None
    assert back.utcoffset() == dt.timedelta(hours=2)
    old = column.process_result_value("2026-05-02T09:00:00", dialect)
    assert old == dt.datetime(2026, 5, 2, 9).astimezone()
