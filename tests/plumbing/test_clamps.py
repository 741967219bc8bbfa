"""Clamps are picked where they hold well: inside the middle 70 % of their range."""

import pytest

from webapp.plumbing.clamps import holds, holds_well, picked, to_buy


def test_a_clamp_holds_well_in_the_middle_of_its_range() -> None:
    """40-60: 15 % of 20 is 3, so 43 to 57."""
    assert [holds_well((40, 60), over) for over in (42.9, 43, 57, 57.1)] == [
        *(False, True, True, False)
    ]
    assert [holds((40, 60), over) for over in (39.9, 40, 60, 60.1)] == [False, True, True, False]


@pytest.mark.parametrize(
    ("there", "over", "taken"),
    [
        (((40, 60), (45, 52)), 48, (45, 52)),  # the narrower of two that hold well
        (((46, 56), (44, 54)), 50, (44, 54)),  # as narrow: the smaller
        (((48, 50), (40, 60)), 48.1, (40, 60)),  # well before narrow: 48-50 does from 48.3 on
        (((48, 50),), 48.1, (48, 50)),  # holds, if not well
        (((50, 70),), 48, None),
        ((), 48, None),
    ],
)
def test_the_best_of_the_shelf_is_taken(
    there: tuple[tuple[float, float], ...], over: float, taken: tuple[float, float] | None
) -> None:
    assert picked(there, over) == taken


@pytest.mark.parametrize(
    ("over", "name"),
    [
        (48, "clamp 40-60"),  # 32-50 holds it, but only to 47.3 well
        (27.7, "clamp 20-32"),  # 16-27 does not reach
        (8, "clamp 8-12"),  # no step holds it well
        (110, "clamp 90-110"),
        (118.64, "clamp for 118.6"),
        (5, "clamp for 5"),
    ],
)
def test_what_to_buy_is_the_smallest_step_that_holds_well(over: float, name: str) -> None:
    assert to_buy(over) == name
