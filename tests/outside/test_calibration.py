"""Calibration against a published ratio of actual to predicted times.

Buehler, Griffin & Ross 1994, J. Personality and Social Psychology 67:366 (read in secondary
texts): students predicted 33.9 days for their thesis and took 55.5, a ratio of 1.637.
"""

import math
from dataclasses import replace

import pytest

from tests.build.builds import MONDAY, build_of, task
from webapp.build.build_input import BuildInput, LogEntry
from webapp.planning.chances.factors import KindFactor
from webapp.planning.record.calibration import calibration_of

PREDICTED, ACTUAL, RATIO = 33.9, 55.5, 1.637


def students(count: int) -> BuildInput:
    done = {"begun_on": MONDAY.date(), "finished_on": MONDAY.date()}
    keys = [f"t{i}" for i in range(count)]
    log = tuple(LogEntry(task=key, on=MONDAY.date(), hours=ACTUAL) for key in keys)
    return replace(build_of([task(key, PREDICTED, **done) for key in keys]), log=log)


def factor_of(count: int) -> KindFactor:
    (factor,) = calibration_of(students(count))
    return factor


def test_a_long_record_reaches_the_published_ratio() -> None:
    # The weight of 5,000 tasks is 0.9988.
    assert factor_of(5_000).factor == pytest.approx(RATIO, abs=0.002)


def test_a_short_record_is_shrunk_by_the_normal_posterior() -> None:
    # Posterior mean of a normal with prior N(0, 0.2^2) and n observations of scatter 0.5, by
    # precisions: (n / 0.25) log r / (1 / 0.04 + n / 0.25); recomputed.
    for n in (1, 3, 10, 37):
        precision = 1 / 0.04 + n / 0.25
        factor = factor_of(n)
        assert factor.log_mean == pytest.approx(n / 0.25 * math.log(RATIO) / precision, abs=2e-4)
        assert factor.log_sd == pytest.approx(precision**-0.5)


def test_more_of_the_same_record_moves_the_factor_toward_the_ratio() -> None:
    factors = [factor_of(n).factor for n in (1, 2, 5, 20, 100)]
    assert factors == sorted(factors)
    assert 1 < factors[0] < factors[-1] < RATIO
