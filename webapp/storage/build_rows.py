"""What the rows of a build say, table by table, from a `BuildInput`.

Each function lists the column values of one table in the order of entry; `build_id` and
`position` are added where they are written. `plan_loader` reads them back.
"""

from collections.abc import Callable
from typing import Any

from webapp.planning.build_input import BuildInput, DayHours
from webapp.storage.tables import (
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
    WishRow,
)

Values = dict[str, Any]


def heading_values(build: BuildInput) -> Values:
    """What the row of the build itself says, but for its slug."""
    return {
        "name": build.name,
        "vehicle": build.vehicle,
        "first_start_key": build.first_start,
        "starts_on": build.starts_on,
        "wanted_by": build.wanted_by,
        "people": build.shop.people,
        "setup_out_key": build.shop.setup_out,
    }


def _subsystems(build: BuildInput) -> list[Values]:
    return [
        {"key": s.key, "name": s.name, "medium": s.medium, "working_order": s.order}
        for s in build.subsystems
    ]


def _setups(build: BuildInput) -> list[Values]:
    return [{"key": s.key, "name": s.name, "hours": s.hours} for s in build.shop.setups]


def _stations(build: BuildInput) -> list[Values]:
    return [{"key": s.key, "name": s.name, "count": s.count} for s in build.shop.stations]


def _tasks(build: BuildInput) -> list[Values]:
    return [
        {
            "key": task.key,
            "name": task.name,
            "optimistic_hours": task.hours.optimistic,
            "most_likely_hours": task.hours.most_likely,
            "pessimistic_hours": task.hours.pessimistic,
            "subsystem_key": task.subsystem,
            "setup_key": task.setup,
            "people": task.people,
            "helper": task.helper,
            "in_one_go": task.in_one_go,
            "outside_days": task.outside_days,
            "space_litres": task.space_litres,
            "begun_on": task.begun_on,
            "finished_on": task.finished_on,
            "set_aside_on": task.set_aside_on,
            "hours_left": task.hours_left,
            "caution": task.caution,
            "notes": task.notes,
        }
        for task in build.tasks
    ]


def _station_needs(build: BuildInput) -> list[Values]:
    return [
        {"task_key": task.key, "station_key": need.station, "count": need.count}
        for task in build.tasks
        for need in task.stations
    ]


def _dependencies(build: BuildInput) -> list[Values]:
    return [
        {"before_key": d.before, "after_key": d.after, "wait_hours": d.wait_hours, "why": d.why}
        for d in build.dependencies
    ]


def _parts(build: BuildInput) -> list[Values]:
    return [
        {
            "key": part.key,
            "name": part.name,
            "arrives_on": part.arrives_on,
            "arrived": part.arrived,
            "promised_on": part.promised_on,
            "ordered_on": part.ordered_on,
            "lead_days": part.lead_days,
            "cost": part.cost,
            "supplier": part.supplier,
        }
        for part in build.parts
    ]


def _part_serves(build: BuildInput) -> list[Values]:
    return [
        {"part_key": part.key, "task_key": task_key}
        for part in build.parts
        for task_key in part.serves
    ]


def _hours(hours: DayHours) -> Values:
    return {
        "opens_minute": hours.opens_minute,
        "closes_minute": hours.closes_minute,
        "helper": hours.helper,
    }


def _week_sessions(build: BuildInput) -> list[Values]:
    return [{"weekday": s.weekday, **_hours(s.hours)} for s in build.shop.week]


def _day_exceptions(build: BuildInput) -> list[Values]:
    return [{"date": day.date} for day in build.shop.days]


def _day_sessions(build: BuildInput) -> list[Values]:
    return [
        {"date": day.date, **_hours(hours)} for day in build.shop.days for hours in day.sessions
    ]


def _log_entries(build: BuildInput) -> list[Values]:
    return [
        {"task_key": e.task, "worked_on": e.on, "hours": e.hours, "hours_left": e.left}
        for e in build.log
    ]


def _wishes(build: BuildInput) -> list[Values]:
    return [{"key": w.key, "text": w.text, "logged_on": w.logged_on} for w in build.wishes]


TABLES: tuple[tuple[type[Row], Callable[[BuildInput], list[Values]]], ...] = (
    (SubsystemRow, _subsystems),
    (SetupRow, _setups),
    (StationRow, _stations),
    (TaskRow, _tasks),
    (StationNeedRow, _station_needs),
    (DependencyRow, _dependencies),
    (PartRow, _parts),
    (PartServeRow, _part_serves),
    (WeekSessionRow, _week_sessions),
    (DayExceptionRow, _day_exceptions),
    (DaySessionRow, _day_sessions),
    (LogEntryRow, _log_entries),
    (WishRow, _wishes),
)
"""Every table that holds a part of a build, what is referred to before what refers to it."""
