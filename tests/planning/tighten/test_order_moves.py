"""New orders from those there are: each a whole order, changed where its move says and no more."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from webapp.planning.tighten.order_moves import gathered


class Chances:
    """Random numbers as they are told: the task that is picked, the length and begin of a stretch,
    and the side."""

    def __init__(self, *, picked: int, length: int, first: int, share: float) -> None:
        self._picked, self._share = picked, share
        self._numbers = iter((length, first))

    def choice(self, places: np.ndarray) -> int:
        return int(places[self._picked])

    def integers(self, _least: int, _most: int) -> int:
        return next(self._numbers)

    def random(self) -> float:
        return self._share


# The welder (1) is out for tasks 0, 2 and 4, the lift (2) is up for 3.
ORDER, SETUPS = [0, 1, 2, 3, 4, 5], [1, 0, 1, 2, 1, 0]


@pytest.mark.parametrize(
    ("share", "expected"),
    [
        # Of tasks 1 to 4 those of the welder, 2 and 4, go behind 1 and 3 ...
        (0.0, [0, 1, 3, 2, 4, 5]),
        # ... or ahead of them; 0 and 5 lie outside the stretch.
        (0.9, [0, 2, 4, 1, 3, 5]),
    ],
)
def test_what_needs_one_setup_goes_together_within_a_stretch(
    share: float, expected: list[int]
) -> None:
    chances = Chances(picked=0, length=4, first=1, share=share)
    order, setups = np.array(ORDER), np.array(SETUPS)
    assert gathered(order, setups, chances).tolist() == expected  # type: ignore[arg-type]
    assert order.tolist() == ORDER, "the order there was stays as it is"


@given(
    st.lists(st.integers(0, 3), min_size=1, max_size=40).filter(any),
    st.integers(0, 2**32 - 1),
)
def test_gathering_changes_one_stretch_and_leaves_the_rest_in_sequence(
    setups: list[int], seed: int
) -> None:
    order = np.arange(len(setups))
    after = gathered(order, np.array(setups), np.random.default_rng(seed))
    assert sorted(after.tolist()) == order.tolist()
    moved = np.flatnonzero(after != order)
    if len(moved):
        stretch = after[moved[0] : moved[-1] + 1]
        assert any(_together(stretch, setups, setup) for setup in (1, 2, 3))


def _together(stretch: np.ndarray, setups: list[int], setup: int) -> bool:
    """Whether those of a setup stand at one side, and both they and all others in sequence."""
    is_own = np.array([setups[task] == setup for task in stretch])
    sorted_apart = all(
        np.all(np.diff(part) > 0) for part in (stretch[is_own], stretch[~is_own]) if len(part)
    )
    return bool(is_own.any()) and sorted_apart and int(np.abs(np.diff(is_own)).sum()) <= 1
