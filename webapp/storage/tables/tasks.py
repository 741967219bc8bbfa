"""The tables of the work: subsystems, tasks and what stands between them."""

import datetime as dt
from typing import ClassVar

from sqlalchemy import Index, UniqueConstraint
from sqlmodel import Field

from webapp.build.build_input import Dependency, Measure, StationNeed, Step, Subsystem, Task
from webapp.storage.tables.column_types import StoredMoment, StoredText
from webapp.storage.tables.noun import Fields, Noun, Owner, column, keys, three_points
from webapp.storage.tables.row import OwnedRow, key_of, owned


class SubsystemRow(OwnedRow, table=True):
    """Air, coolant, fuel, ..."""

    __tablename__ = "subsystems"
    __table_args__ = owned("subsystems", UniqueConstraint("build_id", "key"))
    key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    medium: str = Field(sa_type=StoredText)
    working_order: int


class TaskRow(OwnedRow, table=True):
    """A piece of work and the facts about it."""

    __tablename__ = "tasks"
    __table_args__ = owned(
        "tasks",
        UniqueConstraint("build_id", "key"),
        key_of("subsystem_key", "subsystems"),
        key_of("setup_key", "setups"),
        key_of("wish_key", "wishes", in_a_ring=True),
    )
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
    spread_assumed: bool = False
    hours_guessed: bool = False
    cost: float | None = None
    paid: float | None = None
    offer_cost: float | None = None
    offer_days: float | None = None
    hours_taken: bool = False


class StationNeedRow(OwnedRow, table=True):
    """So many of a station for a task."""

    __tablename__ = "station_needs"
    __table_args__ = owned(
        "station_needs",
        key_of("task_key", "tasks"),
        key_of("station_key", "stations"),
        Index(None, "build_id", "task_key"),
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("task_key", "station_key")
    GROUP: ClassVar[tuple[str, ...]] = ("task_key",)
    task_key: str = Field(sa_type=StoredText)
    station_key: str = Field(sa_type=StoredText)
    count: int


class StepRow(OwnedRow, table=True):
    """A step of a task, ticked or not."""

    __tablename__ = "task_steps"
    __table_args__ = owned(
        "task_steps", key_of("task_key", "tasks"), Index(None, "build_id", "task_key")
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("task_key", "text")
    GROUP: ClassVar[tuple[str, ...]] = ("task_key",)
    task_key: str = Field(sa_type=StoredText)
    text: str = Field(sa_type=StoredText)
    done: bool = False


class MeasureRow(OwnedRow, table=True):
    """A torque or a size of a task, as text."""

    __tablename__ = "task_measures"
    __table_args__ = owned(
        "task_measures", key_of("task_key", "tasks"), Index(None, "build_id", "task_key")
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("task_key", "kind", "name")
    GROUP: ClassVar[tuple[str, ...]] = ("task_key",)
    task_key: str = Field(sa_type=StoredText)
    kind: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    value: str = Field(sa_type=StoredText)


class DependencyRow(OwnedRow, table=True):
    """Task before, task after, the wait between and why."""

    __tablename__ = "dependencies"
    __table_args__ = owned(
        "dependencies",
        key_of("before_key", "tasks"),
        key_of("after_key", "tasks"),
        Index(None, "build_id", "before_key"),
        Index(None, "build_id", "after_key"),
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("before_key", "after_key")
    before_key: str = Field(sa_type=StoredText)
    after_key: str = Field(sa_type=StoredText)
    wait_hours: float
    why: str = Field(sa_type=StoredText)


SUBSYSTEMS = Noun(
    SubsystemRow,
    Fields(SubsystemRow, Subsystem, column("order", "working_order")),
    at="subsystems",
)
STATION_NEEDS = Noun(
    StationNeedRow,
    Fields(StationNeedRow, StationNeed, *keys("station")),
    at="tasks",
    owner=Owner(column="task_key", holds="stations"),
)
STEPS = Noun(
    StepRow,
    Fields(StepRow, Step),
    at="tasks",
    owner=Owner(column="task_key", holds="steps"),
)
MEASURES = Noun(
    MeasureRow,
    Fields(MeasureRow, Measure),
    at="tasks",
    owner=Owner(column="task_key", holds="measures"),
)
TASKS = Noun(
    TaskRow,
    Fields(TaskRow, Task, three_points("hours"), *keys("subsystem", "setup", "wish")),
    at="tasks",
    owns=(STATION_NEEDS, STEPS, MEASURES),
)
DEPENDENCIES = Noun(
    DependencyRow,
    Fields(DependencyRow, Dependency, *keys("before", "after")),
    at="dependencies",
)
