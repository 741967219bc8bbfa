"""A move of first start in days: the mean over common draws of two builds, with and without.

Percentiles of first start only have values where sessions end, so their difference jumps; the
mean of the differences of the same draws does not (common random numbers, e.g. A. M. Law,
Simulation Modeling and Analysis, ch. 11.2).
"""

import math
from dataclasses import dataclass

import numpy as np

from webapp.build.time.shop_calendar import Seconds
from webapp.build.time_units import DAY_SECONDS

ERRORS_OF_NOTHING = 2.0
"""A move of less than so many standard errors is none."""
ABOUT_FROM_DAYS = 0.1
"""A move whose standard error is above this is told as "about"."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """By how much first start moves; days are wall-clock hours / 24.

    mean_days : over all draws, as it came out; later is positive
    error_days : its standard error
    later_share, earlier_share : of the draws, those in which first start moves at all
    draws : how many
    """

    mean_days: float
    error_days: float
    later_share: float
    earlier_share: float
    draws: int

    @property
    def days(self) -> float:
        """What is told: 0.0 where the mean is within two standard errors of it."""
        return self.mean_days if self.is_some else 0.0

    @property
    def is_some(self) -> bool:
        """Whether it can be told from no move at all."""
        return abs(self.mean_days) > ERRORS_OF_NOTHING * self.error_days

    @property
    def is_about(self) -> bool:
        """Whether its standard error is more than is told without a word."""
        return self.error_days > ABOUT_FROM_DAYS

    @property
    def added_days(self) -> float:
        """What added work is told to cost: it never gains, though a greedy order may have."""
        return max(0.0, self.days)


NO_MOVE = Move(mean_days=0.0, error_days=0.0, later_share=0.0, earlier_share=0.0, draws=0)


def move_between(before: Seconds, after: Seconds) -> Move:
    """The move from one first start to another, both in wall seconds of the same draws, (v,).

    Raises ValueError where the draws are not the same number.
    """
    if before.shape != after.shape:
        raise ValueError(f"{len(before)} draws can not be held against {len(after)}")
    days = (after - before) / DAY_SECONDS
    count = len(days)
    error = float(days.std(ddof=1)) / math.sqrt(count) if count > 1 else 0.0
    return Move(
        mean_days=float(days.mean()),
        error_days=error,
        later_share=float(np.mean(days > 0)),
        earlier_share=float(np.mean(days < 0)),
        draws=count,
    )
