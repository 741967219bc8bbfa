"""The tables of rooms, and of the pieces and gaps that are stacked in them."""

from typing import ClassVar

from sqlalchemy import Index, UniqueConstraint
from sqlmodel import Field

from webapp.build.room import InRoom, Room
from webapp.storage.tables.column_types import StoredText
from webapp.storage.tables.noun import Fields, Noun, Owner
from webapp.storage.tables.row import OwnedRow, key_of, owned


class RoomRow(OwnedRow, table=True):
    """A measured space."""

    __tablename__ = "rooms"
    __table_args__ = owned("rooms", UniqueConstraint("build_id", "key"))
    key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    measured_mm: float | None
    plus_minus_mm: float


class RoomHoldRow(OwnedRow, table=True):
    """A piece or a gap in a room, in its place."""

    __tablename__ = "room_holds"
    __table_args__ = owned(
        "room_holds", key_of("room_key", "rooms"), Index(None, "build_id", "room_key")
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("room_key", "name")
    GROUP: ClassVar[tuple[str, ...]] = ("room_key",)
    room_key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    mm: float
    plus_minus_mm: float
    kind: str = Field(sa_type=StoredText)


ROOM_HOLDS = Noun(
    RoomHoldRow,
    Fields(RoomHoldRow, InRoom),
    at="rooms",
    owner=Owner(column="room_key", holds="holds"),
)
ROOMS = Noun(RoomRow, Fields(RoomRow, Room), at="rooms", owns=(ROOM_HOLDS,))
