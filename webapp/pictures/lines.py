"""Path data for the pictures: lines with rounded corners, boxes, strokes across a pipe.

Pictures are laid out along time and across it. `Axes` turns that into x and y: time runs to the
right on the wide picture and down on the upright one.
"""

from dataclasses import dataclass

Point = tuple[float, float]


def spot(value: float) -> str:
    """A coordinate to a tenth of a unit, without idle zeros."""
    return f"{value:.1f}".rstrip("0").rstrip(".")


@dataclass(frozen=True, slots=True, kw_only=True)
class Axes:
    """`upright`: time runs down, else to the right."""

    upright: bool

    def at(self, along: float, across: float) -> Point:
        return (across, along) if self.upright else (along, across)

    def box(self, begin: float, end: float, across: float, half: float) -> str:
        """A closed box along time."""
        corners = (
            self.at(begin, across - half),
            self.at(end, across - half),
            self.at(end, across + half),
            self.at(begin, across + half),
        )
        return "M" + "L".join(f"{spot(x)} {spot(y)}" for x, y in corners) + "z"

    def walls(self, begin: float, end: float, across: float, half: float) -> str:
        """The two long sides of a pipe."""
        return self.along(begin, end, across - half) + self.along(begin, end, across + half)

    def along(self, begin: float, end: float, across: float) -> str:
        """One line along time."""
        (x, y), (x2, y2) = self.at(begin, across), self.at(end, across)
        return f"M{spot(x)} {spot(y)}L{spot(x2)} {spot(y2)}"

    def flange(self, along: float, across: float, half: float) -> str:
        """A stroke across a pipe."""
        (x, y), (x2, y2) = self.at(along, across - half), self.at(along, across + half)
        return f"M{spot(x)} {spot(y)}L{spot(x2)} {spot(y2)}"


def rounded(points: list[Point], radius: float) -> str:
    """Path data through right-angled points, its corners rounded as far as there is room."""
    corners = straightened(points)
    if not corners:
        return ""
    data = f"M{spot(corners[0][0])} {spot(corners[0][1])}"
    for before, corner, after in zip(corners, corners[1:], corners[2:], strict=False):
        room = min(radius, straight_length(before, corner) / 2, straight_length(corner, after) / 2)
        into, out = toward(corner, before, room), toward(corner, after, room)
        data += (
            f"L{spot(into[0])} {spot(into[1])}"
            f"Q{spot(corner[0])} {spot(corner[1])} {spot(out[0])} {spot(out[1])}"
        )
    return data + f"L{spot(corners[-1][0])} {spot(corners[-1][1])}"


def straightened(points: list[Point]) -> list[Point]:
    """The same line without doubled points and without points in the middle of a straight."""
    kept: list[Point] = []
    for point in points:
        if kept and point == kept[-1]:  # near is not enough: what follows would stand aslant
            continue
        if len(kept) > 1 and _in_line(kept[-2], kept[-1], point):
            kept.pop()
        kept.append(point)
    return kept


def _in_line(a: Point, b: Point, c: Point) -> bool:
    return (a[0] == b[0] == c[0]) or (a[1] == b[1] == c[1])


def straight_length(a: Point, b: Point) -> float:
    """How long a straight is that runs across or down."""
    return abs(a[0] - b[0]) + abs(a[1] - b[1])


def toward(start: Point, end: Point, by: float) -> Point:
    """The point so far from `start` on the straight to `end`."""
    length = straight_length(start, end)
    share = by / length if length else 0.0
    return (start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share)
