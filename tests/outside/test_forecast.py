"""Three-point estimates through the forecast against published and reference numbers.

Every build has hands enough and a shop that is always open, so that shop hours are those of the
network alone; `factors=None` draws from the estimates themselves. Shares are drawn one in each of
`DRAWS` equal slices, so the quantiles of a single task are exact to a slice; for sums and merges
of several tasks the tolerance is three standard errors of plain draws, which slices only improve:
3 sqrt(p (1 - p) / N) for a probability, 3 s / sqrt(N) for a mean, 3 s / sqrt(2 N) for a standard
deviation. Work is in whole seconds, at the scales used here below 1e-4 of any expected value.
"""

import math
from collections.abc import Mapping
from dataclasses import replace
from statistics import NormalDist

import numpy as np
import pytest

from tests.outside.networks import PERT_LINKS, PERT_SEVEN, Hours, always_open
from webapp.build.build_input import BuildInput
from webapp.build.three_point import ThreePoint
from webapp.planning.chances.criticality import criticality_of
from webapp.planning.chances.forecast import Forecast, forecast_of
from webapp.planning.chances.luck import SEED, Distribution, Luck
from webapp.planning.chances.pert_beta import Floats, quantiles

DRAWS = 20_000


def drawn(build: BuildInput, distribution: Distribution = quantiles) -> Forecast:
    """The forecast of a build with hands for everybody."""
    found = forecast_of(many_hands(build), Luck(DRAWS, SEED, distribution), factors=None)
    assert found is not None
    return found


def on_path(build: BuildInput, distribution: Distribution = quantiles) -> dict[str, float]:
    """The criticality of every task in the same draws."""
    return criticality_of(many_hands(build), Luck(DRAWS, SEED, distribution), factors=None)


def many_hands(build: BuildInput) -> BuildInput:
    return replace(build, shop=replace(build.shop, people=20))


def hours_of(forecast: Forecast) -> Floats:
    """Hours of every draw, in ascending order."""
    hours: Floats = forecast.end_shop / 3600
    return hours


def share_within(forecast: Forecast, hours: float) -> float:
    return float(np.mean(hours_of(forecast) <= hours))


def of_probability(p: float) -> float:
    return 3 * math.sqrt(p * (1 - p) / DRAWS)


def of_mean(sd: float) -> float:
    return 3 * sd / math.sqrt(DRAWS)


def of_sd(sd: float) -> float:
    return 3 * sd / math.sqrt(2 * DRAWS)


# --- distributions other than PERT-beta ------------------------------------------------------


def normal_of(sds: Mapping[float, float]) -> Distribution:
    """Normal hours with the estimate's mean; `sds` by that mean. Below 0 h there is no work."""

    def normal(points: ThreePoint, shares: Floats) -> Floats:
        law = NormalDist(points.expected, sds[round(points.expected, 6)])
        inside = np.clip(shares, 1e-9, 1 - 1e-9)
        hours = np.array([law.inv_cdf(share) for share in inside])
        return hours.clip(min=0.0)

    return normal


def triangular(points: ThreePoint, shares: Floats) -> Floats:
    """Quantiles of the triangular distribution on the three points."""
    low, mode, high = points.optimistic, points.most_likely, points.pessimistic
    width, peak = high - low, (mode - low) / (high - low)
    rising = low + np.sqrt(shares * width * (mode - low))
    falling = high - np.sqrt((1 - shares) * width * (high - mode))
    drawn_hours: Floats = np.where(shares <= peak, rising, falling)
    return drawn_hours


def spread_round(mean: float) -> tuple[float, float, float]:
    """Three points with that mean; the distribution that is handed in sets the spread."""
    return (mean - 1, mean, mean + 1)


def pert_variance(points: tuple[float, float, float]) -> float:
    return ((points[2] - points[0]) / 6) ** 2


# --- scipy.stats.beta (reference library, numbers recomputed with it) -------------------------


