"""A list from a spreadsheet as text: rows of cells, whatever stands between them (RFC 4180)."""

import codecs
import csv
import io
from collections import Counter
from dataclasses import dataclass

from webapp.build.limits import (
    MOST_LIST_BYTES,
    MOST_LIST_COLUMNS,
    MOST_LIST_ROWS,
    MOST_TEXT_CHARACTERS,
)

DELIMITERS = ("\t", ";", ",")
NO_LIST = "There is no list. Paste one, or choose a file."
_LOOKED_AT = 50
"""So many rows say what stands between cells."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One row that says anything: the number of its last line in the text, and its cells."""

    number: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DelimitedTable:
    """The rows of a list, blank ones left out, and why it can not be read ("" where it can)."""

    lines: tuple[Line, ...] = ()
    fault: str = ""

    @property
    def width(self) -> int:
        """The cells of the longest row: shorter ones end early."""
        return max((len(line.cells) for line in self.lines), default=0)


def decoded(data: bytes) -> tuple[str, str]:
    """The text of a file, and why it is none ("" where it is): UTF-8, UTF-16 or Latin-1."""
    if len(data) > MOST_LIST_BYTES:
        return "", _too_long(len(data))
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return data.decode("utf-16", "replace"), ""
    if b"\0" in data:
        return "", (
            "The file is no text: a spreadsheet's own format can not be read. "
            "Save the sheet as CSV, or copy its cells and paste them."
        )
    try:
        return data.decode("utf-8-sig"), ""
    except UnicodeDecodeError:
        try:
            return data.decode("cp1252"), ""
        except UnicodeDecodeError:
            return data.decode("latin-1"), ""


def read_table(text: str) -> DelimitedTable:
    """The rows of a text, or one sentence why it has none that can be read."""
    if len(text) > MOST_LIST_BYTES:
        return DelimitedTable(fault=_too_long(len(text)))
    text = text.removeprefix("\ufeff")
    if not text.strip():
        return DelimitedTable(fault=NO_LIST)
    tables = [_rows(text, delimiter) for delimiter in DELIMITERS]
    readable = [table for table in tables if isinstance(table, _Rows)]
    if not readable:
        return DelimitedTable(fault=str(tables[0]))
    rows = max(readable, key=_agreement)
    if not rows.lines:
        return DelimitedTable(fault=NO_LIST)
    fault = _too_many(rows)
    return DelimitedTable(fault=fault) if fault else DelimitedTable(lines=tuple(rows.lines))


def _too_many(rows: "_Rows") -> str:
    if rows.count > MOST_LIST_ROWS + 1:
        return (
            f"The list has {rows.count:,} rows, and {MOST_LIST_ROWS:,} is the most, for a build "
            "holds so many tasks. Nothing was taken. Leave rows out, or draw small tasks together "
            "into one."
        )
    widest = max(rows.lines, key=lambda line: len(line.cells))
    if len(widest.cells) > MOST_LIST_COLUMNS:
        return (
            f"Line {widest.number} has {len(widest.cells):,} cells, and {MOST_LIST_COLUMNS} is the "
            "most. Nothing was taken. Leave out the columns that say nothing about a task."
        )
    return ""


def _too_long(size: int) -> str:
    return (
        f"The list is too long: {size / 1e6:,.1f} MB, and {MOST_LIST_BYTES / 1e6:,.0f} MB is the "
        "most. Take it in pieces; nothing was taken."
    )


@dataclass(slots=True)
class _Rows:
    """The rows that say anything: how many, and as many of them as a list may have."""

    lines: list[Line]
    count: int = 0

    def add(self, number: int, cells: list[str]) -> None:
        self.count += 1
        if self.count <= MOST_LIST_ROWS + 1:
            kept = tuple(cell.strip()[: MOST_TEXT_CHARACTERS + 1] for cell in cells)
            self.lines.append(Line(number=number, cells=kept))


def _rows(text: str, delimiter: str) -> _Rows | str:
    """The rows that say anything, or a sentence about what keeps them from being read."""
    csv.field_size_limit(MOST_LIST_BYTES)
    for strict in (True, False):
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=strict)
        rows, last = _Rows([]), 0
        try:
            for cells in reader:
                if any(cell.strip() for cell in cells):
                    rows.add(reader.line_num, cells)
                    last = reader.line_num
        except csv.Error as error:
            if "unexpected end" in str(error):
                return (
                    f"A quote that is opened in line {last + 1} or after it is never closed. "
                    "Close it, or take it out."
                )
            continue  # a quote in the middle of a cell: read as it stands
        return rows
    return (
        "The list can not be read as rows of cells. Save it as CSV once more, or paste its cells."
    )


def _agreement(rows: _Rows) -> tuple[float, int]:
    """How far rows agree on a number of cells above one, and that number."""
    widths = Counter(len(line.cells) for line in rows.lines[:_LOOKED_AT] if len(line.cells) > 1)
    if not widths:
        return 0.0, 0
    width, times = widths.most_common(1)[0]
    return times / min(len(rows.lines), _LOOKED_AT), width
