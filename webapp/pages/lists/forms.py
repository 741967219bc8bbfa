"""A list as it was sent, its columns, and the edit that takes all its rows or none."""

from webapp.build.build_input import BuildInput
from webapp.build.edited import Edited
from webapp.exchange.delimited_text import read_table
from webapp.exchange.list_columns import (
    LOG_COLUMNS,
    PART_COLUMNS,
    TASK_COLUMNS,
    WISH_COLUMNS,
    columns_without_head,
    guessed_columns,
    is_head,
)
from webapp.pages import addresses
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.lists.kinds import ListKind, Made, SentList, place_of
from webapp.pages.lists.rows import take_log, take_parts, take_wishes
from webapp.pages.lists.task_rows import place_of_task_fault, take_tasks

LOOKED = "looked"
"""The hidden field that says which first row the columns were assigned for."""
TASKS = ListKind(
    name="tasks",
    one="task",
    many="tasks",
    columns=TASK_COLUMNS,
    takes=take_tasks,
    place=place_of_task_fault,
    page=addresses.tasks,
)
KINDS = (
    TASKS,
    ListKind(
        name="parts",
        one="part",
        many="parts",
        columns=PART_COLUMNS,
        takes=take_parts,
        place=place_of("part"),
        page=addresses.parts,
    ),
    ListKind(
        name="log",
        one="entry of the time log",
        many="entries of the time log",
        columns=LOG_COLUMNS,
        takes=take_log,
        place=place_of("log"),
        page=addresses.log,
    ),
    ListKind(
        name="wishes",
        one="wish",
        many="wishes",
        columns=WISH_COLUMNS,
        takes=take_wishes,
        place=place_of("wish"),
        page=addresses.wishes,
    ),
)


def kind_called(name: str) -> ListKind:
    """The kind of list of a name; of tasks where there is none."""
    return next((kind for kind in KINDS if kind.name == name), TASKS)


def sent_list(form: TypedForm, text: str, kind: ListKind = TASKS) -> SentList:
    """The list in a text; columns as assigned, or guessed where its first row is another one."""
    table, known = read_table(text), kind.columns
    first = table.lines[0].cells if table.lines else ()
    looked = "|".join(first)[:200]
    is_looked_at = form.typed(LOOKED) == looked
    has_head = form.ticked("head") if is_looked_at else is_head(first, known)
    if is_looked_at and looked:
        columns = tuple(
            field if (field := form.typed(f"column-{number}")) in known.said else ""
            for number in range(table.width)
        )
    elif has_head:
        columns = guessed_columns(first, known)
        columns += ("",) * (table.width - len(columns))
    else:
        columns = columns_without_head([line.cells for line in table.lines], table.width, known)
    return SentList(kind=kind, table=table, columns=columns, has_head=has_head, looked=looked)


def faults_of_columns(sent: SentList) -> tuple[str, ...]:
    """Sentences about the columns as assigned."""
    if sent.table.fault:
        return (sent.table.fault,)
    known = sent.kind.columns
    said = [
        f"No column is the {known.said[field]}. Assign one."
        for field in known.needed
        if field not in sent.columns
    ]
    said += [
        f"Two columns are the {words}. Assign one of them otherwise."
        for field, words in known.said.items()
        if sent.columns.count(field) > 1
    ]
    if not sent.lines:
        said.append("The list has a head row and nothing below it.")
    return tuple(said)


def take_list(sent: SentList) -> FormEdit[Made]:
    """The edit that enters every row; every fault is told with the line of its row."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[Made]:
        for text in faults_of_columns(sent):
            form.fault("", text)
        if form.faults:
            return Edited(build=build, made=())
        return sent.kind.takes(form, sent, build)

    return edit
