"""Starter lists of one's own: kept, named, taken out and put back."""

import datetime as dt
import secrets
from dataclasses import dataclass
from typing import cast

from sqlalchemy import select
from sqlmodel import Session, col

from webapp.storage.tables import OwnListRow

KEY_BYTES = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnListHeading:
    """A list without what is in it: `tasks`, and how many of them have the hours they `taken`.

    The stamps are in UTC; `taken_out_at` is None while it is offered.
    """

    key: str
    name: str
    tasks: int
    taken: int
    made_at: dt.datetime
    taken_out_at: dt.datetime | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnList:
    """A list with its build document."""

    heading: OwnListHeading
    document: str


def keep_own_list(session: Session, name: str, document: str, *, tasks: int, taken: int) -> str:
    """Keep a list and return its key, which no other has or had."""
    key = secrets.token_hex(KEY_BYTES)
    row = OwnListRow(
        key=key,
        name=name,
        document=document,
        tasks=tasks,
        taken=taken,
        made_at=dt.datetime.now(dt.UTC),
    )
    session.add(row)
    session.flush()
    return key


def own_list_headings(session: Session) -> tuple[OwnListHeading, ...]:
    """All lists, the one made last first, those that were taken out among them."""
    names = ("key", "name", "tasks", "taken", "made_at", "taken_out_at")
    columns = [col(getattr(OwnListRow, name)) for name in names]
    rows = session.execute(select(*columns).order_by(col(OwnListRow.id).desc()))
    return tuple(OwnListHeading(**dict(zip(names, row, strict=True))) for row in rows)


def own_list_called(session: Session, key: str) -> OwnList | None:
    """One list by its key, taken out or not; None where there is none."""
    row = _row(session, key)
    if row is None:
        return None
    return OwnList(
        heading=OwnListHeading(
            key=row.key,
            name=row.name,
            tasks=row.tasks,
            taken=row.taken,
            made_at=row.made_at,
            taken_out_at=row.taken_out_at,
        ),
        document=row.document,
    )


def rename_own_list(session: Session, key: str, name: str) -> bool:
    """Give a list another name; whether it is there."""
    row = _row(session, key)
    if row is not None and row.name != name:
        row.name = name
        row.revision += 1
        session.flush()
    return row is not None


def take_out_own_list(session: Session, key: str) -> bool:
    """Offer a list no more; it can be put back. Whether it is there."""
    return _stamped(session, key, dt.datetime.now(dt.UTC))


def put_back_own_list(session: Session, key: str) -> bool:
    """Offer a list again that was taken out; whether it is there."""
    return _stamped(session, key, None)


def _stamped(session: Session, key: str, taken_out_at: dt.datetime | None) -> bool:
    row = _row(session, key)
    if row is not None and (row.taken_out_at is None) != (taken_out_at is None):
        row.taken_out_at = taken_out_at
        row.revision += 1
        session.flush()
    return row is not None


def _row(session: Session, key: str) -> OwnListRow | None:
    found = session.execute(select(OwnListRow).where(col(OwnListRow.key) == key))
    return cast("OwnListRow | None", found.scalar_one_or_none())
