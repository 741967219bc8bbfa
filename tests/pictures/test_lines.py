"""Lines of right angles."""

from webapp.pictures.lines import straightened


def test_a_step_too_short_to_see_stays_a_step_for_what_follows_it() -> None:
    # Left out, it would leave a line from 0, 0 to 0.04, 10: aslant.
    step = [(0.0, 0.0), (0.04, 0.0), (0.04, 10.0)]
    assert straightened(step) == step


def test_doubled_points_and_points_in_the_middle_of_a_straight_go() -> None:
    assert straightened([(0, 0), (0, 0), (0, 5), (0, 9), (4, 9)]) == [(0, 0), (0, 9), (4, 9)]
