"""The tables of what earlier builds showed, taken along into a build."""

import datetime as dt
from typing import ClassVar

from sqlalchemy import Index, UniqueConstraint
from sqlmodel import Field

from webapp.build.earlier_record import EarlierKind, EarlierRecord
from webapp.storage.tables.column_types import StoredText
from webapp.storage.tables.noun import Fields, Noun, Owner
from webapp.storage.tables.row import OwnedRow, key_of, owned


class EarlierRecordRow(OwnedRow, table=True):
    """The record of an earlier build, as it stood on the day it was taken."""

    __tablename__ = "earlier_records"
    __table_args__ = owned("earlier_records", UniqueConstraint("build_id", "key"))
    key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    taken_on: dt.date
    counts: bool = True
    weeks: int
    workable_hours: float
    worked_hours: float


class EarlierKindRow(OwnedRow, table=True):
    """What one kind of work came to in an earlier build."""

    __tablename__ = "earlier_kinds"
    __table_args__ = owned(
        "earlier_kinds",
        key_of("record_key", "earlier_records"),
        Index(None, "build_id", "record_key"),
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("record_key", "name")
    GROUP: ClassVar[tuple[str, ...]] = ("record_key",)
    record_key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    tasks: int
    actual_hours: float
    expected_hours: float
    worth: float
    log_squares: float


EARLIER_KINDS = Noun(
    EarlierKindRow,
    Fields(EarlierKindRow, EarlierKind),
    at="earlier_records",
    owner=Owner(column="record_key", holds="kinds"),
)
EARLIER_RECORDS = Noun(
    EarlierRecordRow,
    Fields(EarlierRecordRow, EarlierRecord),
    at="earlier_records",
    owns=(EARLIER_KINDS,),
)
