"""Draws from three-point estimates: the PERT-beta distribution, shape 4.

Mean (o + 4m + p) / 6, as in D. G. Malcolm et al. 1959; a beta distribution on [o, p] with
alpha = 1 + 4 (m - o) / (p - o), beta = 1 + 4 (p - m) / (p - o). Its standard deviation is not
(p - o) / 6 but follows from the shape.
"""

import numpy as np
from numpy.typing import NDArray

from webapp.build.three_point import ThreePoint

Floats = NDArray[np.float64]

GRID = np.linspace(0.0, 1.0, 2049)
"""Where the distribution function is tabled; straight lines between are exact to 1e-5."""


class PertBeta:
    """The distribution of every estimate; the table of each shape is made once."""

    def __init__(self) -> None:
        self._tables: dict[tuple[float, float], Floats] = {}

    def __call__(self, points: ThreePoint, shares: Floats) -> Floats:
        """Hours below which each share of the outcomes lies; shares in [0, 1], of any shape."""
        low, mode, high = points.optimistic, points.most_likely, points.pessimistic
        if high <= low:
            return np.full(shares.shape, low)
        shape = 4 * (mode - low) / (high - low), 4 * (high - mode) / (high - low)
        if shape not in self._tables:
            self._tables[shape] = _shares_below(*shape)
        return low + (high - low) * np.interp(shares, self._tables[shape], GRID)


def quantiles(points: ThreePoint, shares: Floats) -> Floats:
    """The same for one estimate."""
    return PertBeta()(points, shares)


def _shares_below(rise: float, fall: float) -> Floats:
    density = GRID**rise * (1 - GRID) ** fall
    below = np.concatenate([[0.0], np.cumsum(density[1:] + density[:-1])])
    shares: Floats = below / below[-1]
    return shares
