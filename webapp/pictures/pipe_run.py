"""The pipe run to first start for a broad page: one pipe a subsystem, all into one header.

Time runs to the right. On top lies the lane of the hands: each stretch of them one open pipe, a
tick for each task. One unbroken line follows the path along it and leaves it only for a wait:
straight down to the wait's subsystem, dotted along it, straight up again. Below, one pipe a
subsystem, solid where work is done and dashed where it is to come. Colour is the medium, after
ISO 14726 where that has it; the class of a pipe names the medium and the style sheet colours it.
"""

from collections.abc import Iterable, Iterator
from itertools import pairwise

from webapp.pictures.blocks import joined
from webapp.pictures.labels import (
    Box,
    Label,
    LabelSetter,
    box_around,
    label_at,
    label_before,
    width_of,
)
from webapp.pictures.lines import Axes, Point
from webapp.pictures.path_course import Pieces, Placed, hands_layers, path_line, placed, within
from webapp.pictures.pipe_run_model import (
    DrawnHands,
    DrawnPipe,
    Fall,
    HandsRun,
    Pipe,
    PipeRun,
    PipeRunModel,
    Sheet,
)
from webapp.pictures.time_scale import TimeScale, today_line, week_lines

LEAST_LENGTH = 4.0
NAME_CHARACTERS = 22
RANGE_FOOT = 28.0
"""Room under the key for the range of first start."""
AFTER = 22.0
"""The header lies so far behind first start."""
ROOM_BEFORE_KEY = 520.0
"""What the longest words beside the key take: the range, in a year that is not this one."""
LETTER_WIDTH = 9.0
UNITS_A_CHARACTER = 7.0
"""A stretch has its words where its pipe is longer than so much for each of their letters."""
CIRCLE = 9.5
"""Half the room of a number in its circle."""


def wide(model: PipeRunModel) -> PipeRun:
    """The picture for a broad page."""
    sheet = _sheet(model)
    scale = TimeScale(model, sheet)
    pieces = placed(model, scale)
    header_at = _header_along(model, scale, pieces)
    key = (header_at, sheet.height - sheet.foot - 30) if pieces else None
    tail: list[Point] = [(header_at, sheet.hands), key] if key else []
    path = path_line(pieces, sheet, lambda fall: sheet.lane(fall.pipe), tail)
    setter = LabelSetter(within=Box(left=4, top=4, right=sheet.width - 4, bottom=sheet.height - 4))
    setter.keep_clear(box_around(a, b, 3.5) for a, b in pairwise(path.points))
    setter.keep_clear([box_around((header_at, sheet.hands - 14), (header_at, sheet.height), 11)])
    now = scale.along(model.now)
    setter.keep_clear([box_around((now - 38, sheet.hands - 40), (now - 2, sheet.hands - 27), 0)])
    letters = _letters(pieces, sheet, setter)
    return PipeRun(
        width=sheet.width,
        height=sheet.height,
        upright=False,
        ticks=week_lines(model, scale, sheet),
        now=today_line(model, scale, sheet),
        pipes=tuple(
            _drawn_pipe(pipe, i, sheet, scale, header_at) for i, pipe in enumerate(model.pipes)
        ),
        header=_header(model, sheet, header_at),
        hands=DrawnHands(**hands_layers(pieces, sheet, scale)),
        hands_at=(14, sheet.hands),
        path=path,
        letters=letters,
        names=(),
        notes=(),
        numbers=_numbers(pieces, sheet, scale, setter),
        nick_numbers=_nick_numbers(pieces, sheet, scale, setter),
        leaders="",
        key=key,
        key_words=_key_words(model, sheet, key),
        range=_range(model, sheet, scale, header_at),
        range_ends=_range_ends(model, sheet, scale, header_at),
        range_words=_range_words(model, key),
    )


