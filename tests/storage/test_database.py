"""Opening, reading and writing the database file."""

import sqlite3
import threading
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy.exc import OperationalError

from tests.storage.rich_build import NOW, RICH_BUILD
from tests.stored_files import opened_new
from webapp.storage.build_loader import load_build
from webapp.storage.builds import create_build, list_builds, revision_of
from webapp.storage.changes import store_changes
from webapp.storage.database import Database, UnusableDatabaseError


def test_every_connection_keeps_what_is_written_and_checks_references(database: Database) -> None:
    # 2 is FULL: https://www.sqlite.org/pragma.html#pragma_synchronous
    expected = {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1, "busy_timeout": 10_000}
    with database.reading() as reader, database.writing() as writer:
        for session in (reader, writer):
            connection = session.connection()
            found = {
                name: connection.exec_driver_sql(f"PRAGMA {name}").scalar_one() for name in expected
            }
            assert found == expected


def test_what_was_written_is_there_when_opened_again(tmp_path: Path) -> None:
    path = tmp_path / "a folder, not yet made" / "half? #1 100%.sqlite3"
    for number in (1, 2):
        database = Database.open(path)
        with database.writing() as session:
            create_build(session, replace(RICH_BUILD, name=f"Build {number}"))
        database.close()
    with closing(Database.open(str(path))) as opened, opened.reading() as session:
        assert {heading.slug for heading in list_builds(session)} == {"build-1", "build-2"}
    assert [file.name for file in path.parent.iterdir() if file.suffix == ".sqlite3"] == [path.name]


def test_a_writer_waits_its_turn_longer_than_sqlite_would(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("webapp.storage.database.BUSY_SECONDS", 0.05)
    with (
        closing(opened_new(tmp_path / "busy.sqlite3")) as database,
        ThreadPoolExecutor(1) as other,
    ):
        asks = threading.Event()

        def write() -> None:
            asks.set()
            with database.writing() as session:
                create_build(session, replace(RICH_BUILD, name="The second"))

        with database.writing() as session:
            create_build(session, replace(RICH_BUILD, name="The first"))
            waiting = other.submit(write)
            assert asks.wait(timeout=10), "the other has begun to write"
            with pytest.raises(TimeoutError):
                waiting.result(timeout=0.5)  # ten times as long as SQLite waits
        waiting.result()
        with database.reading() as session:
            assert {heading.name for heading in list_builds(session)} == {"The first", "The second"}


def test_an_error_rolls_everything_back(database: Database) -> None:
    def fail_after_writing() -> None:
        with database.writing() as session:
            create_build(session, RICH_BUILD)
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fail_after_writing()
    with database.reading() as session:
        assert list_builds(session) == ()


def test_a_reading_session_can_not_write(database: Database) -> None:
    with pytest.raises(OperationalError, match="readonly"), database.reading() as session:
        create_build(session, RICH_BUILD)
    with database.writing() as session:  # the connection is as good as new
        create_build(session, RICH_BUILD)


def test_a_reader_sees_one_state_while_another_writes(database: Database) -> None:
    with database.writing() as session:
        slug = create_build(session, RICH_BUILD)
    with database.reading() as reader:
        assert revision_of(reader, slug) == 1
        with database.writing() as writer:
            store_changes(writer, slug, RICH_BUILD, replace(RICH_BUILD, vehicle="Later"))
        assert load_build(reader, slug, now=NOW) == RICH_BUILD
    with database.reading() as reader:
        assert revision_of(reader, slug) == 2


def test_writers_at_once_wait_their_turn_and_all_succeed(database: Database) -> None:
    with database.writing() as session:
        slug = create_build(session, RICH_BUILD)
    together = threading.Barrier(6)

    def add_tasks(writer: int) -> None:
        together.wait()
        for number in range(5):
            with database.writing() as session:
                before = load_build(session, slug, now=NOW)
                assert before is not None
                task = replace(RICH_BUILD.tasks[3], key=f"w{writer}-{number}")
                after = replace(before, tasks=(*before.tasks, task))
                store_changes(session, slug, before, after)

    with ThreadPoolExecutor(6) as pool:
        list(pool.map(add_tasks, range(6)))
    with database.reading() as session:
        build = load_build(session, slug, now=NOW)
        assert build is not None
        assert len(build.tasks) == len(RICH_BUILD.tasks) + 30
        assert revision_of(session, slug) == 31


def test_a_file_that_is_no_database_is_named_and_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "letter.txt"
    path.write_text("Dear neighbour, " * 100)
    with pytest.raises(UnusableDatabaseError, match=r"letter\.txt is not a database"):
        Database.open(path)
    assert path.read_text() == "Dear neighbour, " * 100


def test_a_database_of_another_program_is_named_and_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "other.sqlite3"
    with sqlite3.connect(path) as other:
        other.execute("CREATE TABLE recipes (name TEXT)")
    other.close()
    before = path.read_bytes()
    with pytest.raises(UnusableDatabaseError, match=r"other\.sqlite3 holds tables of another"):
        Database.open(path)
    assert path.read_bytes() == before


def test_a_folder_in_place_of_a_file_is_named(tmp_path: Path) -> None:
    with pytest.raises(UnusableDatabaseError, match="can not be opened"):
        Database.open(tmp_path)


def test_a_file_in_place_of_a_folder_is_named(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(UnusableDatabaseError, match=r"The folder .* can not be made"):
        Database.open(tmp_path / "file" / "keyturn.sqlite3")


def test_an_empty_file_becomes_a_database(tmp_path: Path) -> None:
    path = tmp_path / "empty.sqlite3"
    path.touch()
    with closing(Database.open(path)) as opened, opened.reading() as session:
        assert list_builds(session) == ()
