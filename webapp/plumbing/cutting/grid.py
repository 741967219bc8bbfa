"""A cut list as whole numbers: the kerf reckoned in, alike lengths and alike bars together.

n pieces fit on a bar when the sum of their lengths and n - 1 kerfs does not pass its length: so
the kerf is added to every piece and once to every bar, and is forgotten then. Where the end is
squared first, the kerf of that cut is the one that would have been added to the bar.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import reduce
from itertools import repeat
from math import gcd

from webapp.plumbing.cutting.cut_list import (
    MICRONS_IN_A_MM,
    PARTS_OF_A_PRICE,
    CutBar,
    CutJob,
    CutPart,
    Stock,
    microns,
    price_parts,
)

Pattern = tuple[tuple[int, int], ...]
"""What comes off one bar: number of a length, and how many of it; each length once, in order."""
MOST_SUMS = 200_000_000
"""So many pieces times units of a bar are looked at for what pieces can fill."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BarKind:
    """Bars of one length and price: `room` in units of the grid with the kerf reckoned in, and no
    more than pieces of this job can fill; `cost` as it is minimised, and at most how many of them
    there are."""

    room: int
    cost: int
    price: int
    most: int
    is_limited: bool
    stock: tuple[Stock, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """So many patterns, each on a bar of its kind: (kind, pattern), one entry a bar."""

    bars: tuple[tuple[int, Pattern], ...]


class Grid:
    """A job in whole numbers. Lengths fall, and each is wanted so often."""

    def __init__(self, job: CutJob) -> None:
        self.job = job
        kerf = microns(job.kerf_mm)
        self._kerf = kerf
        names: dict[int, list[str]] = {}
        for piece in job.pieces:
            names.setdefault(microns(piece.length_mm) + kerf, []).extend([piece.name] * piece.count)
        taken = sorted(names, reverse=True)
        self.unit = reduce(gcd, taken, 0) or 1
        self._names = [names[one] for one in taken]
        self.sizes = tuple(one // self.unit for one in taken)
        self.wanted = tuple(len(of) for of in self._names)
        self.count = sum(self.wanted)
        self.prices = self.count + 1
        """What one part of a price weighs against one bar: a cheaper way is always better."""
        self.kinds = self._bar_kinds()

    def _room(self, stock: Stock) -> int:
        spare = 0 if self.job.square_end else self._kerf
        return (microns(stock.length_mm) + spare) // self.unit

    def _bar_kinds(self) -> tuple[BarKind, ...]:
        """Kinds that at least one piece comes off, without those that another is as good as."""
        alike: dict[tuple[int, int], list[Stock]] = {}
        for stock in self.job.stock:
            alike.setdefault((microns(stock.length_mm), price_parts(stock.price)), []).append(stock)
        found = []
        for (length, price), stocks in alike.items():
            counts = [self.count if one.count is None else one.count for one in stocks]
            most = min(sum(counts), self.count)
            room = self._room(stocks[0])
            if most and self.sizes and room >= self.sizes[-1]:
                is_limited = most < self.count
                # those that are counted go first, so that what lies there is used up
                ordered = sorted(stocks, key=lambda one: one.count is None)
                found.append((length, price, room, most, is_limited, tuple(ordered)))
        kept = [
            one
            for one in found
            if not any(
                not better[4] and better[0] >= one[0] and better[1] <= one[1] and better is not one
                for better in found
            )
        ]
        sums = self._sums(max((one[2] for one in kept), default=0))
        return tuple(
            BarKind(
                room=room if sums is None else (sums & (1 << room + 1) - 1).bit_length() - 1,
                cost=price * self.prices + 1,
                price=price,
                most=most,
                is_limited=is_limited,
                stock=stocks,
            )
            for _, price, room, most, is_limited, stocks in sorted(kept, key=lambda one: one[1::-1])
        )

    def _sums(self, longest: int) -> int | None:
        """Which lengths the pieces can make laid end to end: bit n is set for n units.

        None where they are too many and too fine to look at.
        """
        if self.count * longest > MOST_SUMS:
            return None
        sums, whole = 1, (1 << longest + 1) - 1
        for size, wanted in zip(self.sizes, self.wanted, strict=True):
            for _ in range(min(wanted, longest // size)):
                sums |= sums << size & whole
        return sums

    # --- what a layout costs and leaves -------------------------------------------------------

    def cost(self, layout: Layout) -> int:
        """Price and number of bars in one number: the less, the better."""
        return sum(self.kinds[kind].cost for kind, _ in layout.bars)

    def load(self, pattern: Pattern) -> int:
        """What the pieces of a pattern take, in units with the kerf reckoned in."""
        return sum(self.sizes[number] * count for number, count in pattern)

    def left_microns(self, kind: int, pattern: Pattern) -> int:
        """What lies there after the last cut."""
        stock = self.kinds[kind].stock[0]
        squared = self._kerf if self.job.square_end else 0
        left = microns(stock.length_mm) - squared - self.load(pattern) * self.unit
        return max(left, 0)

    def longest_left(self, layout: Layout) -> int:
        """The longest single leftover, in microns."""
        return max((self.left_microns(*bar) for bar in layout.bars), default=0)

    def rank(self, layout: Layout) -> tuple[int, int]:
        """Least price, then fewest bars, then longest leftover: the less, the better."""
        return self.cost(layout), -self.longest_left(layout)

    def price_of_cost(self, cost: int) -> int:
        """The parts of a price that a cost holds."""
        return cost // self.prices

    # --- back to the words of the job ---------------------------------------------------------

    def bars_of(self, layout: Layout) -> tuple[CutBar, ...]:
        """The bars by name: dear ones first, then the fullest, each piece once."""
        names = [iter(of) for of in self._names]
        stocks = [_one_by_one(kind) for kind in self.kinds]
        order = sorted(
            layout.bars,
            key=lambda bar: (
                -self.kinds[bar[0]].price,
                bar[0],
                self.left_microns(*bar),
                bar[1],
            ),
        )
        bars = []
        for kind, pattern in order:
            pieces = tuple(
                CutPart(
                    name=next(names[number]),
                    length_mm=(self.sizes[number] * self.unit - self._kerf) / MICRONS_IN_A_MM,
                )
                for number, count in pattern
                for _ in range(count)
            )
            left = self.left_microns(kind, pattern) / MICRONS_IN_A_MM
            bars.append(CutBar(stock=next(stocks[kind]), pieces=pieces, left_mm=left))
        return tuple(bars)


def _one_by_one(kind: BarKind) -> Iterator[Stock]:
    """The stock of a kind as it is used up."""
    for stock in kind.stock:
        yield from (repeat(stock) if stock.count is None else repeat(stock, stock.count))


def price_of(parts: int) -> float:
    """A price of whole parts."""
    return parts / PARTS_OF_A_PRICE


def pattern_of(counts: dict[int, int]) -> Pattern:
    """A pattern by the numbers of its lengths."""
    return tuple((number, counts[number]) for number in sorted(counts) if counts[number])
