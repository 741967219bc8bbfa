"""The pipe run to first start, measured: one pipe a subsystem, all into one header to the key.

Time runs to the right (`wide`) or, for a narrow screen, down (`upright`). A pipe is solid where
work is done and open where it is to come, a flange at either end of every task, a thin line where
nothing happens. One unbroken line follows the path from pipe to pipe. Colour is the medium, after
ISO 14726 where that has it; the class of a pipe names the medium and the style sheet colours it.
"""

from collections.abc import Iterator
from itertools import pairwise

from webapp.pictures.labels import (
    Box,
    Label,
    LabelSetter,
    box_around,
    label_at,
    label_before,
    width_of,
)
from webapp.pictures.lines import Axes, Point, rounded, straightened
from webapp.pictures.pipe_run_model import DrawnPipe, Pipe, PipeRun, PipeRunModel, Sheet
from webapp.pictures.time_scale import TimeScale, today_line, week_lines

CORNER = 7.0
LEAST_LENGTH = 4.0
NAME_CHARACTERS, SLANTED_CHARACTERS, LABEL_CHARACTERS = 22, 18, 34
RANGE_FOOT = 28.0
"""Room under the key for the range of first start."""
SLANT_ROOM = 62.0
"""Room beside the last pipe of the upright picture for its slanting name."""


def wide(model: PipeRunModel) -> PipeRun:
    """The picture for a broad page: time runs to the right."""
    pitch, top = 58.0, 62.0
    bottom = top + pitch * len(model.pipes)
    sheet = Sheet(
        axes=Axes(upright=False),
        along_from=196,
        along_to=1030,
        across_from=top,
        pitch=pitch,
        half=7.5,
        width=1120,
        height=bottom + 62 + (RANGE_FOOT if model.chances else 0),
        foot=RANGE_FOOT if model.chances else 0,
    )
    return _drawn(model, sheet)


def upright(model: PipeRunModel) -> PipeRun:
    """The picture for a narrow screen: time runs down, names stand over their pipes."""
    left, width = 54.0, 358.0
    pitch = min(36.0, (width - left - SLANT_ROOM) / max(1, len(model.pipes)))
    sheet = Sheet(
        axes=Axes(upright=True),
        along_from=168,
        along_to=660,
        across_from=left,
        pitch=pitch,
        half=max(2.0, min(6.0, pitch * 0.22)),
        width=width,
        height=726 + (RANGE_FOOT if model.chances else 0),
        foot=RANGE_FOOT if model.chances else 0,
    )
    return _drawn(model, sheet)


def header_along(model: PipeRunModel, sheet: Sheet, scale: TimeScale) -> float:
    """Where the header lies, a little after first start."""
    along = scale.along(model.key_at) if model.key_at else sheet.along_to
    return along + (16 if sheet.axes.upright else 22)


def _drawn(model: PipeRunModel, sheet: Sheet) -> PipeRun:
    scale = TimeScale(model, sheet)
    header_at = header_along(model, sheet, scale)
    points = _path_points(model, sheet, scale, header_at)
    key = points[-1] if points else None
    return PipeRun(
        width=sheet.width,
        height=sheet.height,
        upright=sheet.axes.upright,
        ticks=week_lines(model, scale, sheet),
        now=today_line(model, scale, sheet),
        pipes=tuple(
            _drawn_pipe(pipe, i, sheet, scale, header_at) for i, pipe in enumerate(model.pipes)
        ),
        header=_header(model, sheet, header_at),
        path=rounded(points, CORNER),
        path_points=tuple(points),
        labels=_labels(model, sheet, scale, points),
        key=key,
        key_words=_key_words(model, sheet, key),
        range=_range(model, sheet, scale),
        range_ends=_range_ends(model, sheet, scale),
        range_words=_range_words(model, sheet, key),
    )


