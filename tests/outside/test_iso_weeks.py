"""ISO 8601 weeks around the turn of the year, as the pages say them."""

import datetime as dt

import pytest

from webapp.pages.order.views import week_words

# ISO 8601 (dates and weeks recomputed): date, year and week and day of the week, and the Monday
# to Sunday of that week in words, told in a year that is not its own.
WEEKS = [
    ("2026-12-31", (2026, 53, 4), "Week 53, 28 December to 3 January 2027"),
    ("2027-01-01", (2026, 53, 5), "Week 53, 28 December to 3 January 2027"),
    ("2027-01-04", (2027, 1, 1), "Week 1, 4 to 10 January 2027"),
    ("2024-12-30", (2025, 1, 1), "Week 1, 30 December to 5 January 2025"),
    ("2022-12-31", (2022, 52, 6), "Week 52, 26 December to 1 January 2023"),
]


@pytest.mark.parametrize(("date", "iso", "told"), WEEKS)
def test_a_date_at_the_turn_of_the_year_stands_in_its_iso_week(
    date: str, iso: tuple[int, int, int], told: str
) -> None:
    day = dt.date.fromisoformat(date)
    assert tuple(day.isocalendar()) == iso
    year, week, _ = day.isocalendar()
    assert week_words(year, week, dt.date(2030, 6, 1)) == told
