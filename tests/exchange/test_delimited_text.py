"""Lists as text: what stands between cells, quotes, codings, and what can not be read."""

import tracemalloc

import pytest

from webapp.build.limits import MOST_LIST_BYTES, MOST_LIST_ROWS
from webapp.exchange.delimited_text import decoded, read_table


def cells(text: str) -> list[tuple[str, ...]]:
    table = read_table(text)
    assert table.fault == ""
    return [line.cells for line in table.lines]


@pytest.mark.parametrize("between", [",", ";", "\t"])
def test_whatever_stands_between_cells_is_found(between: str) -> None:
    rows = [("Task", "Hours", "Notes"), ("Bleed, then fill", "2", "a; b"), ("Cap\tit", "1.5", "")]
    text = "\r\n".join(between.join(f'"{cell}"' for cell in row) for row in rows)
    assert cells(text) == rows


def test_decimal_commas_do_not_part_cells_that_semicolons_part() -> None:
    # by commas there are 2 cells in rows two and three alone, by semicolons 2 in all of them
    assert cells("Task;Hours\nBleed;2,5\nCap;1,5") == [
        ("Task", "Hours"),
        ("Bleed", "2,5"),
        ("Cap", "1,5"),
    ]


def test_quotes_may_hold_line_ends_and_doubled_quotes() -> None:
    # RFC 4180, rules 6 and 7
    table = read_table('Name,Notes\nBend,"2 inch\n""long"" radius"\n\n,\nCap,x')
    assert [(line.number, line.cells) for line in table.lines] == [
        (1, ("Name", "Notes")),
        (3, ("Bend", '2 inch\n"long" radius')),
        (6, ("Cap", "x")),
    ]


def test_rows_may_be_ragged_and_a_quote_may_stand_inside_a_cell() -> None:
    table = read_table('Name,Hours\nTube 2",3,x,y\nCap')
    assert [line.cells for line in table.lines][1:] == [('Tube 2"', "3", "x", "y"), ("Cap",)]
    assert table.width == 4


def test_a_quote_that_is_never_closed_is_told_and_swallows_nothing() -> None:
    table = read_table('Name,Hours\nBend,2\n"Cap,3\nFit,4')
    assert table.fault.startswith("A quote that is opened in line 3 or after it is never closed.")
    assert table.lines == ()


def test_one_column_and_nothing_are_read() -> None:
    assert cells("Bend\nCap") == [("Bend",), ("Cap",)]
    assert read_table(" \r\n\t").fault.startswith("There is no list.")


def test_too_many_rows_and_too_long_a_text_name_the_limit() -> None:
    rows = "\n".join(f"Task {i},1" for i in range(10_000))
    assert "10,000 rows, and 2,000 is the most, for a build holds so many" in read_table(rows).fault
    assert read_table("x" * (MOST_LIST_BYTES + 1)).fault.startswith("The list is too long: 2.0 MB")
    fits = "Name,Hours\n" + "\n".join(f"Task {i},1" for i in range(MOST_LIST_ROWS))
    assert len(read_table(fits).lines) == MOST_LIST_ROWS + 1


def test_a_row_of_a_million_cells_is_told_and_empty_quotes_are_no_list() -> None:
    wide = read_table("Bend,1\n" + "," * 999_999 + "x")
    assert wide.fault.startswith("Line 2 has 1,000,000 cells, and 100 is the most.")
    assert wide.lines == ()
    assert read_table('""\n""\n').fault.startswith("There is no list.")


def test_a_list_far_too_long_is_counted_and_not_kept() -> None:
    text = "a\tb\n" * 30_000
    tracemalloc.start()
    try:
        assert read_table(text).fault.startswith("The list has 30,000 rows")
        _, most = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert most < 3_000_000  # three readings of 2,001 rows of some 250 bytes; all would be 22 MB


@pytest.mark.parametrize("coding", ["utf-8", "utf-8-sig", "utf-16", "latin-1", "cp1252"])
def test_a_file_is_read_in_the_coding_it_has(coding: str) -> None:
    assert decoded("Kühler löten;2½".encode(coding)) == ("Kühler löten;2½", "")


def test_a_file_that_is_no_text_or_too_large_is_told() -> None:
    text, why = decoded(b"PK\x03\x04\0\0\0")
    assert text == ""
    assert why.startswith("The file is no text: a spreadsheet's own format")
    assert "3.0 MB, and 2 MB is the most" in decoded(b"x" * 3_000_000)[1]
