"""The bridge of builds that were lived: empty as planned, else the planted cause takes it all.

Three hundred lives, fifty of each kind; more of them, and why those fail that do, from
`python -m tests.benchmarks lives`.
"""

from functools import cache

import pytest

from tests.lives.judged import false_shares
from tests.lives.planted import CAUSE_OF, KINDS, Beginning, Kind, Pair, beginning, planted
from webapp.build.checks.input_checks import faults_of
from webapp.planning.bridge.bridge import bridge

LIVES = 50
MOST_WRONG = 1
"""98 of 100: what is left is told in `tests/benchmarks/lives.py`."""


@cache
def begun(seed: int) -> Beginning | None:
    return beginning(seed)


def lives_of(kind: Kind) -> list[Pair]:
    """The first so many lives in which a cause of the kind has a place."""
    pairs: list[Pair] = []
    seed = 0
    while len(pairs) < LIVES:
        start = begun(seed)
        pair = None if start is None else planted(start, kind)
        if pair is not None:
            pairs.append(pair)
        seed += 1
    return pairs


@pytest.mark.parametrize("kind", KINDS)
def test_only_what_was_planted_moves_first_start(kind: Kind) -> None:
    wrong, moved = {}, 0
    for pair in lives_of(kind):
        assert not faults_of(pair.later)
        way = bridge(pair.earlier, pair.later)
        moved += abs(way.move_minutes or 0) > 1
        if shares := false_shares(pair, way):
            wrong[pair.seed] = shares
    assert len(wrong) <= (MOST_WRONG if kind in CAUSE_OF else 0), wrong
    # A planted cause that never moved anything would prove nothing.
    assert moved >= LIVES // 5 if kind in CAUSE_OF else moved == 0
