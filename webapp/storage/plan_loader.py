"""Rows into a frozen `BuildInput`, by plain selects rather than row objects: pages wait for it."""

import datetime as dt
import json
from collections import defaultdict
from typing import Any

from sqlalchemy import Select, bindparam, inspect, select
from sqlmodel import Session, col

from webapp.build.build_input import (
    BuildInput,
    DayException,
    DayHours,
    Dependency,
    LogEntry,
    Part,
    Setup,
    Shop,
    Station,
    StationNeed,
    Subsystem,
    Task,
    ThreePoint,
    WeekSession,
    Wish,
    WishDecision,
    WishPart,
    WishSize,
)
from webapp.storage.decided_figures import figures_of_text
from webapp.storage.tables import (
    BuildRow,
    DayExceptionRow,
    DaySessionRow,
    DependencyRow,
    LogEntryRow,
    PartRow,
    PartServeRow,
    Row,
    SetupRow,
    StationNeedRow,
    StationRow,
    SubsystemRow,
    TaskRow,
    WeekSessionRow,
    WishPartRow,
    WishRow,
    WishSizeRow,
)

_NOT_READ = frozenset({"id", "build_id", "position"})


def _select(row_class: type[Row]) -> Select[Any]:
    """What the rows of one table say, in table order of the columns, by position."""
    columns = inspect(row_class).columns
    said = [column for name, column in columns.items() if name not in _NOT_READ]
    return (
        select(*said)
        .where(columns["build_id"] == bindparam("build_id"))
        .order_by(columns["position"], columns["id"])
    )


_SELECTS: dict[type[Row], Select[Any]] = {
    row_class: _select(row_class)
    for row_class in (
        SubsystemRow,
        SetupRow,
        StationRow,
        TaskRow,
        StationNeedRow,
        DependencyRow,
        PartRow,
        PartServeRow,
        WeekSessionRow,
        DayExceptionRow,
        DaySessionRow,
        LogEntryRow,
        WishRow,
        WishPartRow,
        WishSizeRow,
    )
}
_SELECT_BUILD = select(
    col(BuildRow.id),
    col(BuildRow.name),
    col(BuildRow.vehicle),
    col(BuildRow.first_start_key),
    col(BuildRow.starts_on),
    col(BuildRow.wanted_by),
    col(BuildRow.people),
    col(BuildRow.setup_out_key),
    col(BuildRow.confidence),
    col(BuildRow.calibrated),
    col(BuildRow.attended),
    col(BuildRow.kept_order),
    col(BuildRow.kept_on),
).where(col(BuildRow.slug) == bindparam("slug"))


class _Reader:
    """Reads the tables of one build."""

    def __init__(self, session: Session, build_id: int) -> None:
        self.session = session
        self.build_id = build_id

    def rows(self, row_class: type[Row]) -> list[Any]:
        """The rows of a table, as tuples in the order of its columns."""
        found = self.session.execute(_SELECTS[row_class], {"build_id": self.build_id})
        return list(found)

    def grouped(self, row_class: type[Row]) -> defaultdict[Any, list[Any]]:
        """The rows of a table by their first column, which names what they belong to."""
        groups: defaultdict[Any, list[Any]] = defaultdict(list)
        for owner, *said in self.rows(row_class):
            groups[owner].append(said)
        return groups


def load_build(session: Session, slug: str, *, now: dt.datetime) -> BuildInput | None:
    """The build as it stands, at the moment `now` (naive local time); None: no such build."""
    heading = session.execute(_SELECT_BUILD, {"slug": slug}).one_or_none()
    if heading is None:
        return None
    build_id, name, vehicle, first_start, starts_on, wanted_by, people, setup_out = heading[:8]
    confidence, calibrated, attended, kept_order, kept_on = heading[8:]
    reader = _Reader(session, build_id)
    return BuildInput(
        name=name,
        now=now,
        first_start=first_start,
        starts_on=starts_on,
        wanted_by=wanted_by,
        vehicle=vehicle,
        shop=_shop(reader, people, setup_out),
        subsystems=tuple(
            Subsystem(key=key, name=name, medium=medium, order=order)
            for key, name, medium, order in reader.rows(SubsystemRow)
        ),
        tasks=_tasks(reader),
        dependencies=tuple(
            Dependency(before=before, after=after, wait_hours=wait_hours, why=why)
            for before, after, wait_hours, why in reader.rows(DependencyRow)
        ),
        parts=_parts(reader),
        wishes=_wishes(reader),
        wish_sizes=tuple(
            WishSize(key=key, name=name, hours=_points(*hours))
            for key, name, *hours in reader.rows(WishSizeRow)
        ),
        confidence=confidence,
        calibrated=calibrated,
        attended=attended,
        kept_order=tuple(json.loads(kept_order)),
        kept_on=kept_on,
        log=tuple(
            LogEntry(task=task, on=on, hours=hours, left=left)
            for task, on, hours, left in reader.rows(LogEntryRow)
        ),
    )


