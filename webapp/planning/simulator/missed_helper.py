"""Which sessions with the helper each variant misses, drawn as far as a simulation comes to them.

A calendar holds years of sessions and a plan comes to a few dozen of them: to draw them all took a
quarter of a forecast.
"""

from collections.abc import Callable, Sequence
from typing import Self

import numpy as np

from webapp.planning.simulator.work_arrays import Flags, Indices

STRETCHES_AT_ONCE = 8


class MissedHelper:
    """Stretches with the helper in the calendar's order, and by variant whether it is missed.

    `draw` gives of one stretch which of the `count` variants miss it, (count,), the same whenever
    it is asked; those at and after `stretches` are missed by none.
    """

    def __init__(self, draw: Callable[[int], Flags], *, stretches: int, count: int) -> None:
        self._draw, self.stretches, self.count = draw, stretches, count
        self._drawn = np.empty((0, count), bool)

    @classmethod
    def joined(cls, parts: Sequence[tuple["MissedHelper | None", int]]) -> Self | None:
        """The variants of several, one after the other; None with a count: they miss nothing."""
        if all(part is None for part, _ in parts):
            return None

        def draw(stretch: int) -> Flags:
            none = [np.zeros(count, bool) for _, count in parts]
            rows = [
                none[i] if part is None or stretch >= part.stretches else part.row(stretch)
                for i, (part, _) in enumerate(parts)
            ]
            return np.concatenate(rows)

        stretches = max(part.stretches for part, _ in parts if part is not None)
        return cls(draw, stretches=stretches, count=sum(count for _, count in parts))

    def columns(self, columns: slice | Indices) -> "MissedHelper":
        """Some of the variants; the same one may be there more than once."""
        return MissedHelper(
            lambda stretch: self.row(stretch)[columns],
            stretches=self.stretches,
            count=len(np.arange(self.count)[columns]),
        )

    def row(self, stretch: int) -> Flags:
        """Which variants miss one stretch, (count,)."""
        self._draw_until(stretch)
        row: Flags = self._drawn[stretch]
        return row

    def at(self, stretches: Indices, columns: Indices) -> Flags:
        """Of pairs of a stretch and a variant, whether it is missed; all (k,)."""
        self._draw_until(int(stretches.max(initial=-1)))
        missed: Flags = self._drawn[stretches, columns]
        return missed

    def _draw_until(self, stretch: int) -> None:
        first = len(self._drawn)
        if stretch < first:
            return
        last = max(stretch + 1, min(first + STRETCHES_AT_ONCE, self.stretches))
        none = np.zeros(self.count, bool)
        rows = [self._draw(i) if i < self.stretches else none for i in range(first, last)]
        self._drawn = np.concatenate([self._drawn, np.array(rows, bool)])
