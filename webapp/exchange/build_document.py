"""The build document: read with every fault at once, and written so that it reads the same."""

import datetime as dt
from collections.abc import Callable, Iterator, Mapping
from typing import TypeVar

from pydantic import BaseModel

from webapp.build.build_input import (
    WISH_SIZES,
    BuildInput,
    Dependency,
    Fault,
    LogEntry,
    Part,
    Subsystem,
    Task,
    ThreePoint,
    WishSize,
)
from webapp.build.checks.fault_words import Thing
from webapp.build.checks.input_checks import faults_of
from webapp.exchange import document_models as models
from webapp.exchange.document_models import document_schema
from webapp.exchange.document_writer import write_document
from webapp.exchange.entry_reader import (
    Fields,
    read_entry,
    read_list,
    read_object,
    thing_of,
)
from webapp.exchange.json_text import UnreadableError, parse_json
from webapp.exchange.shop_reader import read_shop
from webapp.exchange.wish_reader import read_wishes

__all__ = ["document_schema", "read_document", "write_document"]

AnyEntry = TypeVar("AnyEntry", bound=BaseModel)
Noun = TypeVar("Noun")

LEANING: dict[str, tuple[tuple[str, str], ...]] = {
    "build": (("build", "*"),),
    "shop": (("shop", "*"), ("task", "setup"), ("task", "stations"), ("wish", "setup")),
    "week": (("task", "in_one_go"), ("task", "helper")),
    "days": (("task", "in_one_go"), ("task", "helper")),
    "setups": (("shop", "setup_out"), ("task", "setup"), ("wish", "setup")),
    "stations": (("task", "stations"),),
    "subsystems": (("task", "subsystem"), ("wish", "subsystem")),
    "tasks": (
        ("build", "first_start"),
        ("build", "kept_order"),
        ("dependency", "before"),
        ("dependency", "after"),
        ("part", "serves"),
        ("log", "task"),
        ("wish", "after"),
        ("wish", "before"),
    ),
    "wishes": (("task", "wish"),),
    "wish_sizes": (("wish", "size"), ("build", "wish_sizes")),
}
"""Faults, by kind and field ("*" for all), that would only follow from what was not read."""


def read_document(
    text: str | bytes, *, now: dt.datetime
) -> tuple[BuildInput | None, tuple[Fault, ...]]:
    """The build of a document and every fault of form and content; no faults: it can be planned.

    `now` is used where the document has none. The build is None only where nothing can be
    read at all; where there are faults it holds what could be read.
    """
    try:
        raw, twice = parse_json(text)
    except UnreadableError as error:
        return None, (error.fault,)
    if not isinstance(raw, dict):
        fault = Fault(
            kind="build",
            key="",
            field="",
            text="The document is not a build document: it must be one object in curly braces.",
        )
        return None, (*twice, fault)
    reader = _Reader(raw)
    build = reader.build(now)
    return build, (*twice, *reader.faults, *reader.new_among(faults_of(build)))


