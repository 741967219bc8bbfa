"""Editing one task: all its fields, what comes before and after, its parts and its log."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from webapp.build.build_input import (
    BuildInput,
    Dependency,
    Fault,
    LogEntry,
    StationNeed,
    Task,
)
from webapp.build.verbs.task_links import with_links, with_log, with_parts
from webapp.pages.forms.hours_asked import fault_of_day
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.typed_form import TypedForm, keep_time, shown
from webapp.pages.forms.typed_values import date_text, number_text
from webapp.pages.tasks.estimate_fields import read_estimate

MOST_ROWS = 200
WAIT_AT_MOST = 100_000.0
_OWN_FIELDS = (
    "name",
    "subsystem",
    "setup",
    "people",
    "helper",
    "in_one_go",
    "outside_days",
    "space_litres",
    "begun_on",
    "finished_on",
    "set_aside_on",
    "hours_left",
    "caution",
    "notes",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class LinkWords:
    """The field names and the words of one side of a task: what comes before, or after."""

    field: str
    wait: str
    why: str
    words: str


BEFORE = LinkWords(field="before", wait="wait", why="why", words="what comes before it")
AFTER = LinkWords(field="after", wait="after_wait", why="after_why", words="what comes after it")


def values_of(build: BuildInput, task: Task) -> Mapping[str, Sequence[str]]:
    """The values the form of a task shows when it is opened."""
    picks = PickList.of("task", build.tasks)
    values: dict[str, str] = {
        "name": task.name,
        "subsystem": task.subsystem or "",
        "well": number_text(task.hours.optimistic),
        "likely": number_text(task.hours.most_likely),
        "fights": number_text(task.hours.pessimistic),
        "setup": task.setup or "",
        "people": str(task.people),
        "helper": "on" if task.helper else "",
        "in_one_go": "on" if task.in_one_go else "",
        "outside_days": number_text(task.outside_days),
        "space_litres": number_text(task.space_litres or None),
        "begun_on": date_text(task.begun_on),
        "finished_on": date_text(task.finished_on),
        "set_aside_on": date_text(task.set_aside_on),
        "hours_left": number_text(task.hours_left),
        "caution": task.caution,
        "notes": task.notes,
    }
    for need in task.stations:
        values[f"station-{_station_number(build, need.station)}"] = str(need.count)
    befores = [link for link in build.dependencies if link.after == task.key]
    afters = [link for link in build.dependencies if link.before == task.key]
    for side, links in ((BEFORE, befores), (AFTER, afters)):
        for row, link in enumerate(links):
            other = link.before if side is BEFORE else link.after
            values[f"{side.field}-{row}"] = picks.label(other)
            values[f"{side.wait}-{row}"] = number_text(link.wait_hours or None)
            values[f"{side.why}-{row}"] = link.why
        values[f"{side.field}-{len(links)}"] = ""
    parts = PickList.of("part", build.parts)
    served = [part for part in build.parts if task.key in part.serves]
    for row, part in enumerate(served):
        values[f"part-{row}"] = parts.label(part.key)
    values[f"part-{len(served)}"] = ""
    entries = [entry for entry in build.log if entry.task == task.key]
    for row, entry in enumerate(entries):
        values[f"log_on-{row}"] = date_text(entry.on)
        values[f"log_hours-{row}"] = number_text(entry.hours)
        values[f"log_left-{row}"] = number_text(entry.left)
    values[f"log_on-{len(entries)}"] = ""
    return {name: (value,) for name, value in values.items()}


def rows_of(form: TypedForm) -> Mapping[str, tuple[int, ...]]:
    """The rows that a form has of each kind of list in it."""
    return {
        stem: form.row_numbers(stem, at_most=10 * MOST_ROWS)
        for stem in ("before", "after", "part", "log_on")
    }


def with_more_rows(form: TypedForm) -> TypedForm:
    """The same form, as typed, with a blank row more in each of its lists."""
    more = {
        f"{stem}-{max(numbers, default=-1) + 1}": ("",) for stem, numbers in rows_of(form).items()
    }
    return TypedForm({**form.values, **more})


def _station_number(build: BuildInput, key: str) -> int:
    keys = [station.key for station in build.shop.stations]
    return keys.index(key) if key in keys else len(keys)


def edit_task(form: TypedForm, build: BuildInput, key: str) -> BuildInput:
    """The build with the task called `key` as the form says; mistakes are noted in the form."""
    stored = next(task for task in build.tasks if task.key == key)
    task = _read_task(form, build, stored)
    picks = PickList.of("task", build.tasks)
    befores = _read_links(form, build, task, picks, BEFORE)
    afters = _read_links(form, build, task, picks, AFTER)
    return replace(
        build,
        tasks=tuple(task if other.key == key else other for other in build.tasks),
        dependencies=with_links(build.dependencies, key, befores, afters),
        parts=with_parts(build.parts, key, _read_parts(form, build, task)),
        log=with_log(build.log, key, _read_log(form, build, task)),
    )


def _read_task(form: TypedForm, build: BuildInput, stored: Task) -> Task:
    name = form.text("name", "The name of the task", needed=True) or stored.name
    label, shop = shown(name), build.shop
    people = form.whole("people", f"{label}, people", at_least=0, at_most=20, default=1)
    litres = form.decimal("space_litres", f"{label}, space in litres")
    return replace(
        stored,
        name=name,
        hours=read_estimate(form, label),
        subsystem=form.one_of(
            "subsystem", f"{label}, subsystem", (each.key for each in build.subsystems)
        ),
        setup=form.one_of("setup", f"{label}, setup", (each.key for each in shop.setups)),
        people=stored.people if people is None else people,
        helper=form.ticked("helper"),
        in_one_go=form.ticked("in_one_go"),
        stations=_read_stations(form, build, label),
        outside_days=form.decimal("outside_days", f"{label}, days outside", at_most=3_650),
        space_litres=litres or 0.0,
        begun_on=keep_time(form.date("begun_on", f"{label}, begun on"), stored.begun_on),
        finished_on=keep_time(
            form.date("finished_on", f"{label}, finished on"), stored.finished_on
        ),
        set_aside_on=form.date("set_aside_on", f"{label}, set aside on"),
        hours_left=form.hours("hours_left", f"{label}, hours left"),
        caution=form.long_text("caution", f"{label}, caution"),
        notes=form.long_text("notes", f"{label}, notes"),
    )


def _read_stations(form: TypedForm, build: BuildInput, label: str) -> tuple[StationNeed, ...]:
    needs = []
    for number, station in enumerate(build.shop.stations):
        count = form.whole(
            f"station-{number}", f"{label}, {station.name}", at_least=0, at_most=100, default=0
        )
        if count:
            needs.append(StationNeed(station=station.key, count=count))
    return tuple(needs)


def _read_links(
    form: TypedForm, build: BuildInput, task: Task, picks: PickList, side: LinkWords
) -> tuple[Dependency, ...]:
    links: dict[str, Dependency] = {}
    stored = sum(
        (link.after if side is BEFORE else link.before) == task.key for link in build.dependencies
    )
    for row in form.row_numbers(side.field, at_most=MOST_ROWS):
        field, label = f"{side.field}-{row}", f"{shown(task.name)}, {side.words}"
        text = form.typed(field).strip()
        wait = form.hours(f"{side.wait}-{row}", f"{label}, wait hours", at_most=WAIT_AT_MOST)
        why = form.text(f"{side.why}-{row}", f"{label}, why")
        if not text:
            if (wait or why) and row >= stored:  # an emptied row of before removes its link
                form.fault(
                    field,
                    f"{label}: a wait or a reason is typed but no task."
                    " Pick the task, or empty the row.",
                )
            continue
        other, why_not = picks.find(text)
        if other is None:
            form.fault(field, f"{label}: {why_not}")
            continue
        if other in links:
            form.fault(
                field, f"{label}: “{picks.label(other)}” stands there twice. Empty one of the two."
            )
            continue
        before, after = (other, task.key) if side is BEFORE else (task.key, other)
        links[other] = Dependency(before=before, after=after, wait_hours=wait or 0.0, why=why)
    return tuple(links.values())


def _read_parts(form: TypedForm, build: BuildInput, task: Task) -> frozenset[str]:
    picks, keys = PickList.of("part", build.parts), set()
    for row in form.row_numbers("part", at_most=MOST_ROWS):
        text = form.typed(f"part-{row}").strip()
        if not text:
            continue
        key, why_not = picks.find(text)
        if key is None:
            form.fault(f"part-{row}", f"{shown(task.name)}, part it needs: {why_not}")
        else:
            keys.add(key)
    return frozenset(keys)


def _read_log(form: TypedForm, build: BuildInput, task: Task) -> tuple[LogEntry, ...]:
    entries = []
    for row in form.row_numbers("log_on", at_most=10 * MOST_ROWS):
        fields = [f"log_{field}-{row}" for field in ("on", "hours", "left")]
        if not any(form.typed(field).strip() for field in fields):
            continue
        label = f"{shown(task.name)}, hours worked"
        on = form.date(fields[0], f"{label}, date", needed=True)
        hours = form.hours(fields[1], label, needed=True)
        left = form.hours(fields[2], f"{label}, hours left then")
        if on is not None and hours is not None:
            entry = LogEntry(task=task.key, on=on, hours=hours, left=left)
            if entry not in build.log and (fault := fault_of_day(build, on)):
                form.fault(fields[0], f"{label}: {fault}")
            entries.append(entry)
    return tuple(entries)


def place_of_fault(key: str) -> Callable[[Fault], str]:
    """Which form field a fault of the build belongs to."""

    def place(fault: Fault) -> str:
        if fault.kind == "task" and fault.key == key:
            if fault.field == "hours":
                return "likely"
            if fault.field == "stations":
                return "station-0"
            return fault.field if fault.field in _OWN_FIELDS else "name"
        if fault.kind == "log" and fault.key == key:
            return "log_hours-0"
        before, arrow, after = fault.key.partition(" -> ")
        if fault.kind == "dependency" and arrow and key in (before, after):
            return "before-0" if after == key else "after-0"
        return ""

    return place
