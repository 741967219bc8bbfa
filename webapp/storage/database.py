"""The database file: opened, kept at the current schema, and read and written in transactions."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event
from sqlmodel import Session

from webapp.storage.journal import JournaledSession
from webapp.storage.schema_upgrade import UnusableDatabaseError, upgrade_schema

__all__ = ["Database", "UnusableDatabaseError"]

BUSY_SECONDS = 10
"""How long a writer waits for the one before it."""


class Database:
    """One database file. Safe to share between threads."""

    def __init__(self, engine: Engine) -> None:
        self._writing = engine
        self._reading = engine.execution_options(only_reading=True)

    @classmethod
    def open(cls, path: Path | str) -> "Database":
        """Open the file, making it or bringing it up to the current schema first.

        A copy of an existing file is set aside before its schema is changed. Raises
        `UnusableDatabaseError`, worded for the screen, where the file can not be used.
        """
        path = Path(path).expanduser().resolve()
        upgrade_schema(path)
        return cls(_engine_of(path))

    @contextmanager
    def reading(self) -> Iterator[Session]:
        """A session that sees one state of the database and can not write."""
        with JournaledSession(self._reading, expire_on_commit=False) as session:
            yield session

    @contextmanager
    def writing(self) -> Iterator[Session]:
        """A session in the one writing transaction: committed to disk when this returns.

        An exception inside rolls everything back.
        """
        with JournaledSession(self._writing, expire_on_commit=False) as session, session.begin():
            yield session

    def close(self) -> None:
        """Close every connection."""
        self._writing.dispose()


def _engine_of(path: Path) -> Engine:
    """An engine whose connections keep what is written and check what refers to what."""
    engine = create_engine(
        URL.create("sqlite", database=str(path)),
        connect_args={"timeout": BUSY_SECONDS},
        pool_size=8,
        max_overflow=56,  # more than the server has threads
    )

    @event.listens_for(engine, "connect")
    def _prepare(connection: sqlite3.Connection, _record: Any) -> None:
        connection.isolation_level = None  # transactions begin where we say
        connection.execute("PRAGMA journal_mode=WAL")
        connection.execute("PRAGMA synchronous=FULL")
        connection.execute("PRAGMA foreign_keys=ON")

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        if connection.get_execution_options().get("only_reading"):
            connection.exec_driver_sql("PRAGMA query_only=ON")
            connection.exec_driver_sql("BEGIN")
        else:
            connection.exec_driver_sql("PRAGMA query_only=OFF")
            # A transaction that reads first and writes later would fail at once, without
            # waiting its turn, when another has written in between.
            connection.exec_driver_sql("BEGIN IMMEDIATE")
            # References are checked at commit: builds and tasks refer to each other.
            connection.exec_driver_sql("PRAGMA defer_foreign_keys=ON")

    return engine
