"""Which column says what, guessed from its head or from what stands in it."""

import pytest

from webapp.exchange.list_columns import columns_without_head, guessed_columns, is_head


@pytest.mark.parametrize(
    ("head", "columns"),
    [
        (("Task", "Hours", "Subsystem"), ("name", "likely", "subsystem")),
        (("Name", "Optimistic", "Most likely (h)"), ("name", "well", "likely")),
        (("job", "min", "likely", "max"), ("name", "well", "likely", "fights")),
        (("Name", "Depends on", "Wait, h", "Remarks"), ("name", "before", "wait", "notes")),
        (("Task name", "Worst case", "Colour", ""), ("name", "fights", "", "")),
        (("Task", "Name", "Hours", "Hours"), ("name", "", "likely", "")),
    ],
)
def test_heads_in_the_words_of_the_trade_are_known(
    head: tuple[str, ...], columns: tuple[str, ...]
) -> None:
    assert guessed_columns(head) == columns


def test_a_first_row_with_numbers_is_no_head() -> None:
    assert is_head(("Task", "Hours"))
    assert not is_head(("Task", "2,5"))
    assert not is_head(("Bleed the brakes", "two"))


def test_without_a_head_words_are_the_name_and_numbers_the_hours() -> None:
    rows = [("1", "Bleed", "x"), ("2.5", "Cap"), ("3:30", "Fit", "y")]
    assert columns_without_head(rows, 4) == ("likely", "name", "", "")
