"""Rows of one build straight from SQLite: pages wait for them.

Half a hundred tables are read for a build. By way of SQLAlchemy each takes ten times as long as
SQLite takes to answer, so that only the statement and the types are its.
"""

from collections.abc import Callable, Iterable, Sequence
from typing import Any

from sqlalchemy import Connection, bindparam, inspect, select
from sqlalchemy.dialects import sqlite

from webapp.storage.tables.row import Row

Stored = list[tuple[Any, ...]]
_DIALECT = sqlite.dialect()


class PlainRows:
    """The rows of a table in the order of entry, of each the values of these columns."""

    def __init__(self, row_class: type[Row], names: Sequence[str]) -> None:
        columns = inspect(row_class).columns
        asked = (
            select(*(columns[name] for name in names))
            .where(columns["build_id"] == bindparam("build_id"))
            .order_by(columns["position"], columns["id"])
        )
        self._statement = str(asked.compile(dialect=_DIALECT))
        types = (columns[name].type.dialect_impl(_DIALECT) for name in names)
        readers = (
            (place, each.result_processor(_DIALECT, None)) for place, each in enumerate(types)
        )
        self._readers = [(place, reader) for place, reader in readers if reader is not None]

    def of_build(self, connection: Connection, build_id: int) -> Sequence[Sequence[Any]]:
        """Those of one build. Raises ValueError where a value is none of its column."""
        return self.read(self.stored(connection, build_id))

    def stored(self, connection: Connection, build_id: int) -> Stored:
        """Those of one build as SQLite has them: a date is a text."""
        driver = connection.connection.driver_connection
        assert driver is not None
        rows: Stored = driver.execute(self._statement, (build_id,)).fetchall()
        return rows

    def read(self, stored: Stored) -> Sequence[Sequence[Any]]:
        """Stored rows with the values of their columns. Raises ValueError as `of_build`."""
        return _read(stored, self._readers) if self._readers else stored


def _read(
    rows: Iterable[Sequence[Any]], readers: list[tuple[int, Callable[[Any], Any]]]
) -> list[Sequence[Any]]:
    """The rows with the values of some columns made what the program calls them."""
    read: list[Sequence[Any]] = []
    for row in rows:
        values = list(row)
        for place, reader in readers:
            values[place] = reader(values[place])
        read.append(values)
    return read