@pytest.mark.parametrize(
    ("points", "expected", "mean", "sd"),
    [
        ((2, 4, 12), (2.899, 4.767, 6.503, 7.453), 5, 1.732),
        ((3, 6, 15), (4.347, 6.766, 8.882, 10.007), 7, 2.138),
    ],
)
def test_quantiles_of_one_task_are_those_of_scipys_beta(
    points: tuple[float, float, float],
    expected: tuple[float, float, float, float],
    mean: float,
    sd: float,
) -> None:
    """A slice is 1/20,000 of the draws, under 0.001 h wide here; the source gives 3 decimals.

    The standard deviation is not (p - o) / 6, 1.667 and 2.0, but follows from the shape.
    """
    forecast = drawn(always_open({"a": points}, []))
    found = [forecast.shop_hours(share) for share in (0.1, 0.5, 0.8, 0.9)]
    assert found == pytest.approx(expected, abs=0.002)
    assert hours_of(forecast).mean() == pytest.approx(mean, abs=0.001)
    assert hours_of(forecast).std() == pytest.approx(sd, abs=0.001)


# --- Taylor, Introduction to Management Science, ch. 8 (read, recomputed) ---------------------

TAYLOR_PATH: dict[str, Hours] = {"1": (5, 8, 17), "3": (3, 5, 7), "5": (4, 6, 8), "7": (3, 4, 5)}
TAYLOR_LINKS = [("1", "3"), ("3", "5"), ("5", "7")]


def test_taylors_path_has_mean_24_and_by_the_book_variance_5() -> None:
    """Mean 24 holds for any distribution with those means. The book's variance of a task,
    ((p - o) / 6)^2, is 4 + 4/9 + 4/9 + 1/9 = 5; normal tasks with it are drawn here.
    """
    path = [(5, 8, 17), (3, 5, 7), (4, 6, 8), (3, 4, 5)]
    assert sum(map(pert_variance, path)) == pytest.approx(5)
    sds = {(o + 4 * m + p) / 6: (p - o) / 6 for o, m, p in path}
    forecast = drawn(always_open(TAYLOR_PATH, TAYLOR_LINKS), normal_of(sds))
    assert hours_of(forecast).mean() == pytest.approx(24, abs=of_mean(math.sqrt(5)))
    assert hours_of(forecast).std() == pytest.approx(math.sqrt(5), abs=of_sd(math.sqrt(5)))
    # 0.9633 from the book's table, 0.96318 exactly: Phi(4 / sqrt 5)
    assert share_within(forecast, 28) == pytest.approx(0.96318, abs=of_probability(0.96318))


def test_taylors_path_of_beta_tasks_has_its_mean_too() -> None:
    forecast = drawn(always_open(TAYLOR_PATH, TAYLOR_LINKS))
    # Variances of the betas, from their shapes (recomputed):
    # (mean - o)(p - mean) / 7 = 4*8/7 + 2*2/7 + 2*2/7 + 1*1/7 = 41/7
    sd = math.sqrt(41 / 7)
    assert hours_of(forecast).mean() == pytest.approx(24, abs=of_mean(sd))
    assert hours_of(forecast).std() == pytest.approx(sd, abs=of_sd(sd))


# --- PERT example with seven activities (memory, recomputed) ----------------------------------


def test_the_path_of_the_seven_activities_alone_has_mean_19_5_and_variance_1_6389() -> None:
    """A-C-E-G: 4 + 31/6 + 31/6 + 31/6 = 19.5; 4/9 + 1/4 + 1/4 + 25/36 = 1.6389."""
    path = [(2, 4, 6), (4, 5, 7), (4, 5, 7), (3, 5, 8)]
    variance = sum(map(pert_variance, path))
    assert variance == pytest.approx(1.6389, abs=5e-5)
    spreads = {"A": 4 / 6, "C": 0.5, "E": 0.5, "G": 5 / 6}

    def by_the_book(points: ThreePoint, shares: Floats) -> Floats:
        law = NormalDist(points.expected, (points.pessimistic - points.optimistic) / 6)
        return np.array([law.inv_cdf(share) for share in np.clip(shares, 1e-9, 1 - 1e-9)])

    alone = {key: PERT_SEVEN[key] for key in spreads}
    chain = [("A", "C"), ("C", "E"), ("E", "G")]
    found = hours_of(drawn(always_open(alone, chain), by_the_book))
    sd = math.sqrt(variance)
    assert found.mean() == pytest.approx(19.5, abs=of_mean(sd))
    assert found.std() == pytest.approx(sd, abs=of_sd(sd))


