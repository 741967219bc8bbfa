"""How figures were worked out, in sentences with their own numbers."""

import pytest

from webapp.pages.words import how, how_moves
from webapp.pages.words.earned import FORMULAS, earned_how
from webapp.planning.chances.moves import Move
from webapp.planning.record.earned_figures import UNITS


def move(mean: float, error: float, later: float = 0.017, earlier: float = 0.0) -> Move:
    return Move(
        mean_days=mean, error_days=error, later_share=later, earlier_share=earlier, draws=1000
    )


def test_a_move_tells_its_mean_its_error_and_how_many_draws_move() -> None:
    """0.017 of 1,000 draws are 17."""
    (said,) = how_moves.move_sentences(move(2.134, 0.04))
    assert said == (
        "The mean over the same 1,000 draws, with and without, is 2.13 days later,"
        " standard error 0.04 days; of 1,000 draws 17 later."
    )


def test_a_move_within_two_standard_errors_is_said_to_be_told_as_none() -> None:
    """0.05 days are less than 2 x 0.03."""
    assert how_moves.move_sentences(move(0.05, 0.03))[1] == (
        "Below 2 standard errors it is told as none."
    )


def test_a_move_with_a_large_error_says_why_it_is_about() -> None:
    said = how_moves.move_sentences(move(-7.0, 0.4, later=0.001, earlier=0.9), subject="“A”")
    assert said[0].startswith(
        "“A”: the mean over the same 1,000 draws, with and without, is 7 days"
    )
    assert "1 later and 900 earlier" in said[0]
    assert said[1] == "With a standard error above 0.1 days it says “about”."


def test_where_no_draw_moves_that_is_said() -> None:
    (said,) = how_moves.move_sentences(move(0.0, 0.0, later=0.0))
    assert "is 0 days" in said
    assert said.endswith("no draw moves.")


def test_headroom_tells_the_sum_that_gives_it() -> None:
    """(100 - 60) h x 0.8 = 32 h."""
    told = how.headroom_how(
        wanted="Sat 20 June",
        open_hours=100,
        needed_hours=60,
        confidence=0.8,
        attendance=0.8,
        headroom=32,
    )
    (said,) = told.sentences
    for number in ("100 h", "8 in 10", "60 h", "40 h", "80 %", "32 h"):
        assert number in said


def test_the_firm_date_names_the_draws_it_takes() -> None:
    told = how.firm_how(day="Sat 12 June", reached=812, draws=1000, confidence=0.8)
    assert "800 of 1,000 draws" in told.sentences[0]
    assert "By its end 812 have." in told.sentences[0]


def test_a_factor_tells_its_own_record_what_is_put_back_and_what_is_believed() -> None:
    """12 h over 10 h is 1.20. With weight 1/2 and a level of 1, a factor of 1.1 comes from
    1.1^2 = 1.21."""
    told = how.factor_how(
        "Welder", count=3, actual=12, expected=10, level=1.0, weight=0.5, told=1.1
    )
    assert f"3 tasks: 12 h worked over 10 h expected is {how.TIMES} 1.20" in told.sentences[0]
    assert f"{how.TIMES} 1.21 with" in told.sentences[0]
    assert told.sentences[0].endswith(f"{how.TIMES} 1.00: {how.TIMES} 1.10.")


def test_attendance_without_a_full_week_says_so() -> None:
    told = how.attendance_how(worked=0, workable=0, weeks=0, told=1)
    assert "No full week" in told.sentences[0]
    worked = how.attendance_how(worked=30, workable=40, weeks=6, told=0.88)
    assert "30 h worked of 40 h that could be worked in 6 full weeks is 75 %" in worked.sentences[0]


@pytest.mark.parametrize("name", UNITS)
def test_every_earned_figure_has_its_formula_with_the_values_in_it(name: str) -> None:
    values = {each: f"<{number}>" for number, each in enumerate(UNITS)}
    (said,) = earned_how(name, values).sentences
    assert said.startswith(f"{name}, {values[name]}: ")
    assert "{" not in said


def test_the_cost_index_is_earned_over_worked() -> None:
    """30 h / 40 h = 0.75."""
    values = dict.fromkeys(UNITS, "") | {"EV": "30 h", "AC": "40 h", "CPI": "0.75"}
    assert earned_how("CPI", values).sentences == ("CPI, 0.75: EV 30 h / AC 40 h.",)
    assert FORMULAS.keys() == UNITS.keys()


def test_several_as_one_keep_every_kind_and_sentence() -> None:
    firm = how.firm_how(day="Sat 12 June", reached=812, draws=1000, confidence=0.8)
    moved = how_moves.move_how(move(1, 0.01))
    both = how.together("both", firm, moved)
    assert both.figures == ("firm", "move")
    assert both.sentences == firm.sentences + moved.sentences
