"""What no way of cutting can do better than, worked out without a solver."""

from fractions import Fraction

from webapp.plumbing.cutting.grid import Grid


def least_cost(grid: Grid) -> int:
    """No layout costs less: the pieces laid end to end over the bars that are cheapest by length,
    and, where there is one kind of bar, the bound L2 of Martello and Toth."""
    if not grid.count:
        return 0
    if len(grid.kinds) == 1:
        return grid.kinds[0].cost * _fewest_bars(grid)
    return _laid_end_to_end(grid)


def total_load(grid: Grid) -> int:
    """What all pieces take, in units of the grid."""
    return sum(size * count for size, count in zip(grid.sizes, grid.wanted, strict=True))


def total_room(grid: Grid) -> int:
    """What all bars hold that there are, in units of the grid."""
    return sum(kind.room * kind.most for kind in grid.kinds)


def _laid_end_to_end(grid: Grid) -> int:
    left, cost = total_load(grid), Fraction(0)
    for kind in sorted(grid.kinds, key=lambda kind: Fraction(kind.cost, kind.room)):
        bars = min(Fraction(left, kind.room), Fraction(kind.most))
        cost += bars * kind.cost
        left -= int(bars * kind.room) if bars < kind.most else kind.most * kind.room
        if left <= 0 or bars < kind.most:
            break
    return -int(-cost // 1)


def _fewest_bars(grid: Grid) -> int:
    """L2: pieces over half a bar each take one; what of the small ones has no room beside them
    takes more. Martello and Toth, Knapsack Problems (1990), section 8.3 (from memory)."""
    room = grid.kinds[0].room
    lengths = list(zip(grid.sizes, grid.wanted, strict=True))
    best = -(-total_load(grid) // room)
    large = [(size, count) for size, count in lengths if 2 * size > room]
    for least in (0, *(size for size, _ in lengths if 2 * size <= room)):
        alone = sum(count for size, count in large if size > room - least)
        beside = [(size, count) for size, count in large if size <= room - least]
        small = sum(size * count for size, count in lengths if least <= size and 2 * size <= room)
        bars = sum(count for _, count in beside)
        gaps = bars * room - sum(size * count for size, count in beside)
        best = max(best, alone + bars + max(0, -(-(small - gaps) // room)))
    return best
