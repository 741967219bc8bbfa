"""The tables of runs: their pieces in order, and the tasks that make or fit them.

A run goes from port to port by their addresses, "rad.top", as in the build.
"""

import datetime as dt
import json
from typing import ClassVar

from sqlalchemy import Index, UniqueConstraint
from sqlmodel import Field

from webapp.build.plumbing import Piece, Run
from webapp.storage.tables.column_types import StoredMoment, StoredText
from webapp.storage.tables.noun import Bare, Columns, Fields, Noun, Owner
from webapp.storage.tables.pieces import OF_A_PIECE, AnyPieceRow
from webapp.storage.tables.row import OwnedRow, key_of, owned


class RunRow(OwnedRow, table=True):
    """What joins two ports, how far it is, and the names of the clamps on it as JSON."""

    __tablename__ = "runs"
    __table_args__ = owned("runs", UniqueConstraint("build_id", "key"))
    key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    from_port: str = Field(sa_type=StoredText)
    to_port: str = Field(sa_type=StoredText)
    cut_on: dt.date | None = Field(sa_type=StoredMoment)
    fitted_on: dt.date | None = Field(sa_type=StoredMoment)
    clamped_on: dt.date | None = Field(sa_type=StoredMoment)
    clamps: str = Field(sa_type=StoredText)
    licensed: str | None = Field(sa_type=StoredText)


class RunTaskRow(OwnedRow, table=True):
    """A task that makes or fits a run."""

    __tablename__ = "run_tasks"
    __table_args__ = owned(
        "run_tasks",
        key_of("run_key", "runs"),
        key_of("task_key", "tasks"),
        Index(None, "build_id", "run_key"),
        Index(None, "build_id", "task_key"),
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("run_key", "task_key")
    GROUP: ClassVar[tuple[str, ...]] = ("run_key",)
    run_key: str = Field(sa_type=StoredText)
    task_key: str = Field(sa_type=StoredText)


class RunPieceRow(AnyPieceRow, table=True):
    """One piece of a run, in its place."""

    __tablename__ = "run_pieces"
    __table_args__ = owned(
        "run_pieces", key_of("run_key", "runs"), Index(None, "build_id", "run_key")
    )
    REPEATS: ClassVar[bool] = True
    IDENTITY: ClassVar[tuple[str, ...]] = ("run_key", "piece")
    GROUP: ClassVar[tuple[str, ...]] = ("run_key",)
    run_key: str = Field(sa_type=StoredText)


def _clamps() -> Columns:
    return Columns(
        field="clamps",
        columns=("clamps",),
        into=lambda text: tuple(json.loads(text)),
        out_of=lambda names: (json.dumps(names, ensure_ascii=False),),
    )


RUN_TASKS = Noun(
    RunTaskRow,
    Bare("task_key"),
    at="plumbing.runs",
    owner=Owner(column="run_key", holds="tasks"),
)
RUN_PIECES = Noun(
    RunPieceRow,
    Fields(RunPieceRow, Piece, *OF_A_PIECE),
    at="plumbing.runs",
    owner=Owner(column="run_key", holds="pieces"),
)
RUNS = Noun(
    RunRow, Fields(RunRow, Run, _clamps()), at="plumbing.runs", owns=(RUN_TASKS, RUN_PIECES)
)
