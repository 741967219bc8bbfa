"""Cells of a CSV file: no formula gets through, and every text comes back."""

import csv
import io
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.exchange.csv_cells import (
    guarded,
    joined_names,
    number_text,
    split_names,
    unguarded,
    write_csv,
)
from webapp.exchange.delimited_text import read_table

FORMULAS = (
    "=1+1",
    "+1",
    "-1",
    "@SUM(A1)",
    '=HYPERLINK("http://x","y")',
    "-2+3+cmd|' /C calc'!A0",
    "\t=1",
    "\r=1",
    "\uff1d1",
)


@pytest.mark.parametrize("text", FORMULAS)
def test_a_cell_that_begins_like_a_formula_begins_with_an_apostrophe(text: str) -> None:
    assert guarded(text) == "'" + text
    assert unguarded(guarded(text)) == text


@pytest.mark.parametrize("text", ["'=1", "''=1", "'plain", "''", "'", "", "a=b", "2-1", "'-"])
def test_apostrophes_of_the_text_itself_stay(text: str) -> None:
    assert unguarded(guarded(text)) == text


@given(st.text(alphabet="'=+-@ \t\ra1;\"") | st.text())
def test_every_text_comes_back_and_none_begins_like_a_formula(text: str) -> None:
    """CWE-1236: cells that begin with =, +, -, @, a tab or a carriage return."""
    cell = guarded(text)
    assert unguarded(cell) == text
    assert not re.match(r"[=+\-@\t\r]", cell)


@given(st.lists(st.text(alphabet="ab;\"' ,\n=", min_size=1).map(str.strip).filter(bool)))
def test_names_in_one_cell_come_back_one_by_one(names: list[str]) -> None:
    assert split_names(joined_names(names)) == tuple(names)


def test_names_that_a_person_types_are_split_at_semicolons() -> None:
    assert split_names("Tube 63 mm; clamps;;  Radiator ") == ("Tube 63 mm", "clamps", "Radiator")
    assert split_names('2" tube; clamps') == ('2" tube', "clamps")
    assert split_names("") == ()


def test_lines_end_with_crlf_and_numbers_are_no_texts() -> None:
    """RFC 4180, 2: each record on a line of its own, ended by CRLF; quotes are doubled."""
    text = write_csv(("a", "b"), [('he said "no", twice', -2.5), ("two\nlines", None)])
    assert text == 'a,b\r\n"he said ""no"", twice",-2.5\r\n"two\nlines",\r\n'


@given(st.lists(st.lists(st.text(), min_size=3, max_size=3), min_size=1, max_size=6))
def test_what_is_written_is_read_by_the_standard_reader(rows: list[list[str]]) -> None:
    text = write_csv(("a", "b", "c"), rows)
    read = list(csv.reader(io.StringIO(text, newline="")))
    assert [[unguarded(cell) for cell in row] for row in read[1:]] == rows


@pytest.mark.parametrize(
    ("number", "text"), [(3.0, "3"), (0.1, "0.1"), (-0.0, "0"), (1e6, "1000000")]
)
def test_numbers_have_no_needless_digits(number: float, text: str) -> None:
    assert number_text(number) == text


def test_a_table_full_of_semicolons_and_tabs_is_still_read_at_its_commas() -> None:
    rows = [(f"a;b;{i}", "x\ty\tz", "one;two;three\nfour;five;six") for i in range(9)]
    table = read_table(write_csv(("one", "two", "three"), rows))
    assert [line.cells for line in table.lines[1:]] == rows
