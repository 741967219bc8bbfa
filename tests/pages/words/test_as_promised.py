"""The date of kept promises in words: how far from the likely one, and what makes it so."""

from typing import Any

import pytest

from webapp.pages.words.as_promised import as_promised_words

BARE: dict[str, Any] = {"tasks": "", "level": 1.0, "weeks": "", "attendance": 1.0}
SAID = "If every promised hour is worked and every estimate holds, first start is Thu 7 May"


def test_the_record_is_named_with_its_tasks_and_weeks() -> None:
    assert as_promised_words(
        "Thu 7 May", days=16, tasks="31 tasks", level=1.1249, weeks="1 week", attendance=0.84
    ) == (
        f"{SAID}, 16 days before the likely date. What makes the difference is your record: work"
        " takes \N{MULTIPLICATION SIGN} 1.12 of its estimate (31 tasks) and 84 % of the hours"
        " that can be worked are worked (1 week)."
    )


@pytest.mark.parametrize(
    ("days", "end"),
    [
        (0, ": the likely date."),
        (
            1,
            ", 1 day before the likely date. What makes the difference is that the three"
            " hours of tasks reach further up than down.",
        ),
    ],
)
def test_without_a_record_the_spread_makes_it(days: int, end: str) -> None:
    assert as_promised_words("Thu 7 May", days=days, **BARE) == f"{SAID}{end}"


def test_a_record_that_is_better_than_its_estimates_brings_the_likely_date_forward() -> None:
    better = as_promised_words("Thu 7 May", days=-2, **BARE | {"tasks": "9 tasks", "level": 0.9})
    assert ", 2 days after the likely date" in better
