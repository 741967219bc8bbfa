"""A circuit on a broad page: along the flow from left to right, the main line straight.

Runs leave a component on its right and come in on its left. Returns run below all rows. What is
too long or too tight for that is drawn in one column (`circuit_column`).
"""

from webapp.pictures.circuit_drawing import (
    STUB,
    STUB_GAP,
    drawn_box,
    drawn_port,
    drawn_run,
    head_height,
    width_of_bore,
)
from webapp.pictures.circuit_labels import run_labels
from webapp.pictures.circuit_model import (
    CircuitModel,
    CircuitPicture,
    DrawnBox,
    DrawnRun,
    PicturePipe,
    PicturePort,
    Words,
    room_of,
    words_at,
)
from webapp.pictures.circuit_order import Arrangement
from webapp.pictures.circuit_tracks import (
    LEAST_TRACK,
    OUTER_TRACK,
    WIDTH,
    BroadSheet,
    Course,
    in_tracks,
)
from webapp.pictures.circuit_whole import whole_lines
from webapp.pictures.labels import Box

MOST_COLUMNS, MOST_ROWS = 8, 8
BOX_WIDTHS = {6: 116.0, 7: 100.0, 8: 88.0}
BROADEST_BOX = 132.0
PITCH, HALF_BOX, BESIDE_PORT = 30.0, 42.0, 22.0
CORRIDOR, LANE = 24.0, 32.0
EDGE = 18.0
FOOT_LINE, STUB_PITCH = 18.0, 16.0
MOST_STUBS = 3
"""Open ports that hang from one component; more are drawn in the column form."""


def in_breadth(model: CircuitModel, order: Arrangement) -> CircuitPicture | None:
    """The circuit from left to right; None where it is too long or too tight for that."""
    if max(order.columns.values()) >= MOST_COLUMNS or max(order.rows.values()) >= MOST_ROWS:
        return None
    return _Broad(model, order).picture()


