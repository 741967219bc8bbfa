"""A list as it is looked at before it is taken: its columns, its rows, what is wrong with each."""

from dataclasses import dataclass

from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.lists.kinds import SentList, number_of
from webapp.pages.lists.rows import QUESTIONS
from webapp.pages.words import amounts as words

SHOWN_ROWS = 50
"""So many rows are shown; those with a fault come first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ListRow:
    """One row: its number in the form, its line in the text, its cells, its faults."""

    number: int
    line: int
    cells: tuple[str, ...]
    faults: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ListView:
    """The list: how much it is, what its columns can be, the rows that are shown."""

    counts: str
    has_head: bool
    looked: str
    columns: tuple[str, ...]
    heads: tuple[str, ...]
    choices: tuple[tuple[str, str], ...]
    rows: tuple[ListRow, ...]
    taken: str
    asks: tuple[str, ...]
    """The questions that are asked below it, and those that were answered."""


def list_view(form: TypedForm, sent: SentList) -> ListView:
    """The list as it was read."""
    width = sent.table.width
    rows = [
        ListRow(
            number=number_of(line),
            line=line.number,
            cells=(*line.cells, *([""] * (width - len(line.cells)))),
            faults=form.faults_at(f"line-{number_of(line)}"),
        )
        for line in sent.lines
    ]
    shown = sorted(rows, key=lambda row: not row.faults)[:SHOWN_ROWS]
    first = sent.table.lines[0].cells if sent.table.lines and sent.has_head else ()
    more = f", {len(shown)} of them shown" if len(shown) < len(rows) else ""
    return ListView(
        counts=f"{words.count(len(rows), 'row')}{more}.",
        has_head=sent.has_head,
        looked=sent.looked,
        columns=sent.columns,
        heads=tuple(
            first[n] if n < len(first) and first[n] else f"Column {n + 1}" for n in range(width)
        ),
        choices=(("", "leave out"), *sent.kind.columns.said.items()),
        rows=tuple(sorted(shown, key=lambda row: row.line)),
        taken=words.count(len(rows), sent.kind.one, sent.kind.many),
        asks=tuple(field for field in QUESTIONS if _is_asked(form, field)),
    )


def _is_asked(form: TypedForm, field: str) -> bool:
    return bool(form.faults_at(field) or form.typed(field))
