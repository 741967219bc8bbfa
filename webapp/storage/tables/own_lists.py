"""The table of starter lists of one's own."""

import datetime as dt
from typing import ClassVar

from sqlalchemy import UniqueConstraint
from sqlmodel import Field

from webapp.storage.tables.column_types import StoredStamp, StoredText
from webapp.storage.tables.row import SharedRow


class OwnListRow(SharedRow, table=True):
    """A list under its name, as the document of a build in which nothing was done yet.

    It is told by its `key`. One that was taken out stays, with the moment, to be put back.
    """

    __tablename__ = "own_lists"
    __table_args__ = (UniqueConstraint("key"),)
    BULKY: ClassVar[frozenset[str]] = frozenset({"document"})
    key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    document: str = Field(sa_type=StoredText)
    tasks: int
    taken: int
    made_at: dt.datetime = Field(sa_type=StoredStamp)
    taken_out_at: dt.datetime | None = Field(default=None, sa_type=StoredStamp)
