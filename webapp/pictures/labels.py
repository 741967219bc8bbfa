"""Setting labels where they meet nothing."""

from collections.abc import Iterable
from dataclasses import dataclass, field

NARROW, WIDE = (
    frozenset(" ,.;`'|ijl():I!\"ft{}1-[]r"),
    frozenset("mwMNW#%@&\N{HORIZONTAL ELLIPSIS}"),
)
NARROW_WIDTH, USUAL_WIDTH, WIDE_WIDTH = 3.7, 5.8, 9.0
"""Widths in units of Barlow Condensed 500 at 12.5 units, as a browser measured them, rounded up."""
DESCENT, ASCENT = 3.5, 10.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A rectangle of the picture, left < right and top < bottom."""

    left: float
    top: float
    right: float
    bottom: float


def box_around(a: tuple[float, float], b: tuple[float, float], by: float) -> Box:
    """The straight from a to b with `by` units on every side."""
    return Box(
        left=min(a[0], b[0]) - by,
        top=min(a[1], b[1]) - by,
        right=max(a[0], b[0]) + by,
        bottom=max(a[1], b[1]) + by,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """A text on the base line y, from x or (`ends_here`) up to x; `box` is the room it takes."""

    text: str
    x: float
    y: float
    box: Box
    ends_here: bool


def label_at(text: str, x: float, y: float, width: float | None = None) -> Label:
    """A label that begins at x; `width` is that of the text where it is known."""
    room = width_of(text) if width is None else width
    box = Box(left=x, top=y - ASCENT, right=x + room, bottom=y + DESCENT)
    return Label(text=text, x=x, y=y, box=box, ends_here=False)


def label_before(text: str, x: float, y: float, width: float | None = None) -> Label:
    """A label that ends at x; `width` is that of the text where it is known."""
    room = width_of(text) if width is None else width
    box = Box(left=x - room, top=y - ASCENT, right=x, bottom=y + DESCENT)
    return Label(text=text, x=x, y=y, box=box, ends_here=True)


def width_of(text: str) -> float:
    """The room a text takes in the direction it runs, at most."""
    narrow = sum(character in NARROW for character in text)
    wide = sum(character in WIDE for character in text)
    usual = len(text) - narrow - wide
    return narrow * NARROW_WIDTH + usual * USUAL_WIDTH + wide * WIDE_WIDTH


BAND = 24.0
"""Boxes are kept by bands of this height, so that a label is held against those near it."""


@dataclass(slots=True)
class LabelSetter:
    """Places labels one after the other; each keeps clear of what is there and of the others."""

    within: Box
    _bands: dict[int, list[Box]] = field(default_factory=dict)

    def keep_clear(self, boxes: Iterable[Box]) -> None:
        for box in boxes:
            for band in self._bands_of(box):
                self._bands.setdefault(band, []).append(box)

    def _bands_of(self, box: Box) -> range:
        return range(int(box.top // BAND), int(box.bottom // BAND) + 1)

    def set(self, candidates: Iterable[Label]) -> Label | None:
        """The first candidate that meets nothing, or None."""
        for label in candidates:
            box = label.box
            inside = (
                box.left >= self.within.left
                and box.right <= self.within.right
                and box.top >= self.within.top
                and box.bottom <= self.within.bottom
            )
            if inside and not self._meets_any(box):
                self.keep_clear([box])
                return label
        return None

    def _meets_any(self, box: Box) -> bool:
        left, right, top, bottom = box.left, box.right, box.top, box.bottom
        for band in self._bands_of(box):
            for other in self._bands.get(band, ()):
                if (
                    left < other.right
                    and other.left < right
                    and top < other.bottom
                    and other.top < bottom
                ):
                    return True
        return False
