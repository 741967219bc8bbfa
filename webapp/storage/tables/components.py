"""The tables of components: their volumes, and the ports where something joins on.

A port is named by its address, "rad.top", as in the build; that it is there the checks see to.
"""

import datetime as dt
import json
from typing import ClassVar

from sqlalchemy import Index, UniqueConstraint
from sqlmodel import Field

from webapp.build.plumbing import Component, Port, Stop, Volume
from webapp.storage.tables.column_types import StoredMoment, StoredText
from webapp.storage.tables.noun import Columns, Fields, Noun, Owner, keys, number_or_text
from webapp.storage.tables.row import OwnedRow, key_of, owned


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


def _stop() -> Columns:
    return Columns(
        field="stop",
        columns=("stop_kind", "stop_on"),
        into=lambda kind, on: None if kind is None else Stop(kind=kind, on=on),
        out_of=lambda stop: (None, None) if stop is None else (stop.kind, stop.on),
    )


def _passages() -> Columns:
    def into(text: str | None) -> tuple[tuple[str, str], ...] | None:
        return None if text is None else tuple((one, other) for one, other in json.loads(text))

    return Columns(
        field="passages",
        columns=("passages",),
        into=into,
        out_of=lambda pairs: (None if pairs is None else json.dumps(pairs, ensure_ascii=False),),
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
