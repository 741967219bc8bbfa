"""Ways to cut that are there at once: the longest pieces first, each on the first bar it fits.

Filled bar by bar: going through what is left from the longest down and taking what still fits
gives the same bars as laying each piece on the first bar that takes it.
"""

from collections.abc import Iterator, Sequence

from webapp.plumbing.cutting.grid import Grid, Layout, Pattern, pattern_of


def first_fit(grid: Grid) -> Layout | None:
    """The best of: what lies there used first or not at all, new bars all of one kind as far as
    they go; each bar exchanged for the cheapest that takes what is on it. None: none was found."""
    found = (filled(grid, order) for order in _orders(grid))
    whole = [improved(grid, layout) for layout in found if layout is not None]
    return min(whole, key=grid.rank, default=None)


def _orders(grid: Grid) -> Iterator[tuple[int, ...]]:
    """Orders in which kinds of bars are opened."""
    kinds = range(len(grid.kinds))
    free = [kind for kind in kinds if not grid.kinds[kind].price]
    bought = [kind for kind in kinds if grid.kinds[kind].price]
    by_value = sorted(bought, key=lambda kind: grid.kinds[kind].price / grid.kinds[kind].room)
    firsts: list[int | None] = [*bought] or [None]
    for first in firsts:
        rest = [kind for kind in by_value if kind != first]
        start = [] if first is None else [first]
        yield (*free, *start, *rest)
        yield (*reversed(free), *start, *rest)
        if bought:
            yield (*start, *rest, *free)


def filled(grid: Grid, order: Sequence[int]) -> Layout | None:
    """Bars opened in that order, each filled with the longest that fit; None where some piece
    finds none."""
    left = list(grid.wanted)
    bars: list[tuple[int, Pattern]] = []
    for kind in order:
        for _ in range(grid.kinds[kind].most):
            pattern = _filling(grid, grid.kinds[kind].room, left)
            if not pattern:
                break
            bars.append((kind, pattern))
            for number, count in pattern:
                left[number] -= count
    return None if any(left) else Layout(bars=tuple(bars))


def _filling(grid: Grid, room: int, left: Sequence[int]) -> Pattern:
    taken: dict[int, int] = {}
    for number, size in enumerate(grid.sizes):
        if left[number] and size <= room:
            count = min(left[number], room // size)
            taken[number] = count
            room -= count * size
    return pattern_of(taken)


def improved(grid: Grid, layout: Layout) -> Layout:
    """Each bar exchanged for the cheapest that is left and takes what is on it, fullest last."""
    unused = [kind.most for kind in grid.kinds]
    for kind, _ in layout.bars:
        unused[kind] -= 1
    after = []
    for kind, pattern in sorted(layout.bars, key=lambda bar: grid.load(bar[1])):
        load = grid.load(pattern)
        best = min(
            (
                other
                for other, one in enumerate(grid.kinds)
                if other == kind or (unused[other] > 0 and one.room >= load)
            ),
            key=lambda other: (grid.kinds[other].cost, -grid.left_microns(other, pattern)),
        )
        unused[kind] += 1
        unused[best] -= 1
        after.append((best, pattern))
    return Layout(bars=tuple(after))


def layout_of(grid: Grid, covering: Sequence[tuple[int, Pattern]]) -> Layout:
    """A layout of patterns that together hold every piece at least as often as it is wanted:
    what is too much is left out, and bars that hold nothing then."""
    left = list(grid.wanted)
    bars = []
    for kind, pattern in covering:
        kept = {number: min(count, left[number]) for number, count in pattern}
        for number, count in kept.items():
            left[number] -= count
        if any(kept.values()):
            bars.append((kind, pattern_of(kept)))
    if any(left):
        raise ValueError("the patterns do not hold every piece")
    return improved(grid, Layout(bars=tuple(bars)))
