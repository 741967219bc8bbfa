"""Calibration against a published ratio of actual to predicted times, and a closed form.

Buehler, Griffin & Ross 1994, J. Personality and Social Psychology 67:366 (read in secondary
texts): students predicted 33.9 days for their thesis and took 55.5, a ratio of 1.637.

The normal two-level model with known variances is that of Gelman et al., Bayesian Data Analysis,
section 5.4, and Lindley & Smith 1972, J. Royal Statistical Society B 34:1 (both from memory): its
posterior is that of a multivariate normal given some of its sums, any textbook of statistics.
"""

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from numpy.typing import NDArray

from tests.build.builds import MONDAY, build_of, task
from webapp.build.build_input import BuildInput, LogEntry
from webapp.planning.chances.factors import KIND_LOG_SD, KindFactor, Level
from webapp.planning.record.calibration import calibration_of, said_by
from webapp.planning.record.levels import in_levels

PREDICTED, ACTUAL, RATIO = 33.9, 55.5, 1.637
EIGHTY_PERCENT = 1.2815516
"""Of a normal, four fifths lie within so many standard deviations of its mean."""


def students(count: int) -> BuildInput:
    done = {"begun_on": MONDAY.date(), "finished_on": MONDAY.date()}
    keys = [f"t{i}" for i in range(count)]
    log = tuple(LogEntry(task=key, on=MONDAY.date(), hours=ACTUAL) for key in keys)
    return replace(build_of([task(key, PREDICTED, **done) for key in keys]), log=log)


def factor_of(count: int) -> tuple[Level, KindFactor]:
    level, (factor,) = calibration_of(students(count))
    return level, factor


# --- the published ratio --------------------------------------------------------------------


@pytest.mark.parametrize(("count", "within"), [(10, 0.05), (20, 0.02), (1_000, 0.001)])
def test_the_published_ratio_is_recovered(count: int, within: float) -> None:
    # What is missing is the share s^2 / n of 0.1125 + s^2 / n, s^2 = 2 / (7 + n): 9 % of the log
    # after 10 tasks, 3 % after 20, less the s^2 / 2n put back.
    level, factor = factor_of(count)
    assert factor.factor == pytest.approx(RATIO, rel=within)
    assert abs(math.log(RATIO) - factor.log_mean) <= EIGHTY_PERCENT * factor.log_sd(level)


def test_more_of_the_same_record_moves_the_factor_toward_the_ratio() -> None:
    factors = [factor_of(n)[1].factor for n in (1, 2, 5, 20, 100)]
    assert all(before < after for before, after in pairwise(factors))
    assert 1 < factors[0] < factors[-1] < RATIO + 0.001


# --- the closed form ------------------------------------------------------------------------

Floats = NDArray[np.float64]


def posterior(y: Floats, noise: Floats) -> tuple[Floats, Floats]:
    """Mean and variances of the level, of each kind and of one without a record, given the y.

    All of them are one normal: the level has variance 0.30^2, each kind that and 0.15^2, the
    level is all they share. Given y = kind + noise: mean C (S + N)^-1 y, covariance
    P - C (S + N)^-1 C'.
    """
    count = len(y)
    prior = np.full((count + 2, count + 2), 0.30**2) + np.diag([0.0, *[0.15**2] * (count + 1)])
    seen = slice(1, count + 1)
    gain = prior[:, seen] @ np.linalg.inv(prior[seen, seen] + np.diag(noise))
    return gain @ y, np.diag(prior - gain @ prior[seen, :])


