"""The two models that are given to the solver.

Over patterns: which of the patterns found, and how often. Bar by bar: for each bar that may be
used, how many pieces of each length come off it; the bars of one kind in falling order of their
load, so that no two answers differ by the order of bars alone.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from webapp.plumbing.cutting.grid import Grid, Layout, pattern_of
from webapp.plumbing.cutting.patterns import Column


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternModel:
    """Patterns that together hold every piece at least as often as it is wanted."""

    model: Any
    uses: list[Any]


def pattern_model(grid: Grid, columns: Sequence[Column], best: Layout) -> PatternModel:
    """At the least cost, begun from the best layout so far."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    most = [
        min(
            grid.kinds[one.kind].most,
            max(-(-grid.wanted[number] // count) for number, count in one.pattern),
        )
        for one in columns
    ]
    uses = [model.new_int_var(0, n, "") for n in most]
    holding: list[list[Any]] = [[] for _ in grid.wanted]
    for use, one in zip(uses, columns, strict=True):
        for number, count in one.pattern:
            holding[number].append(use * count)
    for held, wanted in zip(holding, grid.wanted, strict=True):
        model.add(sum(held) >= wanted)
    for kind, bars in enumerate(grid.kinds):
        if bars.is_limited:
            of_it = [use for use, one in zip(uses, columns, strict=True) if one.kind == kind]
            if of_it:
                model.add(sum(of_it) <= bars.most)
    used = dict.fromkeys(best.bars, 0)
    for bar in best.bars:
        used[bar] += 1
    for use, one in zip(uses, columns, strict=True):
        model.add_hint(use, used.get((one.kind, one.pattern), 0))
    model.minimize(
        sum(use * grid.kinds[one.kind].cost for use, one in zip(uses, columns, strict=True))
    )
    return PatternModel(model=model, uses=uses)


def covering_of(columns: Sequence[Column], uses: Sequence[int]) -> list[Any]:
    """The patterns as often as they are used."""
    return [
        (one.kind, one.pattern) for one, use in zip(columns, uses, strict=True) for _ in range(use)
    ]


def most_bars(grid: Grid, best: Layout | None) -> tuple[int, ...]:
    """How many bars of each kind an answer may have that costs no more than the best so far."""
    if best is None:
        return tuple(bars.most for bars in grid.kinds)
    return tuple(min(bars.most, grid.cost(best) // bars.cost) for bars in grid.kinds)


class BarModel:
    """Bar by bar, for answers that cost no more than the best so far."""

    def __init__(self, grid: Grid, best: Layout | None, bound: int) -> None:
        from ortools.sat.python import cp_model

        self.grid = grid
        self.model: Any = cp_model.CpModel()
        self.kinds: list[int] = []
        self.is_used: list[Any] = []
        self.loads: list[Any] = []
        self.counts: list[list[Any]] = []
        self._first_of: dict[int, int] = {}
        most_cost = None if best is None else grid.cost(best)
        for kind, most in enumerate(most_bars(grid, best)):
            self._first_of[kind] = len(self.kinds)
            for number in range(most):
                self._add_bar(kind, is_first=number == 0)
        for number, wanted in enumerate(grid.wanted):
            self.model.add(sum(counts[number] for counts in self.counts) == wanted)
        rooms = [grid.kinds[kind].room for kind in self.kinds]
        load = sum(size * n for size, n in zip(grid.sizes, grid.wanted, strict=True))
        self.model.add(
            sum(room * used for room, used in zip(rooms, self.is_used, strict=True)) >= load
        )
        costs = [grid.kinds[kind].cost for kind in self.kinds]
        self.cost: Any = sum(cost * used for cost, used in zip(costs, self.is_used, strict=True))
        self.model.add(self.cost >= bound)
        if best is not None:
            self.model.add(self.cost <= most_cost)
            self._hint(best)

    def _add_bar(self, kind: int, *, is_first: bool) -> None:
        grid, model = self.grid, self.model
        room = grid.kinds[kind].room
        used = model.new_bool_var("")
        counts = [
            model.new_int_var(0, min(wanted, room // size), "")
            for size, wanted in zip(grid.sizes, grid.wanted, strict=True)
        ]
        load = model.new_int_var(0, room, "")
        model.add(load == sum(s * n for s, n in zip(grid.sizes, counts, strict=True)))
        model.add(load <= room * used)
        model.add(sum(counts) >= used)
        if not is_first:
            model.add(load <= self.loads[-1])
            model.add(used <= self.is_used[-1])
        self.kinds.append(kind)
        self.is_used.append(used)
        self.loads.append(load)
        self.counts.append(counts)

    def _hint(self, best: Layout) -> None:
        by_kind: dict[int, list[dict[int, int]]] = {}
        for kind, pattern in sorted(best.bars, key=lambda bar: -self.grid.load(bar[1])):
            by_kind.setdefault(kind, []).append(dict(pattern))
        for at, kind in enumerate(self.kinds):
            patterns = by_kind.get(kind, [])
            number = at - self._first_of[kind]
            held = patterns[number] if number < len(patterns) else {}
            self.model.add_hint(self.is_used[at], bool(held))
            for length, count in enumerate(self.counts[at]):
                self.model.add_hint(count, held.get(length, 0))

    def least_cost(self) -> None:
        """Look for the least cost."""
        self.model.minimize(self.cost)

    def longest_left(self, cost: int, at_least: int) -> None:
        """Look, at that cost, for the longest single leftover, in microns; longer than so much."""
        grid, model = self.grid, self.model
        model.add(self.cost == cost)
        longest = max(grid.left_microns(kind, ()) for kind in set(self.kinds))
        left = model.new_int_var(at_least + 1, longest, "")
        chosen = [model.new_bool_var("") for _ in self.kinds]
        model.add(sum(chosen) == 1)
        for at, kind in enumerate(self.kinds):
            whole = grid.left_microns(kind, ())
            model.add_implication(chosen[at], self.is_used[at])
            model.add(left <= whole - self.loads[at] * grid.unit).only_enforce_if(chosen[at])
        model.maximize(left)

    @property
    def asked(self) -> list[Any]:
        """The variables that make a layout."""
        return [count for counts in self.counts for count in counts]

    def layout(self, values: Sequence[int]) -> Layout:
        """The layout of their values."""
        lengths = len(self.grid.sizes)
        bars = []
        for at, kind in enumerate(self.kinds):
            counts = dict(enumerate(values[at * lengths : (at + 1) * lengths]))
            if any(counts.values()):
                bars.append((kind, pattern_of(counts)))
        return Layout(bars=tuple(bars))
