"""The tables of circuits: what each holds, and what it goes without."""

import datetime as dt
from typing import ClassVar

from sqlalchemy import Index, UniqueConstraint
from sqlmodel import Field

from webapp.build.plumbing import Circuit, Waiver
from webapp.storage.tables.column_types import StoredMoment, StoredText
from webapp.storage.tables.noun import Bare, Fields, Noun, Owner, keys
from webapp.storage.tables.row import OwnedRow, key_of, owned


class CircuitRow(OwnedRow, table=True):
    """A way for one medium."""

    __tablename__ = "circuits"
    __table_args__ = owned(
        "circuits",
        UniqueConstraint("build_id", "key"),
        key_of("subsystem_key", "subsystems"),
    )
    key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    medium: str = Field(sa_type=StoredText)
    from_port: str = Field(sa_type=StoredText)
    to_port: str = Field(sa_type=StoredText)
    subsystem_key: str | None = Field(sa_type=StoredText)
    hose: str | None = Field(sa_type=StoredText)
    tube: str | None = Field(sa_type=StoredText)
    bar: float | None
    highest: str | None = Field(sa_type=StoredText)
    needed_to_start: bool
    test: str | None = Field(sa_type=StoredText)
    tested_on: dt.date | None = Field(sa_type=StoredMoment)
    frost_c: float | None
    antifreeze: str | None = Field(sa_type=StoredText)
    full_litres: float | None
    there_litres: float | None
    there_percent: float | None


class CircuitHoldRow(OwnedRow, table=True):
    """A task that waits until a circuit is closed."""

    __tablename__ = "circuit_holds"
    __table_args__ = owned(
        "circuit_holds",
        key_of("circuit_key", "circuits"),
        key_of("task_key", "tasks"),
        Index(None, "build_id", "circuit_key"),
        Index(None, "build_id", "task_key"),
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("circuit_key", "task_key")
    GROUP: ClassVar[tuple[str, ...]] = ("circuit_key",)
    circuit_key: str = Field(sa_type=StoredText)
    task_key: str = Field(sa_type=StoredText)


class CircuitWaiverRow(OwnedRow, table=True):
    """Something a circuit does without, and why."""

    __tablename__ = "circuit_waivers"
    __table_args__ = owned(
        "circuit_waivers",
        key_of("circuit_key", "circuits"),
        Index(None, "build_id", "circuit_key"),
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("circuit_key", "why")
    GROUP: ClassVar[tuple[str, ...]] = ("circuit_key",)
    circuit_key: str = Field(sa_type=StoredText)
    why: str = Field(sa_type=StoredText)
    reason: str = Field(sa_type=StoredText)


CIRCUIT_HOLDS = Noun(
    CircuitHoldRow,
    Bare("task_key"),
    at="plumbing.circuits",
    owner=Owner(column="circuit_key", holds="holds"),
)
CIRCUIT_WAIVERS = Noun(
    CircuitWaiverRow,
    Fields(CircuitWaiverRow, Waiver),
    at="plumbing.circuits",
    owner=Owner(column="circuit_key", holds="waived"),
)
CIRCUITS = Noun(
    CircuitRow,
    Fields(CircuitRow, Circuit, *keys("subsystem")),
    at="plumbing.circuits",
    owns=(CIRCUIT_HOLDS, CIRCUIT_WAIVERS),
)
