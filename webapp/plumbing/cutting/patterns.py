"""Column generation: patterns that would pay, found one after the other, and a bound from them.

Gilmore and Gomory, Operations Research 9 (1961) and 11 (1963). The relaxed problem over the
patterns found so far (each a share of a bar) gives every length a value; a knapsack over these
values finds the pattern that pays most, by dynamic programming over the reachable lengths. The
bound is that of the values, scaled down until no pattern of any kind pays: exact in whole numbers,
so that no rounding ever claims too much.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from webapp.plumbing.cutting.grid import Grid, Layout, Pattern
from webapp.plumbing.cutting.knapsack import Filled, knapsack_of

VALUE_STEPS = 2**40


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A pattern on a kind of bar."""

    kind: int
    pattern: Pattern


class Patterns:
    """The patterns found so far, the relaxed problem over them, and the best bound."""

    def __init__(self, grid: Grid, start: Layout) -> None:
        self.grid = grid
        self._lax = knapsack_of(grid, is_lax=True)
        self._strict = knapsack_of(grid)
        self._is_exact = self._lax == self._strict
        self.bound = 0
        self.values: tuple[Fraction, ...] = ()
        """Of one piece of each length, at the best bound; no bar holds more value than it costs."""
        self.columns: list[Column] = []
        self._known: set[tuple[int, Pattern]] = set()
        self._relaxed = _Relaxed(grid)
        for kind, pattern in start.bars:
            self._add(kind, pattern)
        for number, size in enumerate(grid.sizes):
            fitting = [kind for kind, one in enumerate(grid.kinds) if one.room >= size]
            kind = max(fitting, key=lambda kind: grid.kinds[kind].room / grid.kinds[kind].cost)
            count = min(grid.wanted[number], grid.kinds[kind].room // size)
            self._add(kind, ((number, count),))

    def _add(self, kind: int, pattern: Pattern) -> bool:
        if not pattern or (kind, pattern) in self._known:
            return False
        self._known.add((kind, pattern))
        self.columns.append(Column(kind=kind, pattern=pattern))
        self._relaxed.add(kind, pattern)
        return True

    def generate(self, is_over: Callable[[], bool], told: Callable[[int], None]) -> bool:
        """Find patterns until none pays any more or it is over; whether none pays any more."""
        while not is_over():
            values = self._relaxed.values()
            if values is None:
                return False
            whole = [int(value * VALUE_STEPS) for value in values]
            filled = self._lax.best(whole)
            if self._raise_bound(whole, filled):
                told(self.bound)
            strict = filled if self._is_exact else self._strict.best(whole)
            found = [
                self._add(kind, strict.pattern(self._strict.rooms[kind]))
                for kind in range(len(self.grid.kinds))
                if self._pays(kind, strict)
            ]
            if not any(found):
                return True
        return False

    def _pays(self, kind: int, filled: Filled) -> bool:
        worth = int(filled.worth[filled.knapsack.rooms[kind]]) / VALUE_STEPS
        return worth > self._relaxed.cost(kind) + 1e-9

    def _raise_bound(self, whole: Sequence[int], filled: Filled) -> bool:
        """The bound that these values give, where it is better than the best so far."""
        kinds = self.grid.kinds
        most_costly = self._relaxed.most_costly
        worth = [int(filled.worth[room]) for room in self._lax.rooms]
        costs = [kind.cost for kind in kinds]
        total = sum(value * n for value, n in zip(whole, self.grid.wanted, strict=True))
        # value of a piece, in cost: value / VALUE_STEPS * most_costly, times the scale
        unit = Fraction(most_costly, VALUE_STEPS)
        scales = [Fraction(cost) / (w * unit) for cost, w in zip(costs, worth, strict=True) if w]
        unlimited = [
            Fraction(kind.cost) / (w * unit)
            for kind, w in zip(kinds, worth, strict=True)
            if w and not kind.is_limited
        ]
        most = min(unlimited) if unlimited else max(scales, default=Fraction(0))
        best: tuple[Fraction, Fraction] = (Fraction(0), Fraction(0))
        for scale in {min(scale, most) for scale in scales}:
            given = scale * unit
            bound = given * total - sum(
                kind.most * max(given * w - kind.cost, Fraction(0))
                for kind, w in zip(kinds, worth, strict=True)
            )
            best = max(best, (bound, given))
        whole_bound = -int(-best[0] // 1)
        if whole_bound <= self.bound:
            return False
        self.bound = whole_bound
        self.values = tuple(best[1] * value for value in whole)
        return True


class _Relaxed:
    """The relaxed problem in the solver GLOP of OR-tools: costs as shares of the dearest bar."""

    def __init__(self, grid: Grid) -> None:
        from ortools.linear_solver import pywraplp

        self._grid = grid
        self.most_costly = max(kind.cost for kind in grid.kinds)
        self._solver: Any = pywraplp.Solver.CreateSolver("GLOP")
        infinity = self._solver.infinity()
        self._rows = [self._solver.Constraint(float(n), infinity) for n in grid.wanted]
        self._most = [self._solver.Constraint(0.0, float(kind.most)) for kind in grid.kinds]
        self._objective = self._solver.Objective()
        self._objective.SetMinimization()
        self._scarce = [0.0] * len(grid.kinds)

    def cost(self, kind: int) -> float:
        """What a bar of a kind cost at the last solution: more where there are too few of them."""
        return self._grid.kinds[kind].cost / self.most_costly - self._scarce[kind]

    def add(self, kind: int, pattern: Pattern) -> None:
        """One more pattern to choose from."""
        variable = self._solver.NumVar(0.0, self._solver.infinity(), "")
        self._objective.SetCoefficient(variable, self._grid.kinds[kind].cost / self.most_costly)
        self._most[kind].SetCoefficient(variable, 1.0)
        for number, count in pattern:
            self._rows[number].SetCoefficient(variable, float(count))

    def values(self) -> list[float] | None:
        """What one piece of each length is worth at the best mix of patterns; None without one."""
        if self._solver.Solve() != self._solver.OPTIMAL:
            return None
        self._scarce = [float(row.dual_value()) for row in self._most]
        return [max(float(row.dual_value()), 0.0) for row in self._rows]
