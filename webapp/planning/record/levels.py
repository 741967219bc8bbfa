"""How long work takes, in levels: a person, their builds, and kinds of work round each build.

All of it is in logs of actual over expected hours and normal, with known variances (two-level
model of Gelman et al., Bayesian Data Analysis, section 5.4, with one level more; from memory):

    level of a build      L_b = P + B_b      P ~ N(0, 0.8 x 0.30^2), B_b ~ N(0, 0.2 x 0.30^2)
    kind k in a build     L_b + K_k + E_kb   K_k ~ N(0, 0.8 x 0.15^2), E_kb ~ N(0, 0.2 x 0.15^2)
    what its tasks say    that + noise       N(0, s^2 / n)

P and K_k are the person's and the same in every build, B_b and E_kb are a build's own: 0.8 is
`SAME_PERSON`. So any build by itself is what it would be alone, a level with a spread of 0.30 and
kinds round it with 0.15; all earlier builds count alike, in whatever order they were lived; and
the own record takes over as it grows, for it alone knows B and E of this build.

Hours that the same work took in another build hold P, K and that build's own part already:

    level of hours taken  T = B_b - B_o            o is the build they were taken in
    kind of them          T + N(0, 2 x 0.2 x 0.15^2)

so that it is 1 without a record, whatever earlier builds say of estimates; a build that is slower
than the person's others is slower in both.

P, the Bs and the Ks are what all the rest hangs on: given them, what each kind's tasks say is by
itself. So the posterior is that of a linear regression on them (any textbook of statistics).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from webapp.planning.chances.factors import (
    HOURS_TAKEN,
    KIND_LOG_SD,
    LEVEL_LOG_SD,
    LUCK_OF_LEVEL,
    LUCK_OF_TAKEN,
    SAME_PERSON,
    TAKEN_KIND_LOG_SD,
    Factors,
    KindFactor,
    Level,
    is_of_hours_taken,
    luck_of_kind,
)

Floats = NDArray[np.float64]
OWN_KIND_VARIANCE = (1 - SAME_PERSON) * KIND_LOG_SD**2
"""Of a kind in one build, round the level of the build and the person's own part of the kind."""
NOTHING = 1e-9
"""Luck below it is rounding."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KindSays:
    """What the tasks of one kind say in one build.

    kind : what it is called in its build
    name : the same in all builds of the person
    build : 0 for this build, the earlier ones from 1
    log_ratio : y, the log of actual over expected hours
    noise : s^2 / n, the variance of y round the kind
    count : so many tasks
    """

    kind: str
    name: str
    build: int
    log_ratio: float
    noise: float
    count: int

    @property
    def is_own(self) -> bool:
        """Whether it is of this build."""
        return self.build == 0


def in_levels(said: Sequence[KindSays], names: Mapping[str, str]) -> Factors:
    """The level and every kind of work that something is known of, from what all builds say.

    `names` are the kinds of this build with their names in all builds: of those, and of what it
    has a record of itself, there is a factor where any build has said something of their name.
    Without a word from anybody the factors are those without a record.
    """
    if not said:
        return Factors()
    own = {one.kind: one for one in said if one.is_own}
    earlier = _earlier_counts(said)
    heard = {
        kind for kind, name in names.items() if name in earlier and not is_of_hours_taken(kind)
    }
    kinds = sorted({*own, *heard})
    called = dict(names) | {kind: one.name for kind, one in own.items()}
    known = _Posterior(said)
    outcomes = [known.level(), known.taken()]
    outcomes += [known.kind(kind, called[kind], own.get(kind)) for kind in kinds]
    mean, root = known.joint(outcomes)
    luck = (LUCK_OF_LEVEL, LUCK_OF_TAKEN, *map(luck_of_kind, kinds))
    drawn = _Drawn(mean=mean, root=root, luck=luck)
    taken = sum(one.count for one in own.values() if is_of_hours_taken(one.kind))
    return Factors(
        level=_level(said, drawn),
        taken=drawn.level_of_taken(replace(HOURS_TAKEN, count=taken)),
        kinds=tuple(
            drawn.kind(
                place,
                KindFactor(
                    kind=kind,
                    count=own[kind].count if kind in own else 0,
                    earlier=earlier[called[kind]] if kind in heard else 0,
                ),
            )
            for place, kind in enumerate(kinds, start=2)
        ),
    )


def _level(said: Sequence[KindSays], drawn: "_Drawn") -> Level:
    """The level of this build, with the tasks whose estimates stand behind it."""
    estimates = [one for one in said if not is_of_hours_taken(one.kind)]
    return Level(
        log_mean=float(drawn.mean[0]),
        log_sd=float(drawn.root[0, 0]),
        count=sum(one.count for one in estimates if one.is_own),
        earlier=sum(one.count for one in estimates if not one.is_own),
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Drawn:
    """How everything is drawn, the level first: its mean, and its row of shares of each luck."""

    mean: Floats
    root: Floats
    luck: tuple[str, ...]

    def kind(self, place: int, of: KindFactor) -> KindFactor:
        """The factor of a kind; the last of its row is its own luck."""
        apart = float(self.root[place, place])
        return replace(self._following(place, place, of), apart_log_sd=apart)

    def level_of_taken(self, of: KindFactor) -> KindFactor:
        """The factor of kinds of hours taken that nothing is known of: their level's luck, and
        round it the luck of each kind."""
        return self._following(1, 2, of)

    def _following(self, place: int, luck: int, of: KindFactor) -> KindFactor:
        """What follows the level and the first so many kinds of other luck."""
        row = self.root[place]
        return replace(
            of,
            log_mean=float(self.mean[place]),
            weight=1 - float(row[0] / self.root[0, 0]),
            beside=tuple(
                (self.luck[other], float(row[other]))
                for other in range(1, luck)
                if abs(row[other]) > NOTHING
            ),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Rest:
    """What all but a kind's own tasks says of it: its log factor, and how far its own tasks are
    believed against that."""

    log_mean: float
    weight: float


def rest_of(said: Sequence[KindSays], own: KindSays) -> Rest:
    """What is known of a kind of this build without what its own tasks say, `own`, one of `said`.

    With y of its own tasks and s^2 / n their noise, the kind is at rest + w (y - rest),
    w = v / (v + s^2 / n), v the variance of the rest: the same as from all at once.
    """
    others = [one for one in said if one is not own]
    names = {own.kind: own.name}
    factors = in_levels(others, names)
    of = factors.of_kind(own.kind)
    variance = of.log_sd(factors.level) ** 2
    return Rest(log_mean=of.log_mean, weight=variance / (variance + own.noise))


def _earlier_counts(said: Sequence[KindSays]) -> dict[str, int]:
    """By name of a kind the tasks of earlier builds."""
    counts: dict[str, int] = {}
    for one in said:
        if not one.is_own:
            counts[one.name] = counts.get(one.name, 0) + one.count
    return counts


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Outcome:
    """One log factor: `loads` on what all hangs on, plus `plus`, round it with variance `apart`."""

    loads: Floats
    plus: float = 0.0
    apart: float = 0.0


class _Posterior:
    """What is known of P, the Bs (of this build, the earlier ones, and where hours were taken) and
    the Ks, in that order, after all that was said."""

    def __init__(self, said: Sequence[KindSays]) -> None:
        estimates = [one for one in said if not is_of_hours_taken(one.kind)]
        self._builds = 1 + max(one.build for one in said)
        names = sorted({one.name for one in estimates})
        self._place = {name: self._builds + 2 + place for place, name in enumerate(names)}
        builds = [(1 - SAME_PERSON) * LEVEL_LOG_SD**2] * (self._builds + 1)
        kinds = [SAME_PERSON * KIND_LOG_SD**2] * len(names)
        before = np.array([SAME_PERSON * LEVEL_LOG_SD**2, *builds, *kinds])
        loads = np.array([self._loads(one.kind, one.name, one.build) for one in said])
        noise = np.array([_own_variance(one.kind) + one.noise for one in said])
        weighed = loads / noise[:, np.newaxis]
        self._variance = np.linalg.inv(np.diag(1 / before) + loads.T @ weighed)
        self._mean = self._variance @ (weighed.T @ np.array([one.log_ratio for one in said]))

    def _loads(self, kind: str, name: str, build: int) -> Floats:
        loads = np.zeros(self._builds + 2 + len(self._place))
        loads[1 + build] = 1
        if is_of_hours_taken(kind):
            loads[1 + self._builds] = -1
            return loads
        loads[0] = 1
        if name in self._place:
            loads[self._place[name]] = 1
        return loads

    def level(self) -> _Outcome:
        """The level of this build."""
        loads = np.zeros(len(self._mean))
        loads[[0, 1]] = 1
        return _Outcome(loads=loads)

    def taken(self) -> _Outcome:
        """The level of hours once taken."""
        return _Outcome(loads=self._loads(HOURS_TAKEN.kind, "", 0))

    def kind(self, kind: str, name: str, own: KindSays | None) -> _Outcome:
        """A kind in this build; its own part leans to what its own tasks say."""
        loads, apart = self._loads(kind, name, 0), _own_variance(kind)
        if own is None:
            return _Outcome(loads=loads, apart=apart)
        weight = apart / (apart + own.noise)
        return _Outcome(
            loads=(1 - weight) * loads, plus=weight * own.log_ratio, apart=apart * (1 - weight)
        )

    def joint(self, outcomes: Sequence[_Outcome]) -> tuple[Floats, Floats]:
        """The means of all of them, and the root of their variance: lower, each row a share of
        the luck of those before it and last its own (Cholesky)."""
        loads = np.array([one.loads for one in outcomes])
        variance = loads @ self._variance @ loads.T + np.diag([one.apart for one in outcomes])
        mean = loads @ self._mean + np.array([one.plus for one in outcomes])
        return mean, np.linalg.cholesky(variance)


def _own_variance(kind: str) -> float:
    """Of a kind in this build alone, given the person and the level."""
    return TAKEN_KIND_LOG_SD**2 if is_of_hours_taken(kind) else OWN_KIND_VARIANCE
