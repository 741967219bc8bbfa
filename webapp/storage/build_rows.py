"""What the rows of a build say, table by table, from a `BuildInput`.

Each function lists the column values of one table in the order of entry; `build_id` and
`position` are added where they are written. `plan_loader` reads them back.
"""

import json
from collections.abc import Callable
from typing import Any

from webapp.build.build_input import BuildInput, DayHours, ThreePoint, Wish
from webapp.storage.decided_figures import figures_text
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
    WishPartRow,
    WishRow,
    WishSizeRow,
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
        "confidence": build.confidence,
        "calibrated": build.calibrated,
        "attended": build.attended,
        "kept_order": json.dumps(build.kept_order, ensure_ascii=False),
        "kept_on": build.kept_on,
    }


def _three_points(hours: ThreePoint | None, of: str = "") -> Values:
    """The three columns of an estimate, all of them None where there is none."""
    return {
        f"{of}optimistic_hours": hours and hours.optimistic,
        f"{of}most_likely_hours": hours and hours.most_likely,
        f"{of}pessimistic_hours": hours and hours.pessimistic,
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
            **_three_points(task.hours),
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
            "wish_key": task.wish,
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
    return [
        {
            "key": wish.key,
            "text": wish.text,
            "logged_on": wish.logged_on,
            "subsystem_key": wish.subsystem,
            "after_key": wish.after,
            "before_key": wish.before,
            "size_key": wish.size,
            **_three_points(wish.hours),
            "setup_key": wish.setup,
            **_three_points(wish.rough_in_hours, "rough_in_"),
            "later_extra_hours": wish.later_extra_hours,
            "cost": wish.cost,
            **_decided(wish),
        }
        for wish in build.wishes
    ]


def _decided(wish: Wish) -> Values:
    decision = wish.decision
    return {
        "decided_way": decision and decision.way,
        "decided_on": decision and decision.decided_on,
        "decided_why": decision and decision.why,
        "decided_figures": decision and figures_text(decision.figures),
    }


def _wish_parts(build: BuildInput) -> list[Values]:
    return [
        {"wish_key": wish.key, "name": part.name, "lead_days": part.lead_days, "cost": part.cost}
        for wish in build.wishes
        for part in wish.parts
    ]


def _wish_sizes(build: BuildInput) -> list[Values]:
    return [
        {"key": size.key, "name": size.name, **_three_points(size.hours)}
        for size in build.wish_sizes
    ]


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
    (WishSizeRow, _wish_sizes),
    (WishRow, _wishes),
    (WishPartRow, _wish_parts),
)
"""Every table that holds a part of a build, what is referred to before what refers to it; only
tasks and wishes refer to each other. References are checked at commit."""