def _sheet(model: PipeRunModel) -> Sheet:
    pitch, hands, top = 38.0, 84.0, 118.0
    foot = RANGE_FOOT if model.chances else 0.0
    return Sheet(
        axes=Axes(upright=False),
        along_from=196,
        along_to=990,
        across_from=top,
        pitch=pitch,
        half=7,
        hands=hands,
        hands_half=9,
        width=1120,
        height=top + pitch * len(model.pipes) + 62 + foot,
        foot=foot,
    )


def _header_along(model: PipeRunModel, scale: TimeScale, pieces: Pieces) -> float:
    """Where the header lies, a little after first start."""
    along = scale.along(model.key_at) if model.key_at else scale.sheet.along_to
    return max([along, *(one.end for one in pieces)]) + AFTER


def _range(model: PipeRunModel, sheet: Sheet, scale: TimeScale, header_at: float) -> str:
    if model.chances is None or not model.path:
        return ""
    early, _, late = _range_along(model, scale, header_at)
    return sheet.axes.along(early, late, sheet.height - 10)


def _range_ends(model: PipeRunModel, sheet: Sheet, scale: TimeScale, header_at: float) -> str:
    if model.chances is None or not model.path:
        return ""
    at = _range_along(model, scale, header_at)
    return "".join(sheet.axes.flange(along, sheet.height - 10, 5) for along in at)


def _range_along(
    model: PipeRunModel, scale: TimeScale, header_at: float
) -> tuple[float, float, float]:
    """Early, likely and late, moved with the key, which stands a little after its moment."""
    assert model.chances is not None
    shift = header_at - scale.along(model.key_at or model.now)
    moments = (model.chances.early, model.chances.likely, model.chances.late)
    early, likely, late = (scale.along(moment) + shift for moment in moments)
    return early, likely, late


def _range_words(model: PipeRunModel, key: Point | None) -> tuple[Label, ...]:
    if model.chances is None or key is None:
        return ()
    return (_beside_key(" ".join(model.chances.words), key, 24),)


def _beside_key(text: str, key: Point, below: float) -> Label:
    """Words before the key, behind it where there is no room before."""
    if key[0] < ROOM_BEFORE_KEY:
        return label_at(text, key[0] + 52, key[1] + below)
    return label_before(text, key[0] - 22, key[1] + below)


def _drawn_pipe(
    pipe: Pipe, place: int, sheet: Sheet, scale: TimeScale, header_at: float
) -> DrawnPipe:
    axes, lane, half = sheet.axes, sheet.lane(place), sheet.half
    layers = {"done": "", "open": "", "done_walls": "", "open_walls": "", "flanges": ""}
    pattern = ""
    starts = [header_at]
    for block in joined(pipe.blocks):
        begin = scale.along(block.begins)
        end = min(max(scale.along(block.ends), begin + LEAST_LENGTH), header_at)
        if block.ends < scale.first:
            starts.append(sheet.along_from)
            continue
        starts.append(begin)
        kind = "done" if block.done else "open"
        layers[kind] += axes.box(begin, end, lane, half)
        layers[f"{kind}_walls"] += axes.walls(begin, end, lane, half)
        layers["flanges"] += axes.flange(begin, lane, half + 3) + axes.flange(end, lane, half + 3)
        if pipe.medium == "electrical":
            pattern += axes.walls(begin, end, lane, half * 0.35)
        elif pipe.medium == "vacuum":
            pattern += axes.along(begin, end, lane)
    idle = axes.along(min(starts), header_at, lane) if pipe.blocks else ""
    layers["flanges"] += axes.flange(header_at - 9, lane, half) if pipe.blocks else ""
    return DrawnPipe(
        name=cut(pipe.name, NAME_CHARACTERS),
        medium=pipe.medium,
        medium_word=pipe.medium_word,
        x=14,
        y=lane,
        idle=idle,
        pattern=pattern,
        **layers,
    )


def _header(model: PipeRunModel, sheet: Sheet, header_at: float) -> str:
    """The header that every pipe turns into, as path data of its centre line."""
    if model.first_start_at is None or not model.pipes:
        return ""
    first, bottom = sheet.hands - 8, sheet.height - sheet.foot - 40
    return f"M{header_at:.1f} {first:.1f}L{header_at:.1f} {bottom:.1f}"


