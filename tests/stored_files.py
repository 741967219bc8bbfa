"""Database files for tests that begin with one: made once, then copied.

Making a file runs every migration, which takes longer than most of the tests that need one.
"""

import datetime as dt
from collections.abc import Callable
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from sqlmodel import Session

from tests.storage.rich_build import RICH_BUILD
from webapp.exchange.build_document import read_with_photographs
from webapp.services.imports import store_document
from webapp.storage.builds import create_build
from webapp.storage.database import Database


@cache
def empty_file() -> bytes:
    """A new database file with nothing in it, as the program makes it."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "keyturn.sqlite3"
        Database.open(path).close()
        return path.read_bytes()


def opened_with(path: Path, content: bytes) -> Database:
    """A database file made at a path, opened."""
    path.write_bytes(content)
    return Database.open(path)


def opened_new(path: Path) -> Database:
    """A new database at a path, opened."""
    return opened_with(path, empty_file())


def file_with(store: Callable[[Session], object]) -> bytes:
    """A database file with what `store` writes to an empty one in one transaction."""

    def write(database: Database) -> None:
        with database.writing() as session:
            store(session)

    return _file_after(write)


def _file_after(write: Callable[[Database], None]) -> bytes:
    with TemporaryDirectory() as folder:
        path = Path(folder) / "keyturn.sqlite3"
        database = opened_new(path)
        write(database)
        database.close()  # brings what was written from the log beside the file into the file
        assert [each.name for each in path.parent.iterdir()] == [path.name]
        return path.read_bytes()


def file_of(document: bytes, now: dt.datetime) -> bytes:
    """A database file with the build of a document without photographs, brought in at `now`."""
    build, faults, sent = read_with_photographs(document, now=now)
    assert build is not None
    assert (faults, sent) == ((), ())

    def write(database: Database) -> None:
        assert store_document(database, build, sent, at=now).slug

    return _file_after(write)


@cache
def rich_file() -> bytes:
    """A database file with the rich build."""
    return file_with(lambda session: create_build(session, RICH_BUILD))
