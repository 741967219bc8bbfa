"""Draws from three-point estimates: the PERT-beta distribution, shape 4.

Mean (o + 4m + p) / 6, as in D. G. Malcolm et al. 1959; a beta distribution on [o, p] with
alpha = 1 + 4 (m - o) / (p - o), beta = 1 + 4 (p - m) / (p - o). Its standard deviation is not
(p - o) / 6 but follows from the shape.
"""

import zlib

import numpy as np
from numpy.typing import NDArray

from webapp.build.build_input import ThreePoint

Floats = NDArray[np.float64]

GRID = np.linspace(0.0, 1.0, 2049)
"""Where the distribution function is tabled; straight lines between are exact to 1e-5."""


def quantiles(points: ThreePoint, shares: Floats) -> Floats:
    """Hours below which each share of the outcomes lies; shares in [0, 1], of any shape."""
    low, mode, high = points.optimistic, points.most_likely, points.pessimistic
    if high <= low:
        return np.full(shares.shape, low)
    rise, fall = 4 * (mode - low) / (high - low), 4 * (high - mode) / (high - low)
    density = GRID**rise * (1 - GRID) ** fall
    below = np.concatenate([[0.0], np.cumsum(density[1:] + density[:-1])])
    return low + (high - low) * np.interp(shares, below / below[-1], GRID)


def even_shares(draws: int, seed: int, name: str) -> Floats:
    """One share in each of `draws` equal slices of [0, 1], in an order of the name's own.

    The same name and seed always give the same shares (common random numbers): two builds that
    share a task draw the same luck for it. Slices instead of free draws (Latin hypercube, McKay
    et al. 1979) take most of the noise out of the quantiles of a sum.
    """
    random = stream(seed, name)
    return (random.permutation(draws) + random.random(draws)) / draws


def balanced_normals(draws: int, seed: int, name: str) -> Floats:
    """Standard normal draws in pairs of opposite sign, in an order of the name's own."""
    random = stream(seed, name)
    half = random.standard_normal((draws + 1) // 2)
    return random.permutation(np.concatenate([half, -half])[:draws])


def stream(seed: int, name: str) -> np.random.Generator:
    """A stream of random numbers of its own for every seed and name."""
    return np.random.default_rng([seed, zlib.crc32(name.encode("utf-8", "surrogatepass"))])
