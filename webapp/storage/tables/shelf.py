"""The tables of the shelf: what lies there, what parts bring, and the lengths that are sold."""

from typing import ClassVar

from sqlalchemy import Index
from sqlmodel import Field

from webapp.build.plumbing import Ordered, ShelfThing, SoldLength
from webapp.storage.tables.column_types import StoredText
from webapp.storage.tables.noun import Fields, Noun, keys
from webapp.storage.tables.pieces import OF_A_PIECE, AnyPieceRow, one_or_two
from webapp.storage.tables.row import OwnedRow, key_of, owned


class ShelfThingRow(AnyPieceRow, table=True):
    """So many of one thing that lie unused."""

    __tablename__ = "shelf_things"
    __table_args__ = owned("shelf_things")
    REPEATS: ClassVar[bool] = True
    IDENTITY: ClassVar[tuple[str, ...]] = ("piece",)
    range_from_mm: float | None
    range_to_mm: float | None
    count: int


class PartPlumbingRow(OwnedRow, table=True):
    """What a part brings for the plumbing, by its name on the buy list."""

    __tablename__ = "part_plumbing"
    __table_args__ = owned(
        "part_plumbing", key_of("part_key", "parts"), Index(None, "build_id", "part_key")
    )
    REPEATS: ClassVar[bool] = True
    IDENTITY: ClassVar[tuple[str, ...]] = ("part_key", "what")
    part_key: str = Field(sa_type=StoredText)
    what: str = Field(sa_type=StoredText)
    count: int | None
    metres: float | None
    litres: float | None


class SoldLengthRow(OwnedRow, table=True):
    """A length in which a hose or tube is sold, with its price."""

    __tablename__ = "sold_lengths"
    __table_args__ = owned("sold_lengths")
    IDENTITY: ClassVar[tuple[str, ...]] = ("what", "length_mm")
    what: str = Field(sa_type=StoredText)
    length_mm: float
    price: float
    count: int | None


SHELF = Noun(
    ShelfThingRow,
    Fields(
        ShelfThingRow,
        ShelfThing,
        *OF_A_PIECE,
        one_or_two("range_mm", "range_from_mm", "range_to_mm"),
    ),
    at="plumbing.shelf",
)
PART_PLUMBING = Noun(
    PartPlumbingRow,
    Fields(PartPlumbingRow, Ordered, *keys("part")),
    at="plumbing.ordered",
)
SOLD = Noun(SoldLengthRow, Fields(SoldLengthRow, SoldLength), at="plumbing.sold")
