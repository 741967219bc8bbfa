"""Snapshots: kept as they were taken, numbered, and not written twice."""

import datetime as dt
import sqlite3
from contextlib import closing

import pytest

from tests.storage.rich_build import NOW, RICH_BUILD
from webapp.storage.builds import create_build, delete_build, revision_of
from webapp.storage.database import Database
from webapp.storage.journal import journal_of
from webapp.storage.snapshots import (
    Snapshot,
    SnapshotKind,
    save_snapshot,
    snapshot_by_id,
    snapshots_of,
)

DOCUMENT = '{"format": "keyturn-build", "name": "溶接"}' * 1000


def saved(database: Database, slug: str, kind: SnapshotKind, label: str = "") -> int:
    with database.writing() as session:
        return save_snapshot(
            session,
            slug,
            kind=kind,
            label=label,
            taken_at=NOW,
            document=DOCUMENT,
            plan="{}",
            forecast="[]",
        )


@pytest.fixture
def slug(database: Database) -> str:
    with database.writing() as session:
        return create_build(session, RICH_BUILD)


def test_a_snapshot_comes_back_as_it_was_taken(database: Database, slug: str) -> None:
    number = saved(database, slug, "week", "2026-W07")
    wanted = Snapshot(
        id=number,
        kind="week",
        label="2026-W07",
        taken_at=dt.datetime(2026, 2, 9, 18, 30),
        document=DOCUMENT,
        plan="{}",
        forecast="[]",
    )
    with database.reading() as session:
        assert snapshot_by_id(session, slug, number) == wanted
        assert snapshots_of(session, slug) == (wanted,)
        assert snapshots_of(session, slug, "baseline") == ()


def test_baselines_are_numbered_and_the_older_ones_stay(database: Database, slug: str) -> None:
    saved(database, slug, "baseline")
    saved(database, slug, "week", "2026-W07")
    saved(database, slug, "baseline")
    with database.reading() as session:
        assert [(s.kind, s.label) for s in snapshots_of(session, slug)] == [
            ("baseline", "1"),
            ("week", "2026-W07"),
            ("baseline", "2"),
        ]


def test_a_snapshot_counts_as_a_change_of_the_build(database: Database, slug: str) -> None:
    saved(database, slug, "baseline")
    with database.reading() as session:
        assert revision_of(session, slug) == 2


def test_a_snapshot_of_another_build_is_not_given_out(database: Database, slug: str) -> None:
    number = saved(database, slug, "baseline")
    with database.writing() as session:
        other = create_build(session, RICH_BUILD)
    with database.reading() as session:
        assert snapshot_by_id(session, other, number) is None
        assert snapshots_of(session, other) == ()
        assert snapshot_by_id(session, slug, number + 1) is None


def test_an_unknown_build_takes_no_snapshot(database: Database) -> None:
    with pytest.raises(KeyError, match="no-such"):
        saved(database, "no-such", "baseline")


def test_the_journal_tells_of_a_snapshot_without_its_content(database: Database, slug: str) -> None:
    saved(database, slug, "baseline")
    with database.reading() as session:
        entry = journal_of(session, slug, 1)[0]
    assert (entry.noun, entry.key, entry.change) == ("snapshots", "baseline / 1", "added")
    assert entry.after == {"kind": "baseline", "label": "1", "taken_at": "2026-02-09T18:30:00"}


def test_the_journal_keeps_the_content_when_the_build_is_deleted(
    database: Database, slug: str
) -> None:
    saved(database, slug, "baseline")
    with database.writing() as session:
        delete_build(session, slug)
    with database.reading() as session:
        assert snapshots_of(session, slug) == ()
        (entry,) = [
            e
            for e in journal_of(session, slug, 1000)
            if (e.noun, e.change) == ("snapshots", "removed")
        ]
    assert entry.before is not None
    assert entry.before["document"] == DOCUMENT


def stored_length(database: Database) -> int:
    """How many characters the file has of the last snapshot's document."""
    with closing(sqlite3.connect(database.path)) as file:
        (length,) = file.execute("SELECT length(document) FROM snapshots ORDER BY id").fetchall()[
            -1
        ]
    return int(length)


def test_what_a_snapshot_holds_is_pressed_together_in_the_file(
    database: Database, slug: str
) -> None:
    saved(database, slug, "week", "2026-W07")
    assert stored_length(database) < len(DOCUMENT) / 20


def test_a_snapshot_that_an_older_program_stored_as_it_was_is_read(
    database: Database, slug: str
) -> None:
    number = saved(database, slug, "week", "2026-W07")
    with closing(sqlite3.connect(database.path)) as file, file:
        file.execute("UPDATE snapshots SET document = ? WHERE id = ?", (DOCUMENT, number))
    assert stored_length(database) == len(DOCUMENT)
    with database.reading() as session:
        kept = snapshot_by_id(session, slug, number)
    assert kept is not None
    assert kept.document == DOCUMENT


@pytest.mark.parametrize(
    "text", ["", "null", "zlib:", "zlib:no stream", "é" * 3000, "\ud800" * 999]
)
def test_any_text_comes_back_as_it_was_pressed_or_not(
    database: Database, slug: str, text: str
) -> None:
    with database.writing() as session:
        number = save_snapshot(
            session, slug, kind="week", taken_at=NOW, document=text, plan=text, forecast=text
        )
    with database.reading() as session:
        kept = snapshot_by_id(session, slug, number)
    assert kept is not None
    wanted = text.replace("\ud800", "\ufffd")  # what UTF-8 can not hold
    assert (kept.document, kept.plan, kept.forecast) == (wanted, wanted, wanted)
