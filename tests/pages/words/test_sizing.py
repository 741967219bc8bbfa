"""Checks in words."""

import pytest

from webapp.build.data_sheet import CHECK_NAMES
from webapp.pages.words.data_sheet_fields import CHECK_WORDS
from webapp.pages.words.sizing import answer_line, figure_line, limit_line, with_unit
from webapp.sizing.answers import Answer, Figure, Limit, Missing, not_checked


@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [
        (36.5281, "m/s", "36.5 m/s"),
        (0.56712, "V", "0.567 V"),
        (1205.26, "mm", "1,205.3 mm"),
        (1205.0, "mm", "1,205 mm"),
        (4180.7, "J", "4,180 J"),
        (163.02, "°", "163°"),
    ],
)
def test_numbers_have_three_figures_and_lengths_a_tenth_of_a_mm(
    value: float, unit: str, words: str
) -> None:
    assert with_unit(value, unit) == words


def test_a_limit_says_to_or_from() -> None:
    assert limit_line(Limit(ok=61, tight=91), "m/s") == "ok to 61 m/s, tight to 91"
    assert limit_line(Limit(ok=8, tight=5, at_least=True), "%") == "ok from 8 %, tight from 5"
    assert limit_line(Limit(ok=12, tight=12), "kPa") == "ok to 12 kPa"


def test_what_was_assumed_is_said_to_be() -> None:
    assert figure_line(Figure(name="intake air", value=25, unit="°C", came="assumed")) == (
        "intake air 25 °C (assumed)"
    )
    assert figure_line(Figure(name="side", value="suction")) == "side suction"


def test_a_check_is_one_line() -> None:
    answer = Answer(
        check="fuse", at="fan", word="ok", value=25, unit="A", limit=Limit(ok=32, tight=32)
    )
    assert answer_line(answer) == ("fuse, fan: ok, 25 A (ok to 32 A: common practice, no source)")
    gap = not_checked("air_filter", "airbox", Missing(names=("boost (gauge)",)))
    assert answer_line(gap) == "air filter, airbox: not checked: the boost (gauge) is missing"


def test_every_check_has_its_words() -> None:
    assert tuple(CHECK_WORDS) == CHECK_NAMES