class _Reader:
    """Goes through one document, collecting faults and the names of what could not be read."""

    def __init__(self, raw: Fields) -> None:
        self.raw = raw
        self.faults: list[Fault] = []
        self.unread: set[str] = set()
        self.whole = Thing(kind="build", key="", name="document")

    def build(self, now: dt.datetime) -> BuildInput:
        self._head()
        entry = self._build_entry()
        shop = read_object(self.raw, "shop", self.whole, self.faults)
        if shop is None:
            self.unread.add("shop")
        return BuildInput(
            name=entry.name,
            vehicle=entry.vehicle or "",
            now=entry.now or now,
            first_start=entry.first_start,
            starts_on=entry.starts_on,
            wanted_by=entry.wanted_by,
            shop=read_shop(shop or {}, self.faults, self.unread),
            subsystems=self._nouns(
                "subsystems", "subsystem", models.SubsystemEntry, _subsystem, _NAMED
            ),
            tasks=tuple(self._tasks()),
            dependencies=self._nouns(
                "dependencies", "dependency", models.DependencyEntry, _dependency, {}
            ),
            parts=self._nouns("parts", "part", models.PartEntry, _part, _NAMED),
            wishes=tuple(read_wishes(self.raw, self.whole, self.faults, self.unread)),
            wish_sizes=self._wish_sizes(),
            confidence=0.8 if entry.confidence is None else entry.confidence,
            calibrated=entry.calibrated is not False,
            attended=entry.attended is not False,
            kept_order=entry.kept_order or (),
            kept_on=entry.kept_on,
            log=self._nouns("log", "log", models.LogLine, _log_entry, {}),
        )

    def new_among(self, faults: tuple[Fault, ...]) -> Iterator[Fault]:
        """Faults of content, less those that only follow from a fault of form."""
        told = {(fault.kind, fault.key, fault.field) for fault in self.faults}
        leaning = {spot for name in self.unread for spot in LEANING.get(name, ())}
        for fault in faults:
            spots = {(fault.kind, fault.field), (fault.kind, "*")}
            if (fault.kind, fault.key, fault.field) not in told and not spots & leaning:
                yield fault

    def _head(self) -> None:
        fields = {
            name: value
            for name, value in self.raw.items()
            if name in ("format", "version") or name not in models.BuildDocument.model_fields
        }
        read_entry(
            models.DocumentHead,
            fields,
            self.whole,
            self.faults,
            stand_ins={},
            known=models.BuildDocument,
        )

    def _build_entry(self) -> models.BuildEntry:
        raw = read_object(self.raw, "build", self.whole, self.faults)
        if raw is None:
            self.unread.add("build")
            return models.BuildEntry(name="")
        name = raw.get("name")
        thing = Thing(kind="build", key="", name=name if isinstance(name, str) else "")
        entry = read_entry(models.BuildEntry, raw, thing, self.faults, stand_ins={"name": ""})
        return entry or models.BuildEntry(name="")

    def _tasks(self) -> Iterator[Task]:
        for thing, raw, entry in self._entries(
            "tasks", "task", models.TaskEntry, {**_NAMED, "hours": 0}
        ):
            if raw.get("hours") is None and raw.get("outside_days") is None:
                self.faults.append(
                    thing.fault(
                        "hours",
                        '"hours" is missing. Give one number, or three: '
                        "if all goes well, likely, if it fights you.",
                    )
                )
            yield _task(entry)

    def _wish_sizes(self) -> tuple[WishSize, ...]:
        if self.raw.get("wish_sizes") is None:
            return WISH_SIZES
        return self._nouns(
            "wish_sizes", "wish size", models.WishSizeEntry, _wish_size, {**_NAMED, "hours": 0}
        )

    def _nouns(
        self,
        field: str,
        kind: str,
        model: type[AnyEntry],
        noun_of: Callable[[AnyEntry], Noun],
        stand_ins: Mapping[str, object],
    ) -> tuple[Noun, ...]:
        return tuple(noun_of(entry) for _, _, entry in self._entries(field, kind, model, stand_ins))

    def _entries(
        self, field: str, kind: str, model: type[AnyEntry], stand_ins: Mapping[str, object]
    ) -> Iterator[tuple[Thing, Fields, AnyEntry]]:
        for position, raw in read_list(self.raw, field, self.whole, self.faults, self.unread):
            thing = thing_of(kind, raw, position)
            entry = read_entry(model, raw, thing, self.faults, stand_ins=stand_ins)
            if entry is None:
                self.unread.add(field)
            else:
                yield thing, raw, entry


_NAMED = {"key": "", "name": ""}


def _subsystem(entry: models.SubsystemEntry) -> Subsystem:
    return Subsystem(
        key=entry.key,
        name=entry.name,
        medium=entry.medium or "none",
        order=entry.order or 0,
    )


def _task(entry: models.TaskEntry) -> Task:
    return Task(
        key=entry.key,
        name=entry.name,
        subsystem=entry.subsystem,
        hours=entry.hours or ThreePoint.certain(0.0),
        setup=entry.setup,
        people=1 if entry.people is None else entry.people,
        helper=bool(entry.helper),
        in_one_go=bool(entry.in_one_go),
        stations=entry.stations or (),
        outside_days=entry.outside_days,
        space_litres=entry.space_litres or 0.0,
        begun_on=entry.begun_on,
        finished_on=entry.finished_on,
        set_aside_on=entry.set_aside_on,
        hours_left=entry.hours_left,
        caution=entry.caution or "",
        notes=entry.notes or "",
        wish=entry.wish,
    )


def _dependency(entry: models.DependencyEntry) -> Dependency:
    return Dependency(
        before=entry.before,
        after=entry.after,
        wait_hours=entry.wait_hours or 0.0,
        why=entry.why or "",
    )


def _part(entry: models.PartEntry) -> Part:
    return Part(
        key=entry.key,
        name=entry.name,
        serves=entry.serves or (),
        arrives_on=entry.arrives_on,
        arrived=bool(entry.arrived),
        promised_on=entry.promised_on,
        ordered_on=entry.ordered_on,
        lead_days=entry.lead_days,
        cost=entry.cost,
        supplier=entry.supplier or "",
    )


def _wish_size(entry: models.WishSizeEntry) -> WishSize:
    return WishSize(key=entry.key, name=entry.name, hours=entry.hours)


def _log_entry(entry: models.LogLine) -> LogEntry:
    return LogEntry(task=entry.task, on=entry.on, hours=entry.hours, left=entry.left)
