"""The database file: opened, kept at the current schema, and read and written in transactions."""

import logging
import sqlite3
import threading
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event
from sqlmodel import Session

from webapp.storage.data_file import DataFile
from webapp.storage.journal import JournaledSession
from webapp.storage.photograph_files import PhotographFiles
from webapp.storage.schema_upgrade import upgrade_schema
from webapp.storage.soundness import require_sound
from webapp.storage.trouble import BUSY_SECONDS, UnusableDatabaseError, told_of

__all__ = ["Database", "UnusableDatabaseError"]

CHECKED_AT_ONCE_BYTES = 50_000_000
"""A larger file is looked through while the program already runs: that takes seconds."""


PREPARED_STATEMENTS = 500
"""So many a connection keeps: more than there are."""


class Database:
    """One database file. Safe to share between threads.

    `photographs` are the files beside it; `copy_before_upgrade` is where the file was copied to
    before its schema was changed, None where it was not.
    """

    def __init__(self, path: Path, *, copy_before_upgrade: Path | None = None) -> None:
        self.copy_before_upgrade = copy_before_upgrade
        self.photographs = PhotographFiles(path)
        self.path = path
        self._file = DataFile(path)
        self._damage: UnusableDatabaseError | None = None
        self._turn = threading.RLock()
        self._held_at: int | None = None
        self._writing = _engine_of(path)
        self._reading = self._writing.execution_options(only_reading=True)

    @classmethod
    def open(cls, path: Path | str) -> "Database":
        """Open the file, making it or bringing it up to the current schema first.

        A copy of an existing file is set aside before its schema is changed. Raises
        `UnusableDatabaseError`, worded for the screen, where the file can not be used; a damaged
        one is left as it is.
        """
        path = Path(path).expanduser().resolve()
        at_once = not path.is_file() or path.stat().st_size <= CHECKED_AT_ONCE_BYTES
        if at_once:
            require_sound(path)
        database = cls(path, copy_before_upgrade=upgrade_schema(path))
        if not at_once:
            threading.Thread(target=database._look_for_damage, daemon=True).start()
        return database

    @contextmanager
    def reading(self) -> Iterator[Session]:
        """A session that sees one state of the database and can not write.

        Raises `UnusableDatabaseError` where something stands in the way.
        """
        with told_of(self._file.path, only_reading=True):
            self._require_usable()
            with JournaledSession(self._reading, expire_on_commit=False) as session:
                yield session

    @contextmanager
    def writing(self) -> Iterator[Session]:
        """A session in the one writing transaction: committed to disk when this returns.

        An exception inside rolls everything back. Raises `UnusableDatabaseError` where something
        stands in the way; then nothing was stored that will be found again.
        """
        # SQLite has its writers ask again and again, and one of many may never hit the moment.
        with self._turn, told_of(self._file.path):
            self._require_usable()
            with (
                JournaledSession(self._writing, expire_on_commit=False) as session,
                session.begin(),
            ):
                yield session
            self._file.require_same()

    @contextmanager
    def held(self) -> Iterator[None]:
        """Nothing is stored meanwhile but by `take_whole`: who comes to write waits.

        Another program does not wait; `take_whole` raises where one has written. Raises
        `UnusableDatabaseError`.
        """
        with self._turn, told_of(self._file.path):
            self._require_usable()
            self._held_at = self._file.version()
            try:
                yield
            finally:
                self._held_at = None

    def take_whole(self, path: Path) -> None:
        """Have everything that another file of the same schema holds, in one transaction.

        Whoever reads meanwhile sees the state before, whoever reads later the one after; killed in
        between, the file is as it was. Raises `UnusableDatabaseError`.
        """
        with self._turn, told_of(self._file.path):
            self._require_usable()
            if self._held_at not in (None, self._file.version()):
                raise UnusableDatabaseError(
                    f"Another program changed {self.path} after the copy of it was made, so "
                    "nothing was put back. See that no other program writes to it, then have it "
                    "put back once more.",
                    "held",
                )
            with (
                closing(sqlite3.connect(path)) as source,
                closing(sqlite3.connect(self._file.path, timeout=BUSY_SECONDS)) as target,
            ):
                target.execute("PRAGMA synchronous=FULL")
                source.backup(target)
            self._file.require_same()

    def close(self) -> None:
        """Close every connection."""
        self._writing.dispose()
        self._file.close()

    def _require_usable(self) -> None:
        if self._damage is not None:
            raise UnusableDatabaseError(str(self._damage), self._damage.kind)
        self._file.require_same()

    def _look_for_damage(self) -> None:
        try:
            require_sound(self._file.path)
        except UnusableDatabaseError as trouble:
            logging.getLogger(__name__).error("%s", trouble)
            if trouble.kind == "damaged":
                self._damage = trouble


def _engine_of(path: Path) -> Engine:
    """An engine whose connections keep what is written and check what refers to what."""
    engine = create_engine(
        URL.create("sqlite", database=str(path)),
        connect_args={"timeout": BUSY_SECONDS, "cached_statements": PREPARED_STATEMENTS},
        pool_size=8,
        max_overflow=56,  # more than the server has threads
        pool_use_lifo=True,  # one that has just read a build has it at hand
    )

    @event.listens_for(engine, "connect")
    def _prepare(connection: sqlite3.Connection, _record: Any) -> None:
        connection.isolation_level = None  # transactions begin where we say
        connection.execute("PRAGMA journal_mode=WAL")
        connection.execute("PRAGMA synchronous=FULL")
        connection.execute("PRAGMA foreign_keys=ON")

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        only_reading = connection.get_execution_options().get("only_reading", False)
        # Not each time: it makes SQLite prepare every statement of the connection anew.
        if connection.info.get("only_reading") is not only_reading:
            connection.exec_driver_sql(f"PRAGMA query_only={'ON' if only_reading else 'OFF'}")
            connection.info["only_reading"] = only_reading
        if only_reading:
            connection.exec_driver_sql("BEGIN")
        else:
            # A transaction that reads first and writes later would fail at once, without
            # waiting its turn, when another has written in between.
            connection.exec_driver_sql("BEGIN IMMEDIATE")
            # References are checked at commit: builds and tasks refer to each other.
            connection.exec_driver_sql("PRAGMA defer_foreign_keys=ON")

    return engine
