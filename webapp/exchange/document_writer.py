"""Writes a build as a build document: the same fields in the same order, one thing per line."""

import datetime as dt
import json
from collections.abc import Iterator

from webapp.build.build_input import (
    BuildInput,
    DayException,
    DayHours,
    Dependency,
    LogEntry,
    Moment,
    Part,
    Setup,
    Station,
    Subsystem,
    Task,
    ThreePoint,
    WayFigures,
    Wish,
    WishDecision,
    WishPart,
    WishSize,
)
from webapp.build.checks.shop_checks import WEEKDAYS, clock_words
from webapp.exchange.document_models import FORMAT, VERSION

Fields = dict[str, object]


def write_document(build: BuildInput) -> str:
    """The document of a build; reading it gives the same build again.

    Raises ValueError for numbers that are not finite, which a build without faults has not.
    """
    shop = build.shop
    return (
        "{"
        + f'"format": "{FORMAT}", "version": {VERSION},\n'
        + f' "build": {_line(_build(build))},\n'
        + f' "shop": {{"people": {shop.people}, "setup_out": {_line(shop.setup_out)},\n'
        + _list("   ", "week", [_session(s.weekday, s.hours) for s in shop.week])
        + ",\n"
        + _list("   ", "days", [fields for day in shop.days for fields in _days(day)])
        + ",\n"
        + _list("   ", "setups", [_setup(setup) for setup in shop.setups])
        + ",\n"
        + _list("   ", "stations", [_station(station) for station in shop.stations])
        + "},\n"
        + ",\n".join(_list(" ", name, entries) for name, entries in _nouns(build))
        + "}\n"
    )


def _nouns(build: BuildInput) -> Iterator[tuple[str, list[Fields]]]:
    yield "subsystems", [_subsystem(subsystem) for subsystem in build.subsystems]
    yield "tasks", [_task(task) for task in build.tasks]
    yield "dependencies", [_dependency(dependency) for dependency in build.dependencies]
    yield "parts", [_part(part) for part in build.parts]
    yield "wishes", [_wish(wish) for wish in build.wishes]
    yield "wish_sizes", [_wish_size(size) for size in build.wish_sizes]
    yield "log", [_log_entry(entry) for entry in build.log]


