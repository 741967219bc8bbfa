"""The table of photographs; their files lie beside the data file (`photograph_files`)."""

import datetime as dt
from typing import ClassVar

from sqlalchemy import UniqueConstraint
from sqlmodel import Field

from webapp.build.build_input import Photograph
from webapp.storage.tables.column_types import StoredText
from webapp.storage.tables.noun import Fields, Noun, column
from webapp.storage.tables.row import OwnedRow, key_of, owned


class PhotographRow(OwnedRow, table=True):
    """A picture of a task, whose file is called by its digest."""

    __tablename__ = "photographs"
    __table_args__ = owned(
        "photographs",
        UniqueConstraint("build_id", "task_key", "digest"),
        key_of("task_key", "tasks"),
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("task_key", "digest")
    task_key: str = Field(sa_type=StoredText)
    digest: str = Field(sa_type=StoredText)
    width_px: int
    height_px: int
    size_bytes: int
    added_on: dt.date
    caption: str = Field(sa_type=StoredText)


PHOTOGRAPHS = Noun(
    PhotographRow,
    Fields(PhotographRow, Photograph, column("task", "task_key")),
    at="photographs",
)
