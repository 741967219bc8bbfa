"""The table of how the builds of a data file share the hours of their shop."""

from typing import ClassVar

from sqlalchemy import UniqueConstraint
from sqlmodel import Field

from webapp.storage.tables.column_types import StoredText
from webapp.storage.tables.row import SharedRow


class SharingRow(SharedRow, table=True):
    """How builds share from the moment `since` on, until the next row: the last one counts.

    `builds` and `handed_over` are JSON. Sessions that were over at `settled_until` are facts of
    the builds that gave them away. Both moments are of the shop clock, ISO 8601.
    """

    __tablename__ = "sharings"
    __table_args__ = (UniqueConstraint("key"),)
    IDENTITY: ClassVar[tuple[str, ...]] = ("key",)
    key: str = Field(sa_type=StoredText)
    way: str = Field(sa_type=StoredText)
    builds: str = Field(sa_type=StoredText)
    handed_over: str = Field(sa_type=StoredText)
    since: str = Field(sa_type=StoredText)
    settled_until: str = Field(sa_type=StoredText)