def _range_lane(sheet: Sheet) -> float:
    """Where the range lies beside the key: under it, or along the right edge."""
    return sheet.width - 8 if sheet.axes.upright else sheet.height - 10


def _range(model: PipeRunModel, sheet: Sheet, scale: TimeScale) -> str:
    if model.chances is None or not model.path:
        return ""
    early, late = scale.along(model.chances.early), scale.along(model.chances.late)
    shift = header_along(model, sheet, scale) - scale.along(model.key_at or model.now)
    return sheet.axes.along(early + shift, late + shift, _range_lane(sheet))


def _range_ends(model: PipeRunModel, sheet: Sheet, scale: TimeScale) -> str:
    if model.chances is None or not model.path:
        return ""
    shift = header_along(model, sheet, scale) - scale.along(model.key_at or model.now)
    moments = (model.chances.early, model.chances.likely, model.chances.late)
    at = [scale.along(moment) + shift for moment in moments]
    return "".join(sheet.axes.flange(along, _range_lane(sheet), 5) for along in at)


def _range_words(model: PipeRunModel, sheet: Sheet, key: Point | None) -> Label | None:
    if model.chances is None or key is None or not model.path:
        return None
    if sheet.axes.upright:
        return label_at(model.chances.words, 14, key[1] + 34)
    return label_before(model.chances.words, key[0] - 22, key[1] + 24)


def _drawn_pipe(
    pipe: Pipe, place: int, sheet: Sheet, scale: TimeScale, header_at: float
) -> DrawnPipe:
    axes, lane, half = sheet.axes, sheet.lane(place), sheet.half
    layers = {"done": "", "open": "", "done_walls": "", "open_walls": "", "flanges": ""}
    pattern = ""
    starts = [header_at]
    for stretch in sorted(pipe.stretches, key=lambda one: (one.begins, one.ends)):
        begin = scale.along(stretch.begins)
        end = min(max(scale.along(stretch.ends), begin + LEAST_LENGTH), header_at)
        if stretch.ends < scale.first:
            starts.append(sheet.along_from)
            continue
        starts.append(begin)
        kind = "done" if stretch.done else "open"
        layers[kind] += axes.box(begin, end, lane, half)
        layers[f"{kind}_walls"] += axes.walls(begin, end, lane, half)
        layers["flanges"] += axes.flange(begin, lane, half + 4) + axes.flange(end, lane, half + 4)
        if pipe.medium == "electrical":
            pattern += axes.walls(begin, end, lane, half * 0.35)
        elif pipe.medium == "vacuum":
            pattern += axes.along(begin, end, lane)
    idle = axes.along(min(starts), header_at, lane) if pipe.stretches else ""
    layers["flanges"] += axes.flange(header_at - 9, lane, half) if pipe.stretches else ""
    x, y = (lane, sheet.along_from - 16) if axes.upright else (14, lane)
    return DrawnPipe(
        name=_cut(pipe.name, SLANTED_CHARACTERS if axes.upright else NAME_CHARACTERS),
        medium=pipe.medium,
        medium_word=pipe.medium_word,
        x=x,
        y=y,
        idle=idle,
        pattern=pattern,
        **layers,
    )


def _header(model: PipeRunModel, sheet: Sheet, header_at: float) -> str:
    """The header that every pipe turns into, as path data of its centre line."""
    if model.first_start_at is None or not model.pipes:
        return ""
    axes = sheet.axes
    first, last = sheet.lane(0) - sheet.half - 6, sheet.lane(len(model.pipes) - 1)
    if axes.upright:
        return axes.flange(header_at, (first + last + sheet.half + 6) / 2, (last - first) / 2 + 6)
    bottom = sheet.height - sheet.foot - 40
    return f"M{header_at:.1f} {first:.1f}L{header_at:.1f} {bottom:.1f}"


