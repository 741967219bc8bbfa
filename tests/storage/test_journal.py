"""The journal: written with the change, by the session itself, and not to be got round."""

import datetime as dt
from dataclasses import replace

import pytest
from sqlalchemy import Executable, delete, text, update
from sqlmodel import col

from tests.storage.rich_build import NOW, RICH_BUILD
from webapp.storage.build_loader import load_build
from webapp.storage.builds import create_build, delete_build
from webapp.storage.changes import store_changes
from webapp.storage.database import Database
from webapp.storage.journal import journal_of
from webapp.storage.tables import NOUNS, BuildRow, TaskRow

ROWS_OF_THE_RICH_BUILD = 1 + sum(len(noun.values(RICH_BUILD)) for noun in NOUNS)


def test_a_new_build_is_journaled_thing_by_thing(database: Database) -> None:
    with database.writing() as session:
        slug = create_build(session, RICH_BUILD)
    with database.reading() as session:
        entries = journal_of(session, slug, 1000)
    assert len(entries) == ROWS_OF_THE_RICH_BUILD
    assert {(entry.change, entry.before, entry.revision) for entry in entries} == {
        ("added", None, 1)
    }
    (mount,) = [e for e in entries if (e.noun, e.key) == ("tasks", "mount")]
    assert mount.after is not None
    assert mount.after["begun_on"] == "2026-02-07"
    assert mount.after["name"] == RICH_BUILD.tasks[0].name
    assert mount.at.tzinfo == dt.UTC
    assert abs(dt.datetime.now(dt.UTC) - mount.at) < dt.timedelta(minutes=1)


def test_the_journal_keeps_what_a_deleted_build_held(database: Database) -> None:
    with database.writing() as session:
        slug = create_build(session, RICH_BUILD)
    with database.writing() as session:
        delete_build(session, slug)
    with database.reading() as session:
        entries = journal_of(session, slug, 1000)
    removed = {(e.noun, e.key): e.before for e in entries if e.change == "removed"}
    added = {(e.noun, e.key): e.after for e in entries if e.change == "added"}
    assert removed == added
    assert sum(entry.change == "removed" for entry in entries) == ROWS_OF_THE_RICH_BUILD


def test_a_change_that_fails_leaves_no_entry(database: Database) -> None:
    with database.writing() as session:
        slug = create_build(session, RICH_BUILD)

    def fail_after_the_change() -> None:
        with database.writing() as session:
            store_changes(session, slug, RICH_BUILD, replace(RICH_BUILD, vehicle="Gone"))
            assert journal_of(session, slug, 1)[0].after == {"vehicle": "Gone"}
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fail_after_the_change()
    with database.reading() as session:
        assert len(journal_of(session, slug, 1000)) == ROWS_OF_THE_RICH_BUILD
        assert load_build(session, slug, now=NOW) == RICH_BUILD


def test_the_latest_entries_come_first_and_no_more_than_asked_for(database: Database) -> None:
    with database.writing() as session:
        slug = create_build(session, RICH_BUILD)
        store_changes(session, slug, RICH_BUILD, replace(RICH_BUILD, vehicle="Second"))
    with database.reading() as session:
        entries = journal_of(session, slug, 2)
    assert [(e.change, e.revision) for e in entries] == [("changed", 2), ("added", 1)]
    assert entries[0].noun == "builds"
    assert entries[0].before == {"vehicle": "1961 delivery van"}


@pytest.mark.parametrize(
    "statement",
    [
        update(TaskRow).values(people=9),
        delete(TaskRow).where(col(TaskRow.key) == "mount"),
        text("DELETE FROM tasks"),
    ],
)
def test_a_statement_that_writes_past_the_journal_is_refused(
    database: Database, statement: Executable
) -> None:
    with pytest.raises(TypeError, match="journal"), database.writing() as session:
        session.execute(statement)


def test_a_row_changed_without_any_store_is_journaled_too(database: Database) -> None:
    with database.writing() as session:
        slug = create_build(session, RICH_BUILD)
    with database.writing() as session:
        row = session.get(BuildRow, 1)
        assert row is not None
        row.vehicle = "By hand"
    with database.reading() as session:
        (entry,) = journal_of(session, slug, 1)
    assert (entry.before, entry.after) == ({"vehicle": "1961 delivery van"}, {"vehicle": "By hand"})
