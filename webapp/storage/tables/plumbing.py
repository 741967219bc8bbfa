"""The tables of what is plumbed: circuits, components with their ports, runs of pieces, the shelf.

A port is named by its address, "rad.top", as in the build; that it is there the checks see to.
"""

import datetime as dt
import json
from typing import Any, ClassVar

from sqlalchemy import Index, UniqueConstraint
from sqlmodel import Field

from webapp.build.plumbing import (
    Circuit,
    Component,
    End,
    Ordered,
    Piece,
    Port,
    Run,
    ShelfThing,
    SoldLength,
    Stop,
    Volume,
    Waiver,
)
from webapp.storage.tables.column_types import StoredMoment, StoredText
from webapp.storage.tables.noun import (
    Bare,
    Columns,
    Fields,
    Noun,
    Owner,
    column,
    keys,
    number_or_text,
)
from webapp.storage.tables.row import OwnedRow, key_of, owned


class CircuitRow(OwnedRow, table=True):
    """A way for one medium."""

    __tablename__ = "circuits"
    __table_args__ = owned(
        "circuits",
        UniqueConstraint("build_id", "key"),
        key_of("subsystem_key", "subsystems"),
    )
    key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    medium: str = Field(sa_type=StoredText)
    from_port: str = Field(sa_type=StoredText)
    to_port: str = Field(sa_type=StoredText)
    subsystem_key: str | None = Field(sa_type=StoredText)
    hose: str | None = Field(sa_type=StoredText)
    tube: str | None = Field(sa_type=StoredText)
    bar: float | None
    highest: str | None = Field(sa_type=StoredText)
    needed_to_start: bool
    test: str | None = Field(sa_type=StoredText)
    tested_on: dt.date | None = Field(sa_type=StoredMoment)
    frost_c: float | None
    antifreeze: str | None = Field(sa_type=StoredText)
    full_litres: float | None
    there_litres: float | None
    there_percent: float | None


