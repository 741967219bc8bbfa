"""The spread of first start: columns that add up, lines at their days."""

import datetime as dt

import pytest

from webapp.pictures.spread import BOTTOM, MARGIN, Chance, spread

DAY = dt.date(2026, 5, 1)


def at(day: int, hour: int = 12) -> dt.datetime:
    return dt.datetime.combine(DAY + dt.timedelta(days=day), dt.time(hour))


def test_a_column_is_as_high_as_its_share_and_late_ones_are_told_apart() -> None:
    days = {DAY: 10, DAY + dt.timedelta(days=1): 20, DAY + dt.timedelta(days=2): 5}
    chances = (Chance(share=0.5, at=at(1), words="likely"),)
    picture = spread(days, chances, firm=at(1), width=328 + 2 * MARGIN, broad=True)
    first, second, third = picture.columns
    assert first.height == pytest.approx(second.height / 2)  # 10 draws against 20
    assert third.height == pytest.approx(second.height / 4)
    assert [column.late for column in picture.columns] == [False, False, True]
    assert all(column.y + column.height == pytest.approx(BOTTOM) for column in picture.columns)


def test_a_line_stands_where_its_moment_is() -> None:
    days = {DAY + dt.timedelta(days=n): 1 for n in range(10)}
    chances = (Chance(share=0.1, at=at(0, 0), words="a"), Chance(share=0.9, at=at(5, 0), words="b"))
    picture = spread(days, chances, firm=at(9), width=100 + 2 * MARGIN, broad=False)
    # 10 days over 100 units: midnight of the sixth day is half way
    assert [mark.x for mark in picture.marks] == [
        pytest.approx(MARGIN),
        pytest.approx(MARGIN + 50),
    ]


def test_a_certain_first_start_is_one_column() -> None:
    chances = tuple(Chance(share=s, at=at(0), words="x") for s in (0.1, 0.5, 0.8, 0.9))
    picture = spread({DAY: 2000}, chances, firm=at(0), width=358, broad=False)
    assert len(picture.columns) == 1
    assert not picture.columns[0].late


def test_a_spread_over_years_is_gathered_into_columns_that_fit() -> None:
    days = {DAY + dt.timedelta(days=n): 1 for n in range(900)}
    chances = (Chance(share=0.5, at=at(450), words="likely"),)
    picture = spread(days, chances, firm=at(800), width=358, broad=False)
    assert len(picture.columns) <= 23  # 330 units at 15 at least
    assert max(column.x + column.width for column in picture.columns) <= 358 - MARGIN
