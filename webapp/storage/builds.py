"""Builds as wholes: listing, creating, deleting, and the revision that tells of a change."""

import datetime as dt
import re
import unicodedata
from collections import defaultdict
from dataclasses import dataclass
from typing import Any, cast

from sqlalchemy import Table, bindparam, insert, inspect, select
from sqlmodel import Session, col

from webapp.build.build_input import BuildInput
from webapp.storage.tables import NOUNS, BuildRow, Row, SnapshotRow
from webapp.storage.tables.builds import heading_values
from webapp.storage.tables.noun import Values

_NOT_A_SLUG = frozenset({"new", "import"})
"""Addresses below /builds/ that are pages of their own."""
_REVISION = select(col(BuildRow.revision)).where(col(BuildRow.slug) == bindparam("slug"))
"""Asked by every page: SQLAlchemy looks through a statement once as long as it is the same one."""
_ROW = select(BuildRow).where(col(BuildRow.slug) == bindparam("slug"))


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildHeading:
    """What a list of builds shows of each. `changed_at` is in UTC."""

    slug: str
    name: str
    vehicle: str
    revision: int
    changed_at: dt.datetime


def list_builds(session: Session) -> tuple[BuildHeading, ...]:
    """All builds, the one changed last first."""
    rows = session.execute(
        select(
            col(BuildRow.slug),
            col(BuildRow.name),
            col(BuildRow.vehicle),
            col(BuildRow.revision),
            col(BuildRow.changed_at),
        ).order_by(col(BuildRow.changed_at).desc(), col(BuildRow.id).desc())
    )
    return tuple(
        BuildHeading(slug=slug, name=name, vehicle=vehicle, revision=revision, changed_at=at)
        for slug, name, vehicle, revision, at in rows
    )


def create_build(session: Session, build: BuildInput) -> str:
    """Write a whole build and return its slug, made from its name and unlike any other.

    `build` must be free of faults of reference: unknown or doubled keys raise IntegrityError
    here or when the transaction is committed.
    """
    row = BuildRow(
        slug=_free_slug(session, build.name),
        changed_at=dt.datetime.now(dt.UTC),
        **heading_values(build),
    )
    session.add(row)
    session.flush()
    assert row.id is not None
    for noun in NOUNS:
        values = noun.values(build)
        if values:
            table = cast(Table, inspect(noun.row_class).local_table)
            session.execute(insert(table), _placed(noun.row_class, row.id, values))
    return row.slug


def delete_build(session: Session, slug: str) -> None:
    """Remove a build with all that belongs to it; the journal keeps what was there."""
    build = build_row(session, slug)
    build.revision += 1
    session.flush()
    # Row by row rather than by the database's cascade, which would leave no journal.
    row_classes: list[type[Row]] = [noun.row_class for noun in NOUNS]
    row_classes.append(SnapshotRow)
    for row_class in reversed(row_classes):
        for row in rows_of(session, row_class, build):
            session.delete(row)
        session.flush()
    session.delete(build)
    session.flush()


def revision_of(session: Session, slug: str) -> int | None:
    """A number that goes up with every change of the build; None: no such build."""
    return session.execute(_REVISION, {"slug": slug}).scalar_one_or_none()


def build_row(session: Session, slug: str) -> BuildRow:
    """The row of a build, for the stores. Raises KeyError where there is none."""
    row = session.execute(_ROW, {"slug": slug}).scalar_one_or_none()
    if row is None:
        raise KeyError(slug)
    return cast(BuildRow, row)


def mark_changed(build: BuildRow) -> None:
    """Count up the revision and stamp the change; journal rows carry the new revision."""
    build.revision += 1
    build.changed_at = dt.datetime.now(dt.UTC)


def rows_of(session: Session, row_class: type[Row], build: BuildRow) -> list[Any]:
    """The rows of one table that belong to a build, in the order of entry."""
    columns = inspect(row_class).columns
    order = [columns[name] for name in ("position", "id") if name in columns]
    statement = select(row_class).where(columns["build_id"] == build.id).order_by(*order)
    return list(session.execute(statement).scalars())


def _placed(row_class: type[Row], build_id: int, values: list[Values]) -> list[Values]:
    """Give rows their build and their position within their group."""
    count: defaultdict[tuple[Any, ...], int] = defaultdict(int)
    for row in values:
        group = tuple(row[name] for name in row_class.GROUP)
        row["build_id"] = build_id
        row["position"] = count[group]
        count[group] += 1
    return values


def _free_slug(session: Session, name: str) -> str:
    """`The Heron` becomes `the-heron`, or `the-heron-2` where that is taken."""
    plain = unicodedata.normalize("NFKD", name[:200]).encode("ascii", "ignore").decode()
    slug = re.sub(r"[^a-z0-9]+", "-", plain.lower())[:60].strip("-") or "build"
    taken = set(session.execute(select(col(BuildRow.slug))).scalars()) | _NOT_A_SLUG
    number, free = 1, slug
    while free in taken:
        number += 1
        free = f"{slug}-{number}"
    return free
