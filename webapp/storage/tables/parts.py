"""The tables of things to buy or make."""

import datetime as dt
from typing import ClassVar

from sqlalchemy import Index, UniqueConstraint
from sqlmodel import Field

from webapp.build.build_input import Part
from webapp.storage.tables.column_types import StoredMoment, StoredText
from webapp.storage.tables.noun import Bare, Fields, Noun, Owner
from webapp.storage.tables.row import OwnedRow, key_of, owned


class PartRow(OwnedRow, table=True):
    """A thing to buy or make."""

    __tablename__ = "parts"
    __table_args__ = owned("parts", UniqueConstraint("build_id", "key"))
    key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    arrives_on: dt.date | None = Field(sa_type=StoredMoment)
    arrived: bool
    promised_on: dt.date | None
    ordered_on: dt.date | None
    lead_days: float | None
    cost: float | None
    paid: float | None = None
    supplier: str = Field(sa_type=StoredText)


class PartServeRow(OwnedRow, table=True):
    """A task that a part serves."""

    __tablename__ = "part_serves"
    __table_args__ = owned(
        "part_serves",
        key_of("part_key", "parts"),
        key_of("task_key", "tasks"),
        Index(None, "build_id", "part_key"),
        Index(None, "build_id", "task_key"),
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("part_key", "task_key")
    GROUP: ClassVar[tuple[str, ...]] = ("part_key",)
    part_key: str = Field(sa_type=StoredText)
    task_key: str = Field(sa_type=StoredText)


PART_SERVES = Noun(
    PartServeRow,
    Bare("task_key"),
    at="parts",
    owner=Owner(column="part_key", holds="serves"),
)
PARTS = Noun(PartRow, Fields(PartRow, Part), at="parts", owns=(PART_SERVES,))
