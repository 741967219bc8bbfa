"""What is left to licensed practice is never sized."""

import pytest

from webapp.sizing.left_to_others import MATTERS, NOT_SIZED, Matter, left_to_others


@pytest.mark.parametrize("matter", MATTERS)
def test_each_says_its_caution_and_who_does_it_and_gives_no_number(matter: Matter) -> None:
    answer = left_to_others(matter, "somewhere")
    assert answer.word == "not checked"
    assert answer.value is None
    assert answer.limit is None
    assert NOT_SIZED[matter].who in answer.words
    assert answer.remarks[0] == NOT_SIZED[matter].caution


def test_every_matter_is_told_of() -> None:
    assert set(NOT_SIZED) == set(MATTERS)
    assert "licensed" in NOT_SIZED["brakes"].who
    assert "vacuum" in NOT_SIZED["brakes"].asks
