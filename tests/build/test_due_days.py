"""The day a part is reckoned with, by what was entered for it."""

import datetime as dt

import pytest

from webapp.build.build_input import Part
from webapp.build.due_days import Due, due_of, said_day

TODAY = dt.date(2026, 5, 20)
DAY = dt.timedelta(days=1)
MAY = [dt.date(2026, 5, 1) + i * DAY for i in range(31)]


def part(**fields: object) -> Part:
    return Part(key="p", name="Radiator", **fields)  # type: ignore[arg-type]


def test_the_day_of_arrival_counts_before_all_else() -> None:
    typed = part(arrives_on=MAY[24], promised_on=MAY[22], ordered_on=MAY[11], lead_days=14)
    assert due_of(typed, TODAY) == Due(on=MAY[24], said=MAY[24], basis="arrives")


def test_without_it_the_promised_day_counts() -> None:
    typed = part(promised_on=MAY[22], ordered_on=MAY[11], lead_days=14)
    assert due_of(typed, TODAY) == Due(on=MAY[22], said=MAY[22], basis="promised")


def test_without_a_promise_the_day_ordered_and_the_lead_time_count() -> None:
    # 12 May and 14 days is 26 May; half a day more makes it the next day.
    assert due_of(part(ordered_on=MAY[11], lead_days=14), TODAY) == Due(
        on=MAY[25], said=MAY[25], basis="ordered"
    )
    later = due_of(part(ordered_on=MAY[11], lead_days=14.5), TODAY)
    assert later is not None
    assert later.on == MAY[26]


def test_a_part_not_ordered_slips_a_day_each_day_and_stands_once_ordered() -> None:
    waiting, ordered = part(lead_days=5), part(lead_days=5, ordered_on=MAY[9])
    for day in range(10, 15):
        assert due_of(waiting, MAY[day]) == Due(on=MAY[day + 5], said=MAY[day + 5], basis="lead")
        due = due_of(ordered, MAY[day])
        assert due is not None
        assert due.said == MAY[14]


@pytest.mark.parametrize("fields", [{}, {"ordered_on": MAY[11]}])
def test_with_nothing_to_reckon_from_there_is_no_day(fields: dict[str, object]) -> None:
    assert due_of(part(**fields), TODAY) is None


def test_a_day_that_has_passed_is_reckoned_as_today_and_still_told() -> None:
    due = due_of(part(promised_on=MAY[16]), TODAY)
    assert due == Due(on=TODAY, said=MAY[16], basis="promised")


def test_a_lead_time_alone_is_no_entered_day() -> None:
    assert said_day(part(lead_days=5)) is None
    assert said_day(part(lead_days=5, ordered_on=MAY[9])) == MAY[14]
