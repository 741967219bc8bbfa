"""First start of every draw, to the second, as it was before the simulator was made faster.

The digests were taken with the program before that (27 November 2026): whoever makes it faster
still must not move a draw. Whoever changes a rule on purpose takes them anew.
"""

import hashlib

import pytest

from tests.benchmarks.workshop_builds import workshop_build
from webapp.planning.chances.draws import drawn_of
from webapp.planning.chances.luck import Luck
from webapp.planning.simulator.simulate import first_starts
from webapp.planning.simulator.without_one import first_starts_without

DRAWS = 100


@pytest.mark.parametrize(
    ("tasks", "digest"),
    [
        (40, "2f7b8b7fe612f8b1"),
        (120, "e4a44b229794508d"),
        (250, "75d10a84f7e2bf06"),
    ],
)
def test_first_start_of_every_draw_stays(tasks: int, digest: str) -> None:
    drawn = drawn_of(workshop_build(tasks), Luck(DRAWS))
    assert drawn is not None
    ends = first_starts(drawn.work, drawn.variants)
    assert _digest(ends.wall.tolist() + ends.shop.tolist()) == digest


def test_first_start_without_each_task_stays() -> None:
    drawn = drawn_of(workshop_build(40), Luck(DRAWS))
    assert drawn is not None
    _, without = first_starts_without(drawn.work, drawn.variants, len(drawn.work))
    assert _digest(without.ravel().tolist()) == "eab1441cf48f046e"


def _digest(seconds: list[int]) -> str:
    return hashlib.sha256(",".join(map(str, seconds)).encode()).hexdigest()[:16]
