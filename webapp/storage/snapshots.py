"""Snapshots: a build as it was, with its plan and forecast. Added, never changed or taken out.

The build document of a snapshot stands in its row alone. The journal tells that the snapshot was
taken, and gets its whole content only when the build is deleted.
"""

import datetime as dt
from dataclasses import dataclass
from typing import Any, Literal

from sqlalchemy import Select, func, select
from sqlmodel import Session, col

from webapp.storage.builds import build_row, mark_changed
from webapp.storage.tables import BuildRow, SnapshotRow

SnapshotKind = Literal["baseline", "week"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Snapshot:
    """A build at one moment.

    label : the week of a closed week, "2026-W07"; the number of a baseline, "1"
    taken_at : naive local time of the shop clock
    document : the build document; plan, forecast : JSON text
    """

    id: int
    kind: SnapshotKind
    label: str
    taken_at: dt.datetime
    document: str
    plan: str
    forecast: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SnapshotHeading:
    """A snapshot without what it holds: for lists, which are long after a few years."""

    id: int
    kind: SnapshotKind
    label: str
    taken_at: dt.datetime


def save_snapshot(
    session: Session,
    slug: str,
    *,
    kind: SnapshotKind,
    label: str = "",
    taken_at: dt.datetime,
    document: str,
    plan: str,
    forecast: str,
) -> int:
    """Keep a snapshot and return its id; the older ones stay.

    A baseline without a label gets the next number. KeyError: no such build.
    """
    build = build_row(session, slug)
    assert build.id is not None
    mark_changed(build)
    row = SnapshotRow(
        build_id=build.id,
        kind=kind,
        label=label or str(_count(session, build.id, kind) + 1),
        taken_at=taken_at,
        document=document,
        plan=plan,
        forecast=forecast,
    )
    session.add(row)
    session.flush()
    assert row.id is not None
    return row.id


def snapshots_of(
    session: Session, slug: str, kind: SnapshotKind | None = None
) -> tuple[Snapshot, ...]:
    """The snapshots of a build, all or of one kind, the oldest first."""
    wanted = _of_build(slug)
    if kind is not None:
        wanted = wanted.where(col(SnapshotRow.kind) == kind)
    rows = session.execute(wanted.order_by(col(SnapshotRow.id))).scalars()
    return tuple(_snapshot(row) for row in rows)


def snapshot_headings(session: Session, slug: str) -> tuple[SnapshotHeading, ...]:
    """What snapshots a build has, the oldest first."""
    columns = (SnapshotRow.id, SnapshotRow.kind, SnapshotRow.label, SnapshotRow.taken_at)
    wanted = (
        select(*(col(column) for column in columns))
        .join(BuildRow, col(BuildRow.id) == col(SnapshotRow.build_id))
        .where(col(BuildRow.slug) == slug)
        .order_by(col(SnapshotRow.id))
    )
    return tuple(
        SnapshotHeading(
            id=number,
            kind="baseline" if kind == "baseline" else "week",
            label=label,
            taken_at=taken_at,
        )
        for number, kind, label, taken_at in session.execute(wanted)
    )


def snapshot_by_id(session: Session, slug: str, id: int) -> Snapshot | None:
    """One snapshot of a build; None where the build has none with that id."""
    row = session.execute(_of_build(slug).where(col(SnapshotRow.id) == id)).scalar_one_or_none()
    return None if row is None else _snapshot(row)


def _of_build(slug: str) -> Select[Any]:
    return (
        select(SnapshotRow)
        .join(BuildRow, col(BuildRow.id) == col(SnapshotRow.build_id))
        .where(col(BuildRow.slug) == slug)
    )


def _count(session: Session, build_id: int, kind: SnapshotKind) -> int:
    count = session.execute(
        select(func.count())
        .select_from(SnapshotRow)
        .where(col(SnapshotRow.build_id) == build_id, col(SnapshotRow.kind) == kind)
    ).scalar_one()
    return int(count)


def _snapshot(row: SnapshotRow) -> Snapshot:
    assert row.id is not None
    return Snapshot(
        id=row.id,
        kind="baseline" if row.kind == "baseline" else "week",
        label=row.label,
        taken_at=row.taken_at,
        document=row.document,
        plan=row.plan,
        forecast=row.forecast,
    )
