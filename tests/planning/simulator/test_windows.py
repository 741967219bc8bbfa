"""Stretches that work in one go or with the helper must fit into."""

import numpy as np

from webapp.build.time.shop_calendar import NEVER
from webapp.planning.simulator.windows import Windows

# Three stretches of 3, 8 and 3 seconds: 0-3, 3-11, 20-23 on the shop clock.
WINDOWS = Windows.of(np.array([0, 3, 20]), np.array([3, 11, 23]))


def fit(earliest: int, needed: int) -> int:
    return int(WINDOWS.fit(np.array([earliest]), np.array([needed]))[0])


def test_work_that_fits_the_rest_of_the_stretch_begins_at_once() -> None:
    assert fit(0, 3) == 0
    assert fit(1, 2) == 1


def test_work_that_does_not_fit_the_rest_takes_the_next_stretch_that_is_long_enough() -> None:
    assert fit(1, 3) == 3
    assert fit(1, 5) == 3
    assert fit(9, 3) == 20


def test_a_stretch_that_is_too_short_is_passed_over() -> None:
    assert fit(9, 3) == 20


def test_work_before_a_stretch_waits_for_it() -> None:
    assert fit(11, 2) == 20
    assert fit(15, 2) == 20


def test_no_stretch_left_is_never() -> None:
    assert fit(21, 3) == NEVER
    assert fit(10, 5) == NEVER


def test_work_longer_than_every_stretch_takes_a_longest_one_from_its_beginning() -> None:
    assert fit(0, 30) == 3
    assert fit(4, 30) == NEVER


def test_without_stretches_nothing_ever_fits() -> None:
    none = Windows.of(np.empty(0, np.int64), np.empty(0, np.int64))
    assert int(none.fit(np.array([0]), np.array([1]))[0]) == NEVER
