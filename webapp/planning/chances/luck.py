"""The luck of every draw: what is drawn under each name, drawn once.

Two builds that are held against each other have the same luck in what they share, so whoever
asks about both draws it once for both.
"""

import zlib
from collections.abc import Callable

import numpy as np

from webapp.build.three_point import ThreePoint
from webapp.planning.chances.pert_beta import Floats, PertBeta

Distribution = Callable[[ThreePoint, Floats], Floats]
"""Hours below which each share of the outcomes of a three-point estimate lies."""

SEED = 1
DRAWS = 1000
"""So many draws where nobody asks for another number."""


class Luck:
    """Named draws, kept as long as whoever holds it; each (draws,), not to be written to."""

    def __init__(
        self, draws: int = DRAWS, seed: int = SEED, distribution: Distribution | None = None
    ) -> None:
        self.draws, self.seed = draws, seed
        self._distribution = distribution or PertBeta()
        self._shares: dict[str, Floats] = {}
        self._normals: dict[str, Floats] = {}
        self._outcomes: dict[tuple[str, ThreePoint], Floats] = {}

    @property
    def held(self) -> int:
        """How many arrays of draws are kept."""
        return len(self._shares) + len(self._normals) + len(self._outcomes)

    def shares(self, name: str) -> Floats:
        """See `even_shares`."""
        if name not in self._shares:
            self._shares[name] = even_shares(self.draws, self.seed, name)
        return self._shares[name]

    def normals(self, name: str) -> Floats:
        """See `balanced_normals`."""
        if name not in self._normals:
            self._normals[name] = balanced_normals(self.draws, self.seed, name)
        return self._normals[name]

    def over_expected(self, name: str, hours: ThreePoint) -> Floats:
        """Hours that an estimate turns out to take, over the expected ones, which are above 0."""
        if hours.pessimistic <= hours.optimistic:
            return np.ones(self.draws)
        asked = name, hours
        if asked not in self._outcomes:
            self._outcomes[asked] = self._distribution(hours, self.shares(name)) / hours.expected
        return self._outcomes[asked]


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
