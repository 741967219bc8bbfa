"""The journal: every change with what was there before, written with the change itself.

The session does the writing (`JournaledSession`), so that no store can forget it: rows added,
changed or removed are journaled when they are flushed, rows inserted in bulk as they are
executed, and any other statement that writes is refused. What a snapshot holds is too large to be
kept twice: it stays out of the journal until the snapshot is removed.
"""

import datetime as dt
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal, cast

from sqlalchemy import Insert, Table, event, inspect, select
from sqlalchemy.orm import ORMExecuteState, UOWTransaction
from sqlmodel import Session, col

from webapp.storage.tables import BuildRow, JournalRow, Row
from webapp.storage.tables.row import OwnedRow, SharedRow

Change = Literal["added", "changed", "removed"]

TAKEN_BACK = "taken back"
"""The noun of the entry that says which changes a change took back: its key is "6" or "6-7"."""

TOLD_AT = "the moment that is written"
"""Where a session has it that tells a story: the journal says of its changes when they were."""
LOADED = "builds loaded in this transaction"
"""Where a session keeps them, by slug, until something is written."""

_UNRECORDED = frozenset({"id", "build_id", "revision", "changed_at"})
_JOURNAL = cast(Table, inspect(JournalRow).local_table)
_ROW_CLASSES = {
    mapper.local_table: cast(type[Row], mapper.class_)
    for mapper in inspect(JournalRow).registry.mappers
}


@dataclass(frozen=True, slots=True, kw_only=True)
class JournalEntry:
    """One change of one thing. `noun` is its table, `key` its own name within the build.

    `before` is None for what was added, `after` for what was removed; of what was changed they
    hold the fields that changed. Dates are ISO 8601 text. Entries with one `revision` belong to
    one change of the build. `at` is in UTC.
    """

    at: dt.datetime
    revision: int
    noun: str
    key: str
    change: Change
    before: Mapping[str, Any] | None
    after: Mapping[str, Any] | None


def journal_of(session: Session, slug: str, limit: int = 100) -> tuple[JournalEntry, ...]:
    """The last changes of a build, the latest first; also of a build that was deleted."""
    rows = session.execute(
        select(JournalRow)
        .where(col(JournalRow.slug) == slug)
        .order_by(col(JournalRow.id).desc())
        .limit(limit)
    ).scalars()
    return tuple(
        JournalEntry(
            at=row.at,
            revision=row.revision,
            noun=row.noun,
            key=row.key,
            change=cast(Change, row.change),
            before=None if row.before is None else json.loads(row.before),
            after=None if row.after is None else json.loads(row.after),
        )
        for row in rows
    )


def note_taken_back(session: Session, slug: str, revision: int, *, first: int, last: int) -> None:
    """Write down that the change `revision` took back those from `first` to `last`."""
    session.connection().execute(
        _JOURNAL.insert(),
        {
            "at": dt.datetime.now(dt.UTC),
            "slug": slug,
            "revision": revision,
            "noun": TAKEN_BACK,
            "key": f"{first}" if first == last else f"{first}-{last}",
            "change": "added",
            "before": None,
            "after": None,
        },
    )


class JournaledSession(Session):
    """A session that writes the journal in the transaction of the change."""


@event.listens_for(JournaledSession, "after_flush")
def _journal_flush(session: JournaledSession, _context: UOWTransaction) -> None:
    """Record the rows of one flush, while the session still knows what was there before."""
    entries = []
    for row in _journaled(session.deleted):
        entries.append(_entry(row, "removed", before=_values(row), after=None))
    for row in _journaled(session.new):
        entries.append(_entry(row, "added", before=None, after=_values_once(row)))
    for row in _journaled(session.dirty):
        before, after = _changed_values(row)
        if after:
            entries.append(_entry(row, "changed", before=before, after=after))
    builds = [row for row in _all_rows(session) if isinstance(row, BuildRow)]
    _write(session, entries, {row.id: (row.slug, row.revision) for row in builds})


