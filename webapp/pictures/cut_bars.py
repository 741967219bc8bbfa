"""A cut list drawn to scale: bars that are cut alike once, each with its pieces and its rest."""

from collections.abc import Sequence
from dataclasses import dataclass

from webapp.plumbing.cutting.cut_list import CutBar

BROAD, UPRIGHT = 1000.0, 358.0
"""How wide it is on a laptop and on a phone."""
ROW, BAR, HEAD = 58.0, 28.0, 22.0
LEAST_FOR_A_MARK = 18.0
"""A narrower piece has its mark left out: the table beside it has it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BarToDraw:
    """Bars that are cut alike: what stands above them, and the marks of the pieces on it."""

    bar: CutBar
    says: str
    marks: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnPiece:
    """One piece on a bar; `mark` is "" where there is no room for it."""

    x: float
    width: float
    mark: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnBar:
    """One row: where it stands, its outline, its pieces, and the rest from `left_x` on."""

    y: float
    width: float
    says: str
    pieces: tuple[DrawnPiece, ...]
    left_x: float
    left_width: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPicture:
    """The bars in one width."""

    upright: bool
    width: float
    height: float
    bars: tuple[DrawnBar, ...]


def cut_pictures(bars: Sequence[BarToDraw], *, kerf_mm: float) -> tuple[CutPicture, CutPicture]:
    """Broad and for a phone; the longest bar is as long as the picture is wide."""
    return _picture(bars, kerf_mm, BROAD), _picture(bars, kerf_mm, UPRIGHT)


def _picture(bars: Sequence[BarToDraw], kerf_mm: float, width: float) -> CutPicture:
    longest = max((one.bar.stock.length_mm for one in bars), default=1.0)
    scale = (width - 2) / longest
    drawn = tuple(_bar(one, kerf_mm, scale, HEAD + row * ROW) for row, one in enumerate(bars))
    height = HEAD + (len(bars) - 1) * ROW + BAR + 4
    return CutPicture(upright=width == UPRIGHT, width=width, height=height, bars=drawn)


def _bar(one: BarToDraw, kerf_mm: float, scale: float, y: float) -> DrawnBar:
    """Pieces from the left, a kerf between them; what is left lies at the right end."""
    length, left = one.bar.stock.length_mm, one.bar.left_mm
    used = sum(piece.length_mm for piece in one.bar.pieces) + kerf_mm * (len(one.bar.pieces) - 1)
    at = max(length - left - used - kerf_mm, 0.0)  # the end that was squared
    pieces = []
    for piece, mark in zip(one.bar.pieces, one.marks, strict=True):
        wide = piece.length_mm * scale
        shown = mark if wide >= LEAST_FOR_A_MARK else ""
        pieces.append(DrawnPiece(x=1 + at * scale, width=wide, mark=shown))
        at += piece.length_mm + kerf_mm
    return DrawnBar(
        y=y,
        width=length * scale,
        says=one.says,
        pieces=tuple(pieces),
        left_x=1 + (length - left) * scale,
        left_width=left * scale,
    )
