"""Rows of tasks: read as quick entry reads them, with what stands in no field of it."""

from collections.abc import Mapping
from dataclasses import replace

from webapp.build.build_input import BuildInput, Fault, Part, Task
from webapp.build.edited import Edited
from webapp.build.folded_name import folded_name
from webapp.build.limits import (
    MOST_DAYS_AWAY,
    MOST_PEOPLE,
    MOST_SPACE_LITRES,
    MOST_TEXT_CHARACTERS,
)
from webapp.exchange.csv_cells import split_names
from webapp.pages.forms.new_things import MAKE
from webapp.pages.forms.picking import new_key
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.lists.kinds import Made, SentList, number_of
from webapp.pages.lists.rows import ticked
from webapp.pages.tasks import quick_entry
from webapp.pages.tasks.named_things import NamedThings
from webapp.pages.tasks.quick_entry import EnteredRow

_ENTERED = (
    *("key", "name", "likely", "well", "fights"),
    *("subsystem", "setup", "stations", "before", "wait"),
)
"""What quick entry reads of a row."""
Said = Mapping[int, Mapping[str, str]]
"""What the rows say, by their numbers."""


def take_tasks(form: TypedForm, sent: SentList, build: BuildInput) -> Edited[Made]:
    """Enter every row as a task; what rows name and nothing has yet is offered to be made."""
    said = {number_of(line): sent.cells(line) for line in sent.lines}
    rows = _as_rows(form, said)
    named = NamedThings.of(rows, build)
    edited = quick_entry.read_rows(rows, build, named)
    named.offer(rows)
    for fault in rows.faults:
        form.fault(_line_of(fault.field), fault.text)
    form.offers = rows.offers
    more = {row.task.key: _with_more(form, row, said[row.number]) for row in edited.made}
    tasks = tuple(more.get(task.key, task) for task in edited.build.tasks)
    after = _with_parts(replace(edited.build, tasks=tasks), edited.made, said)
    made = tuple((row.number, row.task.key) for row in edited.made)
    return Edited(build=named.added_to(after), made=made)


def place_of_task_fault(made: Made, fault: Fault) -> str:
    """The row that a fault of the build belongs to: of its task, or of either end of a link."""
    number_of_key = {key: number for number, key in made}
    before, arrow, after = fault.key.partition(" -> ")
    keys = (after, before) if fault.kind == "dependency" and arrow else (fault.key,)
    if fault.kind not in ("task", "dependency"):
        return ""
    number = next((number_of_key[key] for key in keys if key in number_of_key), None)
    return "" if number is None else f"line-{number}"


def _line_of(field: str) -> str:
    row = field.rpartition("-")[2]
    return f"line-{row}" if row.isdecimal() and not field.startswith(MAKE) else ""


def _as_rows(form: TypedForm, said: Said) -> TypedForm:
    """The list as rows of tasks that are entered, with what was ticked to be made."""
    values = {name: given for name, given in form.values.items() if name.startswith(MAKE)}
    for number, cells in said.items():
        values[f"needed-{number}"] = ("on",)
        for field in _ENTERED:
            values[f"{field}-{number}"] = (cells.get(field, ""),)
    return TypedForm(values)


def _with_more(form: TypedForm, row: EnteredRow, said: Mapping[str, str]) -> Task:
    """A task with what its row says beside what quick entry reads."""
    cells, name = TypedForm({field: [text] for field, text in said.items()}), row.task.name
    people = cells.whole("people", f"{name}, people", at_least=0, at_most=MOST_PEOPLE, default=1)
    limit = MOST_TEXT_CHARACTERS
    task = replace(
        row.task,
        people=1 if people is None else people,
        helper=ticked(cells, "helper", f"{name}, with the helper"),
        in_one_go=ticked(cells, "in_one_go", f"{name}, in one go"),
        outside_days=cells.decimal("outside_days", f"{name}, days", at_most=MOST_DAYS_AWAY),
        space_litres=cells.decimal("space", f"{name}, litres", at_most=MOST_SPACE_LITRES) or 0.0,
        caution=cells.long_text("caution", f"{name}: its caution", limit=limit),
        notes=cells.long_text("notes", f"{name}: its notes", limit=limit),
    )
    for fault in cells.faults:
        form.fault(f"line-{row.number}", fault.text)
    return task


def _with_parts(build: BuildInput, rows: tuple[EnteredRow, ...], said: Said) -> BuildInput:
    """The build with the parts that rows name, semicolons between: known ones, else made ones."""
    parts = {part.key: part for part in build.parts}
    known = {folded_name(part.name): part.key for part in reversed(build.parts)}
    for row in rows:
        for typed in split_names(said[row.number].get("parts", "")):
            name = " ".join(typed.split())
            if folded_name(name) not in known:
                key = new_key(name, parts)
                known[folded_name(name)] = key
                parts[key] = Part(key=key, name=name)
            part = parts[known[folded_name(name)]]
            if row.task.key not in part.serves:
                parts[part.key] = replace(part, serves=(*part.serves, row.task.key))
    return replace(build, parts=tuple(parts.values()))
