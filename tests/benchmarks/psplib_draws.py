"""PSPLIB instances whose durations are drawn, as the literature on stochastic scheduling does.

With an expected duration d: U1 uniform on d -/+ sqrt d, U2 uniform on 0 to 2d, exponential of mean
d, B1 and B2 beta on d/2 to 2d with variance d/3 and d squared / 3 (Stork 2001; Ballestin and Leus
2009; Fang, Kolisch, Wang and Mu 2015, section 4.1). Ten instances of 120 activities, one of every
sixth group as Fang et al. take them.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache

import numpy as np
from numpy.typing import NDArray

from tests.benchmarks.psplib_builds import FOLDER, build_of_instance, read_instance
from webapp.build.build_input import BuildInput, Task
from webapp.build.three_point import ThreePoint
from webapp.planning.chances.luck import Distribution
from webapp.planning.network.network import dependency_dates
from webapp.planning.order.order_that_holds import KeptOrder, Keys, policy_of
from webapp.planning.simulator.work_arrays import lay_out
from webapp.planning.tighten.draw_search import search_over_draws
from webapp.planning.tighten.drawn_orders import BLOCK_DRAWS, drawn_orders

Floats = NDArray[np.float64]

DRAWS_FOLDER = FOLDER / "j120-draws"
OUTCOMES = 100_000
FRESH_SEED = 77
"""Of the blocks that orders are held against each other on: no search draws these."""


@cache
def _beta_outcomes(alpha: float, other: float) -> Floats:
    """Outcomes of a beta distribution on 0 to 1 in ascending order: its quantiles, near enough."""
    return np.sort(np.random.default_rng(1).beta(alpha, other, OUTCOMES))


def _beta(alpha: float, other: float, d: float, shares: Floats) -> Floats:
    quantiles = np.interp(
        shares * OUTCOMES - 0.5, np.arange(OUTCOMES), _beta_outcomes(alpha, other)
    )
    return d / 2 + 1.5 * d * quantiles


def _b1(d: float, shares: Floats) -> Floats:
    """A mean of 1/3 of the width and a variance of (d/3) / (1.5 d)^2."""
    return _beta(d / 2 - 1 / 3, d - 2 / 3, d, shares)


def _b2(d: float, shares: Floats) -> Floats:
    """A mean of 1/3 of the width and a variance of (d^2/3) / (1.5 d)^2."""
    return _beta(1 / 6, 1 / 3, d, shares)


_DRAWN: dict[str, Callable[[float, Floats], Floats]] = {
    "U1": lambda d, shares: d + np.sqrt(d) * (2 * shares - 1),
    "U2": lambda d, shares: 2 * d * shares,
    "exp": lambda d, shares: -d * np.log1p(-shares),
    "B1": _b1,
    "B2": _b2,
}
DISTRIBUTIONS = tuple(_DRAWN)


def distribution(name: str) -> Distribution:
    """Durations below which each share of the outcomes lies; the expected one is d."""
    return lambda hours, shares: _DRAWN[name](hours.expected, shares)


def drawn_instances() -> list[tuple[str, BuildInput]]:
    """Name and build, each duration with a spread; () without the folder."""
    return [
        (path.stem, _spread(build_of_instance(path.stem, read_instance(path.read_text("latin-1")))))
        for path in sorted(DRAWS_FOLDER.glob("*.sm"))
    ]


def _spread(build: BuildInput) -> BuildInput:
    """Any range round the same expected hours: what is drawn is said by the distribution."""

    def spread(task: Task) -> Task:
        d = task.hours.expected
        points = ThreePoint(optimistic=d / 2, most_likely=d, pessimistic=1.5 * d)
        return replace(task, hours=points)

    return replace(build, tasks=tuple(spread(task) for task in build.tasks))


def latest_finish_first(build: BuildInput) -> Keys:
    """The order of the latest finishes by the expected durations and the dependencies alone."""
    work = lay_out(build)
    seconds = {key: int(s) for key, s in zip(work.keys, work.work_seconds, strict=True)}
    latest = {one.key: one.latest_end for one in dependency_dates(build, work.calendar, seconds)}
    return tuple(sorted(work.keys, key=lambda key: latest[key]))


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """Per cent above the critical path, on the same fresh draws: by latest finish first and by the
    order that a search found, and the standard error of the difference."""

    by_rule: float
    found: float
    error: float

    @property
    def gain(self) -> float:
        return self.by_rule - self.found


def compared(build: BuildInput, name: str, *, schedules: int, blocks: int) -> Compared:
    """One instance with one distribution; so many schedules to search with, so many blocks of
    draws to hold the two against each other."""
    rule = latest_finish_first(build)
    found = search_over_draws(
        build, seconds=3600, schedules=schedules, factors=None, distribution=distribution(name)
    )
    assert found is not None
    fresh = drawn_orders(build, factors=None, distribution=distribution(name), seed=FRESH_SEED)
    assert fresh is not None
    both_orders = KeptOrder(keys=rule), found.order
    policies = np.array([policy_of(fresh.work, order) for order in both_orders])
    ends = []
    for _ in range(blocks):
        fresh.draw_next()
        ends.append(fresh.ends(policies, slice(0, BLOCK_DRAWS))[1:])
    both = np.concatenate(ends, axis=1)
    dates = fresh.work.dates.by_key[fresh.work.keys[fresh.work.first_start]]
    over = 100 * (both / dates.earliest_end - 1)
    apart = over[0] - over[1]
    return Compared(
        by_rule=float(over[0].mean()),
        found=float(over[1].mean()),
        error=float(apart.std(ddof=1) / np.sqrt(apart.size)),
    )
