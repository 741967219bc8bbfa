"""Charge and intake pipes: the words for speed and loss."""

import pytest

from webapp.sizing.answers import Figure
from webapp.sizing.pipe_air import (
    DOWN_AND_UP,
    INTAKE_LOSS,
    LARGER,
    TOO_FAST,
    PipeLeg,
    PipeSpeed,
    WayLoss,
    pipe_speed,
    way_loss,
)
from webapp.sizing.pipe_loss import Stretch

HOT = {"kg_s": 0.165528, "kpa": 209.3, "celsius": 130.7}


@pytest.mark.parametrize(
    ("bore_mm", "word"),
    # 58.9 m/s in 44.5 mm, 80.8 in 38; speed goes with one over the square of the bore
    [(60, "ok"), (44.5, "ok"), (43, "tight"), (38, "tight"), (35, "too small")],
)
def test_the_words_for_speed(bore_mm: float, word: str) -> None:
    answer = pipe_speed("charge_speed", "hot1", PipeSpeed(**HOT, bore_mm=bore_mm))
    assert answer.word == word
    assert answer.limit is not None
    assert answer.limit.words == "a turbo maker's published note, 200 to 300 ft/s"


def test_a_pipe_so_narrow_that_the_formula_holds_no_more_gets_a_word_and_no_number() -> None:
    answer = pipe_speed("charge_speed", "hot1", PipeSpeed(**HOT, bore_mm=28))
    assert (answer.word, answer.value, answer.remarks) == ("too small", None, (TOO_FAST,))


def test_a_pipe_that_is_larger_than_needed_says_so_on_the_charge_side_alone() -> None:
    wide = PipeSpeed(**HOT, bore_mm=100)
    assert pipe_speed("charge_speed", "hot1", wide).remarks == (LARGER,)
    assert pipe_speed("intake_speed", "in1", wide).remarks == ()


def test_what_no_pipe_carries_is_not_checked() -> None:
    answer = pipe_speed("charge_speed", "hot1", PipeSpeed(**HOT | {"kpa": 20}, bore_mm=60))
    assert answer.words == (
        "not checked: the absolute pressure of 20 kPa lies outside 30 to 1000 kPa"
    )


def leg(*bores: float) -> PipeLeg:
    return PipeLeg(
        **HOT,
        stretches=tuple(Stretch(bore_mm=bore, length_mm=900, turn_deg=180) for bore in bores),
    )


def test_a_way_is_its_runs_and_what_is_fitted_between() -> None:
    one = way_loss("charge_loss", "charge", WayLoss(legs=(leg(60),), fitted_kpa=0))
    both = way_loss("charge_loss", "charge", WayLoss(legs=(leg(60), leg(60)), fitted_kpa=4.1))
    assert one.value is not None
    assert both.value == pytest.approx(2 * one.value + 4.1)
    assert (one.word, both.word) == ("ok", "ok")
    assert Figure(name="intercooler's loss", value=4.1, unit="kPa") in both.used
    tight = way_loss("charge_loss", "charge", WayLoss(legs=(leg(60),), fitted_kpa=8.2))
    assert tight.word == "tight"


def test_a_way_that_is_too_narrow_gets_no_number_and_one_that_narrows_says_so() -> None:
    answer = way_loss("charge_loss", "charge", WayLoss(legs=(leg(30),), fitted_kpa=0))
    assert (answer.word, answer.value) == ("too small", None)
    narrowed = way_loss("charge_loss", "charge", WayLoss(legs=(leg(60, 51, 60),), fitted_kpa=0))
    assert DOWN_AND_UP in narrowed.remarks


def test_the_intake_has_its_own_limit() -> None:
    answer = way_loss(
        "intake_loss",
        "intake",
        WayLoss(legs=(), fitted_kpa=4.0, fitted_name="clean filter's loss"),
        INTAKE_LOSS,
    )
    assert answer.word == "tight"
    assert answer.limit is not None
    assert "TM 5-3820-256-24-5" in answer.limit.words
