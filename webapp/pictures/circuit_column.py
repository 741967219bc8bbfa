"""A circuit in one column, for a phone and for what is too long or too tight for a broad picture.

Components stand one under another along the flow. A run to the next one goes straight down; the
others run in lanes, down at the right and up at the left, the shortest innermost. Where a side has
no lane left a run ends in a circle with its number, and goes on at the same number elsewhere.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from typing import Literal

from webapp.pictures.circuit_drawing import (
    STUB,
    boxes_of_run,
    drawn_box,
    drawn_port,
    drawn_run,
    head_height,
    width_of_bore,
)
from webapp.pictures.circuit_model import (
    CircuitModel,
    CircuitPicture,
    DrawnBox,
    DrawnRun,
    Number,
    PicturePipe,
    PicturePort,
    Weight,
    Words,
    fitted,
    in_lines,
    room_of,
    words_at,
)
from webapp.pictures.circuit_order import Arrangement
from webapp.pictures.circuit_whole import whole_lines
from webapp.pictures.labels import Box, Label, LabelSetter, box_around
from webapp.pictures.pipe_run import CIRCLE, circle_at

UPRIGHT_WIDTH, COLUMN_WIDTH = 358.0, 620.0
MOST_LANES = 4
"""On either side; more would leave too little for names on a phone."""
LANE, EDGE, NEAR = 17.0, 14.0, 16.0
BROADEST_BOX = 220.0
STUB_ZONE = 34.0
LEAST_HEIGHT, BETWEEN, APART = 70.0, 70.0, 40.0
PORT_PITCH, FIRST_PORT, OPEN_PITCH = 24.0, 20.0, 22.0
RISER = 26.0
"""A run to the next component comes down so far from the left wall, so that words have room."""
LINE = 15.0
LOOP_ROOM = 2
"""So many places more lie between both ends of a run that leads back to its own component."""
LANE_PIPE, STRAIGHT_PIPE = 7.0, 13.0
_PLAIN: Weight = "plain"


@dataclass(slots=True)
class _Sides:
    """Which way each run goes, and the place of its ends on the sides of the boxes."""

    straight: dict[str, PicturePipe] = field(default_factory=dict)
    lanes: dict[int, tuple[Literal["left", "right"], int]] = field(default_factory=dict)
    apart: list[PicturePipe] = field(default_factory=list)
    places: dict[tuple[str, int, int], int] = field(default_factory=dict)
    """By box, number of the run and which of its ends, from the top."""
    counts: dict[tuple[str, str], int] = field(default_factory=dict)


def in_column(
    model: CircuitModel, order: Arrangement, *, form: Literal["column", "upright"]
) -> CircuitPicture:
    """The circuit from top to bottom."""
    return _Column(model, order, form).picture()


def _sided(model: CircuitModel, order: tuple[str, ...]) -> _Sides:
    at = {key: place for place, key in enumerate(order)}
    sides = _Sides()
    rest = []
    for pipe in sorted(model.pipes, key=lambda one: (-one.bore_mm, one.number)):
        is_next = at[pipe.to_box] == at[pipe.from_box] + 1
        if is_next and pipe.from_box not in sides.straight:
            sides.straight[pipe.from_box] = pipe
        else:
            rest.append(pipe)
    down = [pipe for pipe in rest if at[pipe.to_box] > at[pipe.from_box]]
    up = [pipe for pipe in rest if at[pipe.to_box] <= at[pipe.from_box]]
    for side, pipes in (("left", up), ("right", down)):
        taken: list[list[tuple[int, int]]] = []
        inside = []
        for pipe in sorted(pipes, key=lambda one: (_reach(one, at), one.number)):
            low, high = sorted((at[pipe.from_box], at[pipe.to_box]))
            lane = next(
                (place for place, used in enumerate(taken) if _is_free(low, high, used)),
                len(taken),
            )
            if lane >= MOST_LANES:
                sides.apart.append(pipe)
                continue
            if lane == len(taken):
                taken.append([])
            taken[lane].append((low, high))
            sides.lanes[pipe.number] = ("left" if side == "left" else "right", lane)
            inside.append(pipe)
        _set_places(sides, side, inside, at)
    sides.apart.sort(key=lambda one: one.number)
    for pipe in sides.apart:
        for end, key in enumerate((pipe.from_box, pipe.to_box)):
            place = sides.counts.get((key, "right"), 0)
            sides.places[(key, pipe.number, end)] = place
            sides.counts[(key, "right")] = place + 1
    return sides


def _reach(pipe: PicturePipe, at: dict[str, int]) -> int:
    return abs(at[pipe.from_box] - at[pipe.to_box])


def _is_free(low: int, high: int, used: Iterable[tuple[int, int]]) -> bool:
    """Whether a stretch meets none of those: at one box a rise ends above where a fall begins."""
    return all((low, high) != (begin, end) and (high <= begin or end <= low) for begin, end in used)


def _set_places(sides: _Sides, side: str, pipes: list[PicturePipe], at: dict[str, int]) -> None:
    """Rises first, the innermost on top; then loops; then falls, the outermost on top."""
    ends: dict[str, list[tuple[int, int, int, int]]] = {}
    for pipe in pipes:
        lane = sides.lanes[pipe.number][1]
        for end, (here, there) in enumerate(
            ((pipe.from_box, pipe.to_box), (pipe.to_box, pipe.from_box))
        ):
            if at[there] < at[here]:
                rank = (0, lane)
            elif at[there] > at[here]:
                rank = (2, -lane)
            else:
                rank = (1, pipe.number)
            ends.setdefault(here, []).append((*rank, pipe.number, end))
    for key, found in ends.items():
        place = 0
        for which, _, number, end in sorted(found):
            place += LOOP_ROOM if which == 1 and end == 1 else 0
            sides.places[(key, number, end)] = place
            place += 1
        sides.counts[(key, side)] = place


class _Column:
    """Lays out one picture; nothing in it is used twice."""

    def __init__(
        self, model: CircuitModel, order: Arrangement, form: Literal["column", "upright"]
    ) -> None:
        self.model, self.form, self.order = model, form, order.order
        self.width = UPRIGHT_WIDTH if form == "upright" else COLUMN_WIDTH
        self.named = {box.key: box for box in model.boxes}
        self.sides = _sided(model, order.order)
        self.ports: dict[str, list[PicturePort]] = {}
        for port in model.ports:
            self.ports.setdefault(port.box, []).append(port)
        lanes = {"left": 0, "right": 0}
        for side, lane in self.sides.lanes.values():
            lanes[side] = max(lanes[side], lane + 1)
        self.zone = STUB_ZONE if model.ports or self.sides.apart else 0.0
        self.left = EDGE + (lanes["left"] * LANE + 8 if lanes["left"] else 0)
        beside = EDGE + self.zone + (lanes["right"] * LANE + 8 if lanes["right"] else 0)
        room = self.width - self.left - beside
        self.box_width = min(room, BROADEST_BOX if form == "upright" else BROADEST_BOX * 1.4)
        self.right = self.left + self.box_width
        self.boxes: dict[str, Box] = {}
        self.bottom = self._stacked()
        self.runs: list[DrawnRun] = []
        self.words: list[Words] = []
        self.numbers: list[Number] = []

    def _stacked(self) -> float:
        y = EDGE
        for box in (self.named[key] for key in self.order):
            counts = self.sides.counts
            most = max(counts.get((box.key, "left"), 0), counts.get((box.key, "right"), 0))
            beside = FIRST_PORT + PORT_PITCH * most - 4
            high = max(LEAST_HEIGHT, head_height(box, self.box_width), beside)
            high += OPEN_PITCH * len(self.ports.get(box.key, ()))
            self.boxes[box.key] = Box(left=self.left, top=y, right=self.right, bottom=y + high)
            y += high + (BETWEEN if box.key in self.sides.straight else APART)
        return y - APART + EDGE

    def picture(self) -> CircuitPicture:
        drawn = [self._component(key) for key in self.order]
        for key, pipe in self.sides.straight.items():
            self._straight(key, pipe)
        for pipe in self.sides.apart:
            self._apart(pipe)
        lanes = [pipe for pipe in self.model.pipes if pipe.number in self.sides.lanes]
        in_lanes = [self._in_lane(pipe) for pipe in lanes]
        self.runs[:0] = in_lanes
        self._number_lanes(lanes, in_lanes)
        runs, words, height = whole_lines(self.model, self.width, self.bottom)
        return CircuitPicture(
            title=self.model.title,
            medium=self.model.medium,
            form=self.form,
            width=self.width,
            height=height,
            boxes=tuple(drawn),
            runs=(*self.runs, *runs),
            words=(*self.words, *words),
            numbers=tuple(self.numbers),
        )

    def _component(self, key: str) -> DrawnBox:
        ports, at = self.ports.get(key, []), self.boxes[key]
        drawn, words = drawn_box(self.named[key], at, OPEN_PITCH * len(ports))
        self.words += words
        for place, port in enumerate(reversed(ports)):
            y = at.bottom - 14 - OPEN_PITCH * place
            self.runs.append(drawn_port(port, (self.right, y), is_down=False))
            text = fitted(f"open: {port.name}", self.box_width - 16, "bold")
            x = self.right - 8 - room_of(text, "bold")
            self.words.append(words_at(text, x, y + 4, "bold"))
        return drawn

    def _straight(self, key: str, pipe: PicturePipe) -> None:
        x, top = self.left + RISER, self.boxes[key].bottom
        width = width_of_bore(pipe.bore_mm, STRAIGHT_PIPE)
        self.runs.append(drawn_run(pipe, [(x, top), (x, top + BETWEEN)], width))
        beside = x + 24 + CIRCLE
        room = self.right - beside - 6
        lines = _said_beside(pipe, room)
        y = top + BETWEEN / 2 + 4 - LINE * (len(lines) - 1) / 2
        for place, (line, weight) in enumerate(lines):
            self.words.append(words_at(line, beside, y + LINE * place, weight))
        number = Number(text=str(pipe.number), key=pipe.key, x=x + 22, y=top + BETWEEN / 2)
        self.numbers.append(number)

    def _side_y(self, key: str, number: int, end: int) -> float:
        place = self.sides.places[(key, number, end)]
        return self.boxes[key].top + FIRST_PORT + PORT_PITCH * place

    def _ends(self, pipe: PicturePipe) -> tuple[float, float]:
        """The heights of both ends of a run on the sides of its boxes."""
        return (
            self._side_y(pipe.from_box, pipe.number, 0),
            self._side_y(pipe.to_box, pipe.number, 1),
        )

    def _in_lane(self, pipe: PicturePipe) -> DrawnRun:
        side, lane = self.sides.lanes[pipe.number]
        at_left = side == "left"
        wall = self.left if at_left else self.right
        off = NEAR + LANE * lane + (0 if at_left else self.zone)
        x = wall - off if at_left else wall + off
        from_y, to_y = self._ends(pipe)
        points = [(wall, from_y), (x, from_y), (x, to_y), (wall, to_y)]
        return drawn_run(pipe, points, width_of_bore(pipe.bore_mm, LANE_PIPE), arrow_off=16)

    def _number_lanes(self, pipes: list[PicturePipe], runs: list[DrawnRun]) -> None:
        """A circle in each lane, clear of the others, of gaps and of pipes that cross the lane."""
        sheet = Box(left=0, top=0, right=self.width, bottom=self.bottom)
        strict, loose = LabelSetter(within=sheet), LabelSetter(within=sheet)
        strict.keep_clear(box for run in runs for box in boxes_of_run(run)[::2])
        for setter in (strict, loose):
            setter.keep_clear(box_around(*run.gap_at, 1) for run in runs if run.gap_at)
        shortest = sorted(zip(pipes, runs, strict=True), key=lambda one: _lane_length(one[1]))
        for pipe, run in shortest:
            x = run.points[1][0]
            placed = (
                strict.set(_circles(pipe, x, run))
                or loose.set(_circles(pipe, x, run))
                or next(_circles(pipe, x, run))
            )
            for setter in (strict, loose):
                setter.keep_clear([placed.box])
            self.numbers.append(Number(text=placed.text, key=pipe.key, x=placed.x, y=placed.y))

    def _apart(self, pipe: PicturePipe) -> None:
        """A run for which no lane is left: a stub at each end, and its number behind both."""
        begin, end = self._ends(pipe)
        whole = replace(pipe, gap="")
        for drawn, y in ((pipe, begin), (whole, end)):
            tip = (self.right + STUB, y)
            self.runs.append(drawn_run(drawn, [(self.right, y), tip], LANE_PIPE))
            x = self.right + STUB + CIRCLE
            self.numbers.append(Number(text=str(pipe.number), key=pipe.key, x=x, y=y))


def _said_beside(pipe: PicturePipe, room: float) -> list[tuple[str, Weight]]:
    """What is said beside a straight run, in at most four lines: name, size, what is open."""
    size, why = pipe.size, pipe.open_words
    both = f"{size} · {why}" if size and why else size or why
    weight: Weight = "bold" if why else "plain"
    foot: list[tuple[str, Weight]] = [(both, weight)] if both else []
    if size and why and room_of(both, "bold") > room:
        foot = [(size, "plain"), (fitted(why, room, "bold"), "bold")]
    names = in_lines(pipe.name, room, "plain", 2)
    return [*((line, _PLAIN) for line in names), *foot]


def _lane_length(run: DrawnRun) -> float:
    return abs(run.points[1][1] - run.points[2][1])


def _circles(pipe: PicturePipe, x: float, run: DrawnRun) -> Iterator[Label]:
    return (circle_at(str(pipe.number), x, y) for y in _lane_heights(run))


def _lane_heights(run: DrawnRun) -> list[float]:
    """Where its number may stand: from the middle of the lane outwards."""
    low, high = sorted((run.points[1][1], run.points[2][1]))
    middle = (low + high) / 2
    steps = range(int(max(0.0, (high - low) / 2 - CIRCLE - 2) // 4) + 1)
    return [middle + way * 4 * step for step in steps for way in ((-1, 1) if step else (1,))]
