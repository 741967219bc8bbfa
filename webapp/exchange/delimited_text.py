"""A list from a spreadsheet as text: rows of cells, whatever stands between them (RFC 4180)."""

import codecs
import csv
import io
from collections import Counter
from dataclasses import dataclass

from webapp.build.limits import MOST_LIST_BYTES, MOST_LIST_ROWS, MOST_TEXT_CHARACTERS

DELIMITERS = ("\t", ";", ",")
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
        return DelimitedTable(fault="There is no list. Paste one, or choose a file.")
    tables = [(delimiter, _rows(text, delimiter)) for delimiter in DELIMITERS]
    readable = [(delimiter, rows) for delimiter, rows in tables if isinstance(rows, list)]
    if not readable:
        return DelimitedTable(fault=str(tables[0][1]))
    _, lines = max(readable, key=lambda each: _agreement(each[1]))
    if len(lines) > MOST_LIST_ROWS + 1:
        return DelimitedTable(
            fault=f"The list has {len(lines):,} rows, and {MOST_LIST_ROWS:,} at once is the most. "
            "Take it in pieces; nothing was taken."
        )
    return DelimitedTable(lines=tuple(lines))


def _too_long(size: int) -> str:
    return (
        f"The list is too long: {size / 1e6:,.1f} MB, and {MOST_LIST_BYTES / 1e6:,.0f} MB is the "
        "most. Take it in pieces; nothing was taken."
    )


def _rows(text: str, delimiter: str) -> list[Line] | str:
    """The rows that say anything, or a sentence about what keeps them from being read."""
    csv.field_size_limit(MOST_LIST_BYTES)
    for strict in (True, False):
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=strict)
        lines = []
        try:
            for cells in reader:
                if any(cell.strip() for cell in cells):
                    kept = tuple(cell.strip()[: MOST_TEXT_CHARACTERS + 1] for cell in cells)
                    lines.append(Line(number=reader.line_num, cells=kept))
        except csv.Error as error:
            if "unexpected end" in str(error):
                opened = lines[-1].number + 1 if lines else 1
                return (
                    f"A quote that is opened in line {opened} or after it is never closed. "
                    "Close it, or take it out."
                )
            continue  # a quote in the middle of a cell: read as it stands
        return lines
    return (
        "The list can not be read as rows of cells. Save it as CSV once more, or paste its cells."
    )


def _agreement(lines: list[Line]) -> tuple[float, int]:
    """How far rows agree on a number of cells above one, and that number."""
    widths = Counter(len(line.cells) for line in lines[:_LOOKED_AT] if len(line.cells) > 1)
    if not widths:
        return 0.0, 0
    width, times = widths.most_common(1)[0]
    return times / min(len(lines), _LOOKED_AT), width