def _line(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


def _list(indent: str, name: str, entries: list[Fields]) -> str:
    if not entries:
        return f'{indent}"{name}": []'
    lines = f",\n{indent}  ".join(_line(entry) for entry in entries)
    return f'{indent}"{name}": [\n{indent}  {lines}]'


def _with(fields: Fields, **more: object) -> Fields:
    """The fields, and those of `more` that say something."""
    return fields | {name: value for name, value in more.items() if value not in (None, "")}


def _number(value: float | None) -> float | None:
    """2 rather than 2.0; reading gives the same number."""
    if value is not None and value == int(value) and abs(value) < 2**53:
        return int(value)
    return value


def _moment(value: Moment | None) -> str | None:
    if isinstance(value, dt.datetime):
        return value.isoformat(timespec="minutes")
    return None if value is None else value.isoformat()


def _hours(hours: ThreePoint | None) -> object:
    if hours is None:
        return None
    points = [_number(point) for point in (hours.optimistic, hours.most_likely, hours.pessimistic)]
    return points[0] if points[0] == points[1] == points[2] else points


def _build(build: BuildInput) -> Fields:
    fields: Fields = {
        "name": build.name,
        "starts_on": _moment(build.starts_on),
        "wanted_by": _moment(build.wanted_by),
        "now": _moment(build.now),
        "first_start": build.first_start,
        "confidence": _number(build.confidence),
        "calibrated": build.calibrated,
        "attended": build.attended,
    }
    return _with(
        fields,
        vehicle=build.vehicle,
        kept_order=list(build.kept_order) or None,
        kept_on=_moment(build.kept_on),
    )


def _opening(hours: DayHours) -> Fields:
    return {
        "opens": clock_words(hours.opens_minute),
        "closes": clock_words(hours.closes_minute),
        "helper": hours.helper,
    }


def _session(weekday: int, hours: DayHours) -> Fields:
    return {"day": WEEKDAYS[weekday], **_opening(hours)}


def _days(day: DayException) -> list[Fields]:
    date = day.date.isoformat()
    if not day.sessions:
        return [{"date": date, "closed": True}]
    return [{"date": date, **_opening(hours)} for hours in day.sessions]


def _setup(setup: Setup) -> Fields:
    return {"key": setup.key, "name": setup.name, "hours": _number(setup.hours)}


def _station(station: Station) -> Fields:
    return {"key": station.key, "name": station.name, "count": station.count}


def _subsystem(subsystem: Subsystem) -> Fields:
    return {
        "key": subsystem.key,
        "name": subsystem.name,
        "medium": subsystem.medium,
        "order": subsystem.order,
    }


def _task(task: Task) -> Fields:
    fields: Fields = {
        "key": task.key,
        "name": task.name,
        "subsystem": task.subsystem,
        "hours": _hours(task.hours),
        "setup": task.setup,
        "people": task.people,
        "helper": task.helper,
        "in_one_go": task.in_one_go,
        "stations": {need.station: need.count for need in task.stations},
        "outside_days": _number(task.outside_days),
        "space_litres": _number(task.space_litres),
        "begun_on": _moment(task.begun_on),
        "finished_on": _moment(task.finished_on),
        "hours_left": _number(task.hours_left),
    }
    return _with(
        fields,
        set_aside_on=_moment(task.set_aside_on),
        caution=task.caution,
        notes=task.notes,
        wish=task.wish,
    )


def _dependency(dependency: Dependency) -> Fields:
    return {
        "before": dependency.before,
        "after": dependency.after,
        "wait_hours": _number(dependency.wait_hours),
        "why": dependency.why,
    }


def _part(part: Part) -> Fields:
    fields: Fields = {
        "key": part.key,
        "name": part.name,
        "for": list(part.serves),
        "arrives_on": _moment(part.arrives_on),
        "arrived": part.arrived,
    }
    return _with(
        fields,
        promised_on=_moment(part.promised_on),
        ordered_on=_moment(part.ordered_on),
        lead_days=_number(part.lead_days),
        cost=_number(part.cost),
        supplier=part.supplier,
    )


def _wish(wish: Wish) -> Fields:
    fields: Fields = {"key": wish.key, "text": wish.text, "logged_on": _moment(wish.logged_on)}
    return _with(
        fields,
        subsystem=wish.subsystem,
        after=wish.after,
        before=wish.before,
        size=wish.size,
        hours=_hours(wish.hours),
        setup=wish.setup,
        rough_in_hours=_hours(wish.rough_in_hours),
        later_extra_hours=_number(wish.later_extra_hours),
        parts=[_wish_part(part) for part in wish.parts] or None,
        cost=_number(wish.cost),
        decision=None if wish.decision is None else _decision(wish.decision),
    )


def _wish_part(part: WishPart) -> Fields:
    return {
        "name": part.name,
        "lead_days": _number(part.lead_days),
        "cost": _number(part.cost),
    }


def _decision(decision: WishDecision) -> Fields:
    return {
        "way": decision.way,
        "decided_on": _moment(decision.decided_on),
        "why": decision.why,
        "figures": [_way(figures) for figures in decision.figures],
    }


def _way(figures: WayFigures) -> Fields:
    return {
        "way": figures.way,
        "likely": _moment(figures.likely),
        "safe": _moment(figures.safe),
        "likely_days": _number(figures.likely_days),
        "safe_days": _number(figures.safe_days),
        "headroom_hours": _number(figures.headroom_hours),
        "hours": _number(figures.hours),
        "cost": _number(figures.cost),
    }


def _wish_size(size: WishSize) -> Fields:
    return {"key": size.key, "name": size.name, "hours": _hours(size.hours)}


def _log_entry(entry: LogEntry) -> Fields:
    return {
        "task": entry.task,
        "on": _moment(entry.on),
        "hours": _number(entry.hours),
        "left": _number(entry.left),
    }