@event.listens_for(JournaledSession, "do_orm_execute")
def _journal_statement(state: ORMExecuteState) -> None:
    """Record rows inserted in bulk; refuse other writes, which no one could record."""
    if state.is_select:
        return
    statement, rows = state.statement, state.parameters
    if not isinstance(statement, Insert) or not isinstance(rows, list):
        raise TypeError("Write through rows, or insert a list of rows: the journal needs them.")
    row_class = _ROW_CLASSES[cast(Table, statement.table)]
    entries = [
        {
            "build_id": row["build_id"],
            "noun": row_class.__tablename__,
            "key": key_in_journal(row_class, row),
            "change": "added",
            "before": None,
            "after": _as_json({name: row[name] for name in row if name not in _UNRECORDED}),
        }
        for row in rows
    ]
    _write(cast(JournaledSession, state.session), entries, {})


def _journaled(rows: Iterable[Row]) -> Iterator[Row]:
    return (row for row in rows if row.JOURNALED)


def _all_rows(session: Session) -> Iterable[object]:
    yield from session.new
    yield from session.dirty
    yield from session.deleted


def _entry(
    row: Row, change: Change, *, before: dict[str, Any] | None, after: dict[str, Any] | None
) -> dict[str, Any]:
    """One journal row, but for the build's slug and revision."""
    where: dict[str, Any] = {}
    if isinstance(row, SharedRow):
        where = {"slug": f"{row.__tablename__}", "revision": row.revision}
    return {
        **where,
        "build_id": row.id if isinstance(row, BuildRow) else getattr(row, "build_id", None),
        "noun": row.__tablename__,
        "key": key_in_journal(type(row), row.__dict__),
        "change": change,
        "before": None if before is None else _as_json(before),
        "after": None if after is None else _as_json(after),
    }


def key_in_journal(row_class: type[Row], values: Mapping[str, Any]) -> str:
    """The name a row goes by within its build."""
    return " / ".join(str(values[name]) for name in row_class.IDENTITY)


def _values(row: Row) -> dict[str, Any]:
    """Everything a row says, but for the numbers that are the database's own."""
    names = inspect(type(row)).columns.keys()
    return {name: getattr(row, name) for name in names if name not in _UNRECORDED}


def _values_once(row: Row) -> dict[str, Any]:
    """What a new row says, but for what would stand in the file twice for as long as it stays."""
    return {name: value for name, value in _values(row).items() if name not in type(row).BULKY}


def _changed_values(row: Row) -> tuple[dict[str, Any], dict[str, Any]]:
    """The fields of a row that this flush changed, before and after.

    Where a build may have two rows of one name (two entries of the log on one day), the position
    is among them whether it changed or not: it tells which of them it was.
    """
    before, after = {}, {}
    for attribute in inspect(row).attrs:
        history = attribute.history
        if attribute.key not in _UNRECORDED and history.added and history.added != history.deleted:
            before[attribute.key] = history.deleted[0] if history.deleted else None
            after[attribute.key] = history.added[0]
    if after and isinstance(row, OwnedRow) and row.REPEATS:
        before.setdefault("position", row.position)
        after.setdefault("position", row.position)
    return before, after


def _as_json(values: dict[str, Any]) -> str:
    return json.dumps(values, ensure_ascii=False, default=lambda moment: moment.isoformat())


def _write(
    session: JournaledSession,
    entries: list[dict[str, Any]],
    builds: dict[int | None, tuple[str, int]],
) -> None:
    """Insert the entries; `builds` gives slug and revision of the builds already at hand."""
    if not entries:
        return
    session.info.pop(LOADED, None)
    connection = session.connection()
    owned = [entry for entry in entries if "slug" not in entry]
    for build_id in {entry["build_id"] for entry in owned} - builds.keys():
        found = connection.execute(
            select(col(BuildRow.slug), col(BuildRow.revision)).where(col(BuildRow.id) == build_id)
        ).one()
        builds[build_id] = (found.slug, found.revision)
    at = session.info.get(TOLD_AT) or dt.datetime.now(dt.UTC)
    for entry in owned:
        entry["slug"], entry["revision"] = builds[entry["build_id"]]
    for entry in entries:
        del entry["build_id"]
        entry["at"] = at
    connection.execute(_JOURNAL.insert(), entries)
