"""Projects with limited resources, as `tests/benchmarks/psplib_builds.py` makes builds of them."""

import random

from tests.benchmarks.psplib_builds import Instance

TEN_JOBS = Instance(
    hours=(0, 3, 2, 5, 4, 2, 3, 4, 2, 4, 6, 0),
    successors=(
        tuple(range(1, 11)),
        *((*after, 11) for after in ((4, 5), (9, 10), (8,), (6, 7), (9, 10), (8, 9), (8,))),
        *((11,) for _ in range(3)),
        (),
    ),
    needs=(
        *((0, 0), (5, 1), (0, 4), (1, 4), (1, 3), (3, 2), (3, 1)),
        *((2, 4), (4, 0), (5, 2), (2, 5), (0, 0)),
    ),
    capacities=(6, 8),
)
"""RCPSP example of python-mip's documentation (read; optimum 21 recomputed exhaustively)."""


def random_instance(
    seed: int,
    count: int,
    *,
    shortest: int = 1,
    reach: int = 9,
    most_needs: tuple[int, int] = (3, 4),
    capacities: tuple[int, int] = (3, 4),
) -> Instance:
    """So many activities between a source and a sink, some after one of the `reach` ahead.

    They take up to 9 hours, and none where `shortest` is below 1 and the chance below that too.
    """
    chance = random.Random(seed)
    hours = [0, *(max(0, chance.randint(shortest, 9)) for _ in range(count)), 0]
    needs = [tuple(chance.randint(0, most) for most in most_needs) for _ in range(count)]
    links = {
        (i, j)
        for j in range(2, count + 1)
        for i in range(max(1, j - reach), j)
        if chance.random() < 0.2
    }
    links |= {(0, j) for j in range(1, count + 1)} | {(i, count + 1) for i in range(1, count + 1)}
    return Instance(
        hours=tuple(hours),
        successors=tuple(tuple(sorted(j for a, j in links if a == i)) for i in range(count + 2)),
        needs=((0, 0), *needs, (0, 0)),
        capacities=capacities,
    )
