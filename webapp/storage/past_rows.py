"""The rows of a build as they were: taken back through the journal, change by change."""

import datetime as dt
import json
from collections import defaultdict
from collections.abc import Iterable, Sequence
from functools import cache
from typing import Any

from sqlalchemy import (
    Boolean,
    Connection,
    Date,
    Float,
    Integer,
    inspect,
    select,
)
from sqlmodel import Session, col

from webapp.build.build_input import BuildInput
from webapp.build.moments import with_offset
from webapp.storage.build_loader import build_of
from webapp.storage.journal import Change, key_in_journal
from webapp.storage.plain_rows import PlainRows
from webapp.storage.tables import NOUNS, BuildRow, Row
from webapp.storage.tables.builds import HEADING, SHOP_HEADING
from webapp.storage.tables.column_types import StoredExact, StoredMoment
from webapp.storage.tables.noun import Noun, Values

Step = tuple[str, str, Change, str | None, str | None]
"""Noun, key, change, and what was before and after as the journal has it."""

_NOUN_OF = {str(noun.row_class.__tablename__): noun for noun in NOUNS}
_HEADING_COLUMNS = (*HEADING.columns, *SHOP_HEADING.columns)
BUILDS = str(BuildRow.__tablename__)


class PastRows:
    """The rows of one build, as they are or as they were some changes ago.

    Goes one way: each `step_back` takes the rows to before a change.
    """

    def __init__(self, session: Session, build_id: int) -> None:
        columns = inspect(BuildRow).columns
        own = ("id", "revision", "changed_at")
        names = [name for name, _ in columns.items() if name not in own]
        row = session.execute(
            select(*(columns[name] for name in names)).where(col(BuildRow.id) == build_id)
        ).one()
        self._heading: Values = dict(zip(names, row, strict=True))
        connection = session.connection()
        self._rows = {noun: _rows_of(connection, noun, build_id) for noun in NOUNS}
        self._things: dict[Noun, tuple[Any, ...]] = {}

    def build(self, now: dt.datetime) -> BuildInput:
        """The build that these rows are. What did not change is the very same as in the last."""
        heading = [self._heading[name] for name in _HEADING_COLUMNS]
        return build_of(heading, self._things_of, now)

    def step_back(self, steps: Sequence[Step]) -> bool:
        """Take the rows to before one change; False where they are not what the change left.

        Then the rows are of no more use: whatever came between stands in no journal.
        """
        gone: list[tuple[Noun, str, Values]] = []
        back: list[tuple[Noun, str, Values]] = []
        for name, key, change, before, after in steps:
            if name == BUILDS:
                if change != "changed" or not self._heading_back(before, after):
                    return False
                continue
            noun = _NOUN_OF.get(name)
            if noun is None:
                continue
            left = None if after is None else _typed(noun.row_class, after)
            was = None if before is None else _typed(noun.row_class, before)
            if change != "removed":
                row = self._find(noun, key, left or {})
                if row is None:
                    return False
                gone.append((noun, key, row))
                if change == "changed":
                    back.append((noun, key, {**row, **(was or {})}))
            else:
                back.append((noun, key, {**_defaults(noun.row_class), **(was or {})}))
        self._replace(gone, back)
        return True

    def _heading_back(self, before: str | None, after: str | None) -> bool:
        was, left = _typed(BuildRow, before or "{}"), _typed(BuildRow, after or "{}")
        if any(self._heading.get(name) != value for name, value in left.items()):
            return False
        self._heading.update((name, value) for name, value in was.items() if name in self._heading)
        return True

    def _find(self, noun: Noun, key: str, left: Values) -> Values | None:
        """The row that the change left like this."""
        for row in self._rows[noun].get(key, ()):
            if all(row.get(name, value) == value for name, value in left.items()):
                return row
        return None

    def _replace(
        self, gone: Iterable[tuple[Noun, str, Values]], back: Iterable[tuple[Noun, str, Values]]
    ) -> None:
        for noun, key, row in gone:
            same = self._rows[noun][key]
            same[:] = [one for one in same if one is not row]
            self._touch(noun)
        for noun, _, row in back:
            self._rows[noun][key_in_journal(noun.row_class, row)].append(row)
            self._touch(noun)

    def _touch(self, noun: Noun) -> None:
        self._things.pop(noun, None)
        for each in NOUNS:
            if noun in each.owns:
                self._things.pop(each, None)

    def _things_of(self, noun: Noun) -> tuple[Any, ...]:
        if noun not in self._things:
            self._things[noun] = noun.things(self._in_order)
        return self._things[noun]

    def _in_order(self, noun: Noun) -> list[tuple[Any, ...]]:
        rows = [row for same in self._rows[noun].values() for row in same]
        rows.sort(key=lambda row: row["position"])
        return [tuple(row[name] for name in noun.columns) for row in rows]


def _rows_of(connection: Connection, noun: Noun, build_id: int) -> defaultdict[str, list[Values]]:
    names = (*noun.columns, "position")
    found: defaultdict[str, list[Values]] = defaultdict(list)
    for row in _plain_rows(noun).of_build(connection, build_id):
        values = dict(zip(names, row, strict=True))
        found[key_in_journal(noun.row_class, values)].append(values)
    return found


@cache
def _plain_rows(noun: Noun) -> PlainRows:
    """Made once a noun: to put a statement together takes longer than to have it answered."""
    return PlainRows(noun.row_class, (*noun.columns, "position"))


def _typed(row_class: type[Row], text: str) -> Values:
    """What the journal says of a row, in the types of its columns; what has none is left out."""
    readers = _readers(row_class)
    return {
        name: None if value is None else readers[name](value)
        for name, value in json.loads(text).items()
        if name in readers
    }


@cache
def _readers(row_class: type[Row]) -> dict[str, Any]:
    """How a value of each column is read from JSON."""
    readers: dict[str, Any] = {}
    for name, column in inspect(row_class).columns.items():
        kind = column.type
        if isinstance(kind, StoredMoment):
            readers[name] = _moment
        elif isinstance(kind, StoredExact):
            readers[name] = _exact
        elif isinstance(kind, Date):
            readers[name] = dt.date.fromisoformat
        elif isinstance(kind, Float):
            readers[name] = float
        elif isinstance(kind, Boolean):
            readers[name] = bool
        elif isinstance(kind, Integer):
            readers[name] = int
        else:
            readers[name] = str
    return readers


def _moment(text: str) -> dt.date:
    return dt.datetime.fromisoformat(text) if "T" in text else dt.date.fromisoformat(text)


def _exact(text: str) -> dt.datetime:
    return with_offset(dt.datetime.fromisoformat(text))


@cache
def _defaults(row_class: type[Row]) -> Values:
    """What stands in columns that were not there yet when a row was removed."""
    return {
        name: None if field.is_required() else field.get_default()
        for name, field in row_class.model_fields.items()
        if name not in ("id", "build_id")
    }
