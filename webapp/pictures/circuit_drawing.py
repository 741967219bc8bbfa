"""How the pieces of a circuit picture are drawn: pipes with their gaps, open ports, components."""

from itertools import pairwise

from webapp.pictures.circuit_model import (
    DrawnBox,
    DrawnRun,
    PictureBox,
    PicturePipe,
    PicturePort,
    Weight,
    Words,
    fitted,
    in_lines,
    room_of,
    words_at,
)
from webapp.pictures.labels import Box, box_around
from webapp.pictures.lines import Point, spot, straight_length, straightened, toward

STUB_WIDTH = 5.0
STUB = 12.0
"""How far an open port stands out, to its flange."""
STUB_GAP = 14.0
MOST_GAP = 26.0
SHORT_END = 12.0
"""A run with a gap keeps so much of itself beside it, where it is long enough."""
HEAD_LINE, NOTE_LINE = 16.0, 15.0
MARK_ROOM = 42.0
"""Room for the mark of a component, at its foot."""
PADDING = 8.0


def width_of_bore(bore_mm: float, most: float = 15.0) -> float:
    """How broad a pipe is drawn: by its bore, within what can be seen."""
    return max(5.0, min(most, 3 + bore_mm / 5))


# --- pipes ------------------------------------------------------------------------------------


def drawn_run(
    pipe: PicturePipe, points: list[Point], width: float, *, arrow_off: float = 0.0
) -> DrawnRun:
    """A run along these corners: flanges at its ends, an arrow in its longest straight."""
    corners = straightened(points)
    begin, end = max(pairwise(corners), key=lambda ends: straight_length(*ends))
    pieces: tuple[list[Point], ...] = (corners,)
    gap, gap_at, cut_ends = "", None, []
    if pipe.gap:
        from_, to = _gap_between(begin, end, pipe.gap)
        place = corners.index(begin)
        pieces = ([*corners[: place + 1], from_], [to, *corners[place + 1 :]])
        gap_at, clear = (from_, to), min(3.0, straight_length(from_, to) / 4)
        gap = _line([toward(from_, to, clear), toward(to, from_, clear)])
        cut_ends = [(from_, begin), (to, end)]
    half = width / 2 + 5
    flanges = _flange(corners[0], corners[1], half, 1) + _flange(corners[-1], corners[-2], half, 1)
    flanges += "".join(_flange(at, other, half, 0) for at, other in cut_ends)
    return DrawnRun(
        key=pipe.key,
        title=pipe.title,
        width=width,
        is_made=pipe.is_made,
        points=tuple(corners),
        body="".join(_line(piece) for piece in pieces),
        gap=gap,
        gap_at=gap_at,
        flanges=flanges,
        arrow=_arrow(pipe, begin, end, arrow_off),
    )


def gap_middle(pipe: PicturePipe, points: list[Point]) -> Point:
    """Where the gap of a run lies, or where it would."""
    begin, end = max(pairwise(straightened(points)), key=lambda ends: straight_length(*ends))
    from_, to = _gap_between(begin, end, pipe.gap or "middle")
    return ((from_[0] + to[0]) / 2, (from_[1] + to[1]) / 2)


def _gap_between(begin: Point, end: Point, gap: str) -> tuple[Point, Point]:
    """The two edges of the gap in the longest straight of a run."""
    length = straight_length(begin, end)
    broad = min(MOST_GAP, length * 0.4)
    short = min(SHORT_END, (length - broad) / 2)
    start = {"begin": short, "end": length - short - broad}.get(gap, (length - broad) / 2)
    return toward(begin, end, start), toward(begin, end, start + broad)


def _arrow(
    pipe: PicturePipe, begin: Point, end: Point, off: float
) -> tuple[float, float, int] | None:
    """In the middle of the longest straight, or of what a gap leaves of it."""
    length = straight_length(begin, end)
    if not pipe.one_way or length < 24:
        return None
    at = length / 2 + off
    if pipe.gap:
        broad = min(MOST_GAP, length * 0.4)
        left = {"begin": SHORT_END + broad, "end": 0.0}.get(pipe.gap, (length + broad) / 2)
        room = (length - broad) / 2 if pipe.gap == "middle" else length - broad - SHORT_END
        if room < 20:
            return None
        at = left + room / 2
    x, y = toward(begin, end, at)
    across, down = end[0] - begin[0], end[1] - begin[1]
    turn = (0 if across > 0 else 180) if abs(across) > abs(down) else (90 if down > 0 else 270)
    return (x, y, turn)