class _Broad:
    """Lays out one picture; nothing in it is used twice."""

    def __init__(self, model: CircuitModel, order: Arrangement) -> None:
        self.model, self.order = model, order
        self.boxes = {box.key: box for box in model.boxes}
        self.column, self.row = order.columns, order.rows
        self.returns = sorted(
            (pipe for pipe in model.pipes if pipe.number in order.returns), key=self._return_place
        )
        self.ports: dict[str, list[PicturePort]] = {}
        for port in model.ports:
            self.ports.setdefault(port.box, []).append(port)
        self.heights = self._ports_on_sides()
        self.sheet = self._measured()
        self.at = {key: self._box(key) for key in self.boxes}

    def _return_place(self, pipe: PicturePipe) -> tuple[int, int, int]:
        """The shortest first: their lanes lie on top."""
        span = self.column[pipe.from_box] - self.column[pipe.to_box]
        return (span, -self.row[pipe.from_box], pipe.number)

    def _is_return(self, pipe: PicturePipe) -> bool:
        return pipe.number in self.order.returns

    def _is_blocked(self, pipe: PicturePipe) -> bool:
        """Something stands in the way in the row that it would run along."""
        first, last = self.column[pipe.from_box], self.column[pipe.to_box]
        row = self.row[pipe.to_box]
        return any(self.row[key] == row and first < self.column[key] < last for key in self.boxes)

    # --- measuring ----------------------------------------------------------------------------

    def _ports_on_sides(self) -> dict[tuple[str, int, str], float]:
        """How far below the axis of its box each end of a run lies, by box, number and side."""
        sides: dict[tuple[str, str], list[tuple[float, float, int]]] = {}
        for pipe in self.model.pipes:
            drop = self.row[pipe.to_box] - self.row[pipe.from_box]
            if self._is_return(pipe):
                out = into = 2.0
            elif drop == 0:
                out = into = -1.0 if self._is_blocked(pipe) else 0.0
            else:
                out, into = (0.5, -0.5) if drop > 0 else (-0.5, 0.5)
            inward = -self.returns.index(pipe) if self._is_return(pipe) else -pipe.bore_mm
            sides.setdefault((pipe.from_box, "out"), []).append((out, -pipe.bore_mm, pipe.number))
            sides.setdefault((pipe.to_box, "in"), []).append((into, inward, pipe.number))
        heights = {}
        for (key, side), ends in sides.items():
            ends.sort()
            axis = next((place for place, end in enumerate(ends) if end[0] >= -0.5), 0)
            for place, (_, _, number) in enumerate(ends):
                heights[(key, number, side)] = (place - axis) * PITCH
        return heights

    def _measured(self) -> BroadSheet:
        columns = max(self.column.values()) + 1
        tracks = 1 + len(self.returns)
        margin = 24 + OUTER_TRACK * (tracks - 1) if self.returns else EDGE
        at_end = any(self.column[pipe.from_box] == columns - 1 for pipe in self.returns)
        sheet = BroadSheet(
            columns=columns,
            margin=margin,
            right_margin=margin if at_end else EDGE,
            box_width=BOX_WIDTHS.get(columns, BROADEST_BOX),
        )
        for key, box in self.boxes.items():
            offs = [off for (owner, _, _), off in self.heights.items() if owner == key] or [0.0]
            foot = FOOT_LINE * len(self.ports.get(key, ()))
            sheet.ups[key] = max(HALF_BOX, BESIDE_PORT - min(offs))
            least = head_height(box, sheet.box_width) + foot - sheet.ups[key]
            sheet.downs[key] = max(HALF_BOX, max(offs) + BESIDE_PORT + foot, least)
        self._set_rows(sheet)
        return sheet

    def _set_rows(self, sheet: BroadSheet) -> None:
        y = 26.0
        for row in range(max(self.row.values()) + 1):
            here = [key for key in self.boxes if self.row[key] == row]
            over = [
                pipe
                for pipe in self.model.pipes
                if not self._is_return(pipe)
                and self.row[pipe.to_box] == row
                and self._is_blocked(pipe)
            ]
            y += CORRIDOR * len(over) + (14 if over else 0)
            sheet.axes[row] = y + max(sheet.ups[key] for key in here)
            sheet.tops[row] = y
            hanging = STUB + STUB_GAP if any(key in self.ports for key in here) else 0
            y = sheet.axes[row] + max(sheet.downs[key] for key in here) + 40 + hanging
        sheet.bottom = y - 14

    def _box(self, key: str) -> Box:
        left, axis = self.sheet.left_of(self.column[key]), self.sheet.axes[self.row[key]]
        return Box(
            left=left,
            top=axis - self.sheet.ups[key],
            right=left + self.sheet.box_width,
            bottom=axis + self.sheet.downs[key],
        )

    # --- runs ---------------------------------------------------------------------------------

    def _courses(self) -> list[Course]:
        forward = [pipe for pipe in self.model.pipes if not self._is_return(pipe)]
        courses = []
        for pipe in (*forward, *self.returns):
            out, into = self.at[pipe.from_box], self.at[pipe.to_box]
            from_axis = self.sheet.axes[self.row[pipe.from_box]]
            to_axis = self.sheet.axes[self.row[pipe.to_box]]
            begin = (out.right, from_axis + self.heights[(pipe.from_box, pipe.number, "out")])
            end = (into.left, to_axis + self.heights[(pipe.to_box, pipe.number, "in")])
            first, last = self.column[pipe.from_box] + 1, self.column[pipe.to_box]
            gutters: tuple[int, ...] = (first,)
            if self._is_return(pipe) or self._is_blocked(pipe):
                gutters = (first, last)
            elif abs(begin[1] - end[1]) < 1:
                gutters = ()
            courses.append(
                Course(
                    pipe=pipe,
                    begin=begin,
                    end=end,
                    gutters=gutters,
                    is_return=self._is_return(pipe),
                )
            )
        return courses

    def _tracks(self, courses: list[Course]) -> dict[tuple[int, int], float] | None:
        """The place of each rise and fall, by course and gutter; None where there is no room."""
        found: dict[tuple[int, int], float] = {}
        for gutter in range(self.sheet.columns + 1):
            bits = [
                (place, step)
                for place, course in enumerate(courses)
                for step, there in enumerate(course.gutters)
                if there == gutter
            ]
            is_inner = 0 < gutter < self.sheet.columns
            if is_inner and bits and self.sheet.gutter < LEAST_TRACK * (len(bits) + 1):
                return None
            order = in_tracks(bits, courses) if is_inner else bits
            if order is None:
                return None
            for place, bit in enumerate(order, start=1):
                found[bit] = self.sheet.track(gutter, place, len(bits))
        return found

    def picture(self) -> CircuitPicture | None:
        """The picture; None where the gutters are too tight or words have no room."""
        if any(len(ports) > MOST_STUBS for ports in self.ports.values()):
            return None
        courses = self._courses()
        tracks = self._tracks(courses)
        if tracks is None:
            return None
        runs = self._runs(courses, tracks)
        words: list[Words] = []
        boxes: list[DrawnBox] = []
        for key, box in self.boxes.items():
            foot = FOOT_LINE * len(self.ports.get(key, ()))
            drawn, said = drawn_box(box, self.at[key], foot)
            boxes.append(drawn)
            words += said
        stubs, named = self._stubs()
        if stubs is None:
            return None
        bottom = self.sheet.bottom + LANE * len(self.returns) + 6
        sheet = Box(left=4, top=4, right=WIDTH - 4, bottom=bottom)
        labels = run_labels(
            [course.pipe for course in courses], runs, stubs, [*self.at.values()], sheet
        )
        if labels is None:
            return None
        marks, whole, height = whole_lines(self.model, WIDTH, bottom)
        return CircuitPicture(
            title=self.model.title,
            medium=self.model.medium,
            form="broad",
            width=WIDTH,
            height=height,
            boxes=tuple(boxes),
            runs=(*runs, *stubs, *marks),
            words=(*words, *named, *labels.words, *whole),
            numbers=labels.numbers,
        )

    def _runs(self, courses: list[Course], tracks: dict[tuple[int, int], float]) -> list[DrawnRun]:
        runs, lane, corridors = [], 0, dict.fromkeys(self.sheet.axes, 0)
        for place, course in enumerate(courses):
            (x1, y1), (x2, y2) = course.begin, course.end
            at = [tracks[(place, step)] for step in range(len(course.gutters))]
            if not at:
                points = [(x1, y1), (x2, y1)]
            elif len(at) == 1:
                points = [(x1, y1), (at[0], y1), (at[0], y2), (x2, y2)]
            else:
                if course.is_return:
                    lane += 1
                    level = self.sheet.bottom + LANE * (lane - 1) + 8
                else:
                    row = self.row[course.pipe.to_box]
                    corridors[row] += 1
                    level = self.sheet.tops[row] - CORRIDOR * corridors[row] + 4
                points = [(x1, y1), (at[0], y1), (at[0], level), (at[1], level), (at[1], y2)]
                points.append((x2, y2))
            runs.append(drawn_run(course.pipe, points, width_of_bore(course.pipe.bore_mm)))
        return runs

    def _stubs(self) -> tuple[list[DrawnRun] | None, list[Words]]:
        """Open ports: each hangs below its component, its name in the box above it."""
        stubs, words = [], []
        for key, ports in self.ports.items():
            at = self.at[key]
            for place, port in enumerate(ports):
                x = at.left + 12 + STUB_PITCH * place
                y = at.bottom - FOOT_LINE * (len(ports) - place) + 8
                text = f"open: {port.name}"
                if room_of(text, "bold") > at.right - x - 10:
                    return None, []
                stubs.append(drawn_port(port, (x, at.bottom), is_down=True))
                words.append(words_at(text, x + 6, y, "bold"))
        return stubs, words
