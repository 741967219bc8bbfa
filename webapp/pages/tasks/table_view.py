"""The table of all tasks in strings: its rows, the filter and the pages beside it."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from webapp.build.assumed_range import shares_of_kind
from webapp.build.build_input import BuildInput, Task
from webapp.build.hours_to_go import hours_to_go_of
from webapp.build.usual_subsystems import subsystems_offered
from webapp.pages import addresses
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.context import PageContext
from webapp.pages.tasks import table_form
from webapp.pages.tasks.estimate_fields import assumed_words, is_certain
from webapp.pages.tasks.table_filter import (
    NO_SUBSYSTEM,
    ROWS_AT_ONCE,
    TableFilter,
    TablePage,
    is_unseen,
)
from webapp.pages.tasks.views import state_words
from webapp.pages.words import amounts as words
from webapp.pages.words.own_lists import from_where

RANGE_FIELDS = ("well", "likely", "fights", "certain", "setup", "stations")
"""Where one of these is wrong the whole range is shown: it may be out of order."""
_FOLDED = tuple(stem for stem in RANGE_FIELDS if stem != "likely")


@dataclass(frozen=True, slots=True, kw_only=True)
class TableRow:
    """One task. `facts` say its state and day, `range` its hours beside the likely ones.

    `well` and `fights` stand in grey where a range is assumed; `carried` is what the row was shown
    with; `is_wide` opens the range, for a fault stands in it.
    """

    number: int
    key: str
    name: str
    address: str
    facts: str
    hours: str
    range: str
    subsystem: str
    well: str
    fights: str
    carried: str
    is_open: bool
    is_outside: bool
    is_wide: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class TableView:
    """The table: what it counts, its rows, the numbers of blank ones, where to turn over."""

    counts: str
    firm: str
    shown: str
    rows: tuple[TableRow, ...]
    new_rows: tuple[int, ...]
    wide_new: tuple[int, ...]
    at_once: int
    subsystems: tuple[tuple[str, str], ...]
    kinds: tuple[tuple[str, str], ...]
    names: tuple[tuple[str, str], ...]
    setup_names: tuple[tuple[str, str], ...]
    station_names: tuple[tuple[str, str], ...]
    asked: TableFilter
    here: str
    before: str
    after: str
    all: str


def table_view(
    page: PageContext, form: TypedForm, asked: TableFilter, turned: TablePage
) -> TableView:
    """The table as the form has it."""
    build = page.build
    rows, planned = table_form.rows_of(form, build), _planned(page)
    unseen = sum(is_unseen(task) for task in build.tasks)
    return TableView(
        counts=counts_words(build),
        at_once=ROWS_AT_ONCE,
        firm=page.frame.firm or "",
        shown=_shown_words(turned, len(rows), asked),
        rows=tuple(row_of(page, form, number, task, planned) for number, task in rows.items()),
        new_rows=form.row_numbers("name"),
        wide_new=tuple(row for row in form.row_numbers("name") if _is_wide(form, row, _FOLDED)),
        subsystems=_subsystem_choices(build),
        kinds=(
            ("", "all tasks"),
            ("unseen", f"hours not yet looked at ({unseen})"),
            ("open", "open"),
            ("shut", "finished or set aside"),
        ),
        names=tuple((each.key, each.name) for each in subsystems_offered(build)),
        setup_names=PickList.of("setup", build.shop.setups).labels,
        station_names=PickList.of("station", build.shop.stations).labels,
        asked=asked,
        here=addresses.tasks_shown(page.slug, **asked.fields),
        before=_turn(page, turned.before),
        after=_turn(page, turned.after),
        all=addresses.tasks_shown(page.slug),
    )


def _turn(page: PageContext, asked: TableFilter | None) -> str:
    return "" if asked is None else addresses.tasks_shown(page.slug, **asked.fields)


def _subsystem_choices(build: BuildInput) -> tuple[tuple[str, str], ...]:
    ranked = sorted(build.subsystems, key=lambda each: each.order)
    return (
        ("", "all subsystems"),
        *((each.key, each.name) for each in ranked),
        (NO_SUBSYSTEM, "no subsystem"),
    )


def _shown_words(turned: TablePage, rows: int, asked: TableFilter) -> str:
    if not turned.of:
        return "No task is like this." if asked.asks else ""
    if turned.of == rows:
        return words.count(rows, "task") if asked.asks else ""
    last = turned.first + rows - 1
    return f"{turned.first} to {last} of {words.count(turned.of, 'task')}"


def counts_words(build: BuildInput) -> str:
    """How many tasks there are, in which state, and the likely hours of the open ones."""
    finished = sum(task.finished_on is not None for task in build.tasks)
    aside = sum(task.set_aside_on is not None for task in build.tasks)
    begun = sum(task.is_open and task.begun_on is not None for task in build.tasks)
    counted = ((begun, "begun"), (finished, "finished"), (aside, "set aside"))
    still_open = len(build.tasks) - finished - aside
    pieces = [f"{still_open} open", *(f"{number} {word}" for number, word in counted if number)]
    return f"{words.count(len(build.tasks), 'task')}: {', '.join(pieces)}"


def row_of(
    page: PageContext, form: TypedForm, number: int, task: Task, planned: Mapping[str, dt.datetime]
) -> TableRow:
    """One row, as the form has it."""
    build = page.build
    assumed = assumed_words(task, shares_of_kind(build, task.setup))
    return TableRow(
        number=number,
        key=task.key,
        name=task.name,
        address=addresses.task(page.slug, task.key),
        facts=_facts(page, task, planned),
        hours=_shut_hours(build, task),
        range=range_words(task),
        subsystem=task.subsystem or "",
        well=assumed.well,
        fights=assumed.fights,
        carried=table_form.row_carried(form, number),
        is_open=task.is_open,
        is_outside=task.outside_days is not None,
        is_wide=_is_wide(form, number, RANGE_FIELDS),
    )


def _is_wide(form: TypedForm, number: int, stems: tuple[str, ...]) -> bool:
    return any(form.faults_at(f"{stem}-{number}") for stem in stems)


def _facts(page: PageContext, task: Task, planned: Mapping[str, dt.datetime]) -> str:
    """Its state, what is left of it, its day, and whether its hours are a guess."""
    today = page.today
    told = [] if state_words(task, today) == "open" else [state_words(task, today)]
    if task.is_open and task.begun_on is not None and task.outside_days is None:
        told.append(f"{words.worked(hours_to_go_of(page.build, task))} left")
    begins = planned.get(task.key)
    if begins is not None and task.is_open and task.begun_on is None:
        told.append(f"planned {words.short_day(begins, today=today)}")
    if is_unseen(task):
        told.append(from_where(task))
    return ", ".join(told)


def _planned(page: PageContext) -> Mapping[str, dt.datetime]:
    return {task.key: task.begins for task in page.plan.tasks} if page.plan else {}


def range_words(task: Task) -> str:
    """The hours beside the likely ones: "2 to 6 h", "2.25 to 6 h, assumed", "certain"."""
    if task.outside_days is not None:
        return ""
    if is_certain(task):
        return "certain"
    hours = task.hours
    text = f"{words.number(hours.optimistic)} to {words.hours(hours.pessimistic)}"
    return f"{text}, assumed" if task.spread_assumed else text


def _shut_hours(build: BuildInput, task: Task) -> str:
    """What a task that is not open took, or was to take."""
    if task.is_open:
        return ""
    logged = sum(entry.hours for entry in build.log if entry.task == task.key)
    return f"{words.worked(logged)} worked" if logged else words.hours(task.hours.expected)
