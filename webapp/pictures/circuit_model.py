"""What a circuit picture shows, and the picture in measurements, ready to be drawn.

Built by a page from what is plumbed; laid out by `circuit_broad` or `circuit_column`.
"""

from dataclasses import dataclass
from typing import Literal

from webapp.pictures.labels import ASCENT, DESCENT, Box, width_of
from webapp.pictures.lines import Point

Gap = Literal["", "begin", "middle", "end"]
Weight = Literal["head", "bold", "plain"]

LABEL_UNITS = 12.5
"""The size for which `width_of` was measured."""
BOLDER = 1.06
"""Bold letters are so much wider."""
SIZES: dict[Weight, float] = {"head": 15.0, "bold": 13.0, "plain": 13.0}
ELLIPSIS = "\N{HORIZONTAL ELLIPSIS}"


@dataclass(frozen=True, slots=True, kw_only=True)
class PictureBox:
    """A component. `mark` is what kind of thing it is, `open_words` what is open of it itself."""

    key: str
    name: str
    mark: str = ""
    note: str = ""
    open_words: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PicturePipe:
    """A run, from where it flows from to where it flows to.

    `gap` is where it is open, "" where it is not; `is_made` that it is on the vehicle;
    `one_way` that its direction is known.
    """

    number: int
    key: str
    from_box: str
    to_box: str
    name: str
    size: str
    bore_mm: float
    is_made: bool = True
    one_way: bool = True
    gap: Gap = ""
    open_words: str = ""

    @property
    def title(self) -> str:
        """All that is said of it."""
        said = f"{self.number} {self.name}, {self.size}" if self.size else self.named
        return f"{said}, {self.open_words}" if self.open_words else said

    @property
    def named(self) -> str:
        """Its number and name."""
        return f"{self.number} {self.name}"


@dataclass(frozen=True, slots=True, kw_only=True)
class PicturePort:
    """A port that is open and that no run leads to."""

    key: str
    box: str
    name: str
    open_words: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CircuitModel:
    """One circuit. `start` is the key of the box where it begins.

    `whole` are the words of what is open of the circuit as a whole.
    """

    title: str
    medium: str
    start: str
    boxes: tuple[PictureBox, ...]
    pipes: tuple[PicturePipe, ...]
    ports: tuple[PicturePort, ...] = ()
    whole: tuple[str, ...] = ()


# --- the picture ------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """A text of the picture: it begins at x, or has its middle there; `box` is its room."""

    text: str
    x: float
    y: float
    weight: Weight
    is_middle: bool
    box: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnBox:
    """A component in its place: its outline, and its mark as path data around a point."""

    key: str
    title: str
    box: Box
    round: float
    is_open: bool
    mark: str
    mark_at: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnRun:
    """A run or an open port in its place, as path data.

    `body` is its centre line, in two pieces where it has a gap; `points` the whole of it, corner
    by corner; `gap_at` the edges of its gap; `arrow` where the arrow stands and how far it is
    turned clockwise from the right, in degrees.
    """

    key: str
    title: str
    width: float
    is_made: bool
    points: tuple[Point, ...]
    body: str
    gap: str
    flanges: str
    gap_at: tuple[Point, Point] | None = None
    arrow: tuple[float, float, int] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """The number of a run in a circle around (x, y)."""

    text: str
    key: str
    x: float
    y: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CircuitPicture:
    """One circuit, drawn. `form`: "broad", "column" (of a broad page) or "upright" (of a phone)."""

    title: str
    medium: str
    form: Literal["broad", "column", "upright"]
    width: float
    height: float
    boxes: tuple[DrawnBox, ...]
    runs: tuple[DrawnRun, ...]
    words: tuple[Words, ...]
    numbers: tuple[Number, ...]


# --- words ------------------------------------------------------------------------------------


def room_of(text: str, weight: Weight) -> float:
    """The room a text takes along its line, at most."""
    room = width_of(text) * SIZES[weight] / LABEL_UNITS
    return room if weight == "plain" else room * BOLDER


def words_at(
    text: str, x: float, y: float, weight: Weight = "plain", *, is_middle: bool = False
) -> Words:
    """A text on the base line y."""
    room = room_of(text, weight)
    left = x - room / 2 if is_middle else x
    scale = SIZES[weight] / LABEL_UNITS
    box = Box(left=left, top=y - ASCENT * scale, right=left + room, bottom=y + DESCENT * scale)
    return Words(text=text, x=x, y=y, weight=weight, is_middle=is_middle, box=box)


def fitted(text: str, room: float, weight: Weight = "plain") -> str:
    """The text, or as much of it as has room, with an ellipsis."""
    if room_of(text, weight) <= room:
        return text
    kept = text
    while kept and room_of(kept + ELLIPSIS, weight) > room:
        kept = kept[:-1].rstrip()
    return kept + ELLIPSIS


def in_lines(text: str, room: float, weight: Weight, most: int) -> tuple[str, ...]:
    """The text in at most so many lines, broken between words; the last cut where it is long."""
    lines: list[str] = []
    words = text.split()
    while words:
        line = words.pop(0)
        if len(lines) == most - 1:
            lines.append(fitted(" ".join([line, *words]), room, weight))
            break
        while words and room_of(f"{line} {words[0]}", weight) <= room:
            line += f" {words.pop(0)}"
        lines.append(fitted(line, room, weight))
    return tuple(lines)
