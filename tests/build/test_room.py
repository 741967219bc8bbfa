"""Pieces and gaps in a measured space: worst case and root sum square, by hand."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.build.room import InRoom, Room, room_left

NOSE = Room(
    key="nose",
    name="Nose",
    measured_mm=200,
    plus_minus_mm=3,
    holds=(
        InRoom(name="condenser", mm=22, plus_minus_mm=1),
        InRoom(name="gap before the cooler", mm=10, plus_minus_mm=2, kind="gap"),
        InRoom(name="intercooler", mm=64, plus_minus_mm=1),
        InRoom(name="gap before the radiator", mm=10, plus_minus_mm=2, kind="gap"),
        InRoom(name="radiator", mm=32, plus_minus_mm=1),
        InRoom(name="fan", mm=52, plus_minus_mm=2),
    ),
)
"""190 taken of 200. Against it at once: 3 + 1 + 2 + 1 + 2 + 1 + 2 = 12; the root of
9 + 1 + 4 + 1 + 4 + 1 + 4 = 24 is 4.90."""


def test_ten_millimetres_are_left_and_at_the_worst_two_are_missing() -> None:
    left = room_left(NOSE)
    assert (left.taken_mm, left.left_mm, left.worst_mm) == (190, 10, -2)
    assert left.likely_mm == pytest.approx(10 - math.sqrt(24))
    assert left.word == "tight"


@pytest.mark.parametrize(
    ("measured_mm", "word"), [(202, "ok"), (201.9, "tight"), (195, "tight"), (194, "too small")]
)
def test_the_word_is_that_of_the_worst_and_of_the_root_sum_square(
    measured_mm: float, word: str
) -> None:
    """At 202 the worst is 0; at 194.90 the root sum square is 0."""
    assert room_left(replace(NOSE, measured_mm=measured_mm)).word == word


def test_a_room_that_is_not_measured_says_what_is_in_it() -> None:
    left = room_left(replace(NOSE, measured_mm=None))
    assert (left.word, left.taken_mm, left.left_mm) == ("not measured", 190, None)


def test_without_give_and_take_all_three_are_one() -> None:
    room = Room(key="r", name="R", measured_mm=38.1, holds=(InRoom(name="a", mm=38.1),))
    left = room_left(room)
    assert left.left_mm == left.worst_mm == left.likely_mm == 0
    assert left.word == "ok"


MM = st.floats(0, 500)


@given(MM, MM, st.lists(st.tuples(MM, MM), max_size=8))
def test_the_worst_is_never_better_than_the_root_sum_square(
    measured: float, either_way: float, held: list[tuple[float, float]]
) -> None:
    holds = tuple(InRoom(name=f"{n}", mm=mm, plus_minus_mm=pm) for n, (mm, pm) in enumerate(held))
    room = Room(key="r", name="R", measured_mm=measured, plus_minus_mm=either_way, holds=holds)
    left = room_left(room)
    assert left.left_mm is not None
    assert left.likely_mm is not None
    assert left.worst_mm is not None
    assert left.worst_mm <= left.likely_mm + 1e-9
    assert left.likely_mm <= left.left_mm
    # the order in which they stand is nothing to it
    assert room_left(replace(room, holds=holds[::-1])).worst_mm == pytest.approx(left.worst_mm)
