"""Lengths of hose or tube on the shelf, each cut from until nothing fits any more."""

from collections import Counter
from dataclasses import dataclass

_FINE_MM = 1e-6


@dataclass(slots=True)
class Bar:
    """One length that something was cut from: how long it lay there, and what is left of it."""

    lay_mm: float
    left_mm: float


class Bars:
    """All lengths of one name. Those that nothing was cut from yet are only counted."""

    def __init__(self) -> None:
        self._whole: Counter[float] = Counter()
        self._begun: list[Bar] = []

    def add(self, length_mm: float, count: int) -> None:
        """So many of one length more."""
        self._whole[length_mm] += count

    def cut(self, length_mm: float, kerf_mm: float) -> Bar | None:
        """A piece off the shortest that it can be cut from, one that is begun before a whole one;
        None where there is none. The kerf is lost behind it."""
        bar = self._shortest(length_mm)
        if bar is not None:
            bar.left_mm -= length_mm + kerf_mm
        return bar

    def _shortest(self, length_mm: float) -> Bar | None:
        least = length_mm - _FINE_MM
        begun = min(
            (bar for bar in self._begun if bar.left_mm >= least),
            key=lambda bar: bar.left_mm,
            default=None,
        )
        whole = min((one for one, n in self._whole.items() if n and one >= least), default=None)
        if whole is None or (begun is not None and begun.left_mm <= whole):
            return begun
        self._whole[whole] -= 1
        self._begun.append(Bar(lay_mm=whole, left_mm=whole))
        return self._begun[-1]

    def lengths_mm(self) -> Counter[float]:
        """What is left, by length."""
        return self._whole + Counter(bar.left_mm for bar in self._begun)