def _key_words(model: PipeRunModel, sheet: Sheet, key: Point | None) -> tuple[Label, ...]:
    text = " ".join(model.first_start_words)
    if key is None:
        return (label_at(text, 14, sheet.height - 22),)
    return (_beside_key(text, key, 6),)


def _letters(pieces: Pieces, sheet: Sheet, setter: LabelSetter) -> tuple[Label, ...]:
    """Above each stretch its letter, with as many of its words as its pipe is long."""
    labels = []
    for one in pieces:
        if isinstance(one.piece, Fall):
            continue
        texts = letter_texts(one.piece, one.end - one.begin)
        label = setter.set(_over(texts, one, sheet))
        if label is not None:
            labels.append(label)
    return tuple(labels)


def letter_texts(piece: HandsRun, length: float) -> tuple[str, ...]:
    """What is said of a stretch, the longest first, each within `length` where it has words."""
    texts: tuple[str, ...] = (
        f"{piece.letter} {piece.tasks}, {piece.hours}",
        f"{piece.letter} {piece.tasks}",
    )
    if not piece.ticks:
        texts = ()
    return (*(text for text in texts if len(text) * UNITS_A_CHARACTER < length), piece.letter)


def _over(texts: Iterable[str], one: Placed, sheet: Sheet) -> Iterator[Label]:
    middle = (one.begin + one.end) / 2
    for text in texts:
        width = width_of(text) + LETTER_WIDTH / 2
        for y in (sheet.hands - 18, sheet.hands - 32):
            yield label_at(text, middle - width / 2, y, width)


def _numbers(
    pieces: Pieces, sheet: Sheet, scale: TimeScale, setter: LabelSetter
) -> tuple[Label, ...]:
    """The number of each wait that stands apart, in a circle beside its dotted line."""
    labels = []
    for one in pieces:
        if isinstance(one.piece, HandsRun):
            continue
        lane = sheet.lane(one.piece.pipe)
        for wait in one.piece.waits:
            middle = within(one, scale.along(wait.at))
            label = setter.set(_circles(str(wait.number), middle, lane, sheet))
            if label is not None:
                labels.append(label)
    return tuple(labels)


def _circles(text: str, middle: float, lane: float, sheet: Sheet) -> Iterator[Label]:
    """Under and over the pipe, the nearest to the middle of the wait first."""
    off = sheet.half + 4 + CIRCLE
    for shift in (0.0, 12.0, -12.0, 21.0, -21.0, 32.0, -32.0, 43.0, -43.0):
        for y in (lane + off, lane - off):
            yield circle_at(text, middle + shift, y)


def circle_at(text: str, x: float, y: float) -> Label:
    """A number in a circle around (x, y); its base line lies 4 units lower."""
    box = Box(left=x - CIRCLE, top=y - CIRCLE, right=x + CIRCLE, bottom=y + CIRCLE)
    return Label(text=text, x=x, y=y, box=box, ends_here=False)


def _nick_numbers(
    pieces: Pieces, sheet: Sheet, scale: TimeScale, setter: LabelSetter
) -> tuple[Label, ...]:
    """The number of each nick under it, where there is room: the list has them all."""
    labels = []
    for one in pieces:
        if isinstance(one.piece, Fall):
            continue
        for nick in one.piece.nicks:
            text, along = str(nick.number), within(one, scale.along(nick.at))
            width = width_of(text)
            y = sheet.hands + sheet.hands_half + 15
            label = setter.set([label_at(text, along - width / 2, y, width)])
            if label is not None:
                labels.append(label)
    return tuple(labels)


def cut(text: str, most: int) -> str:
    """The text, or as much of it as has room, with an ellipsis."""
    return text if len(text) <= most else text[: most - 1].rstrip() + "\N{HORIZONTAL ELLIPSIS}"
