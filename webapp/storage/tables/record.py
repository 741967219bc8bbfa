"""The tables of what was lived: hours worked, the clock on the bench, snapshots, the journal."""

import datetime as dt
from typing import ClassVar

from sqlalchemy import ForeignKeyConstraint, Index
from sqlmodel import Field

from webapp.build.build_input import LogEntry, LookedAt
from webapp.storage.tables.column_types import StoredBulk, StoredMoment, StoredStamp, StoredText
from webapp.storage.tables.noun import Fields, Noun, column, keys
from webapp.storage.tables.row import OwnedRow, Row, key_of, owned


class LogEntryRow(OwnedRow, table=True):
    """Hours worked on a task on one date."""

    __tablename__ = "log_entries"
    __table_args__ = owned(
        "log_entries", key_of("task_key", "tasks"), Index(None, "build_id", "task_key")
    )
    REPEATS: ClassVar[bool] = True
    IDENTITY: ClassVar[tuple[str, ...]] = ("task_key", "worked_on")
    task_key: str = Field(sa_type=StoredText)
    worked_on: dt.date
    hours: float
    hours_left: float | None
    setup_hours: float = 0.0


class LookedAtRow(OwnedRow, table=True):
    """What was looked at in the Sunday half hour, and when; one of the three says what."""

    __tablename__ = "looked_at"
    __table_args__ = owned(
        "looked_at",
        key_of("wish_key", "wishes"),
        key_of("task_key", "tasks"),
        Index(None, "build_id", "wish_key"),
        Index(None, "build_id", "task_key"),
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("evening", "wish_key", "task_key")
    looked_on: dt.date
    evening: dt.date | None = None
    wish_key: str | None = Field(default=None, sa_type=StoredText)
    task_key: str | None = Field(default=None, sa_type=StoredText)


class SnapshotRow(Row, table=True):
    """A build as it was, with its plan and forecast: a baseline or a closed week."""

    __tablename__ = "snapshots"
    __table_args__ = (
        ForeignKeyConstraint(["build_id"], ["builds.id"], ondelete="CASCADE"),
        Index(None, "build_id", "kind"),
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("kind", "label")
    BULKY: ClassVar[frozenset[str]] = frozenset({"document", "plan", "forecast"})
    id: int | None = Field(default=None, primary_key=True)
    build_id: int
    kind: str = Field(sa_type=StoredText)
    label: str = Field(sa_type=StoredText)
    taken_at: dt.datetime = Field(sa_type=StoredMoment)
    document: str = Field(sa_type=StoredBulk)
    plan: str = Field(sa_type=StoredBulk)
    forecast: str = Field(sa_type=StoredBulk)


class JournalRow(Row, table=True):
    """One change: what was there before and what after. It outlives its build."""

    __tablename__ = "journal"
    __table_args__ = (Index(None, "slug", "id"), Index(None, "slug", "noun", "id"))
    id: int | None = Field(default=None, primary_key=True)
    at: dt.datetime = Field(sa_type=StoredStamp)
    slug: str = Field(sa_type=StoredText)
    revision: int
    noun: str = Field(sa_type=StoredText)
    key: str = Field(sa_type=StoredText)
    change: str = Field(sa_type=StoredText)
    before: str | None = Field(sa_type=StoredText)
    after: str | None = Field(sa_type=StoredText)


LOG = Noun(
    LogEntryRow,
    Fields(
        LogEntryRow,
        LogEntry,
        column("task", "task_key"),
        column("on", "worked_on"),
        column("left", "hours_left"),
    ),
    at="log",
)
LOOKED_AT = Noun(
    LookedAtRow,
    Fields(LookedAtRow, LookedAt, column("on", "looked_on"), *keys("wish", "task")),
    at="looked_at",
)
