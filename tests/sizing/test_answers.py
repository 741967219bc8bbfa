"""What a check says: words, limits, and why there is no answer."""

from typing import get_args

import pytest

from webapp.build.data_sheet import CHECK_NAMES, CheckName
from webapp.sizing.answers import (
    Answer,
    Limit,
    Missing,
    Outside,
    Range,
    Word,
    first_outside,
    least,
    most,
    no_sum,
    not_checked,
    worse,
)

LIMIT = Limit(ok=61, tight=91)


@pytest.mark.parametrize(
    ("value", "word"),
    [(60.9, "ok"), (61, "ok"), (61.1, "tight"), (91, "tight"), (91.1, "too small")],
)
def test_so_much_at_most(value: float, word: Word) -> None:
    assert most(value, LIMIT) == word


@pytest.mark.parametrize(
    ("value", "word"), [(8, "ok"), (7.9, "tight"), (5, "tight"), (4.9, "too hot")]
)
def test_so_much_at_least(value: float, word: Word) -> None:
    assert least(value, Limit(ok=8, tight=5), "too hot") == word


def test_the_word_of_several_is_the_worst() -> None:
    assert worse(()) == "ok"
    assert worse(("ok", "tight", "ok")) == "tight"
    assert worse(("tight", "too small", "ok")) == "too small"


def test_what_is_missing_is_named() -> None:
    said = not_checked("air_filter", "airbox", Missing(names=("boost",)))
    assert said.words == "not checked: the boost is missing"
    two = not_checked("air_filter", "airbox", Missing(names=("boost", "power", "displacement")))
    assert two.words == "not checked: the boost, the power and the displacement are missing"
    assert said.value is None


def test_what_lies_outside_is_named_with_its_range() -> None:
    gap = Outside(name="boost", least=0, most=4, unit="bar", value=9.0)
    said = not_checked("charge_speed", "hot1", gap)
    assert said.words == "not checked: the boost of 9 bar lies outside 0 to 4 bar"
    assert no_sum("belt_length", "b", "a belt needs two pulleys").words == (
        "not checked: a belt needs two pulleys"
    )


def test_a_number_that_is_none_lies_outside() -> None:
    within = Range(name="a", value=1, least=0, most=2)
    assert first_outside(within) is None
    for value in (float("nan"), float("inf"), -0.1):
        found = first_outside(within, Range(name="b", value=value, least=0, most=2))
        assert found is not None
        assert found.name == "b"


def test_a_limit_says_where_it_comes_from() -> None:
    assert LIMIT.words == "common practice, no source"
    assert Limit(ok=1, tight=1, origin="published", source="a note").words == "a note"
    assert Limit(ok=1, tight=1, origin="typed", source="the book").words == "typed in: the book"


def test_no_word_says_that_anything_is_without_danger() -> None:
    assert "safe" not in get_args(Word)
    assert get_args(CheckName) == CHECK_NAMES


def test_an_answer_knows_its_circuit() -> None:
    answer = Answer(check="cap", at="header", word="ok")
    assert answer.words == "ok"
    assert answer.within("coolant").circuit == "coolant"