@pytest.mark.parametrize("counts", [(1,), (10,), (3, 7), (1, 1, 20), (2, 5, 9, 40)])
def test_level_and_kinds_are_the_posterior_of_a_normal_two_level_model(
    counts: tuple[int, ...],
) -> None:
    # Tasks of equal size that all took their kind's ratio: s^2 = 8 x 0.25 / (8 + sum (n - 1)).
    ratios = [1.0 + 0.3 * i for i in range(len(counts))]
    found = in_levels(
        said_by({f"k{i}": [(ratios[i] * 2.0, 2.0)] * n for i, n in enumerate(counts)}, {}), {}
    )
    level, kinds = found.level, found.kinds
    noise = np.array([2 / (8 + sum(counts) - len(counts)) / n for n in counts])
    mean, variance = posterior(np.log(ratios) + noise / 2, noise)
    assert level.log_mean == pytest.approx(mean[0])
    assert level.log_sd == pytest.approx(math.sqrt(variance[0]))
    assert [kind.log_mean for kind in kinds] == pytest.approx(mean[1:-1])
    assert [kind.log_sd(level) for kind in kinds] == pytest.approx(np.sqrt(variance[1:-1]))
    unseen = KindFactor(kind="unseen", log_mean=level.log_mean)
    assert unseen.log_mean == pytest.approx(mean[-1])
    assert unseen.log_sd(level) == pytest.approx(math.sqrt(variance[-1]))


# --- many simulated records -----------------------------------------------------------------


def simulated(
    *, true: float, kinds: int, count: int, scatter: float, kind_sd: float = 0.0, times: int = 1000
) -> tuple[float, float, float]:
    """Mean factor of one kind, of a kind without a record, and share of 80 % intervals that hold.

    Tasks of unlike sizes (log-normal, 0.7); the mean of the tasks' ratios is the kind's.
    """
    random = np.random.default_rng(7)
    found, unseen, held = [], [], 0
    for _ in range(times):
        logs = math.log(true) + random.normal(0, kind_sd, kinds)
        expected = 3 * np.exp(random.normal(0, 0.7, (kinds, count)))
        off = random.normal(-(scatter**2) / 2, scatter, (kinds, count))
        actual = expected * np.exp(logs[:, None] + off)
        records = {
            f"k{i}": list(zip(actual[i].tolist(), expected[i].tolist(), strict=True))
            for i in range(kinds)
        }
        factors = in_levels(said_by(records, {}), {})
        level, first = factors.level, factors.kinds[0]
        found.append(first.factor)
        unseen.append(level.factor)
        held += abs(first.log_mean - logs[0]) <= EIGHTY_PERCENT * first.log_sd(level)
    return float(np.mean(found)), float(np.mean(unseen)), held / times


def test_ten_exact_records_of_one_kind_say_1_45_of_a_true_1_5() -> None:
    # One kind: s^2 = 2 / 17; (log 1.5 + s^2 / 20) x 0.1125 / (0.1125 + s^2 / 10) = 0.37234.
    (factor,) = in_levels(said_by({"": [(3.0, 2.0)] * 10}, {}), {}).kinds
    assert factor.factor == pytest.approx(math.exp(0.37234), abs=1e-4)
    assert round(factor.factor, 2) == 1.45


def test_scattered_records_are_believed_less_and_an_estimate_that_holds_stays() -> None:
    # 1,000 records each; the standard error of a mean is 0.005.
    scattered, _, _ = simulated(true=1.5, kinds=1, count=10, scatter=0.5)
    assert 1.34 < scattered < 1.39
    _, unseen, _ = simulated(true=1.5, kinds=3, count=10, scatter=0.0)
    assert round(unseen, 2) == 1.44
    held, _, _ = simulated(true=1.0, kinds=1, count=10, scatter=0.5)
    assert held == pytest.approx(1.0, abs=0.02)


@pytest.mark.parametrize("true", [0.8, 1.0, 1.5])
@pytest.mark.parametrize("kinds", [1, 3])
def test_four_in_five_intervals_hold(true: float, kinds: int) -> None:
    # Of records drawn from the model itself 80 % hold. A level of 1.5 lies 1.35 spreads off, so
    # fewer do. The standard error of the share is 0.013.
    _, _, held = simulated(true=true, kinds=kinds, count=10, scatter=0.5, kind_sd=KIND_LOG_SD)
    assert 0.74 <= held <= 0.87
