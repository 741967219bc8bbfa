"""What a misspelt name may have meant; the names are those of fields in a build document."""

import pytest

from webapp.exchange.close_names import close_names

TASK = ["key", "name", "hours", "in_one_go", "outside_days", "caution", "wish", "hours_left"]
DAY = ["date", "closed", "opens", "closes"]


@pytest.mark.parametrize(
    ("typed", "names", "meant"),
    [
        ("nmae", TASK, ["name"]),  # two letters swapped
        ("nam", TASK, ["name"]),  # one left out
        ("namee", TASK, ["name"]),  # one added
        ("neme", TASK, ["name"]),  # one changed
        ("eame", TASK, ["name"]),
        ("Name", TASK, ["name"]),
        ("close", DAY, ["closed", "closes"]),  # either
        ("inonego", TASK, ["in_one_go"]),  # two left out of nine
        ("outside", TASK, ["outside_days"]),
        ("days", TASK, ["outside_days"]),
        ("hours_of_work", TASK, ["hours"]),
        ("hou", TASK, ["hours", "hours_left"]),
    ],
)
def test_a_slip_or_a_part_of_a_name_is_known(
    typed: str, names: list[str], meant: list[str]
) -> None:
    assert close_names(typed, names) == meant


@pytest.mark.parametrize(
    "typed", ["", "on", "nema", "location", "reason", "description", "date", "colour", "x" * 10_000]
)
def test_nothing_far_off_is_offered(typed: str) -> None:
    assert close_names(typed, TASK) == []
