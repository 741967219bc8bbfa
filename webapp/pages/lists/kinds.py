"""The kinds of lists that can be pasted: what their columns say, and how their rows are taken."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from webapp.build.build_input import BuildInput, Fault
from webapp.build.edited import Edited
from webapp.exchange.csv_cells import unguarded
from webapp.exchange.delimited_text import DelimitedTable, Line
from webapp.exchange.list_columns import Columns
from webapp.pages.forms.typed_form import TypedForm

Made = tuple[tuple[int, str], ...]
"""The rows that were taken: the number of each, and the key of what was made of it."""
Takes = Callable[[TypedForm, "SentList", BuildInput], Edited[Made]]
PlaceOfFault = Callable[[Made, Fault], str]


@dataclass(frozen=True, slots=True, kw_only=True)
class ListKind:
    """One kind of list: `name` in the address, `one` and `many` its nouns, `page` where it is.

    `takes` enters every row into a build; its faults stand at the lines of the form.
    """

    name: str
    one: str
    many: str
    columns: Columns
    takes: Takes
    place: PlaceOfFault
    page: Callable[[str], str]


@dataclass(frozen=True, slots=True, kw_only=True)
class SentList:
    """A list with what its columns say; `lines` are without the head row."""

    kind: ListKind
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
        return {field: unguarded(cell) for field, cell in pairs if field}


def number_of(line: Line) -> int:
    """The number of a row in the form: row N is about line N + 1 of the text."""
    return line.number - 1


def place_of(kind: str) -> PlaceOfFault:
    """Where a fault of the build belongs: to the row of the thing that it is about."""

    def place(made: Made, fault: Fault) -> str:
        number = next((row for row, key in made if key == fault.key), None)
        return f"line-{number}" if fault.kind == kind and number is not None else ""

    return place