class CircuitHoldRow(OwnedRow, table=True):
    """A task that waits until a circuit is closed."""

    __tablename__ = "circuit_holds"
    __table_args__ = owned(
        "circuit_holds",
        key_of("circuit_key", "circuits"),
        key_of("task_key", "tasks"),
        Index(None, "build_id", "circuit_key"),
        Index(None, "build_id", "task_key"),
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("circuit_key", "task_key")
    GROUP: ClassVar[tuple[str, ...]] = ("circuit_key",)
    circuit_key: str = Field(sa_type=StoredText)
    task_key: str = Field(sa_type=StoredText)


class CircuitWaiverRow(OwnedRow, table=True):
    """Something a circuit does without, and why."""

    __tablename__ = "circuit_waivers"
    __table_args__ = owned(
        "circuit_waivers",
        key_of("circuit_key", "circuits"),
        Index(None, "build_id", "circuit_key"),
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("circuit_key", "why")
    GROUP: ClassVar[tuple[str, ...]] = ("circuit_key",)
    circuit_key: str = Field(sa_type=StoredText)
    why: str = Field(sa_type=StoredText)
    reason: str = Field(sa_type=StoredText)


class ComponentRow(OwnedRow, table=True):
    """What has ports. Its passages are pairs of their names as JSON; null is not said."""

    __tablename__ = "components"
    __table_args__ = owned(
        "components",
        UniqueConstraint("build_id", "key"),
        key_of("circuit_key", "circuits"),
        key_of("part_key", "parts"),
    )
    key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    kind: str = Field(sa_type=StoredText)
    circuit_key: str | None = Field(sa_type=StoredText)
    part_key: str | None = Field(sa_type=StoredText)
    passages: str | None = Field(sa_type=StoredText)


class ComponentVolumeRow(OwnedRow, table=True):
    """The litres of one circuit that a component holds."""

    __tablename__ = "component_volumes"
    __table_args__ = owned(
        "component_volumes",
        key_of("component_key", "components"),
        key_of("circuit_key", "circuits"),
        Index(None, "build_id", "component_key"),
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("component_key", "circuit_key")
    GROUP: ClassVar[tuple[str, ...]] = ("component_key",)
    component_key: str = Field(sa_type=StoredText)
    circuit_key: str = Field(sa_type=StoredText)
    litres: float | None


class ComponentPortRow(OwnedRow, table=True):
    """Where something joins on to a component, and what shuts it."""

    __tablename__ = "component_ports"
    __table_args__ = owned(
        "component_ports",
        key_of("component_key", "components"),
        key_of("circuit_key", "circuits"),
        Index(None, "build_id", "component_key"),
    )
    IDENTITY: ClassVar[tuple[str, ...]] = ("component_key", "name")
    GROUP: ClassVar[tuple[str, ...]] = ("component_key",)
    component_key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    end: str = Field(sa_type=StoredText)
    flow: str = Field(sa_type=StoredText)
    size_mm: float | None
    size_name: str | None = Field(sa_type=StoredText)
    role: str | None = Field(sa_type=StoredText)
    circuit_key: str | None = Field(sa_type=StoredText)
    shuts: bool
    stop_kind: str | None = Field(sa_type=StoredText)
    stop_on: dt.date | None = Field(sa_type=StoredMoment)


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


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False)


def _stop() -> Columns:
    return Columns(
        field="stop",
        columns=("stop_kind", "stop_on"),
        into=lambda kind, on: None if kind is None else Stop(kind=kind, on=on),
        out_of=lambda stop: (None, None) if stop is None else (stop.kind, stop.on),
    )


def _pair(field: str, first: str, second: str) -> Columns:
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
        out_of=lambda ends: (_json([[end.kind, end.size] for end in ends]),),
    )


def _passages() -> Columns:
    def into(text: str | None) -> tuple[tuple[str, str], ...] | None:
        return None if text is None else tuple((one, other) for one, other in json.loads(text))

    return Columns(
        field="passages",
        columns=("passages",),
        into=into,
        out_of=lambda pairs: (None if pairs is None else _json(pairs),),
    )


def _clamps() -> Columns:
    return Columns(
        field="clamps",
        columns=("clamps",),
        into=lambda text: tuple(json.loads(text)),
        out_of=lambda names: (_json(names),),
    )


_OF_A_PIECE = (_pair("size", "size_mm", "other_size_mm"), _ends(), column("of", "made_of"))

CIRCUIT_HOLDS = Noun(
    CircuitHoldRow,
    Bare("task_key"),
    at="plumbing.circuits",
    owner=Owner(column="circuit_key", holds="holds"),
)
CIRCUIT_WAIVERS = Noun(
    CircuitWaiverRow,
    Fields(CircuitWaiverRow, Waiver),
    at="plumbing.circuits",
    owner=Owner(column="circuit_key", holds="waived"),
)
CIRCUITS = Noun(
    CircuitRow,
    Fields(CircuitRow, Circuit, *keys("subsystem")),
    at="plumbing.circuits",
    owns=(CIRCUIT_HOLDS, CIRCUIT_WAIVERS),
)
COMPONENT_VOLUMES = Noun(
    ComponentVolumeRow,
    Fields(ComponentVolumeRow, Volume, *keys("circuit")),
    at="plumbing.components",
    owner=Owner(column="component_key", holds="volumes"),
)
COMPONENT_PORTS = Noun(
    ComponentPortRow,
    Fields(
        ComponentPortRow,
        Port,
        number_or_text("size", "size_mm", "size_name"),
        _stop(),
        *keys("circuit"),
    ),
    at="plumbing.components",
    owner=Owner(column="component_key", holds="ports"),
)
COMPONENTS = Noun(
    ComponentRow,
    Fields(ComponentRow, Component, _passages(), *keys("circuit", "part")),
    at="plumbing.components",
    owns=(COMPONENT_VOLUMES, COMPONENT_PORTS),
)
RUN_TASKS = Noun(
    RunTaskRow,
    Bare("task_key"),
    at="plumbing.runs",
    owner=Owner(column="run_key", holds="tasks"),
)
RUN_PIECES = Noun(
    RunPieceRow,
    Fields(RunPieceRow, Piece, *_OF_A_PIECE),
    at="plumbing.runs",
    owner=Owner(column="run_key", holds="pieces"),
)
RUNS = Noun(
    RunRow, Fields(RunRow, Run, _clamps()), at="plumbing.runs", owns=(RUN_TASKS, RUN_PIECES)
)
SHELF = Noun(
    ShelfThingRow,
    Fields(
        ShelfThingRow, ShelfThing, *_OF_A_PIECE, _pair("range_mm", "range_from_mm", "range_to_mm")
    ),
    at="plumbing.shelf",
)
PART_PLUMBING = Noun(
    PartPlumbingRow,
    Fields(PartPlumbingRow, Ordered, *keys("part")),
    at="plumbing.ordered",
)
SOLD = Noun(SoldLengthRow, Fields(SoldLengthRow, SoldLength), at="plumbing.sold")
PLUMBING_NOUNS = (
    *(CIRCUITS, CIRCUIT_HOLDS, CIRCUIT_WAIVERS),
    *(COMPONENTS, COMPONENT_VOLUMES, COMPONENT_PORTS),
    *(RUNS, RUN_TASKS, RUN_PIECES, SHELF, PART_PLUMBING, SOLD),
)
"""What is referred to before what refers to it."""
