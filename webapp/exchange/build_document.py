"""The build document: read with every fault at once, and written so that it reads the same."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from webapp.build.build_input import (
    BuildInput,
    Dependency,
    Fault,
    LogEntry,
    LookedAt,
    Measure,
    Part,
    Step,
    Subsystem,
    Task,
)
from webapp.build.checks.input_checks import faults_of
from webapp.build.room import InRoom, Room
from webapp.build.shop import (
    DayException,
    DayHours,
    DayRange,
    GivenAway,
    LaterWeek,
    Setup,
    Shop,
    Station,
    WeekSession,
)
from webapp.build.three_point import ThreePoint
from webapp.build.wish import WISH_SIZES, WayFigures, Wish, WishDecision, WishPart, WishSize
from webapp.exchange import document_models as models
from webapp.exchange.data_sheet_models import data_sheet_of
from webapp.exchange.document_faults import BUILD, read_form
from webapp.exchange.document_models import document_schema
from webapp.exchange.document_writer import document_pieces, write_document
from webapp.exchange.earlier_models import earlier_record_said
from webapp.exchange.entry_nouns import nouns as nouns
from webapp.exchange.entry_nouns import said_of as said_of
from webapp.exchange.json_text import UnreadableError, parse_json
from webapp.exchange.plumbing_reader import plumbing_of
from webapp.exchange.room_models import InRoomEntry
from webapp.exchange.shop_models import DayEntry, ShopEntry, WeekEntry
from webapp.exchange.start_models import first_start_of
from webapp.exchange.wish_models import DecisionEntry, WayEntry, WishPartEntry

__all__ = [
    "SentPhotograph",
    "document_pieces",
    "document_schema",
    "read_document",
    "read_with_photographs",
    "write_document",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class SentPhotograph:
    """A photograph as a document has it: `number` is its place among those of its task, from 1.

    Whether it is a picture at all is not known yet.
    """

    task: str
    number: int
    base64: str
    added_on: dt.date
    caption: str


def read_document(
    text: str | bytes, *, now: dt.datetime
) -> tuple[BuildInput | None, tuple[Fault, ...]]:
    """The build of a document and every fault of form and content; no faults: it can be planned.

    `now` is used where the document has none. The build is None only where nothing can be
    read at all; where there are faults it holds what could be read. It has no photographs.
    """
    build, faults, _ = read_with_photographs(text, now=now)
    return build, faults


def read_with_photographs(
    text: str | bytes, *, now: dt.datetime
) -> tuple[BuildInput | None, tuple[Fault, ...], tuple[SentPhotograph, ...]]:
    """The same, and the photographs of its tasks as they stand in the document."""
    try:
        raw, twice = parse_json(text)
    except UnreadableError as error:
        return None, (error.fault,), ()
    if not isinstance(raw, dict):
        fault = Fault(
            kind="build",
            key="",
            field="",
            text="The document is not a build document: it must be one object in curly braces.",
        )
        return None, (*twice, fault), ()
    reading = read_form(raw, BUILD)
    build = _build(reading.document, now)
    faults = (*twice, *reading.faults, *reading.new_among(faults_of(build)))
    return build, faults, _photographs(reading.document)


def _photographs(document: models.BuildDocument) -> tuple[SentPhotograph, ...]:
    return tuple(
        SentPhotograph(
            task=task.key,
            number=number,
            base64=each.jpeg,
            added_on=each.added_on,
            caption=each.caption or "",
        )
        for task in document.tasks or ()
        for number, each in enumerate(task.photographs or (), start=1)
    )


def _build(document: models.BuildDocument, now: dt.datetime) -> BuildInput:
    head = {"now": now, "first_start": None} | said_of(document.build)
    sizes = document.wish_sizes
    return BuildInput(
        **head,
        shop=_shop(document.shop),
        subsystems=nouns(Subsystem, document.subsystems),
        tasks=nouns(task_said, document.tasks),
        dependencies=nouns(Dependency, document.dependencies),
        parts=nouns(_part, document.parts),
        wishes=nouns(_wish, document.wishes),
        wish_sizes=WISH_SIZES if sizes is None else nouns(WishSize, sizes),
        log=nouns(LogEntry, document.log),
        looked_at=nouns(LookedAt, document.looked_at),
        earlier_records=nouns(earlier_record_said, document.earlier_records),
        rooms=nouns(_room, document.rooms),
        data_sheet=data_sheet_of(document.data_sheet),
        start=first_start_of(document.start),
        plumbing=plumbing_of(document.plumbing, document.parts or ()),
    )


def _shop(entry: ShopEntry) -> Shop:
    said = said_of(entry)
    out = said.pop("setup_out", ())
    return Shop(
        **said
        | {
            "setups_out": out,
            "week": nouns(week_session, entry.week),
            "days": _days(entry.days or ()),
            "later_weeks": nouns(_later_week, entry.later_weeks),
            "ranges": nouns(_day_range, entry.ranges),
            "given": nouns(_given_away, entry.given),
            "setups": nouns(Setup, entry.setups),
            "stations": nouns(Station, entry.stations),
        }
    )


def week_session(*, day: int, **hours: Any) -> WeekSession:
    return WeekSession(weekday=day, hours=_day_hours(**hours))


def _later_week(*, week: Sequence[WeekEntry] = (), **said: Any) -> LaterWeek:
    return LaterWeek(**said, week=nouns(week_session, week))


def _day_range(*, week: Sequence[WeekEntry] = (), **said: Any) -> DayRange:
    return DayRange(**said, week=nouns(week_session, week))


def _given_away(*, opens: int, closes: int, **said: Any) -> GivenAway:
    return GivenAway(**{"last_on": None} | said, opens_minute=opens, closes_minute=closes)


def _day_hours(*, opens: int, closes: int, helper: bool = False) -> DayHours:
    return DayHours(opens_minute=opens, closes_minute=closes, helper=helper)


def _days(entries: Sequence[DayEntry]) -> tuple[DayException, ...]:
    """One exception for each date; one more where a date is closed and open at once."""
    sessions: dict[tuple[dt.date, bool], list[DayHours]] = {}
    for entry in entries:
        if entry.closed:
            sessions.setdefault((entry.date, True), [])
        if entry.opens is not None and entry.closes is not None:
            hours = _day_hours(opens=entry.opens, closes=entry.closes, helper=bool(entry.helper))
            sessions.setdefault((entry.date, False), []).append(hours)
    return tuple(
        DayException(date=date, sessions=tuple(hours)) for (date, _), hours in sessions.items()
    )


def _part(*, plumbing: object = (), **said: Any) -> Part:  # noqa: ARG001
    return Part(**said)  # what it brings for the plumbing stands there


def task_said(
    *,
    photographs: object = (),
    steps: Sequence[models.StepEntry] = (),
    measures: Sequence[models.MeasureEntry] = (),
    **said: Any,
) -> Task:
    """The task of the fields of its entry; outside work needs no hours."""
    del photographs  # read apart: see `SentPhotograph`
    return Task(
        **{"hours": ThreePoint.certain(0.0)} | said,
        steps=nouns(Step, steps),
        measures=nouns(Measure, measures),
    )


def _room(*, holds: Sequence[InRoomEntry] = (), **said: Any) -> Room:
    return Room(**said, holds=nouns(InRoom, holds))


def _wish(
    *,
    parts: Sequence[WishPartEntry] = (),
    decision: DecisionEntry | None = None,
    **said: Any,
) -> Wish:
    return Wish(
        **said,
        parts=nouns(WishPart, parts),
        decision=None if decision is None else _decision(**said_of(decision)),
    )


def _decision(*, figures: Sequence[WayEntry] = (), **said: Any) -> WishDecision:
    return WishDecision(**said, figures=tuple(WayFigures(**dict(way)) for way in figures))
