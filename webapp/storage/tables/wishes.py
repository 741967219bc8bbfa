"""The tables of ideas that are not yet in the plan."""

import datetime as dt
from typing import Any, ClassVar

from sqlalchemy import Index, UniqueConstraint
from sqlmodel import Field

from webapp.build.wish import Wish, WishDecision, WishPart, WishSize
from webapp.storage.decided_figures import figures_of_text, figures_text
from webapp.storage.tables.column_types import StoredText
from webapp.storage.tables.noun import Columns, Fields, Noun, Owner, keys, three_points
from webapp.storage.tables.row import OwnedRow, key_of, owned


class WishSizeRow(OwnedRow, table=True):
    """A quick size for wishes."""

    __tablename__ = "wish_sizes"
    __table_args__ = owned("wish_sizes", UniqueConstraint("build_id", "key"))
    key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    optimistic_hours: float
    most_likely_hours: float
    pessimistic_hours: float


class WishRow(OwnedRow, table=True):
    """An idea, and what was decided about it; `decided_figures` are JSON text."""

    __tablename__ = "wishes"
    __table_args__ = owned(
        "wishes",
        UniqueConstraint("build_id", "key"),
        key_of("subsystem_key", "subsystems"),
        key_of("after_key", "tasks"),
        key_of("before_key", "tasks"),
        key_of("size_key", "wish_sizes"),
        key_of("setup_key", "setups"),
    )
    key: str = Field(sa_type=StoredText)
    text: str = Field(sa_type=StoredText)
    logged_on: dt.date
    subsystem_key: str | None = Field(default=None, sa_type=StoredText)
    after_key: str | None = Field(default=None, sa_type=StoredText)
    before_key: str | None = Field(default=None, sa_type=StoredText)
    size_key: str | None = Field(default=None, sa_type=StoredText)
    optimistic_hours: float | None = None
    most_likely_hours: float | None = None
    pessimistic_hours: float | None = None
    setup_key: str | None = Field(default=None, sa_type=StoredText)
    rough_in_optimistic_hours: float | None = None
    rough_in_most_likely_hours: float | None = None
    rough_in_pessimistic_hours: float | None = None
    later_extra_hours: float | None = None
    cost: float | None = None
    paid: float | None = None
    decided_way: str | None = Field(default=None, sa_type=StoredText)
    decided_on: dt.date | None = None
    decided_why: str | None = Field(default=None, sa_type=StoredText)
    decided_figures: str | None = Field(default=None, sa_type=StoredText)


class WishPartRow(OwnedRow, table=True):
    """A part that a wish would need."""

    __tablename__ = "wish_parts"
    __table_args__ = owned(
        "wish_parts", key_of("wish_key", "wishes"), Index(None, "build_id", "wish_key")
    )
    REPEATS: ClassVar[bool] = True
    IDENTITY: ClassVar[tuple[str, ...]] = ("wish_key", "name")
    GROUP: ClassVar[tuple[str, ...]] = ("wish_key",)
    wish_key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    lead_days: float
    cost: float


def _decision() -> Columns:
    def into(way: Any, on: dt.date, why: str, figures: str) -> WishDecision | None:
        if way is None:
            return None
        return WishDecision(way=way, decided_on=on, why=why, figures=figures_of_text(figures))

    def out_of(said: WishDecision | None) -> tuple[Any, ...]:
        if said is None:
            return (None,) * 4
        return said.way, said.decided_on, said.why, figures_text(said.figures)

    columns = ("decided_way", "decided_on", "decided_why", "decided_figures")
    return Columns(field="decision", columns=columns, into=into, out_of=out_of)


WISH_SIZES = Noun(
    WishSizeRow, Fields(WishSizeRow, WishSize, three_points("hours")), at="wish_sizes"
)
WISH_PARTS = Noun(
    WishPartRow,
    Fields(WishPartRow, WishPart),
    at="wishes",
    owner=Owner(column="wish_key", holds="parts"),
)
WISHES = Noun(
    WishRow,
    Fields(
        WishRow,
        Wish,
        *keys("subsystem", "after", "before", "size", "setup"),
        three_points("hours"),
        three_points("rough_in_hours", "rough_in_"),
        _decision(),
    ),
    at="wishes",
    owns=(WISH_PARTS,),
)
