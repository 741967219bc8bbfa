"""Bringing a database file to the current schema when it is opened.

Runs on an engine of its own with foreign keys off: SQLite changes a table by copying it, and
dropping the old one would take its children along. References are checked afterwards, inside
the same transaction, so that a failed change leaves the file as it was. Alembic is loaded only when
there is something to change, for that takes long and most starts have nothing.
"""

import datetime as dt
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING, Any

from sqlalchemy import URL, Connection, Engine, NullPool, create_engine, event
from sqlalchemy import inspect as inspect_schema

from webapp.settings import resource_root
from webapp.storage.photograph_files import copy_photographs, remove_copied_photographs
from webapp.storage.soundness import require_sound_pages, require_tables
from webapp.storage.trouble import (
    BUSY_SECONDS,
    UnusableDatabaseError,
    damaged,
    told_of,
    trouble_with_file,
)

if TYPE_CHECKING:
    from alembic.config import Config


def migration_config(migrations: Path | None = None) -> "Config":
    """What Alembic needs to know, in code; `migrations` is the folder of the migrations."""
    from alembic.config import Config

    config = Config()
    folder = migrations or shipped_migrations()
    config.set_main_option("script_location", str(folder).replace("%", "%%"))
    return config


def shipped_migrations() -> Path:
    """The folder of the program's own migrations."""
    return resource_root() / "migrations"


def newest_schema(migrations: Path) -> str | None:
    """The schema of the last migration in a folder, by its file name: "0010_keep_photographs".

    To read every migration takes longer than all else at a start, and most starts need none.
    """
    names = sorted(file.name for file in (migrations / "versions").glob("[0-9]*_*.py"))
    return names[-1].partition("_")[0] if names else None


def upgrade_schema(path: Path, migrations: Path | None = None) -> Path | None:
    """Make the file, or change its schema to the current one after setting a copy aside.

    Returns the copy, None where none was needed. Raises `UnusableDatabaseError`.
    """
    _make_folder_of(path)
    engine = schema_engine(path)
    try:
        with told_of(path), engine.begin() as connection:
            aside = _upgrade(connection, path, migrations or shipped_migrations())
            if migrations is None:
                require_tables(connection, path)
            return aside
    finally:
        engine.dispose()


def _make_folder_of(path: Path) -> None:
    if path.is_dir():
        raise UnusableDatabaseError(
            f"{path} is a folder and can not be opened as a database. Name a file in it.",
            "foreign",
        )
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise UnusableDatabaseError(
            f"The folder {path.parent} can not be made ({error.strerror}). "
            "Name another place for the database.",
            "locked",
        ) from error


def schema_engine(path: Path) -> Engine:
    """An engine for changing the schema: foreign keys off, one writing transaction."""
    engine = create_engine(
        URL.create("sqlite", database=str(path)),
        connect_args={"timeout": BUSY_SECONDS},
        poolclass=NullPool,
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


def _upgrade(connection: Connection, path: Path, migrations: Path) -> Path | None:
    present = _schema_of(connection, path)
    if present is not None and present == newest_schema(migrations):
        return None
    from alembic import command
    from alembic.script import ScriptDirectory

    config = migration_config(migrations)
    scripts = ScriptDirectory.from_config(config)
    tables = inspect_schema(connection).get_table_names()
    if present is None and set(tables) - {"alembic_version"}:
        raise UnusableDatabaseError(
            f"{path} holds tables of another program. Name another file for the database.",
            "foreign",
        )
    known = {script.revision for script in scripts.walk_revisions()}
    if present is not None and present not in known:
        raise UnusableDatabaseError(
            f"{path} was written by a newer version of the program (schema {present}). "
            "Install that version, or put back the copy that it set aside.",
            "foreign",
        )
    aside = _set_aside(path, present or "base") if tables else None
    config.attributes["connection"] = connection
    try:
        with told_of(path):
            command.upgrade(config, "head")
    except UnusableDatabaseError:
        raise
    except Exception as mistake:
        raise UnusableDatabaseError(_not_upgraded(path, aside, mistake), "foreign") from mistake
    broken = connection.exec_driver_sql("PRAGMA foreign_key_check").all()
    if broken:
        raise UnusableDatabaseError(
            f"{path} can not be brought to the schema of this version: {len(broken)} of its rows "
            "would refer to nothing. It stays as it was: go back to the version you had, and "
            "report this.",
            "foreign",
        )
    return aside


def _not_upgraded(path: Path, aside: Path | None, mistake: Exception) -> str:
    """What to say of a change of the schema that failed by a mistake of its own."""
    said = ": ".join([type(mistake).__name__, *str(mistake).splitlines()[:1]])
    copy = f", and a copy of it is {aside}" if aside else ""
    return (
        f"{path} can not be brought to the schema of this version: the program made a mistake in "
        f"it ({said}). The data file is as it was before{copy}. Go back "
        "to the version you had, and report this."
    )


def _schema_of(connection: Connection, path: Path) -> str | None:
    """The revision that the file says it has, None where it says nothing."""
    if not inspect_schema(connection).has_table("alembic_version"):
        return None
    said = connection.exec_driver_sql("SELECT version_num FROM alembic_version").scalars().all()
    if len(said) > 1 or not all(isinstance(each, str) for each in said):
        raise damaged(path, "it does not say what schema it has")
    return said[0] if said else None


def _set_aside(path: Path, revision: str) -> Path:
    """Copy the database next to itself, named with the schema it holds and the time in UTC.

    Its photographs go with it.

    The copy is looked through before it is relied on; one that failed does not stay.
    """
    stamp = dt.datetime.now(dt.UTC).strftime("%Y%m%dT%H%M%SZ")
    aside = path.with_name(f"{path.stem}.schema-{revision}.{stamp}{path.suffix}")
    try:
        with closing(sqlite3.connect(path)) as source, closing(sqlite3.connect(aside)) as copy:
            source.backup(copy)
            require_sound_pages(copy, path)
        with trouble_with_file(aside):
            copy_photographs(path, aside)
    except Exception:
        aside.unlink(missing_ok=True)
        remove_copied_photographs(aside)
        raise
    return aside
