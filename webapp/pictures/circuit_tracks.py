"""The gutters of a broad circuit picture: where runs rise and fall between the columns."""

from dataclasses import dataclass, field

from webapp.pictures.circuit_model import PicturePipe
from webapp.pictures.lines import Point

WIDTH = 1140.0
LEAST_TRACK, OUTER_TRACK = 20.0, 20.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """Where a run leaves and arrives, and the gutters in which it rises or falls.

    Gutter g lies left of column g.
    """

    pipe: PicturePipe
    begin: Point
    end: Point
    gutters: tuple[int, ...]
    is_return: bool


@dataclass(slots=True)
class BroadSheet:
    """The measurements of one picture."""

    columns: int
    margin: float
    right_margin: float
    box_width: float
    heads: dict[str, float] = field(default_factory=dict)
    ups: dict[str, float] = field(default_factory=dict)
    downs: dict[str, float] = field(default_factory=dict)
    axes: dict[int, float] = field(default_factory=dict)
    tops: dict[int, float] = field(default_factory=dict)
    bottom: float = 0.0

    @property
    def gutter(self) -> float:
        room = WIDTH - self.margin - self.right_margin - self.columns * self.box_width
        return room / max(1, self.columns - 1)

    def left_of(self, column: int) -> float:
        """The left wall of the boxes of a column."""
        return self.margin + column * (self.box_width + self.gutter)

    def track(self, gutter: int, place: int, places: int) -> float:
        """The place of a rise or fall in a gutter, from 1; outside the columns outwards."""
        if gutter == 0:
            return self.margin - OUTER_TRACK * place
        if gutter == self.columns:
            return self.left_of(self.columns - 1) + self.box_width + OUTER_TRACK * place
        left = self.left_of(gutter - 1) + self.box_width
        return left + self.gutter * place / (places + 1)


def in_tracks(bits: list[tuple[int, int]], courses: list[Course]) -> list[tuple[int, int]] | None:
    """Tracks from left to right: a run that leaves at a height left of one that arrives at it."""

    def leaves(bit: tuple[int, int]) -> float | None:
        return courses[bit[0]].begin[1] if bit[1] == 0 else None

    def arrives(bit: tuple[int, int]) -> float | None:
        course = courses[bit[0]]
        return course.end[1] if bit[1] == len(course.gutters) - 1 else None

    waiting: dict[tuple[int, int], set[tuple[int, int]]] = {}
    for bit in bits:
        down = arrives(bit)
        waiting[bit] = {
            other
            for other in bits
            if other != bit
            and down is not None
            and (out := leaves(other)) is not None
            and abs(out - down) < LEAST_TRACK
        }
    order = []
    while waiting:
        free = next((bit for bit, before in waiting.items() if not before & waiting.keys()), None)
        if free is None:
            return None
        order.append(free)
        del waiting[free]
    return order
