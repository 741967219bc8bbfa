"""The table of tasks as a form: hours and subsystem of many typed in place, and new ones below.

Row N is about the task named in `key-N` and carries what it showed in `shown-N`, so that each row
can be sent alone; a row with a `name-N` instead is a new task.
"""

import json
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from webapp.build.assumed_range import shares_of_kind
from webapp.build.build_input import BuildInput, Fault, Task
from webapp.build.edited import Edited
from webapp.build.limits import MOST_DAYS_AWAY
from webapp.pages.forms.carried import read_carried
from webapp.pages.forms.new_things import MAKE
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.settled_field import same
from webapp.pages.forms.shown import Shown
from webapp.pages.forms.typed_fields import CARRIED
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.tasks import quick_entry
from webapp.pages.tasks.estimate_fields import ESTIMATE_STEMS, estimate_shown, read_estimate
from webapp.pages.tasks.named_things import NamedThings, stations_text
from webapp.pages.tasks.quick_entry import EnteredRow
from webapp.pages.words.quoted import shown

NEW_ROWS = 2
STEMS = (*ESTIMATE_STEMS, "days", "subsystem", "setup", "stations")
"""The fields of a row that can be typed in."""
_ROW_CARRIED = re.compile(rf"{CARRIED}-([0-9]{{1,6}})")


# opened -------------------------------------------------------------------------------------
def table_shown(build: BuildInput, rows: Mapping[int, Task]) -> Shown:
    """The rows of tasks as they are opened; a task that is not open has no fields."""
    fields, picks = Shown(), PickList.of("subsystem", build.subsystems)
    setups = PickList.of("setup", build.shop.setups)
    for number, task in rows.items():
        if not task.is_open:
            continue
        name, suffix = shown(task.name), f"-{number}"
        if task.outside_days is None:
            estimate_shown(fields, task, suffix)
            for stem, words in zip(ESTIMATE_STEMS, _HOURS_WORDS, strict=True):
                fields.called(f"{name}, {words}", f"{stem}{suffix}")
        else:
            fields.number(f"days{suffix}", task.outside_days)
            fields.called(f"{name}, days outside", f"days{suffix}")
        label = picks.label(task.subsystem) if task.subsystem else ""
        fields.pick(f"subsystem{suffix}", task.subsystem, label)
        fields.called(f"{name}, subsystem", f"subsystem{suffix}")
        fields.pick(f"setup{suffix}", task.setup, setups.label(task.setup) if task.setup else "")
        fields.called(f"{name}, setup", f"setup{suffix}")
        fields.add(f"stations{suffix}", stations_text(build, task), task.stations)
        fields.called(f"{name}, stations", f"stations{suffix}")
    return fields


_HOURS_WORDS = (
    "hours if all goes well",
    "likely hours",
    "hours if it fights you",
    "whether the likely hours are certain",
)


def opened(build: BuildInput, tasks: Iterable[Task]) -> TypedForm:
    """The table's form as it is opened, with blank rows below."""
    rows = dict(enumerate(tasks))
    texts = dict(table_shown(build, rows).texts)
    texts |= {f"key-{number}": (task.key,) for number, task in rows.items()}
    return _with_new_rows(TypedForm(texts, carried=_carried(texts)), len(rows))


def _with_new_rows(form: TypedForm, first: int) -> TypedForm:
    blank = {f"name-{number}": ("",) for number in range(first, first + NEW_ROWS)}
    blank |= {f"needed-{number}": ("on",) for number in range(first, first + NEW_ROWS)}
    return TypedForm({**form.values, **blank}, carried=form.carried)


def _carried(texts: Mapping[str, tuple[str, ...]]) -> str:
    return json.dumps({name: given[-1] for name, given in texts.items() if given[-1]})


def row_carried(form: TypedForm, number: int) -> str:
    """What row N was shown with, as its own hidden field holds it."""
    was = read_carried(form.carried) or {}
    return json.dumps({name: was[name] for name in _names(number) if name in was})


def _names(number: int) -> tuple[str, ...]:
    return tuple(f"{stem}-{number}" for stem in STEMS)


# sent ---------------------------------------------------------------------------------------
def as_sent(sent: TypedForm, only: int | None = None) -> TypedForm:
    """The form as it was posted, its rows' carried texts put together; `only` row N of it."""
    values: dict[str, tuple[str, ...]] = {}
    was: dict[str, str] = {}
    for name, given in sent.values.items():
        row = re.search(r"-([0-9]{1,6})$", name)
        is_of_a_row = row is not None and not name.startswith(MAKE)
        if only is not None and is_of_a_row and row is not None and int(row[1]) != only:
            continue
        if _ROW_CARRIED.fullmatch(name):
            was |= read_carried(given[-1]) or {}
        else:
            values[name] = given
    return TypedForm(values, carried=json.dumps(was))