def test_among_all_seven_the_path_is_nearly_always_a_c_e_g() -> None:
    """Slacks of 3.83 and 4.67 h against standard deviations near 1.5 h: B and D-F seldom
    decide, and the mean rises above 19.5 by little (merge bias is never negative)."""
    build = always_open(PERT_SEVEN, PERT_LINKS)
    assert 19.5 - of_mean(1.3) <= hours_of(drawn(build)).mean() <= 19.6
    shares = on_path(build)
    assert min(shares[key] for key in "ACEG") > 0.97
    assert max(shares[key] for key in "BDF") < 0.03


# --- Stevenson, three independent paths (data read, probabilities recomputed) ----------------

STEVENSON = {20.5: math.sqrt(1.249), 21.5: math.sqrt(1.805), 19.5: math.sqrt(0.528)}


@pytest.mark.parametrize(("hours", "all_paths"), [(24, 0.9678), (21, 0.2341)])
def test_stevensons_three_paths_are_all_done_less_often_than_the_longest_alone(
    hours: float, all_paths: float
) -> None:
    tasks: dict[str, Hours] = {f"path {mean}": spread_round(mean) for mean in STEVENSON}
    forecast = drawn(always_open(tasks, []), normal_of(STEVENSON))
    found = share_within(forecast, hours)
    # the source gives 4 decimals
    assert found == pytest.approx(all_paths, abs=of_probability(all_paths) + 5e-5)


def test_the_longest_of_stevensons_paths_alone_looks_better_than_all_three() -> None:
    """P(<= 21) of the critical path alone 0.3549 against 0.2341 of all: merge bias."""
    forecast = drawn(always_open({"path": spread_round(21.5)}, []), normal_of(STEVENSON))
    assert share_within(forecast, 21) == pytest.approx(0.3549, abs=1e-4 + 1 / DRAWS)


# --- Merge of triangular(80, 100, 120) paths (read in a lecture note, recomputed) -------------


@pytest.mark.parametrize(
    ("paths", "median", "by_100", "mean"),
    [(1, 100, 0.5, 100), (2, 104.693, 0.25, 104.667), (4, 108.718, 0.0625, 108.484)],
)
def test_the_latest_of_several_triangular_paths_comes_later(
    paths: int, median: float, by_100: float, mean: float
) -> None:
    tasks: dict[str, Hours] = {f"path {n}": (80, 100, 120) for n in range(paths)}
    forecast = drawn(always_open(tasks, []), triangular)
    # One path has sd 20 / sqrt 6 = 8.165; the latest of several varies less. The density at the
    # median is 0.05 per hour for one path, 0.054 for two and 0.067 for four, so a share off by
    # three standard errors moves the median by no more than that error over 0.05.
    sd = 20 / math.sqrt(6)
    assert forecast.shop_hours(0.5) == pytest.approx(median, abs=of_probability(0.5) / 0.05)
    assert share_within(forecast, 100) == pytest.approx(by_100, abs=of_probability(by_100))
    assert hours_of(forecast).mean() == pytest.approx(mean, abs=of_mean(sd))


# --- Clark 1961, the greatest of normals (recomputed by formula) ------------------------------

CLARK = {10.0: 2.0, 9.0: 3.0}


def clark() -> BuildInput:
    tasks: dict[str, Hours] = {"A": spread_round(10), "B": spread_round(9)}
    return always_open(tasks, [])


def test_the_later_of_clarks_two_normals_has_his_mean_and_standard_deviation() -> None:
    """A ~ N(10, 2), B ~ N(9, 3), sd second: mean 10.9934, sd 1.9934. B below 0 h (0.13% of
    the draws) never decides."""
    found = hours_of(drawn(clark(), normal_of(CLARK)))
    assert found.mean() == pytest.approx(10.9934, abs=of_mean(1.9934))
    assert found.std() == pytest.approx(1.9934, abs=of_sd(1.9934))


def test_the_criticality_of_clarks_two_normals_is_the_chance_that_each_is_later() -> None:
    """0.6092 and 0.3908 = Phi(1 / sqrt 13) and the rest; walked over the first 2,000 draws."""
    shares = on_path(clark(), normal_of(CLARK))
    tolerance = 3 * math.sqrt(0.6092 * 0.3908 / 2000)
    assert shares["A"] == pytest.approx(0.6092, abs=tolerance)
    assert shares["B"] == pytest.approx(0.3908, abs=tolerance)
    assert shares["A"] + shares["B"] == pytest.approx(1, abs=1e-3)
