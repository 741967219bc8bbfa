"""People who live two builds: how far off a kind of the second is, with the first's record or not.

True factors are drawn from the model itself, or are what the story says; tasks of unlike sizes
(log-normal, 0.7) scatter round them by 0.5.
"""

import datetime as dt
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from webapp.build.earlier_record import EarlierRecord
from webapp.planning.chances.factors import KIND_LOG_SD, LEVEL_LOG_SD, SAME_PERSON
from webapp.planning.record.calibration import Hours, said_by, summed
from webapp.planning.record.levels import in_levels

EIGHTY_PERCENT = 1.2815516
"""Of a normal, four fifths lie within so many standard deviations of its mean."""
KINDS = ("", "tig", "saw")
TASK_SCATTER = 0.5
DAY = dt.date(2026, 1, 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class SecondBuild:
    """What both builds of a person are like: drawn, or the factor of all work in each."""

    first: float | None = None
    second: float | None = None
    is_better_known: bool = True

    @property
    def is_of_the_model(self) -> bool:
        """Whether the factors are drawn from the model itself."""
        return self.first is None


SECOND_BUILDS = {
    "drawn from the model": SecondBuild(),
    "1.5 times in both": SecondBuild(first=1.5, second=1.5),
    "1.5 times, then 0.9": SecondBuild(first=1.5, second=0.9, is_better_known=False),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """Of one kind: how far its log factor is off, and whether the 80 % interval holds it."""

    off: float
    holds: bool


Lives = dict[tuple[int, bool], list[Found]]
"""By tasks of each kind in the own record and whether the first build is known."""


def second_builds(
    story: SecondBuild, *, people: int, own_tasks: Sequence[int], first_tasks: int = 12
) -> Lives:
    """So many people's second builds, after so many tasks of each kind in it."""
    random = np.random.default_rng(11)
    lives: Lives = {(own, known): [] for own in own_tasks for known in (False, True)}
    for _ in range(people):
        first, second = _true(random, story)
        kinds = tuple(
            summed(name, _tasks(random, factor, first_tasks))
            for name, factor in zip(KINDS, first.tolist(), strict=True)
        )
        record = EarlierRecord(key="first", name="First", taken_on=DAY, kinds=kinds)
        lived = {
            name: _tasks(random, factor, max(own_tasks))
            for name, factor in zip(KINDS, second.tolist(), strict=True)
        }
        for own in own_tasks:
            records = {name: tasks[:own] for name, tasks in lived.items()} if own else {}
            for known in (False, True):
                said = said_by(records, {}, [record] if known else [])
                factors = in_levels(said, {name: name for name in KINDS})
                for name, factor in zip(KINDS, second.tolist(), strict=True):
                    of = factors.of_kind(name)
                    off = abs(of.log_mean - math.log(factor))
                    holds = off <= EIGHTY_PERCENT * of.log_sd(factors.level)
                    lives[own, known].append(Found(off=off, holds=holds))
    return lives


def _true(
    random: np.random.Generator, story: SecondBuild
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """The factor of each kind in both builds."""
    if story.first is not None and story.second is not None:
        return np.full(len(KINDS), story.first), np.full(len(KINDS), story.second)
    person = random.normal(0, math.sqrt(SAME_PERSON) * LEVEL_LOG_SD)
    of_kinds = random.normal(0, math.sqrt(SAME_PERSON) * KIND_LOG_SD, len(KINDS))
    own = math.sqrt(1 - SAME_PERSON)
    first, second = (
        person
        + of_kinds
        + random.normal(0, own * LEVEL_LOG_SD)
        + random.normal(0, own * KIND_LOG_SD, len(KINDS))
        for _ in range(2)
    )
    return np.exp(first), np.exp(second)


def _tasks(random: np.random.Generator, factor: float, count: int) -> list[Hours]:
    expected = 3 * np.exp(random.normal(0, 0.7, count))
    off = random.normal(-(TASK_SCATTER**2) / 2, TASK_SCATTER, count)
    actual = expected * factor * np.exp(off)
    return list(zip(actual.tolist(), expected.tolist(), strict=True))


def off_of(lives: Lives, own: int, *, known: bool) -> float:
    """How far the log factors are off in the mean."""
    found = lives[own, known]
    return sum(one.off for one in found) / len(found)


def held_of(lives: Lives, own: int, *, known: bool = True) -> float:
    """The share of 80 % intervals that hold."""
    found = lives[own, known]
    return sum(one.holds for one in found) / len(found)
