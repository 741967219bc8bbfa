"""Sizes as they are called: fits reckon with what was typed, names with the nearest trade size.

Trade sizes and hose bores: common practice and ISO 1307; 1 1/2 in, 38.1 mm, and 38 are one hose.
"""

from bisect import bisect_left
from fractions import Fraction

from webapp.build.plumbing import EndKind
from webapp.build.units import MM_IN_AN_INCH

TRADE_SIZES_MM = (
    *(3.2, 3.5, 4, 5, 6, 6.3, 8, 9.5, 10, 11, 12, 12.5, 13, 16, 18, 19, 20, 22, 25, 28, 30, 32),
    *(35, 38, 40, 41, 45, 48, 50, 51, 54, 57, 60, 63, 65, 70, 76, 80, 83, 89, 90, 95, 100, 102),
)
_LARGE_FROM_MM = 13.0
_NEAR_SMALL_MM, _NEAR_LARGE_MM = 0.2, 0.6
_HARD_SAY = {63.0: 63.5}
"""Hard pieces of 63 go by 63.5: the tube is 2 1/2 in."""
NEVER_MOVED: frozenset[EndKind] = frozenset(
    ("oring_male", "oring_female", "quick_male", "quick_female")
)
"""Ends that are named by the size of their tube, which is no trade size of hose."""
_FINE = 1e-9
SIXTEENTHS = 16
_SIXTEENTH_MM = float(MM_IN_AN_INCH) / SIXTEENTHS
_FINE_MM = 1e-3
"""So near, a size as it is written is that size."""


def trade_size(size_mm: float, *, is_hard: bool = False) -> float:
    """The trade size a size is called by, in mm; the size itself where none is near enough."""
    near = _NEAR_SMALL_MM if size_mm < _LARGE_FROM_MM else _NEAR_LARGE_MM
    place = bisect_left(TRADE_SIZES_MM, size_mm)
    beside = TRADE_SIZES_MM[max(0, place - 1) : place + 1]
    away, called = min((round(abs(size - size_mm), 9), float(size)) for size in beside)
    if away > near + _FINE:
        return size_mm
    return _HARD_SAY.get(called, called) if is_hard else called


def called_in_inches(called_mm: float) -> Fraction | None:
    """The inches, to a sixteenth, that go by this size; None where none do.

    60 is 2 3/8 in, for 60.325 mm goes by it; 50 is no size in inches.
    """
    near = round(called_mm / _SIXTEENTH_MM)
    for parts in (near, near - 1, near + 1):
        if parts > 0 and any(
            abs(trade_size(parts * _SIXTEENTH_MM, is_hard=is_hard) - called_mm) < _FINE_MM
            for is_hard in (False, True)
        ):
            return Fraction(parts, SIXTEENTHS)
    return None


def whole_sixteenths(mm: float) -> Fraction | None:
    """The inches that a size is, to a sixteenth; None where it is no whole number of them."""
    parts = round(mm / _SIXTEENTH_MM)
    return Fraction(parts, SIXTEENTHS) if abs(parts * _SIXTEENTH_MM - mm) < _FINE_MM else None


def mm_words(size_mm: float) -> str:
    """A size as it is written: 38, 63.5."""
    return f"{size_mm:g}"


def size_words(size: float | tuple[float, float], *, is_hard: bool = False) -> str:
    """A size by its trade size, "38"; two of them the larger first, "63-60".

    Two that go by one trade size are told as they were typed.
    """
    if not isinstance(size, tuple):
        return mm_words(trade_size(size, is_hard=is_hard))
    called = {trade_size(one, is_hard=is_hard) for one in size}
    told = called if len(called) == 2 else size
    return "-".join(mm_words(one) for one in sorted(told, reverse=True))
