"""Cells of a CSV file (RFC 4180): guarded against being taken for formulas, and lists within one.

A spreadsheet works out a cell of text that begins with one of these signs. Such a cell gets an
apostrophe before it, and so does one that begins with apostrophes and such a sign; of what comes
in, one apostrophe is taken off again in just these cases. So every text comes back unharmed.
"""

import csv
import io
import re
from collections.abc import Iterable

MEDIA_TYPE = "text/csv; charset=utf-8; header=present"
_WORKED_OUT = re.compile(r"'*[=+\-@\t\r\uff0b\uff0d\uff1d\uff20]")
"""Also the broad forms of the signs, which some spreadsheets take for the same."""


def guarded(text: str) -> str:
    """The text as a cell that no spreadsheet works out."""
    return f"'{text}" if _WORKED_OUT.match(text) else text


def unguarded(cell: str) -> str:
    """The text that a cell was made of; one that was never guarded stays as it is."""
    return cell[1:] if cell.startswith("'") and _WORKED_OUT.match(cell) else cell


def joined_names(names: Iterable[str]) -> str:
    """Several names in one cell, semicolons between; one that holds such a sign is in quotes."""
    listed = [
        '"{}"'.format(name.replace('"', '""')) if re.search(r'[;"\n]', name) else name
        for name in names
    ]
    return "; ".join(listed)


def split_names(text: str) -> tuple[str, ...]:
    """The names in a cell, blank ones left out."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=";", skipinitialspace=True)
    try:
        found = [name.strip() for row in reader for name in row]
    except csv.Error:
        found = [name.strip() for name in text.split(";")]
    return tuple(name for name in found if name)


def write_csv(head: Iterable[str], rows: Iterable[Iterable[str | float | None]]) -> str:
    """Rows as CSV by RFC 4180: lines end with CR LF, quotes stand where they must.

    A text is guarded; a number is written as one, so that a spreadsheet reckons with it.
    """
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow([guarded(name) for name in head])
    writer.writerows([_cell(value) for value in row] for row in rows)
    return text.getvalue()


def number_text(number: float) -> str:
    """A number without needless digits: "2.5", "3"."""
    text = f"{number:.10f}".rstrip("0").rstrip(".")
    return "0" if text in ("", "-0") else text


def _cell(value: str | float | None) -> str:
    if value is None:
        return ""
    return guarded(value) if isinstance(value, str) else number_text(value)
