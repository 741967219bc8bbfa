"""The tables of the database. Rows stay inside storage; callers get frozen dataclasses.

Every thing of a build carries `build_id` and is referred to by its own `key` within that build
(composite foreign keys), so that a row, and its journal entry, can be read without a look-up.
Only ownership by the build cascades; a reference to a thing that is gone is refused, because a
row that the database removes by itself would be missing from the journal.
`position` is the order of entry: rising, with gaps allowed.
"""

import datetime as dt
from typing import Any, ClassVar

from sqlalchemy import (
    Dialect,
    ForeignKeyConstraint,
    Index,
    MetaData,
    String,
    Text,
    TypeDecorator,
    UniqueConstraint,
)
from sqlalchemy.orm import registry
from sqlmodel import Field, SQLModel

from webapp.build.build_input import DEFAULT_CONFIDENCE, Moment

NAMING = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s",
    "pk": "pk_%(table_name)s",
}


class StoredText(TypeDecorator[str]):
    """Any text. What UTF-8 cannot hold (a lone surrogate) is stored as U+FFFD."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: str | None, _dialect: Dialect) -> str | None:
        """Text that can be written."""
        if value is None or value.isascii():
            return value
        return value.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "replace")


class StoredMoment(TypeDecorator[Moment]):
    """A date, or a date with a time, as ISO 8601 text: a date stays a date."""

    impl = String(26)
    cache_ok = True

    def process_bind_param(self, value: Moment | None, _dialect: Dialect) -> str | None:
        """`2026-02-09` or `2026-02-09T18:30:00`."""
        return None if value is None else value.isoformat()

    def process_result_value(self, value: str | None, _dialect: Dialect) -> Moment | None:
        """The date or datetime that was stored."""
        if value is None:
            return None
        return dt.datetime.fromisoformat(value) if "T" in value else dt.date.fromisoformat(value)


class StoredStamp(TypeDecorator[dt.datetime]):
    """The moment of a record, in UTC, as ISO 8601 text of one width so that it sorts."""

    impl = String(32)
    cache_ok = True

    def process_bind_param(self, value: dt.datetime | None, _dialect: Dialect) -> str | None:
        """Text in UTC."""
        return (
            None if value is None else value.astimezone(dt.UTC).isoformat(timespec="microseconds")
        )

    def process_result_value(self, value: str | None, _dialect: Dialect) -> dt.datetime | None:
        """An aware datetime in UTC."""
        return None if value is None else dt.datetime.fromisoformat(value)


class Row(SQLModel, registry=registry(metadata=MetaData(naming_convention=NAMING))):
    """What all tables share.

    `IDENTITY` names the columns by which one row is told from another within its build (and
    which the journal shows as its key); `GROUP` the columns within which positions count;
    `BULKY` those that the journal leaves out when a row is added: the row itself keeps them, and
    they go into the journal when it is removed.
    """

    IDENTITY: ClassVar[tuple[str, ...]] = ("key",)
    GROUP: ClassVar[tuple[str, ...]] = ()
    BULKY: ClassVar[frozenset[str]] = frozenset()


def _key_of(column: str, parent: str, *, in_a_ring: bool = False) -> ForeignKeyConstraint:
    """The column holds the key of a row of `parent` in the same build.

    `in_a_ring`: the parent refers back; one side of the ring must say so.
    """
    return ForeignKeyConstraint(
        ["build_id", column], [f"{parent}.build_id", f"{parent}.key"], use_alter=in_a_ring
    )


def _owned(table: str, *more: Any) -> tuple[Any, ...]:
    """Constraints of a table whose rows belong to a build."""
    return (
        ForeignKeyConstraint(["build_id"], ["builds.id"], ondelete="CASCADE"),
        Index(f"ix_{table}_build_id_position", "build_id", "position"),
        *more,
    )


class BuildRow(Row, table=True):
    """A build: its heading, its goal and the shop's people and setup that is out."""

    __tablename__ = "builds"
    __table_args__ = (
        ForeignKeyConstraint(
            ["id", "first_start_key"], ["tasks.build_id", "tasks.key"], use_alter=True
        ),
        ForeignKeyConstraint(
            ["id", "setup_out_key"], ["setups.build_id", "setups.key"], use_alter=True
        ),
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("slug",)
    # said aloud, because a column that is part of a foreign key is not numbered by itself
    id: int | None = Field(default=None, primary_key=True, sa_column_kwargs={"autoincrement": True})
    slug: str = Field(sa_type=StoredText, unique=True)
    revision: int = 1
    changed_at: dt.datetime = Field(sa_type=StoredStamp)
    name: str = Field(sa_type=StoredText)
    vehicle: str = Field(sa_type=StoredText)
    first_start_key: str | None = Field(default=None, sa_type=StoredText)
    starts_on: dt.date | None = None
    wanted_by: dt.date | None = None
    people: int = 1
    setup_out_key: str | None = Field(default=None, sa_type=StoredText)
    confidence: float = DEFAULT_CONFIDENCE
    calibrated: bool = True
    attended: bool = True
    kept_order: str = Field(default="[]", sa_type=StoredText)
    kept_on: dt.date | None = None


class SubsystemRow(Row, table=True):
    """Air, coolant, fuel, ..."""

    __tablename__ = "subsystems"
    __table_args__ = _owned("subsystems", UniqueConstraint("build_id", "key"))
    id: int | None = Field(default=None, primary_key=True)
    build_id: int
    position: int
    key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    medium: str = Field(sa_type=StoredText)
    working_order: int


class SetupRow(Row, table=True):
    """A setup and the hours to get it out."""

    __tablename__ = "setups"
    __table_args__ = _owned("setups", UniqueConstraint("build_id", "key"))
    id: int | None = Field(default=None, primary_key=True)
    build_id: int
    position: int
    key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    hours: float


class StationRow(Row, table=True):
    """A station and how many of it there are."""

    __tablename__ = "stations"
    __table_args__ = _owned("stations", UniqueConstraint("build_id", "key"))
    id: int | None = Field(default=None, primary_key=True)
    build_id: int
    position: int
    key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    count: int


class TaskRow(Row, table=True):
    """A piece of work and the facts about it."""

    __tablename__ = "tasks"
    __table_args__ = _owned(
        "tasks",
        UniqueConstraint("build_id", "key"),
        _key_of("subsystem_key", "subsystems"),
        _key_of("setup_key", "setups"),
        _key_of("wish_key", "wishes", in_a_ring=True),
    )
    id: int | None = Field(default=None, primary_key=True)
    build_id: int
    position: int
    key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    optimistic_hours: float
    most_likely_hours: float
    pessimistic_hours: float
    subsystem_key: str | None = Field(sa_type=StoredText)
    setup_key: str | None = Field(sa_type=StoredText)
    people: int
    helper: bool
    in_one_go: bool
    outside_days: float | None
    space_litres: float
    begun_on: dt.date | None = Field(sa_type=StoredMoment)
    finished_on: dt.date | None = Field(sa_type=StoredMoment)
    set_aside_on: dt.date | None
    hours_left: float | None
    caution: str = Field(sa_type=StoredText)
    notes: str = Field(sa_type=StoredText)
    wish_key: str | None = Field(default=None, sa_type=StoredText)


class StationNeedRow(Row, table=True):
    """So many of a station for a task."""

    __tablename__ = "station_needs"
    __table_args__ = _owned(
        "station_needs",
        _key_of("task_key", "tasks"),
        _key_of("station_key", "stations"),
        Index(None, "build_id", "task_key"),
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("task_key", "station_key")
    GROUP: ClassVar[tuple[str, ...]] = ("task_key",)
    id: int | None = Field(default=None, primary_key=True)
    build_id: int
    position: int
    task_key: str = Field(sa_type=StoredText)
    station_key: str = Field(sa_type=StoredText)
    count: int


class DependencyRow(Row, table=True):
    """Task before, task after, the wait between and why."""

    __tablename__ = "dependencies"
    __table_args__ = _owned(
        "dependencies",
        _key_of("before_key", "tasks"),
        _key_of("after_key", "tasks"),
        Index(None, "build_id", "before_key"),
        Index(None, "build_id", "after_key"),
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("before_key", "after_key")
    id: int | None = Field(default=None, primary_key=True)
    build_id: int
    position: int
    before_key: str = Field(sa_type=StoredText)
    after_key: str = Field(sa_type=StoredText)
    wait_hours: float
    why: str = Field(sa_type=StoredText)


class PartRow(Row, table=True):
    """A thing to buy or make."""

    __tablename__ = "parts"
    __table_args__ = _owned("parts", UniqueConstraint("build_id", "key"))
    id: int | None = Field(default=None, primary_key=True)
    build_id: int
    position: int
    key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    arrives_on: dt.date | None = Field(sa_type=StoredMoment)
    arrived: bool
    promised_on: dt.date | None
    ordered_on: dt.date | None
    lead_days: float | None
    cost: float | None
    supplier: str = Field(sa_type=StoredText)


class PartServeRow(Row, table=True):
    """A task that a part serves."""

    __tablename__ = "part_serves"
    __table_args__ = _owned(
        "part_serves",
        _key_of("part_key", "parts"),
        _key_of("task_key", "tasks"),
        Index(None, "build_id", "part_key"),
        Index(None, "build_id", "task_key"),
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("part_key", "task_key")
    GROUP: ClassVar[tuple[str, ...]] = ("part_key",)
    id: int | None = Field(default=None, primary_key=True)
    build_id: int
    position: int
    part_key: str = Field(sa_type=StoredText)
    task_key: str = Field(sa_type=StoredText)


class WeekSessionRow(Row, table=True):
    """A stretch of open hours that comes back every week."""

    __tablename__ = "week_sessions"
    __table_args__ = _owned("week_sessions")
    IDENTITY: ClassVar[tuple[str, ...]] = ("weekday", "opens_minute")
    id: int | None = Field(default=None, primary_key=True)
    build_id: int
    position: int
    weekday: int
    opens_minute: int
    closes_minute: int
    helper: bool


class DayExceptionRow(Row, table=True):
    """A date whose sessions replace those of the week."""

    __tablename__ = "day_exceptions"
    __table_args__ = _owned("day_exceptions", UniqueConstraint("build_id", "date"))
    IDENTITY: ClassVar[tuple[str, ...]] = ("date",)
    id: int | None = Field(default=None, primary_key=True)
    build_id: int
    position: int
    date: dt.date


class DaySessionRow(Row, table=True):
    """A stretch of open hours on a date with an exception."""

    __tablename__ = "day_sessions"
    __table_args__ = _owned(
        "day_sessions",
        ForeignKeyConstraint(
            ["build_id", "date"], ["day_exceptions.build_id", "day_exceptions.date"]
        ),
        Index(None, "build_id", "date"),
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("date", "opens_minute")
    GROUP: ClassVar[tuple[str, ...]] = ("date",)
    id: int | None = Field(default=None, primary_key=True)
    build_id: int
    position: int
    date: dt.date
    opens_minute: int
    closes_minute: int
    helper: bool


class LogEntryRow(Row, table=True):
    """Hours worked on a task on one date."""

    __tablename__ = "log_entries"
    __table_args__ = _owned(
        "log_entries", _key_of("task_key", "tasks"), Index(None, "build_id", "task_key")
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("task_key", "worked_on")
    id: int | None = Field(default=None, primary_key=True)
    build_id: int
    position: int
    task_key: str = Field(sa_type=StoredText)
    worked_on: dt.date
    hours: float
    hours_left: float | None


class WishRow(Row, table=True):
    """An idea, and what was decided about it; `decided_figures` are JSON text."""

    __tablename__ = "wishes"
    __table_args__ = _owned(
        "wishes",
        UniqueConstraint("build_id", "key"),
        _key_of("subsystem_key", "subsystems"),
        _key_of("after_key", "tasks"),
        _key_of("before_key", "tasks"),
        _key_of("size_key", "wish_sizes"),
        _key_of("setup_key", "setups"),
    )
    id: int | None = Field(default=None, primary_key=True)
    build_id: int
    position: int
    key: str = Field(sa_type=StoredText)
    text: str = Field(sa_type=StoredText)
    logged_on: dt.date
    subsystem_key: str | None = Field(default=None, sa_type=StoredText)
    after_key: str | None = Field(default=None, sa_type=StoredText)
    before_key: str | None = Field(default=None, sa_type=StoredText)
    size_key: str | None = Field(default=None, sa_type=StoredText)
    optimistic_hours: float | None = None
    most_likely_hours: float | None = None
    pessimistic_hours: float | None = None
    setup_key: str | None = Field(default=None, sa_type=StoredText)
    rough_in_optimistic_hours: float | None = None
    rough_in_most_likely_hours: float | None = None
    rough_in_pessimistic_hours: float | None = None
    later_extra_hours: float | None = None
    cost: float | None = None
    decided_way: str | None = Field(default=None, sa_type=StoredText)
    decided_on: dt.date | None = None
    decided_why: str | None = Field(default=None, sa_type=StoredText)
    decided_figures: str | None = Field(default=None, sa_type=StoredText)


class WishPartRow(Row, table=True):
    """A part that a wish would need."""

    __tablename__ = "wish_parts"
    __table_args__ = _owned(
        "wish_parts", _key_of("wish_key", "wishes"), Index(None, "build_id", "wish_key")
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("wish_key", "name")
    GROUP: ClassVar[tuple[str, ...]] = ("wish_key",)
    id: int | None = Field(default=None, primary_key=True)
    build_id: int
    position: int
    wish_key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    lead_days: float
    cost: float


class WishSizeRow(Row, table=True):
    """A quick size for wishes."""

    __tablename__ = "wish_sizes"
    __table_args__ = _owned("wish_sizes", UniqueConstraint("build_id", "key"))
    id: int | None = Field(default=None, primary_key=True)
    build_id: int
    position: int
    key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    optimistic_hours: float
    most_likely_hours: float
    pessimistic_hours: float


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
    document: str = Field(sa_type=StoredText)
    plan: str = Field(sa_type=StoredText)
    forecast: str = Field(sa_type=StoredText)


class RunningClockRow(Row, table=True):
    """The clock of the task on the bench; at most one in a build."""

    __tablename__ = "running_clocks"
    __table_args__ = (
        ForeignKeyConstraint(["build_id"], ["builds.id"], ondelete="CASCADE"),
        _key_of("task_key", "tasks"),
        UniqueConstraint("build_id"),
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("task_key",)
    id: int | None = Field(default=None, primary_key=True)
    build_id: int
    task_key: str = Field(sa_type=StoredText)
    since: dt.datetime = Field(sa_type=StoredMoment)


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
