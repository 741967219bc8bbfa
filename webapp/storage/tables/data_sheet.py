"""The tables of the data sheet: figures, limits of makers, wires, belts with their pulleys."""

from typing import ClassVar

from sqlalchemy import Index, UniqueConstraint
from sqlmodel import Field

from webapp.build.data_sheet import Belt, OwnLimit, Pulley, SheetFigure, Wire
from webapp.storage.tables.column_types import StoredText
from webapp.storage.tables.noun import Fields, Noun, Owner, column, number_or_text
from webapp.storage.tables.row import OwnedRow, key_of, owned


class SheetFigureRow(OwnedRow, table=True):
    """A figure by its name: a number, or a word."""

    __tablename__ = "sheet_figures"
    __table_args__ = owned("sheet_figures", UniqueConstraint("build_id", "name"))
    IDENTITY: ClassVar[tuple[str, ...]] = ("name",)
    name: str = Field(sa_type=StoredText)
    number: float | None
    word: str | None = Field(sa_type=StoredText)
    source: str = Field(sa_type=StoredText)


class OwnLimitRow(OwnedRow, table=True):
    """A limit that goes before the usual one."""

    __tablename__ = "own_limits"
    __table_args__ = owned("own_limits")
    IDENTITY: ClassVar[tuple[str, ...]] = ("check_name", "at")
    check_name: str = Field(sa_type=StoredText)
    at: str = Field(sa_type=StoredText)
    ok: float
    tight: float | None
    source: str = Field(sa_type=StoredText)


class WireRow(OwnedRow, table=True):
    """A battery cable or a wire."""

    __tablename__ = "wires"
    __table_args__ = owned("wires", UniqueConstraint("build_id", "key"))
    key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    use: str = Field(sa_type=StoredText)
    current_a: float
    area_mm2: float
    out_and_back_m: float
    celsius: float | None
    fuse_a: float | None
    carries_a: float | None


class BeltRow(OwnedRow, table=True):
    """A belt."""

    __tablename__ = "belts"
    __table_args__ = owned("belts", UniqueConstraint("build_id", "key"))
    key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    length_mm: float | None
    take_up_mm: float | None


class BeltPulleyRow(OwnedRow, table=True):
    """A pulley of a belt, in its place."""

    __tablename__ = "belt_pulleys"
    __table_args__ = owned(
        "belt_pulleys", key_of("belt_key", "belts"), Index(None, "build_id", "belt_key")
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("belt_key", "name")
    GROUP: ClassVar[tuple[str, ...]] = ("belt_key",)
    belt_key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    x_mm: float
    y_mm: float
    diameter_mm: float
    is_back: bool
    drives: str = Field(sa_type=StoredText)


FIGURES = Noun(
    SheetFigureRow,
    Fields(SheetFigureRow, SheetFigure, number_or_text("value", "number", "word")),
    at="data_sheet.figures",
)
LIMITS = Noun(
    OwnLimitRow,
    Fields(OwnLimitRow, OwnLimit, column("check", "check_name")),
    at="data_sheet.limits",
)
WIRES = Noun(WireRow, Fields(WireRow, Wire), at="data_sheet.wires")
BELT_PULLEYS = Noun(
    BeltPulleyRow,
    Fields(BeltPulleyRow, Pulley),
    at="data_sheet.belts",
    owner=Owner(column="belt_key", holds="pulleys"),
)
BELTS = Noun(BeltRow, Fields(BeltRow, Belt), at="data_sheet.belts", owns=(BELT_PULLEYS,))
DATA_SHEET_NOUNS = (FIGURES, LIMITS, WIRES, BELTS, BELT_PULLEYS)
