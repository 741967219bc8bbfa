"""Damaged files are named, whether or not anybody reads the damaged page, and left as they are."""

import logging
import shutil
import sqlite3
import time
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from tests.storage.rich_build import NOW, RICH_BUILD
from webapp.storage.build_loader import load_build
from webapp.storage.builds import create_build, list_builds
from webapp.storage.database import Database, UnusableDatabaseError
from webapp.storage.soundness import require_sound

PAGE_BYTES = 4096
"""https://www.sqlite.org/pgszchng2016.html: the default since 2016."""


def rewrite_schema(path: Path, statement: str) -> None:
    """Change what the file says of its own tables, past every check."""
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("PRAGMA writable_schema=ON")
        connection.execute(statement)


def zero_page(path: Path, page: int) -> None:
    content = bytearray(path.read_bytes())
    content[(page - 1) * PAGE_BYTES : page * PAGE_BYTES] = bytes(PAGE_BYTES)
    path.write_bytes(content)


def root_page(path: Path, name: str) -> int:
    """The first page of a table or index."""
    with closing(sqlite3.connect(path)) as connection:
        found = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = ?", (name,))
        return int(found.fetchone()[0])


def zeros_in_the_middle(path: Path) -> None:
    zero_page(path, path.stat().st_size // PAGE_BYTES // 2)


def zeros_where_nobody_reads(path: Path) -> None:
    zero_page(path, root_page(path, "ix_journal_slug_noun_id"))


def zeros_at_the_beginning(path: Path) -> None:
    zero_page(path, 1)


def cut_off(path: Path) -> None:
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])


def a_table_name_that_is_no_text(path: Path) -> None:
    rewrite_schema(
        path, "UPDATE sqlite_master SET tbl_name = CAST(x'74FF' AS TEXT) WHERE name = 'wish_parts'"
    )


def a_column_name_that_is_no_text(path: Path) -> None:
    rewrite_schema(
        path,
        "UPDATE sqlite_master SET sql = replace(sql, 'lead_days', CAST(x'FF64' AS TEXT))"
        " WHERE name = 'wish_parts'",
    )


def a_table_that_is_gone(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("DROP TABLE log_entries")


def a_schema_that_is_no_text(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("UPDATE alembic_version SET version_num = CAST(x'FF33' AS TEXT)")


def two_schemas(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("INSERT INTO alembic_version VALUES ('0001')")


DAMAGES: tuple[Callable[[Path], None], ...] = (
    zeros_in_the_middle,
    zeros_where_nobody_reads,
    zeros_at_the_beginning,
    cut_off,
    a_table_name_that_is_no_text,
    a_column_name_that_is_no_text,
    a_table_that_is_gone,
    a_schema_that_is_no_text,
    two_schemas,
)


@pytest.mark.parametrize("damage", DAMAGES, ids=lambda damage: damage.__name__)
def test_a_damaged_file_is_named_and_left_as_it_is(
    path: Path, damage: Callable[[Path], None]
) -> None:
    damage(path)
    before = path.read_bytes()
    with pytest.raises(UnusableDatabaseError, match=r"keyturn\.sqlite3 is .*put back a copy"):
        Database.open(path)
    assert path.read_bytes() == before


def test_nothing_is_left_beside_a_file_with_a_damaged_page(path: Path) -> None:
    zeros_in_the_middle(path)
    with pytest.raises(UnusableDatabaseError, match="is damaged"):
        Database.open(path)
    assert list(path.parent.iterdir()) == [path]


def test_the_log_beside_a_damaged_file_is_left_as_it_is(path: Path) -> None:
    killed = path.with_name("killed.sqlite3")
    log = killed.with_name(f"{killed.name}-wal")
    with closing(Database.open(path)) as database:
        with database.writing() as session:
            create_build(session, RICH_BUILD)
        shutil.copy(path, killed)  # as a killed program leaves it
        shutil.copy(f"{path}-wal", log)
    zero_page(killed, root_page(path, "ix_snapshots_build_id_kind"))
    before = killed.read_bytes(), log.read_bytes()
    with pytest.raises(UnusableDatabaseError, match="is damaged"):
        Database.open(killed)
    assert (killed.read_bytes(), log.read_bytes()) == before


def test_what_a_killed_program_left_in_the_log_is_there_when_opened(path: Path) -> None:
    killed = path.with_name("killed.sqlite3")
    with closing(Database.open(path)) as database:
        with database.writing() as session:
            create_build(session, RICH_BUILD)
        shutil.copy(path, killed)
        shutil.copy(f"{path}-wal", f"{killed}-wal")
    with closing(Database.open(killed)) as opened, opened.reading() as session:
        assert {h.slug for h in list_builds(session)} == {"the-heron", "the-heron-2"}


def test_what_was_being_made_when_the_program_was_killed_is_rolled_back(path: Path) -> None:
    killed, whole = path.with_name("killed.sqlite3"), path.read_bytes()
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.execute("PRAGMA journal_mode=DELETE")
        connection.execute("PRAGMA cache_size=1")  # pages go to the file before the end
        connection.execute("BEGIN IMMEDIATE")
        connection.execute("UPDATE tasks SET notes = hex(zeroblob(200000))")
        shutil.copy(path, killed)
        shutil.copy(f"{path}-journal", f"{killed}-journal")
    assert len(killed.read_bytes()) > len(whole)
    with closing(Database.open(killed)) as opened, opened.reading() as session:
        assert load_build(session, "the-heron", now=NOW) == RICH_BUILD


def test_what_is_stored_of_a_build_and_is_none_is_named(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("UPDATE tasks SET begun_on = 'the day before' WHERE key = 'mount'")
    with (
        closing(Database.open(path)) as opened,
        opened.reading() as session,
        pytest.raises(UnusableDatabaseError, match="of the build the-heron can not be read"),
    ):
        load_build(session, "the-heron", now=NOW)


# --- large files ----------------------------------------------------------------------------


@pytest.fixture
def _every_file_is_large(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("webapp.storage.database.CHECKED_AT_ONCE_BYTES", 0)


@pytest.mark.usefixtures("_every_file_is_large")
def test_a_large_file_is_looked_through_while_the_program_runs(
    path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    zeros_where_nobody_reads(path)
    with caplog.at_level(logging.ERROR), closing(Database.open(path)) as database:
        for _ in range(500):
            if caplog.messages:
                break
            time.sleep(0.01)
        for entering in (database.reading, database.writing):
            with pytest.raises(UnusableDatabaseError, match="is damaged"), entering():
                pass
    (said,) = caplog.messages
    assert "keyturn.sqlite3 is damaged" in said


@pytest.mark.usefixtures("_every_file_is_large")
def test_a_large_file_is_usable_at_once_and_stays_so_when_it_is_sound(path: Path) -> None:
    with closing(Database.open(path)) as database:
        for _ in range(5):
            with database.writing() as session:
                create_build(session, RICH_BUILD)
        require_sound(path)
        with database.reading() as session:
            assert len(list_builds(session)) == 6
