"""Names go by the nearest trade size, 0.2 mm away below 13 mm and 0.6 mm from there."""

import pytest

from webapp.plumbing.sizes import TRADE_SIZES_MM, size_words, trade_size


@pytest.mark.parametrize(
    ("typed", "called"),
    [
        (38, 38),
        (38.1, 38),  # 1 1/2 in: one hose
        (50, 50),
        (51, 51),  # two hoses, though only 1 mm apart
        (50.8, 51),  # 2 in: 0.2 from 51, 0.8 from 50
        (50.5, 50),  # as near to both: the smaller
        (63.5, 63),
        (76.2, 76),
        (6.35, 6.3),  # 1/4 in, 0.05 away
        (7.9, 8),
        (7.7, 7.7),  # 0.3 from 8, and 0.2 is the most below 13 mm
        (12.7, 12.5),  # 1/2 in: 0.2 away, the most there is below 13 mm
        (13.6, 13),  # 0.6 away, the most there is from 13 mm on
        (13.7, 13.7),
        (14.9, 14.9),
        (110, 110),
    ],
)
def test_a_size_goes_by_the_nearest_trade_size(typed: float, called: float) -> None:
    assert trade_size(typed) == called


def test_hard_pieces_say_63_5_for_63() -> None:
    assert trade_size(63, is_hard=True) == trade_size(63.5, is_hard=True) == 63.5
    assert trade_size(38.1, is_hard=True) == 38


@pytest.mark.parametrize("size", TRADE_SIZES_MM)
def test_a_trade_size_goes_by_itself(size: float) -> None:
    assert trade_size(size) == size


def test_of_two_sizes_the_larger_is_said_first() -> None:
    assert size_words((51, 60)) == size_words((60.3, 50.8)) == "60-51"
    assert size_words((63, 60), is_hard=True) == "63.5-60"


def test_two_sizes_of_one_trade_size_are_told_as_typed() -> None:
    assert size_words((19, 18.6)) == "19-18.6"
