"""What the day of a part rests on, in words."""

import datetime as dt
from typing import Any

import pytest

from webapp.build.build_input import Part
from webapp.build.due_days import due_of
from webapp.pages.words.parts import assumed

TODAY = dt.date(2026, 5, 20)


@pytest.mark.parametrize(
    ("entered", "said"),
    [
        ({"arrives_on": dt.date(2026, 5, 25), "lead_days": 9}, ""),
        ({"promised_on": dt.date(2026, 5, 23)}, "assumed: promised Sat 23 May"),
        (
            {"ordered_on": dt.date(2026, 5, 12), "lead_days": 14},
            "assumed: ordered Tue 12 May and 14 days of lead time",
        ),
        ({"lead_days": 1}, "assumed: ordered today and 1 day of lead time"),
    ],
)
def test_an_assumed_day_says_what_it_rests_on(entered: dict[str, Any], said: str) -> None:
    part = Part(key="p", name="Hose", **entered)
    due = due_of(part, TODAY)
    assert due is not None
    assert assumed(part, due, TODAY) == said