def drawn_port(port: PicturePort, at: Point, *, is_down: bool) -> DrawnRun:
    """An open port: a stub, a flange, and nothing behind it."""
    x, y = at
    tip = (x, y + STUB) if is_down else (x + STUB, y)
    far = (x, y + STUB + STUB_GAP) if is_down else (x + STUB + STUB_GAP, y)
    return DrawnRun(
        key=port.key,
        title=f"open: {port.name}, {port.open_words}" if port.open_words else f"open: {port.name}",
        width=STUB_WIDTH,
        is_made=True,
        points=(at, tip),
        body=_line([at, tip]),
        gap=_line([toward(tip, far, 3), far]),
        gap_at=(tip, far),
        flanges=_flange(tip, at, STUB_WIDTH / 2 + 4, 0),
    )


def boxes_of_run(run: DrawnRun) -> list[Box]:
    """The room that a run takes, straight by straight."""
    return [box_around(one, other, run.width / 2 + 2.5) for one, other in pairwise(run.points)]


def _line(points: list[Point]) -> str:
    return "M" + "L".join(f"{spot(x)} {spot(y)}" for x, y in points)


def _flange(at: Point, other: Point, half: float, inward: float) -> str:
    """A stroke across a pipe at one of its ends, `inward` from it."""
    x, y = toward(at, other, inward)
    if abs(other[0] - at[0]) > abs(other[1] - at[1]):
        return f"M{spot(x)} {spot(y - half)}V{spot(y + half)}"
    return f"M{spot(x - half)} {spot(y)}H{spot(x + half)}"


# --- components -------------------------------------------------------------------------------

_FINS = "".join(f"M{-24 + 8 * place} -9v18" for place in range(7))
_ZIGZAG = "M-24 7l8 -14 8 14 8 -14 8 14 8 -14 8 14"
_WHEEL = "M11 0a11 11 0 1 0 -22 0a11 11 0 1 0 22 0zM-6 -9L11 0L-6 9"
_DIAMOND = "M-20 0l20 -11 20 11 -20 11zM0 -11v22"
_VESSEL = "M-18 -10v15q0 5 5 5h26q5 0 5 -5v-15M-18 -2h36"
_BOW = "M-14 -8v16l28 -16v16z"
_BORES = "".join(
    f"M{-19.5 + 18 * place} 0a7.5 7.5 0 1 0 -15 0a7.5 7.5 0 1 0 15 0" for place in range(4)
)
_TEE = "M-22 0H22M0 0V11"
_CAN = "M-26 -8h52v16h-52zM-34 0h8M26 0h8"
_PATHS = {
    "fins": _FINS,
    "zigzag": _ZIGZAG,
    "wheel": _WHEEL,
    "diamond": _DIAMOND,
    "vessel": _VESSEL,
    "bow": _BOW,
    "bores": _BORES,
    "tee": _TEE,
    "can": _CAN,
}


def head_lines(box: PictureBox, room: float) -> tuple[str, ...]:
    """The name of a component in its box."""
    return in_lines(box.name, room - PADDING, "head", 2)


def head_height(box: PictureBox, room: float) -> float:
    """How much of a box its name, note and mark take."""
    lines = HEAD_LINE * len(head_lines(box, room)) + (NOTE_LINE if _note(box, room) else 0)
    return 8 + lines + (MARK_ROOM if box.mark else 10)


def _note(box: PictureBox, room: float) -> str:
    """What stands under the name: what is open of it, else a note that fits."""
    if box.open_words:
        return fitted(f"open: {box.open_words}", room - PADDING, "bold")
    return box.note if box.note and room_of(box.note, "plain") <= room - PADDING else ""


def drawn_box(box: PictureBox, at: Box, foot: float = 0.0) -> tuple[DrawnBox, list[Words]]:
    """A component and its words; `foot` is kept free at the bottom for its open ports."""
    middle, room = (at.left + at.right) / 2, at.right - at.left
    lines = head_lines(box, room)
    words = [
        words_at(line, middle, at.top + 18 + HEAD_LINE * place, "head", is_middle=True)
        for place, line in enumerate(lines)
    ]
    if note := _note(box, room):
        y = at.top + 18 + HEAD_LINE * len(lines)
        weight: Weight = "bold" if box.open_words else "plain"
        words.append(words_at(note, middle, y, weight, is_middle=True))
    said = [box.name, box.note, f"open: {box.open_words}" if box.open_words else ""]
    drawn = DrawnBox(
        key=box.key,
        title=", ".join(text for text in said if text),
        box=at,
        round=14.0 if box.mark == "vessel" else 2.0,
        is_open=bool(box.open_words),
        mark=_PATHS.get(box.mark, ""),
        mark_at=(middle, at.bottom - foot - MARK_ROOM / 2),
    )
    return drawn, words
