"""The record of earlier builds in this one's forecast, against conditioning one large normal.

A person's builds scatter round the person and kinds round each build: everything is a sum of
independent normals, so what is known after the record is that of a multivariate normal given some
of its sums (any textbook of statistics). Here it is one dense solve over everything that was seen;
the product knows the sums that all else hangs on.
"""

import datetime as dt
import math
from collections.abc import Sequence

import numpy as np
import pytest
from numpy.typing import NDArray

from tests.earlier_lives import SECOND_BUILDS, held_of, off_of, second_builds
from webapp.build.earlier_record import EarlierKind, EarlierRecord
from webapp.planning.chances.factors import (
    Factors,
    KindFactor,
    kind_called,
    luck_of_kind,
)
from webapp.planning.record.calibration import said_by
from webapp.planning.record.levels import KindSays, in_levels

SHARE = 0.8
DAY = dt.date(2026, 1, 1)
TAKEN_TIG = kind_called("tig", is_taken=True)
TAKEN_SAW = kind_called("saw", is_taken=True)


def kind(name: str, build: int) -> tuple[str, int, bool]:
    """A kind by name, build and whether its hours were once taken."""
    return name.removesuffix("\nhours taken"), build, name.endswith("\nhours taken")


def covariance(one: tuple[str, int, bool], other: tuple[str, int, bool], *, same: bool) -> float:
    """Of two kinds' logs, from the parts they share; "level" is the level itself."""
    (name, build, taken), (name_2, build_2, taken_2) = one, other
    level, of_kind = 0.3**2, 0.15**2
    shared = 0.0
    if not taken and not taken_2:
        shared += SHARE * level
        if name == name_2 != "level":
            shared += SHARE * of_kind
    if build == build_2:
        shared += (1 - SHARE) * level
    if taken and taken_2:
        shared += (1 - SHARE) * level  # the build that the hours were taken in
    if same and name != "level":
        shared += 2 * (1 - SHARE) * of_kind if taken else (1 - SHARE) * of_kind
    return shared


