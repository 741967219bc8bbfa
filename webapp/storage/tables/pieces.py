"""The columns that a piece has, in a run and on the shelf."""

import json
from typing import Any

from sqlmodel import Field

from webapp.build.plumbing import End
from webapp.storage.tables.column_types import StoredText
from webapp.storage.tables.noun import Columns, column
from webapp.storage.tables.row import OwnedRow


class AnyPieceRow(OwnedRow):
    """The columns that pieces of a run and things on the shelf share; ends as JSON."""

    piece: str = Field(sa_type=StoredText)
    name: str | None = Field(sa_type=StoredText)
    size_mm: float | None
    other_size_mm: float | None
    ends: str = Field(sa_type=StoredText)
    length_mm: float | None
    angle: float | None
    made_of: str | None = Field(sa_type=StoredText)
    wall_mm: float | None
    bore_mm: float | None
    arrow: str | None = Field(sa_type=StoredText)


def one_or_two(field: str, first: str, second: str) -> Columns:
    """Nothing, one number, or two of them."""

    def out_of(value: Any) -> tuple[Any, Any]:
        return value if isinstance(value, tuple) else (value, None)

    return Columns(
        field=field,
        columns=(first, second),
        into=lambda one, other: one if other is None else (one, other),
        out_of=out_of,
    )


def _ends() -> Columns:
    return Columns(
        field="ends",
        columns=("ends",),
        into=lambda text: tuple(End(kind=kind, size=size) for kind, size in json.loads(text)),
        out_of=lambda ends: (
            json.dumps([[end.kind, end.size] for end in ends], ensure_ascii=False),
        ),
    )


OF_A_PIECE = (one_or_two("size", "size_mm", "other_size_mm"), _ends(), column("of", "made_of"))
