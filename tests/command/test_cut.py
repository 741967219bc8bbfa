"""The command `keyturn cut`, run as a person runs it."""

import json
from typing import Any

from tests.forked_command import keyturn


def document(**fields: Any) -> dict[str, Any]:
    """The example of the published document, with a leftover and a second length."""
    return {
        "format": "keyturn-cut",
        "version": 1,
        "kerf_mm": 3,
        "square_end": False,
        "stock": [
            {"name": "6 m tube", "length_mm": 6000, "price": 41.0, "count": None},
            {"name": "leftover", "length_mm": 500, "price": 0, "count": 1},
        ],
        "pieces": [
            {"name": "hot side 1", "length_mm": 412, "count": 1},
            {"name": "cold side", "length_mm": 2950, "count": 2},
        ],
        **fields,
    }


def test_the_answer_has_the_fields_that_are_published() -> None:
    """Two of 2950 and two cuts of 3 leave 94 of 6000; 412 and a cut leave 85 of the leftover."""
    done = keyturn("cut", "-", "--json", typed=json.dumps(document()))
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout) == {
        "price": 41,
        "bars": 2,
        "bound_price": 41,
        "proved_best": True,
        "cuts": [
            {"stock": "6 m tube", "pieces": ["cold side", "cold side"], "left_mm": 94},
            {"stock": "leftover", "pieces": ["hot side 1"], "left_mm": 85},
        ],
    }
    assert done.stderr == ""


def test_without_json_it_is_a_table() -> None:
    done = keyturn("cut", "-", "--seconds", "5", typed=json.dumps(document()))
    assert done.stdout.splitlines() == [
        "2 bars, price 41.00.",
        "The cheapest possible, and none as cheap takes fewer bars.",
        "Longest leftover: 94 mm.",
        "",
        "  1 x 6 m tube         94 mm left  cold side 2,950  cold side 2,950",
        "  1 x leftover         85 mm left  hot side 1 412",
    ]


def test_a_bar_that_one_slip_would_cost_is_marked() -> None:
    pieces = [{"name": "cold side", "length_mm": 2995, "count": 2}]
    done = keyturn("cut", "-", typed=json.dumps(document(pieces=pieces)))
    assert "4 mm left (tight)" in done.stdout


def test_every_fault_is_a_line_and_nothing_is_printed() -> None:
    faulty = document(
        kerf_mm=-1,
        pieces=[{"name": "long", "length_mm": 0}, {"length_mm": 5, "cuont": 2}],
        stock=[{"name": "a", "length_mm": "6 m"}],
    )
    done = keyturn("cut", "-", "--json", typed=json.dumps(faulty))
    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr.splitlines() == [
        'Stock a: "length_mm" must be a number, not the text "6 m". Write it without quotes.',
        'Piece number 2: "name" is missing. Add it.',
        'Piece number 2: the field "cuont" is unknown. Did you mean "count"? Rename it or take '
        "it out.",
        "Cut list: the kerf in mm: -1. Enter a number from 0 to 50.",
        "Piece long: its length in mm: 0. Enter a number from 1 to 1,000,000.",
    ]


def test_a_piece_that_is_too_long_is_named_with_the_remedy() -> None:
    pieces = [{"name": "exhaust", "length_mm": 6400}]
    done = keyturn("cut", "-", typed=json.dumps(document(pieces=pieces)))
    assert done.returncode == 2
    assert done.stderr == (
        "Piece exhaust: 6,400 mm is longer than every stock: the longest is 6 m tube of 6,000 mm. "
        "Make it in two with a coupler, or add a longer stock.\n"
    )


def test_counted_bars_that_are_too_few_are_said() -> None:
    """Two of the five go on a bar: 1715 mm would fit end to end, and yet they need three."""
    pieces = [{"name": f"p{n}", "length_mm": 341 + n} for n in range(5)]
    few = document(stock=[{"name": "bar", "length_mm": 1000, "count": 2}], pieces=pieces)
    done = keyturn("cut", "-", typed=json.dumps(few))
    assert done.returncode == 2
    assert done.stderr.startswith("Cut list: no way was found to cut every piece")


def test_a_document_of_another_kind_and_no_json_at_all_are_refused() -> None:
    done = keyturn("cut", "-", typed=json.dumps(document(format="keyturn-build")))
    assert done.returncode == 2
    assert "is this a cut document?" in done.stderr
    assert keyturn("cut", "-", typed="[]").returncode == 2
    assert keyturn("cut", "-", typed="{").returncode == 2
    assert keyturn("cut", "-", "--seconds", "0", typed="{}").returncode == 2
