"""A list as it was sent, its columns, and the edit that takes all its rows or none."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from webapp.build.build_input import BuildInput, Fault, Part
from webapp.build.edited import Edited
from webapp.build.folded_name import folded_name
from webapp.build.limits import MOST_TEXT_CHARACTERS
from webapp.exchange.delimited_text import DelimitedTable, Line, read_table
from webapp.exchange.list_columns import (
    TASK_COLUMNS,
    columns_without_head,
    guessed_columns,
    is_head,
)
from webapp.pages.forms.new_things import MAKE
from webapp.pages.forms.picking import new_key
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.tasks import quick_entry
from webapp.pages.tasks.named_things import NamedThings
from webapp.pages.tasks.quick_entry import EnteredRow

LOOKED = "looked"
"""The hidden field that says which first row the columns were assigned for."""
_TEXTS = ("caution", "notes")


@dataclass(frozen=True, slots=True, kw_only=True)
class SentList:
    """A list with what its columns say; `lines` are without the head row."""

    table: DelimitedTable
    columns: tuple[str, ...]
    has_head: bool
    looked: str

    @property
    def lines(self) -> tuple[Line, ...]:
        return self.table.lines[1:] if self.has_head else self.table.lines

    def cells(self, line: Line) -> Mapping[str, str]:
        """What a row says, by field."""
        pairs = zip(self.columns, line.cells, strict=False)
        return {field: cell for field, cell in pairs if field}


def sent_list(form: TypedForm, text: str) -> SentList:
    """The list in a text; columns as assigned, or guessed where its first row is another one."""
    table = read_table(text)
    first = table.lines[0].cells if table.lines else ()
    looked = "|".join(first)[:200]
    has_head = form.ticked("head") if form.typed(LOOKED) == looked else is_head(first)
    if form.typed(LOOKED) == looked and looked:
        columns = tuple(
            field if (field := form.typed(f"column-{number}")) in TASK_COLUMNS else ""
            for number in range(table.width)
        )
    elif has_head:
        columns = guessed_columns(first)
        columns += ("",) * (table.width - len(columns))
    else:
        columns = columns_without_head([line.cells for line in table.lines], table.width)
    return SentList(table=table, columns=columns, has_head=has_head, looked=looked)


def faults_of_columns(sent: SentList) -> tuple[str, ...]:
    """Sentences about the columns as assigned."""
    if sent.table.fault:
        return (sent.table.fault,)
    said = []
    for field in ("name", "likely"):
        if field not in sent.columns:
            said.append(f"No column is the {TASK_COLUMNS[field]}. Assign one.")
    said += [
        f"Two columns are the {TASK_COLUMNS[field]}. Assign one of them otherwise."
        for field in TASK_COLUMNS
        if sent.columns.count(field) > 1
    ]
    if not sent.lines:
        said.append("The list has a head row and nothing below it.")
    return tuple(said)


def take_list(sent: SentList) -> FormEdit[tuple[EnteredRow, ...]]:
    """The edit that enters every row as a task; every fault is told with the line of its row."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[tuple[EnteredRow, ...]]:
        for text in faults_of_columns(sent):
            form.fault("", text)
        if form.faults:
            return Edited(build=build, made=())
        rows = _as_rows(form, sent)
        named = NamedThings.of(rows, build)
        edited = quick_entry.read_rows(rows, build, named)
        named.offer(rows)
        for fault in rows.faults:
            form.fault(_line_of(fault.field), fault.text)
        form.offers = rows.offers
        after = _with_texts(form, sent, edited.build, edited.made)
        after = _with_parts(sent, after, edited.made)
        return Edited(build=named.added_to(after), made=edited.made)

    return edit


def place_of_fault(made: tuple[EnteredRow, ...], fault: Fault) -> str:
    """The row that a fault of the build belongs to."""
    return _line_of(quick_entry.place_of_fault(made, fault))


def _line_of(field: str) -> str:
    row = field.rpartition("-")[2]
    return f"line-{row}" if row.isdecimal() and not field.startswith(MAKE) else ""


def _as_rows(form: TypedForm, sent: SentList) -> TypedForm:
    """The list as rows of tasks that are entered: row N is about line N + 1 of the text."""
    values = {name: given for name, given in form.values.items() if name.startswith(MAKE)}
    for line in sent.lines:
        number, said = line.number - 1, sent.cells(line)
        values[f"name-{number}"] = (said.get("name", ""),)
        values[f"needed-{number}"] = ("on",)
        for field in ("likely", "well", "fights", "subsystem", "before", "wait"):
            values[f"{field}-{number}"] = (said.get(field, ""),)
    return TypedForm(values)


def _with_texts(
    form: TypedForm, sent: SentList, build: BuildInput, rows: tuple[EnteredRow, ...]
) -> BuildInput:
    """The build with the cautions and notes of the rows."""
    said = {line.number - 1: sent.cells(line) for line in sent.lines}
    texts: dict[str, Mapping[str, str]] = {}
    for row in rows:
        texts[row.task.key] = said[row.number]
        for field in _TEXTS:
            if len(said[row.number].get(field, "")) > MOST_TEXT_CHARACTERS:
                form.fault(
                    f"line-{row.number}",
                    f"{row.task.name}: its {field} have more than {MOST_TEXT_CHARACTERS:,} "
                    "characters. Shorten them.",
                )
    tasks = tuple(
        replace(
            task,
            caution=texts[task.key].get("caution", ""),
            notes=texts[task.key].get("notes", ""),
        )
        if task.key in texts
        else task
        for task in build.tasks
    )
    return replace(build, tasks=tasks)


def _with_parts(sent: SentList, build: BuildInput, rows: tuple[EnteredRow, ...]) -> BuildInput:
    """The build with the parts that rows name, semicolons between: known ones, else made ones."""
    said = {line.number - 1: sent.cells(line).get("parts", "") for line in sent.lines}
    parts = {part.key: part for part in build.parts}
    known = {folded_name(part.name): part.key for part in reversed(build.parts)}
    for row in rows:
        for typed in said[row.number].split(";"):
            name = " ".join(typed.split())
            if not name:
                continue
            if folded_name(name) not in known:
                key = new_key(name, parts)
                known[folded_name(name)] = key
                parts[key] = Part(key=key, name=name)
            part = parts[known[folded_name(name)]]
            if row.task.key not in part.serves:
                parts[part.key] = replace(part, serves=(*part.serves, row.task.key))
    return replace(build, parts=tuple(parts.values()))
