"""The dipstick: where the level and the marks lie."""

import pytest

from webapp.pictures.dipstick import MAX_AT, MIN_AT, dipstick


def place(hours: float, full: float) -> float:
    return MIN_AT + (MAX_AT - MIN_AT) * hours / full


def test_the_last_mark_is_the_level() -> None:
    # 14.5 h left and 9, 6.5 and 10 h taken: MAX is 40 h
    dip = dipstick(14.5, [9, 6.5, 10], title="")
    assert dip.level_at == pytest.approx(place(14.5, 40))
    assert [mark.x for mark in dip.marks] == [
        pytest.approx(place(hours, 40)) for hours in (31, 24.5, 14.5)
    ]
    assert [mark.number for mark in dip.marks] == ["1", "2", "3"]


def test_nothing_left_leaves_the_blade_dry_and_the_marks_end_at_min() -> None:
    dip = dipstick(-8, [6, 2], title="")
    assert dip.level_at == dip.min_at
    assert dip.marks[-1].x == pytest.approx(dip.min_at)


def test_no_wish_and_no_hours_are_drawn_without_a_fault() -> None:
    dip = dipstick(0, [], title="")
    assert dip.level_at == dip.min_at
    assert dip.marks == ()


def test_numbers_too_close_to_be_read_are_left_to_the_list() -> None:
    dip = dipstick(100, [0.1] * 5, title="")
    assert [mark.number for mark in dip.marks].count("") == 4
