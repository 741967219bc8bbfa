"""Whether the pieces come off the bars of one purchase, as a model for the solver.

A purchase leaves so much in all, so no bar of it may leave more. Of a kind of bar of which few
patterns are as full as that, the model chooses among all of them, which soon proves that there is
nothing; the other bars are counted one by one, which soon finds what there is.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from webapp.plumbing.cutting.grid import Grid, Layout, Pattern, pattern_of
from webapp.plumbing.cutting.purchases import (
    Purchase,
    count_of_full_patterns,
    full_patterns,
    room_over,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PurchaseModel:
    """A model without an aim, the variables asked about, and the layout of their values."""

    model: Any
    asked: list[Any]
    layout: Callable[[Sequence[int]], Layout]


def kinds_by_pattern(grid: Grid, purchase: Purchase, most: int) -> frozenset[int]:
    """The kinds of a purchase that have no more than so many patterns together, the fewest
    first."""
    if not most:
        return frozenset()
    over = room_over(grid, purchase)
    counted = sorted(
        (count_of_full_patterns(grid, grid.kinds[kind].room, over), kind)
        for kind, count in enumerate(purchase)
        if count
    )
    chosen: set[int] = set()
    patterns = 0.0
    for count, kind in counted:
        patterns += count
        if patterns > most:
            break
        chosen.add(kind)
    return frozenset(chosen)


def purchase_model(grid: Grid, purchase: Purchase, by_pattern: frozenset[int]) -> PurchaseModel:
    """Over patterns where a kind of bar is among `by_pattern`, the other bars one by one."""
    from ortools.sat.python import cp_model

    made = _Made(grid, room_over(grid, purchase), cp_model.CpModel())
    for kind, count in enumerate(purchase):
        if count and kind in by_pattern:
            made.choose_patterns(kind, count)
        elif count:
            made.count_bars(kind, count)
    for held, wanted in zip(made.holding, grid.wanted, strict=True):
        made.model.add(sum(held) == wanted)
    return PurchaseModel(model=made.model, asked=made.asked, layout=made.layout)


class _Made:
    """A model as it is made, and which of its variables stands for what."""

    def __init__(self, grid: Grid, over: int, model: Any) -> None:
        self.grid, self.over, self.model = grid, over, model
        self.holding: list[list[Any]] = [[] for _ in grid.wanted]
        self.asked: list[Any] = []
        self._patterns: list[tuple[int, Pattern]] = []
        self._uses: list[Any] = []
        self._bars: list[int] = []
        self._counts: list[Any] = []

    def choose_patterns(self, kind: int, count: int) -> None:
        """So many bars of a kind, each of some pattern that is full enough."""
        grid, uses = self.grid, []
        for pattern in full_patterns(grid, grid.kinds[kind].room, self.over):
            times = min((grid.wanted[number] // n for number, n in pattern), default=count)
            use = self.model.new_int_var(0, min(count, times), "")
            for number, n in pattern:
                self.holding[number].append(use * n)
            uses.append(use)
            self._patterns.append((kind, pattern))
        self.model.add(sum(uses) == count)
        self._uses += uses
        self.asked = self._uses + self._counts

    def count_bars(self, kind: int, count: int) -> None:
        """So many bars of a kind, in falling order of their load."""
        grid, model, before = self.grid, self.model, None
        room = grid.kinds[kind].room
        for _ in range(count):
            counts = [
                model.new_int_var(0, min(wanted, room // size), "")
                for size, wanted in zip(grid.sizes, grid.wanted, strict=True)
            ]
            load = model.new_int_var(max(room - self.over, 0), room, "")
            model.add(load == sum(n * size for n, size in zip(counts, grid.sizes, strict=True)))
            if before is not None:
                model.add(load <= before)
            for held, n in zip(self.holding, counts, strict=True):
                held.append(n)
            before = load
            self._bars.append(kind)
            self._counts += counts
        self.asked = self._uses + self._counts

    def layout(self, values: Sequence[int]) -> Layout:
        """The layout of the values of `asked`."""
        uses, lengths = values[: len(self._uses)], len(self.grid.sizes)
        bars = [one for one, use in zip(self._patterns, uses, strict=True) for _ in range(use)]
        for at, kind in enumerate(self._bars):
            begin = len(uses) + at * lengths
            bars.append((kind, pattern_of(dict(enumerate(values[begin : begin + lengths])))))
        return Layout(bars=tuple(bar for bar in bars if bar[1]))
