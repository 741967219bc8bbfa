"""Orders for durations that are drawn, against a rule of the literature on the same draws.

The instances are open research data (PSPLIB, Kolisch & Sprecher 1997) that are not part of this
tree: see `test_psplib.py`. The distributions are those of Stork 2001, Ballestin and Leus 2009 and
Fang, Kolisch, Wang and Mu 2015.
"""

from collections.abc import Callable

import numpy as np
import pytest

from tests.benchmarks.psplib_draws import (
    DISTRIBUTIONS,
    DRAWS_FOLDER,
    compared,
    distribution,
    drawn_instances,
)
from webapp.build.three_point import ThreePoint

needs_instances = pytest.mark.skipif(
    not DRAWS_FOLDER.exists(), reason=f"no PSPLIB instances in {DRAWS_FOLDER}"
)
VARIANCE: dict[str, Callable[[float], float]] = {
    "U1": lambda d: d / 3,  # (2 sqrt d)^2 / 12
    "U2": lambda d: d * d / 3,  # (2 d)^2 / 12
    "exp": lambda d: d * d,
    "B1": lambda d: d / 3,
    "B2": lambda d: d * d / 3,
}
"""Stated with the distributions; of the uniform and the exponential by their formulas."""


@pytest.mark.parametrize("name", DISTRIBUTIONS)
@pytest.mark.parametrize("d", [1, 4, 10])
def test_the_distributions_have_the_stated_mean_and_variance(name: str, d: float) -> None:
    shares = (np.arange(200_000) + 0.5) / 200_000
    hours = ThreePoint(optimistic=d / 2, most_likely=d, pessimistic=1.5 * d)
    drawn = distribution(name)(hours, shares)
    assert drawn.mean() == pytest.approx(d, rel=5e-3)
    assert drawn.var() == pytest.approx(VARIANCE[name](d), rel=1e-2)
    assert drawn.min() >= 0


@needs_instances
def test_a_search_beats_the_latest_finish_first() -> None:
    """By more than its error, with an eighth of the schedules that the literature allows. (The
    benchmark has all ten with all of them, and with every distribution.)"""
    _, build = drawn_instances()[4]
    found = compared(build, "U1", schedules=3_100, blocks=2)
    assert found.gain > 2 * found.error
    assert found.found > 0  # no mean is below the critical path of the expected durations
