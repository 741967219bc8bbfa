"""What is to be cut from what, and the answer: which lengths come off which bar.

Lengths are mm to a thousandth, prices to a ten-thousandth; what is finer is rounded.
"""

from dataclasses import dataclass

MICRONS_IN_A_MM = 1000
PARTS_OF_A_PRICE = 10_000
"""Reckoned with are whole thousandths of a millimetre and whole parts of a price."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """Bars, tubes or hoses of one length: a price each, and how many there are.

    `count` None is as many as wanted. A leftover on the shelf has the price 0 and a count.
    """

    name: str
    length_mm: float
    price: float = 0.0
    count: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedPiece:
    """So many pieces of one length."""

    name: str
    length_mm: float
    count: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class CutJob:
    """Pieces of one kind of tube or hose, and what they may be cut from.

    Each cut takes `kerf_mm` away. A piece comes off by a cut behind it, but the last one may end
    with the bar, or so near its end that the saw takes the rest: so n pieces need n - 1 cuts of the
    bar. With `square_end` there is one more, of the end that is squared first; the other end counts
    as good.
    """

    stock: tuple[Stock, ...]
    pieces: tuple[WantedPiece, ...]
    kerf_mm: float = 0.0
    square_end: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPart:
    """One piece as it comes off a bar."""

    name: str
    length_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CutBar:
    """One bar: its stock, the pieces that come off it, the longest first, and what is left.

    `left_mm` is what lies there once the last piece is cut off too: the bar less every piece, a
    kerf behind each, and one of the squared end; 0 where the last piece ends with the bar or the
    saw takes the rest. It is what a tape measure shows, and what goes on the shelf.
    """

    stock: Stock
    pieces: tuple[CutPart, ...]
    left_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CutList:
    """The bars with the least price found, of those the fewest, then the longest single leftover.

    bound_price : no way of cutting is cheaper than this, which was proved
    proved_best : it was proved that none is cheaper, and none as cheap takes fewer bars
    seconds : the time taken
    """

    bars: tuple[CutBar, ...]
    price: float
    bound_price: float
    proved_best: bool
    seconds: float = 0.0

    @property
    def longest_left_mm(self) -> float:
        """The longest single leftover."""
        return max((bar.left_mm for bar in self.bars), default=0.0)


def microns(length_mm: float) -> int:
    """A length in whole thousandths of a millimetre."""
    return round(length_mm * MICRONS_IN_A_MM)


def price_parts(price: float) -> int:
    """A price in whole parts of it."""
    return round(price * PARTS_OF_A_PRICE)
