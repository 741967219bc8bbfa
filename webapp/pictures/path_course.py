"""The way of the path over the sheet: along the hands, down to a pipe for a wait, and up again."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from webapp.pictures.lines import Point, rounded, spot, straightened
from webapp.pictures.pipe_run_model import Fall, HandsRun, PathLine, PipeRunModel, Sheet
from webapp.pictures.time_scale import TimeScale

CORNER = 5.0
LEAST_FALL = 9.0
"""A wait is drawn at least so long, else its two verticals would run into one thick line."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A piece of the path from where to where along the sheet."""

    piece: HandsRun | Fall
    begin: float
    end: float


Pieces = tuple[Placed, ...]


def placed(model: PipeRunModel, scale: TimeScale) -> Pieces:
    """The pieces along the sheet, each where the one before ends."""
    found: list[Placed] = []
    at = scale.along(model.now)
    for piece in model.path:
        end = max(at, scale.along(piece.ends))
        if isinstance(piece, Fall):
            end = max(end, at + LEAST_FALL)
        found.append(Placed(piece=piece, begin=at, end=end))
        at = end
    return tuple(found)


def path_line(
    pieces: Pieces, sheet: Sheet, lane_of: Callable[[Fall], float], tail: Sequence[Point]
) -> PathLine:
    """The path through its pieces and the points of its `tail`, from the hands to the key."""
    if not pieces:
        return PathLine(line="", waiting="", points=())
    axes = sheet.axes
    runs: list[list[Point]] = [[axes.at(pieces[0].begin, sheet.hands)]]
    waits: list[tuple[Point, Point]] = []
    for one in pieces:
        if isinstance(one.piece, Fall):
            lane = lane_of(one.piece)
            begin, end = axes.at(one.begin, lane), axes.at(one.end, lane)
            runs[-1].append(begin)
            waits.append((begin, end))
            runs.append([end])
        else:
            runs[-1] += [axes.at(one.begin, sheet.hands), axes.at(one.end, sheet.hands)]
    runs[-1] += [axes.at(pieces[-1].end, sheet.hands), *tail]
    return PathLine(
        line="".join(rounded(run, CORNER) for run in runs if len(straightened(run)) > 1),
        waiting="".join(f"M{spot(a[0])} {spot(a[1])}L{spot(b[0])} {spot(b[1])}" for a, b in waits),
        points=tuple(straightened([point for run in runs for point in run])),
    )


def hands_layers(pieces: Pieces, sheet: Sheet, scale: TimeScale) -> dict[str, str]:
    """The pipes of the Hands lane as path data: open, a flange at each end, a tick a task."""
    axes, lane, half = sheet.axes, sheet.hands, sheet.hands_half
    layers = {"bodies": "", "walls": "", "flanges": "", "ticks": "", "nicks": ""}
    far = lane + half
    for one in pieces:
        if isinstance(one.piece, Fall):
            continue
        layers["bodies"] += axes.box(one.begin, one.end, lane, half)
        layers["walls"] += axes.walls(one.begin, one.end, lane, half)
        layers["flanges"] += axes.flange(one.begin, lane, half + 4)
        layers["flanges"] += axes.flange(one.end, lane, half + 4)
        for moment in one.piece.ticks:
            layers["ticks"] += axes.flange(within(one, scale.along(moment)), far - 2, 2)
        for nick in one.piece.nicks:
            along = within(one, scale.along(nick.at))
            corners = (axes.at(along - 3, far), axes.at(along, far - 5), axes.at(along + 3, far))
            layers["nicks"] += "M" + "L".join(f"{spot(x)} {spot(y)}" for x, y in corners)
    return layers


def within(one: Placed, along: float) -> float:
    """A place along the sheet, held inside its piece."""
    return min(max(along, one.begin), one.end)
