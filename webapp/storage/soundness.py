"""Whether a data file is whole, also in the pages that nobody happens to read."""

import sqlite3
from contextlib import closing
from pathlib import Path

from sqlalchemy import Connection

from webapp.storage.tables import Row
from webapp.storage.trouble import BUSY_SECONDS, damaged, told_of


def require_sound(path: Path) -> None:
    """Look through the whole file; raises `UnusableDatabaseError` where it is damaged.

    Nothing is changed: the file is opened for reading only, so that even what a killed program
    left in the log beside it stays there.
    """
    if not path.is_file() or path.stat().st_size == 0:
        return
    address = f"{path.as_uri()}?{_only_reading(path)}"
    with told_of(path), closing(sqlite3.connect(address, uri=True, timeout=BUSY_SECONDS)) as file:
        require_sound_pages(file, path)


def _only_reading(path: Path) -> str:
    """How to open the file without leaving anything in it or beside it.

    A file that is in nobody's hands is read as it lies; one with a log together with that. Only
    what was being made when the program was killed must be rolled back first.
    """
    if path.with_name(f"{path.name}-journal").exists():
        return "mode=rw"
    return "mode=ro" if path.with_name(f"{path.name}-wal").exists() else "immutable=1"


def require_sound_pages(file: sqlite3.Connection, path: Path) -> None:
    """Look through the file of a connection; raises `UnusableDatabaseError`."""
    try:
        found = [str(line) for (line,) in file.execute("PRAGMA quick_check(1)")]
    except UnicodeDecodeError as error:
        raise damaged(path, f"a name in it is no text: {error}") from error
    if found != ["ok"]:
        where = " ".join(found).removeprefix("*** in database main ***")
        raise damaged(path, " ".join(where.split()))


def require_tables(connection: Connection, path: Path) -> None:
    """Raises `UnusableDatabaseError` where a table or column of the current schema is missing."""
    found = connection.exec_driver_sql(
        "SELECT m.name, c.name FROM sqlite_master m, pragma_table_info(m.name) c"
        " WHERE m.type = 'table'"
    )
    there = {(table, column) for table, column in found}
    for table in Row.metadata.tables.values():
        for column in table.columns:
            if (table.name, column.name) not in there:
                raise damaged(path, f"its table {table.name} has no {column.name}")
