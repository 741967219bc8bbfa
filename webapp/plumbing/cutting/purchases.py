"""What could be bought: so many bars of each kind, cheapest first.

An answer costs what its bars cost, and of bars that hold the pieces end to end and cost no more
than the best answer so far there are often a handful: so the next cost that can be had at all lies
well above a bound by length, and what is left is asked one by one whether the pieces come off it.
"""

from collections.abc import Iterator

import numpy as np

from webapp.plumbing.cutting.bounds import total_load
from webapp.plumbing.cutting.grid import Grid, Pattern, pattern_of

MOST_PURCHASES = 2_000
MOST_STEPS = 50_000
"""More purchases than this, or a longer search for them, and none is looked at."""

Purchase = tuple[int, ...]
"""How many bars of each kind of the grid."""


def cost_of(grid: Grid, purchase: Purchase) -> int:
    """What its bars cost, as a layout of the same bars."""
    return sum(kind.cost * count for kind, count in zip(grid.kinds, purchase, strict=True))


def room_over(grid: Grid, purchase: Purchase) -> int:
    """What its bars hold beyond the pieces."""
    room = sum(kind.room * count for kind, count in zip(grid.kinds, purchase, strict=True))
    return room - total_load(grid)


def purchases_between(grid: Grid, least: int, below: int) -> tuple[Purchase, ...] | None:
    """All that cost at least `least`, less than `below`, and hold the pieces end to end; the
    cheapest first. None where there are too many."""
    found: list[Purchase] = []
    for steps, purchase in enumerate(_searched(grid, below)):
        if purchase is not None and cost_of(grid, purchase) >= least:
            found.append(purchase)
        if steps > MOST_STEPS or len(found) > MOST_PURCHASES:
            return None
    return tuple(sorted(found, key=lambda one: (cost_of(grid, one), one)))


def _searched(grid: Grid, below: int) -> Iterator[Purchase | None]:
    """Each purchase that holds the pieces and costs less than `below`; None between, at each step
    of the search."""
    # counted ones first; of the others the cheapest by length last, for it cuts off soonest
    kinds = sorted(
        range(len(grid.kinds)),
        key=lambda kind: (
            not grid.kinds[kind].is_limited,
            -grid.kinds[kind].cost / grid.kinds[kind].room,
        ),
    )
    last = grid.kinds[kinds[-1]]
    counted = [
        sum(
            grid.kinds[kind].room * grid.kinds[kind].most
            for kind in kinds[at:]
            if grid.kinds[kind].is_limited
        )
        for at in range(len(kinds) + 1)
    ]
    counts = [0] * len(kinds)

    def can_hold(wanted: int, money: int) -> bool:
        """Whether what is left to pay buys as much of what is not counted, at its best price."""
        return wanted <= 0 or (not last.is_limited and money * last.room >= wanted * last.cost)

    def choose(at: int, wanted: int, money: int) -> Iterator[Purchase | None]:
        yield None
        if at == len(kinds):
            if wanted <= 0:
                yield tuple(counts)
            return
        one = grid.kinds[kinds[at]]
        for count in range(min(one.most, money // one.cost) + 1):
            left, after = money - count * one.cost, wanted - count * one.room
            if can_hold(after - counted[at + 1], left):
                counts[kinds[at]] = count
                yield from choose(at + 1, after, left)
        counts[kinds[at]] = 0

    yield from choose(0, total_load(grid), below - 1)


# --- what can come off one bar of a purchase --------------------------------------------------


def full_patterns(grid: Grid, room: int, over: int) -> list[Pattern]:
    """Every pattern that fills a bar but for at most `over`.

    A bar of a purchase leaves at most what the whole purchase leaves: so these are all there are.
    """
    sums = _sums_of_the_last(grid, room)
    found: list[Pattern] = []
    taken: dict[int, int] = {}

    def choose(number: int, left: int) -> None:
        least = max(left - over, 0)
        if not sums[number] >> least & ((1 << left - least + 1) - 1):
            return
        if number == len(grid.sizes):
            found.append(pattern_of(taken))
            return
        size = grid.sizes[number]
        for count in range(min(grid.wanted[number], left // size), -1, -1):
            taken[number] = count
            choose(number + 1, left - count * size)
        del taken[number]

    choose(0, room)
    return found


def count_of_full_patterns(grid: Grid, room: int, over: int) -> float:
    """How many `full_patterns` finds, counted without finding them; rounded where they are many."""
    ways = np.zeros(room + 1)
    ways[0] = 1.0
    for size, wanted in zip(grid.sizes, grid.wanted, strict=True):
        before = ways.copy()
        for count in range(1, min(wanted, room // size) + 1):
            ways[count * size :] += before[: room + 1 - count * size]
    return float(ways[max(room - over, 0) :].sum())


def _sums_of_the_last(grid: Grid, room: int) -> list[int]:
    """For each length, which sums the pieces from that length on can make: bit n is set for n."""
    whole = (1 << room + 1) - 1
    sums = [1]
    for size, wanted in zip(reversed(grid.sizes), reversed(grid.wanted), strict=True):
        made = sums[-1]
        for _ in range(min(wanted, room // size)):
            made |= made << size & whole
        sums.append(made)
    return sums[::-1]