def conditioned(
    seen: Sequence[KindSays], asked: Sequence[tuple[str, int, bool]]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Means and covariance of what is asked, given all that was seen."""
    at = [kind(one.kind, one.build) for one in seen]
    among = np.array([[covariance(a, b, same=a == b) for b in at] for a in at])
    among += np.diag([one.noise for one in seen])
    across = np.array([[covariance(a, b, same=a == b) for b in at] for a in asked])
    prior = np.array([[covariance(a, b, same=a == b) for b in asked] for a in asked])
    y = np.array([one.log_ratio for one in seen])
    mean = across @ np.linalg.solve(among, y)
    return mean, prior - across @ np.linalg.solve(among, across.T)


def says(kind: str, build: int, log_ratio: float, noise: float) -> KindSays:
    return KindSays(
        kind=kind,
        name=kind.removesuffix("\nhours taken"),
        build=build,
        log_ratio=log_ratio,
        noise=noise,
        count=3,
    )


def covariance_of(factors: Factors, kinds: Sequence[str]) -> NDArray[np.float64]:
    """Of the level, the level of hours taken and kinds, as they are drawn."""
    names = ["level", "level of hours taken", *map(luck_of_kind, kinds)]
    rows = np.zeros((len(names), len(names)))
    rows[0, 0] = factors.level.log_sd

    def fill(row: int, of: KindFactor, own: float) -> None:
        rows[row, 0] = (1 - of.weight) * factors.level.log_sd
        for name, by in of.beside:
            rows[row, names.index(name)] += by
        rows[row, row] += own

    fill(1, factors.taken, 0.0)
    for row, name in enumerate(kinds, start=2):
        of = factors.of_kind(name)
        fill(row, of, of.own_log_sd)
    return rows @ rows.T


SEEN = {
    "one build before": [
        says("", 0, 0.1, 0.05),
        says("", 1, 0.5, 0.01),
        says("tig", 1, 0.6, 0.04),
    ],
    "three before, this one with nothing": [
        says("", 1, 0.5, 0.01),
        says("tig", 1, 0.6, 0.04),
        says("tig", 2, 0.1, 0.02),
        says("saw", 3, -0.2, 0.3),
    ],
    "hours taken and estimates": [
        says("", 0, 0.3, 0.02),
        says(TAKEN_TIG, 0, -0.1, 0.02),
        says(TAKEN_SAW, 0, 0.2, 0.2),
        says("tig", 1, 0.6, 0.04),
        says("", 1, 0.4, 0.01),
    ],
    "this one alone": [says("", 0, 0.3, 0.02), says("tig", 0, 0.5, 0.1)],
}


@pytest.mark.parametrize("story", SEEN)
def test_what_is_known_is_one_large_normal_given_what_was_seen(story: str) -> None:
    seen = SEEN[story]
    kinds = ["", "saw", "tig", TAKEN_SAW, TAKEN_TIG]
    factors = in_levels(seen, {"": "", "tig": "tig", "saw": "saw"})
    asked = [("level", 0, False), ("level", 0, True), *(kind(name, 0) for name in kinds)]
    mean, variance = conditioned(seen, asked)
    found = [factors.level.log_mean, factors.taken.log_mean]
    found += [factors.of_kind(name).log_mean for name in kinds]
    assert found == pytest.approx(mean, abs=1e-12)
    assert covariance_of(factors, kinds) == pytest.approx(variance, abs=1e-12)


def test_a_kind_of_one_earlier_build_by_hand() -> None:
    # One earlier build, one kind, y = log 1.5 = 0.405465 without noise (s^2 / n = 0). What both
    # builds share has 0.8 of the variance 0.09 + 0.0225 = 0.1125, so this one's kind is at
    # 0.8 x 0.405465 = 0.324372, and its variance 0.1125 (1 - 0.8^2) = 0.0405.
    factors = in_levels([says("tig", 1, math.log(1.5), 0.0)], {"tig": "tig"})
    (tig,) = factors.kinds
    assert tig.log_mean == pytest.approx(0.324372, abs=1e-6)
    assert tig.log_sd(factors.level) == pytest.approx(math.sqrt(0.0405), abs=1e-9)
    assert (tig.count, tig.earlier) == (0, 3)
    # Its level: of the 0.1125 that y is made of, 0.8 x 0.09 = 0.072 are the person's level:
    # 0.64 x 0.405465, variance 0.09 - 0.072 x 0.64.
    assert factors.level.log_mean == pytest.approx(0.64 * math.log(1.5), abs=1e-9)
    assert factors.level.log_sd**2 == pytest.approx(0.09 - 0.072 * 0.64, abs=1e-9)
    # Hours that were taken are 1, whatever the person's estimates are, with the spread of two
    # builds of one person: 2 x 0.2 x 0.09.
    assert factors.taken.factor == pytest.approx(1.0)
    assert factors.taken.log_sd(factors.level) ** 2 == pytest.approx(
        2 * 0.2 * (0.09 + 0.0225), abs=1e-9
    )


def earlier(times: float, *, tasks: int = 1000, key: str = "one") -> EarlierRecord:
    kinds = (
        EarlierKind(
            tasks=tasks, actual_hours=times * tasks, expected_hours=tasks, worth=float(tasks)
        ),
    )
    return EarlierRecord(key=key, name=key, taken_on=DAY, kinds=kinds)


def test_all_earlier_builds_count_alike_and_more_of_them_say_more() -> None:
    def level(*records: EarlierRecord) -> float:
        return in_levels(said_by({}, {}, records), {}).level.factor

    fast, slow = earlier(0.9, key="fast"), earlier(1.6, key="slow")
    assert level(fast, slow) == pytest.approx(level(slow, fast), abs=1e-12)
    alike = [earlier(1.5, key=f"b{i}") for i in range(4)]
    found = [level(*alike[:count]) for count in range(5)]
    assert found == sorted(found)
    assert found[0] == 1
    assert 1.25 < found[1] < found[4] < 1.5


def test_the_own_record_takes_over() -> None:
    # An earlier build at 1.5; this one runs at 0.9 with tasks that all take just that.
    found = []
    for count in (0, 1, 5, 20, 200):
        records = {"": [(1.8, 2.0)] * count} if count else {}
        factors = in_levels(said_by(records, {}, [earlier(1.5)]), {"": ""})
        found.append(factors.of_kind("").factor)
    assert found == sorted(found, reverse=True)
    assert found[0] == pytest.approx(math.exp(0.324372), rel=0.01)
    assert found[-1] == pytest.approx(0.9, rel=0.02)


# --- second builds of many people ------------------------------------------------------------


@pytest.mark.parametrize("story", SECOND_BUILDS)
def test_a_second_build_is_known_better_with_the_record_of_the_first(story: str) -> None:
    """Small; the benchmark `earlier_records` has ten times as many."""
    lives = second_builds(SECOND_BUILDS[story], people=150, own_tasks=(0, 4, 30))
    for own in (0, 4):
        better = off_of(lives, own, known=True) < off_of(lives, own, known=False)
        assert better == SECOND_BUILDS[story].is_better_known, own
    gap = off_of(lives, 30, known=True) - off_of(lives, 30, known=False)
    assert gap < 0.02  # the own record has taken over
    if SECOND_BUILDS[story].is_of_the_model:
        # 150 people: the standard error of a share of 0.8 is 0.033
        for own in (0, 4, 30):
            assert held_of(lives, own) == pytest.approx(0.8, abs=0.1)