def rows_of(form: TypedForm, build: BuildInput) -> dict[int, Task]:
    """The tasks that the rows of a form are about and that are still there, by row."""
    found = {task.key: task for task in build.tasks}
    keys = {number: form.typed(f"key-{number}") for number in form.row_numbers("key")}
    return {number: found[key] for number, key in keys.items() if key in found}


def ticked_keys(form: TypedForm) -> tuple[str, ...]:
    """The tasks whose rows are ticked."""
    numbers = form.row_numbers("pick")
    return tuple(form.typed(f"key-{number}") for number in numbers if form.ticked(f"pick-{number}"))


def has_new_rows(form: TypedForm) -> bool:
    """Whether anything is typed into a row below."""
    typed = (form.typed(f"{f}-{n}") for n in form.row_numbers("name") for f in _TYPED)
    return any(text.strip() for text in typed)


_TYPED = ("name", "likely", "well", "fights", "subsystem", "setup", "stations")


# edited -------------------------------------------------------------------------------------
@dataclass(frozen=True, slots=True, kw_only=True)
class TableMade:
    """The rows whose tasks were changed, by number, and those entered."""

    rows: Mapping[int, Task]
    entered: tuple[EnteredRow, ...] = ()


def edit_table(*, confirms: bool = False) -> FormEdit[TableMade]:
    """The edit that writes what was changed in the table, row by row.

    confirms : the hours of the ticked rows are right as they stand
    """

    def edit(form: TypedForm, build: BuildInput) -> Edited[TableMade]:
        rows = rows_of(form, build)
        _note_lost(form, rows)
        form.settle(table_shown(build, rows))
        named = NamedThings.of(form, build)
        confirmed = frozenset(ticked_keys(form)) if confirms else frozenset()
        if confirms and not confirmed:
            form.fault("", "No task is ticked. Tick those whose hours are right.")
        changed = {
            number: _as_typed(form, build, number, task, named)
            for number, task in rows.items()
            if task.is_open
        }
        by_key = {
            task.key: replace(task, hours_guessed=False) if task.key in confirmed else task
            for task in changed.values()
        }
        tasks = tuple(by_key.get(task.key, task) for task in build.tasks)
        after = replace(build, tasks=tasks)
        entered: tuple[EnteredRow, ...] = ()
        if has_new_rows(form):
            edited = quick_entry.read_rows(form, after, named)
            after, entered = edited.build, edited.made
        named.offer(form)
        return Edited(
            build=named.added_to(after),
            made=TableMade(rows=changed, entered=entered),
        )

    return edit


def _note_lost(form: TypedForm, rows: Mapping[int, Task]) -> None:
    """What was typed for a task that is no longer there, or no longer open, is told, not lost."""
    for number in form.row_numbers("key"):
        task = rows.get(number)
        typed = [
            f"“{shown(form.typed(name))}”"
            for name in _names(number)
            if not same(form.typed(name), form.was_shown(name)) and form.typed(name).strip()
        ]
        if not typed or (task is not None and task.is_open):
            continue
        name = shown(task.name if task else form.typed(f"key-{number}"))
        gone = "finished or set aside" if task else "dropped"
        form.fault(
            "",
            f"“{name}” was {gone} elsewhere meanwhile, so {' and '.join(typed)}, typed for it here,"
            " is not written. Press once more to save the rest.",
        )


def _as_typed(
    form: TypedForm, build: BuildInput, number: int, task: Task, named: NamedThings
) -> Task:
    suffix, name = f"-{number}", shown(task.name)
    if any(not form.is_as_stored(f"{stem}{suffix}") for stem in ESTIMATE_STEMS):
        if task.outside_days is None:
            shares = shares_of_kind(build, task.setup)
            estimate = read_estimate(form, name, suffix, shares=shares, stored=task)
            task = replace(task, hours=estimate.hours, spread_assumed=estimate.spread_assumed)
        elif not form.is_as_stored(f"days{suffix}"):
            days = form.decimal(f"days{suffix}", f"{name}, days outside", at_most=MOST_DAYS_AWAY)
            if days is None and not form.faults_at(f"days{suffix}"):
                form.fault(
                    f"days{suffix}",
                    f"{name}: no days are typed. Type how many days it is away, or empty them on "
                    "its own page.",
                )
            task = replace(task, outside_days=days or 0.0)
    return replace(
        task,
        subsystem=named.subsystems.key_of(form, f"subsystem{suffix}"),
        setup=named.setups.key_of(form, f"setup{suffix}"),
        stations=named.stations_of(form, f"stations{suffix}", task),
    )


_STEM_OF_FAULT = {
    "outside_days": "days",
    "subsystem": "subsystem",
    "setup": "setup",
    "stations": "stations",
}


def place_of_fault(made: TableMade, fault: Fault) -> str:
    """Which field a fault of the build belongs to."""
    number_of = {task.key: number for number, task in made.rows.items()}
    if fault.kind == "task" and fault.key in number_of:
        stem = _STEM_OF_FAULT.get(fault.field, "likely")
        return f"{stem}-{number_of[fault.key]}"
    return quick_entry.place_of_fault(made.entered, fault)