def _path_points(
    model: PipeRunModel, sheet: Sheet, scale: TimeScale, header_at: float
) -> list[Point]:
    """The path as right-angled points, ending at the key."""
    if not model.path or model.first_start_at is None:
        return []
    at = sheet.axes.at
    lane = sheet.lane(model.path[0].pipe)
    points = [at(scale.along(model.now), lane)]
    for leg in model.path:
        begin, to = scale.along(leg.begins), sheet.lane(leg.pipe)
        points += [at(begin, lane), at(begin, to), at(scale.along(leg.ends), to)]
        lane = to
    points.append(at(header_at, lane))
    if sheet.axes.upright:
        points += [at(header_at, sheet.lane(0)), at(header_at + 30, sheet.lane(0))]
    else:
        points.append((header_at, sheet.height - sheet.foot - 30))
    return straightened(points)


def _key_words(model: PipeRunModel, sheet: Sheet, key: Point | None) -> Label:
    if key is None:
        return label_at(model.first_start_words, 14, sheet.height - 22)
    if sheet.axes.upright:
        return label_at(model.first_start_words, key[0] + 42, key[1] + 5)
    return label_before(model.first_start_words, key[0] - 22, key[1] + 6)


def _labels(
    model: PipeRunModel, sheet: Sheet, scale: TimeScale, points: list[Point]
) -> tuple[Label, ...]:
    """Number and name at each task of the path, the number alone where room is short.

    A label that would meet the path, a pipe, the line of today or another label is left out;
    the list beside the picture has them all.
    """
    setter = LabelSetter(within=Box(left=4, top=4, right=sheet.width - 4, bottom=sheet.height - 4))
    setter.keep_clear(box_around(a, b, 4) for a, b in pairwise(points))
    setter.keep_clear(_pipe_boxes(model, sheet))
    now = scale.along(model.now)
    at = sheet.axes.at
    setter.keep_clear([box_around(at(now, 0), at(now, sheet.width + sheet.height), 2)])
    header = header_along(model, sheet, scale)
    setter.keep_clear([box_around(at(header, 0), at(header, sheet.width + sheet.height), 11)])
    labels = []
    for leg in model.path:
        begin, end = scale.along(leg.begins), scale.along(leg.ends)
        lane = sheet.lane(leg.pipe)
        number = str(leg.number)
        named = f"{number} {_cut(leg.name, LABEL_CHARACTERS)}"
        texts = (number,) if sheet.axes.upright else (named, number)
        for text in texts:
            label = setter.set(_candidates(text, begin, end, lane, sheet))
            if label is not None:
                labels.append(label)
                break
    return tuple(labels)


def _pipe_boxes(model: PipeRunModel, sheet: Sheet) -> list[Box]:
    at = sheet.axes.at
    reach = sheet.half + (1 if sheet.axes.upright else 4)
    return [
        box_around(
            at(sheet.along_from, sheet.lane(i)), at(sheet.along_to + 40, sheet.lane(i)), reach
        )
        for i in range(len(model.pipes))
    ]


def _candidates(text: str, begin: float, end: float, lane: float, sheet: Sheet) -> Iterator[Label]:
    """Places for a label, the best first; none so far off that it seems to be another task's."""
    width = width_of(text)
    if sheet.axes.upright:
        for y in (begin + 10, (begin + end) / 2 + 4, end, begin + 18, begin - 2):
            yield label_at(text, lane + sheet.half + 3, y, width)
            yield label_before(text, lane - sheet.half - 3, y, width)
        return
    lanes = (lane - sheet.half - 9, lane + sheet.half + 17)
    for shift in (2.0, 8.0, 14.0):
        for y in lanes:
            yield label_at(text, begin + shift, y, width)
    for y in lanes:
        yield label_before(text, end, y, width)
        yield label_before(text, begin - 5, y, width)


def _cut(text: str, most: int) -> str:
    return text if len(text) <= most else text[: most - 1].rstrip() + "\N{HORIZONTAL ELLIPSIS}"
