"""Bringing a database file to the current schema when it is opened.

Runs on an engine of its own with foreign keys off: SQLite changes a table by copying it, and
dropping the old one would take its children along. References are checked afterwards, inside
the same transaction, so that a failed change leaves the file as it was.
"""

import datetime as dt
import sqlite3
from pathlib import Path
from typing import Any

from alembic import command
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import URL, Connection, Engine, NullPool, create_engine, event
from sqlalchemy import inspect as inspect_schema
from sqlalchemy.exc import DatabaseError, OperationalError

from webapp.settings import resource_root


class UnusableDatabaseError(Exception):
    """The database file can not be used; the message says why and what to do."""


def migration_config(migrations: Path | None = None) -> Config:
    """What Alembic needs to know, in code; `migrations` is the folder of the migrations."""
    config = Config()
    folder = migrations or resource_root() / "migrations"
    config.set_main_option("script_location", str(folder).replace("%", "%%"))
    return config


def upgrade_schema(path: Path, migrations: Path | None = None) -> Path | None:
    """Make the file, or change its schema to the current one after setting a copy aside.

    Returns the copy, None where none was needed. Raises `UnusableDatabaseError`.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise UnusableDatabaseError(
            f"The folder {path.parent} can not be made ({error.strerror}). "
            "Name another place for the database."
        ) from error
    engine = schema_engine(path)
    try:
        with engine.begin() as connection:
            return _upgrade(connection, path, migration_config(migrations))
    except OperationalError as error:
        raise UnusableDatabaseError(
            f"The database {path} can not be opened ({error.orig}). Check that it is a file "
            "that you may write and that no other program holds it, or name another."
        ) from error
    except DatabaseError as error:
        raise UnusableDatabaseError(
            f"{path} is not a database of this program, or it is damaged ({error.orig}). "
            "Name another file, or put back a copy."
        ) from error
    finally:
        engine.dispose()


def schema_engine(path: Path) -> Engine:
    """An engine for changing the schema: foreign keys off, one writing transaction."""
    engine = create_engine(
        URL.create("sqlite", database=str(path)), connect_args={"timeout": 10}, poolclass=NullPool
    )

    @event.listens_for(engine, "connect")
    def _prepare(connection: sqlite3.Connection, _record: Any) -> None:
        connection.isolation_level = None
        connection.execute("PRAGMA synchronous=FULL")
        connection.execute("PRAGMA foreign_keys=OFF")

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        connection.exec_driver_sql("BEGIN IMMEDIATE")

    return engine


def _upgrade(connection: Connection, path: Path, config: Config) -> Path | None:
    scripts = ScriptDirectory.from_config(config)
    present = MigrationContext.configure(connection).get_current_revision()
    if present is not None and present == scripts.get_current_head():
        return None
    tables = inspect_schema(connection).get_table_names()
    if present is None and set(tables) - {"alembic_version"}:
        raise UnusableDatabaseError(
            f"{path} holds tables of another program. Name another file for the database."
        )
    known = {script.revision for script in scripts.walk_revisions()}
    if present is not None and present not in known:
        raise UnusableDatabaseError(
            f"{path} was written by a newer version of the program (schema {present}). "
            "Install that version, or put back the copy that it set aside."
        )
    aside = _set_aside(path, present or "base") if tables else None
    config.attributes["connection"] = connection
    command.upgrade(config, "head")
    broken = connection.exec_driver_sql("PRAGMA foreign_key_check").all()
    if broken:
        raise RuntimeError(f"The new schema leaves {len(broken)} rows that refer to nothing.")
    return aside


def _set_aside(path: Path, revision: str) -> Path:
    """Copy the database next to itself, named with the schema it holds and the time in UTC."""
    stamp = dt.datetime.now(dt.UTC).strftime("%Y%m%dT%H%M%SZ")
    aside = path.with_name(f"{path.stem}.schema-{revision}.{stamp}{path.suffix}")
    with sqlite3.connect(path) as source, sqlite3.connect(aside) as copy:
        source.backup(copy)
    source.close()
    copy.close()
    return aside
