"""The tables of a build as they go out: tasks, parts, the log, wishes, the figures of its weeks.

Their heads are the words that a pasted list is asked for, so what goes out comes in again; what a
list can not take in (begun, decided, worked) stands behind that. Figures of weeks only go out.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from webapp.build.build_input import BuildInput, Moment, Task
from webapp.build.logged_hours import logged_hours
from webapp.build.three_point import ThreePoint
from webapp.build.wish import Wish
from webapp.exchange.csv_cells import joined_names, number_text, write_csv
from webapp.exchange.list_columns import (
    LOG_COLUMNS,
    PART_COLUMNS,
    TASK_COLUMNS,
    WISH_COLUMNS,
    Columns,
)
from webapp.planning.record.attendance import weeks_of_record

Cell = str | float | None
YES, NO = "yes", ""
NOT_DECIDED = ("", "", "")


@dataclass(frozen=True, slots=True, kw_only=True)
class TableOut:
    """One table: its name in addresses and commands, its head, and its rows of a build."""

    name: str
    head: tuple[str, ...]
    rows: Callable[[BuildInput], Iterator[tuple[Cell, ...]]]

    def csv(self, build: BuildInput) -> str:
        """The table of a build as CSV."""
        return write_csv(self.head, self.rows(build))


def _tasks(build: BuildInput) -> Iterator[tuple[Cell, ...]]:
    named = _Names(build)
    parts = defaultdict(list)
    for part in build.parts:
        for key in part.serves:
            parts[key].append(part.name)
    links = defaultdict(list)
    for link in build.dependencies:
        links[link.after].append(link)
    worked = logged_hours(build.log)
    for task in build.tasks:
        befores = links[task.key]
        yield (
            task.key,
            task.name,
            *_hours(task.hours, is_assumed=task.spread_assumed),
            named.subsystems.get(task.subsystem or ""),
            joined_names(named.tasks[link.before] for link in befores),
            _waits([link.wait_hours for link in befores]),
            named.setups.get(task.setup or ""),
            joined_names(_station(named, task)),
            joined_names(parts[task.key]),
            task.people,
            _tick(task.helper),
            _tick(task.in_one_go),
            task.outside_days,
            task.space_litres or None,
            task.caution,
            task.notes,
            _day(task.begun_on),
            _day(task.finished_on),
            _day(task.set_aside_on),
            worked.get(task.key),
            task.hours_left,
        )


def _parts(build: BuildInput) -> Iterator[tuple[Cell, ...]]:
    named = _Names(build)
    for part in build.parts:
        yield (
            part.name,
            part.supplier,
            part.cost,
            part.lead_days,
            _day(part.ordered_on),
            _day(part.promised_on),
            _day(part.arrives_on),
            _tick(part.arrived),
            joined_names(named.tasks[key] for key in part.serves),
        )


def _log(build: BuildInput) -> Iterator[tuple[Cell, ...]]:
    named = _Names(build)
    for entry in build.log:
        yield (
            named.tasks[entry.task],
            _day(entry.on),
            entry.hours,
            entry.setup_hours or None,
            entry.left,
        )


def _wishes(build: BuildInput) -> Iterator[tuple[Cell, ...]]:
    named = _Names(build)
    sizes = {size.key: size.name for size in build.wish_sizes}
    for wish in build.wishes:
        decision = wish.decision
        yield (
            wish.text,
            _day(wish.logged_on),
            sizes.get(wish.size or ""),
            *_hours(wish.hours),
            *_hours(wish.rough_in_hours),
            wish.later_extra_hours,
            named.subsystems.get(wish.subsystem or ""),
            named.setups.get(wish.setup or ""),
            named.tasks.get(wish.after or ""),
            named.tasks.get(wish.before or ""),
            wish.cost,
            *_wish_parts(wish),
            *((decision.way, _day(decision.decided_on), decision.why) if decision else NOT_DECIDED),
        )


def _weeks(build: BuildInput) -> Iterator[tuple[Cell, ...]]:
    finished: defaultdict[tuple[int, int], int] = defaultdict(int)
    for task in build.tasks:
        if task.finished_on is not None:
            finished[task.finished_on.isocalendar()[:2]] += 1
    logged: defaultdict[tuple[int, int], int] = defaultdict(int)
    decided: defaultdict[tuple[int, int], int] = defaultdict(int)
    for wish in build.wishes:
        logged[wish.logged_on.isocalendar()[:2]] += 1
        if wish.decision is not None:
            decided[wish.decision.decided_on.isocalendar()[:2]] += 1
    for week in weeks_of_record(build):
        at = week.iso_year, week.iso_week
        yield (
            f"{week.iso_year}-W{week.iso_week:02d}",
            _day(week.monday),
            _tick(week.whole),
            week.promised_hours,
            week.workable_hours,
            week.worked_hours,
            week.worked_hours / week.workable_hours if week.workable_hours else None,
            finished[at],
            logged[at],
            decided[at],
        )


WEEK_HEAD = (
    "week",
    "its Monday",
    "is over",
    "hours promised",
    "hours that could be worked",
    "hours worked",
    "attendance",
    "tasks finished",
    "wishes logged",
    "wishes decided",
)


def _head(columns: Columns, *others: str) -> tuple[str, ...]:
    return (*columns.said.values(), *others)


TABLES_OUT = (
    TableOut(
        name="tasks",
        head=_head(TASK_COLUMNS, "begun", "finished", "set aside", "hours logged", "still to do"),
        rows=_tasks,
    ),
    TableOut(name="parts", head=_head(PART_COLUMNS), rows=_parts),
    TableOut(name="log", head=_head(LOG_COLUMNS), rows=_log),
    TableOut(name="wishes", head=_head(WISH_COLUMNS, "decided", "decided on", "why"), rows=_wishes),
    TableOut(name="weeks", head=WEEK_HEAD, rows=_weeks),
)


class _Names:
    """What things are called in a cell: their names, with the short name where two share one."""

    def __init__(self, build: BuildInput) -> None:
        self.tasks = _labels((task.key, task.name) for task in build.tasks)
        self.subsystems = _labels((one.key, one.name) for one in build.subsystems)
        self.setups = _labels((one.key, one.name) for one in build.shop.setups)
        self.stations = _labels((one.key, one.name) for one in build.shop.stations)


def _labels(named: Iterable[tuple[str, str]]) -> dict[str, str]:
    """As a pick list labels them, for that is what reads them again."""
    pairs = list(named)
    times: defaultdict[str, int] = defaultdict(int)
    for _, name in pairs:
        times[name.casefold()] += 1
    return {key: name if times[name.casefold()] == 1 else f"{name} ({key})" for key, name in pairs}


def _hours(hours: ThreePoint | None, *, is_assumed: bool = False) -> tuple[Cell, Cell, Cell]:
    """Likely, if all goes well, if it fights you; a range that was assumed is nobody's to say."""
    if hours is None:
        return None, None, None
    if is_assumed:
        return hours.most_likely, None, None
    return hours.most_likely, hours.optimistic, hours.pessimistic


def _waits(hours: list[float]) -> Cell:
    """One number where all wait as long, else one for each of what comes before."""
    if not any(hours):
        return None
    return hours[0] if len(set(hours)) == 1 else "; ".join(map(number_text, hours))


def _station(named: _Names, task: Task) -> Iterator[str]:
    for need in task.stations:
        name = named.stations[need.station]
        yield name if need.count == 1 else f"{name} x {need.count}"


def _wish_parts(wish: Wish) -> tuple[Cell, Cell, Cell]:
    if not wish.parts:
        return None, None, None
    return (
        joined_names(part.name for part in wish.parts),
        "; ".join(number_text(part.lead_days) for part in wish.parts),
        "; ".join(number_text(part.cost) for part in wish.parts),
    )


def _tick(is_so: bool) -> str:
    return YES if is_so else NO


def _day(moment: Moment | None) -> str:
    return "" if moment is None else moment.isoformat()[:10]