def _shop(reader: _Reader, people: int, setup_out: str | None) -> Shop:
    day_sessions = reader.grouped(DaySessionRow)
    return Shop(
        people=people,
        setup_out=setup_out,
        week=tuple(
            WeekSession(weekday=weekday, hours=_hours(*hours))
            for weekday, *hours in reader.rows(WeekSessionRow)
        ),
        days=tuple(
            DayException(date=date, sessions=tuple(_hours(*hours) for hours in day_sessions[date]))
            for (date,) in reader.rows(DayExceptionRow)
        ),
        setups=tuple(
            Setup(key=key, name=name, hours=hours) for key, name, hours in reader.rows(SetupRow)
        ),
        stations=tuple(
            Station(key=key, name=name, count=count) for key, name, count in reader.rows(StationRow)
        ),
    )


def _hours(opens_minute: int, closes_minute: int, helper: bool) -> DayHours:
    return DayHours(opens_minute=opens_minute, closes_minute=closes_minute, helper=helper)


def _points(optimistic: float, most_likely: float, pessimistic: float) -> ThreePoint:
    return ThreePoint(optimistic=optimistic, most_likely=most_likely, pessimistic=pessimistic)


def _points_or_none(*hours: float | None) -> ThreePoint | None:
    said = [point for point in hours if point is not None]
    return _points(*said) if said else None


def _tasks(reader: _Reader) -> tuple[Task, ...]:
    needs = {
        task_key: tuple(StationNeed(station=station, count=count) for station, count in rows)
        for task_key, rows in reader.grouped(StationNeedRow).items()
    }
    return tuple(
        Task(
            key=row[0],
            name=row[1],
            hours=_points(*row[2:5]),
            subsystem=row[5],
            setup=row[6],
            people=row[7],
            helper=row[8],
            in_one_go=row[9],
            stations=needs.get(row[0], ()),
            outside_days=row[10],
            space_litres=row[11],
            begun_on=row[12],
            finished_on=row[13],
            set_aside_on=row[14],
            hours_left=row[15],
            caution=row[16],
            notes=row[17],
            wish=row[18],
        )
        for row in map(tuple, reader.rows(TaskRow))
    )


def _parts(reader: _Reader) -> tuple[Part, ...]:
    serves = {
        part_key: tuple(task_key for (task_key,) in rows)
        for part_key, rows in reader.grouped(PartServeRow).items()
    }
    return tuple(
        Part(
            key=key,
            name=name,
            serves=serves.get(key, ()),
            arrives_on=arrives_on,
            arrived=arrived,
            promised_on=promised_on,
            ordered_on=ordered_on,
            lead_days=lead_days,
            cost=cost,
            supplier=supplier,
        )
        for (
            key,
            name,
            arrives_on,
            arrived,
            promised_on,
            ordered_on,
            lead_days,
            cost,
            supplier,
        ) in reader.rows(PartRow)
    )


def _wishes(reader: _Reader) -> tuple[Wish, ...]:
    parts = {
        wish_key: tuple(
            WishPart(name=name, lead_days=lead_days, cost=cost) for name, lead_days, cost in rows
        )
        for wish_key, rows in reader.grouped(WishPartRow).items()
    }
    return tuple(
        Wish(
            key=row[0],
            text=row[1],
            logged_on=row[2],
            subsystem=row[3],
            after=row[4],
            before=row[5],
            size=row[6],
            hours=_points_or_none(*row[7:10]),
            setup=row[10],
            rough_in_hours=_points_or_none(*row[11:14]),
            later_extra_hours=row[14],
            parts=parts.get(row[0], ()),
            cost=row[15],
            decision=_decision(*row[16:20]),
        )
        for row in map(tuple, reader.rows(WishRow))
    )


def _decision(way: Any, decided_on: Any, why: str, figures: str) -> WishDecision | None:
    if way is None:
        return None
    return WishDecision(way=way, decided_on=decided_on, why=why, figures=figures_of_text(figures))
