"""The words and numbers of the runs of a broad circuit picture, where they meet nothing."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from webapp.pictures.circuit_drawing import boxes_of_run
from webapp.pictures.circuit_model import DrawnRun, Number, PicturePipe, Words, words_at
from webapp.pictures.labels import Box, Label, LabelSetter, box_around
from webapp.pictures.lines import Point
from webapp.pictures.pipe_run import CIRCLE, circle_at

OFF = 4.0
"""Words and numbers keep so far from their pipe, over its flanges."""
FLANGE = 5.0
STEP = 6.0


@dataclass(frozen=True, slots=True, kw_only=True)
class RunLabels:
    """What is said of the runs in the picture."""

    words: tuple[Words, ...]
    numbers: tuple[Number, ...]


def run_labels(
    pipes: list[PicturePipe],
    runs: list[DrawnRun],
    stubs: list[DrawnRun],
    boxes: list[Box],
    sheet: Box,
) -> RunLabels | None:
    """Each run by its number, with its name where there is room; None where a number has none.

    A number that stands nowhere beside its run stands in it, clear of its gap.
    """
    beside, upon = LabelSetter(within=sheet), LabelSetter(within=sheet)
    for setter in (beside, upon):
        setter.keep_clear(boxes)
        setter.keep_clear(box_around(*stub.gap_at, 7) for stub in stubs if stub.gap_at)
        setter.keep_clear(box_around(*run.gap_at, 2) for run in runs if run.gap_at)
    beside.keep_clear(box for run in (*runs, *stubs) for box in boxes_of_run(run))
    words: list[Words] = []
    numbers: list[Number] = []
    for pipe, run in zip(pipes, runs, strict=True):
        said = beside.set(_named(pipe, run))
        if said is None:
            said = beside.set(_numbers_beside(pipe, run)) or upon.set(_numbers_upon(pipe, run))
            if said is None:
                return None
            numbers.append(Number(text=said.text, key=pipe.key, x=said.x, y=said.y))
        else:
            words.append(words_at(said.text, said.x, said.y, is_middle=True))
        upon.keep_clear([said.box])
        beside.keep_clear([said.box])
        if pipe.gap:
            open_said = beside.set(_open_words(pipe, run))
            if open_said is not None:
                upon.keep_clear([open_said.box])
                words.append(
                    words_at(open_said.text, open_said.x, open_said.y, "bold", is_middle=True)
                )
    return RunLabels(words=tuple(words), numbers=tuple(numbers))


def _levels(run: DrawnRun) -> list[tuple[Point, Point]]:
    """Its level straights, the longest first."""
    level = [(a, b) for a, b in pairwise(run.points) if abs(a[1] - b[1]) < 1]
    return sorted(level, key=lambda ends: -abs(ends[0][0] - ends[1][0]))


def _named(pipe: PicturePipe, run: DrawnRun) -> Iterator[Label]:
    """Number, name and size above a level straight that is long enough."""
    text = f"{pipe.number} {pipe.name}, {pipe.size}" if pipe.size else pipe.named
    for begin, end in _levels(run):
        middle, off = (begin[0] + end[0]) / 2, run.width / 2 + FLANGE + OFF
        for y in (begin[1] - off, begin[1] + off + 9):
            words = words_at(text, middle, y, is_middle=True)
            if words.box.right - words.box.left < abs(end[0] - begin[0]):
                yield _label(words)


def _numbers_beside(pipe: PicturePipe, run: DrawnRun) -> Iterator[Label]:
    off = run.width / 2 + FLANGE + CIRCLE
    for begin, end in _levels(run):
        for x in _from_middle(begin[0], end[0]):
            for y in (begin[1] - off, begin[1] + off):
                yield circle_at(str(pipe.number), x, y)
    for begin, end in pairwise(run.points):
        if abs(begin[0] - end[0]) < 1:
            for y in _from_middle(begin[1], end[1]):
                for x in (begin[0] + off - 2, begin[0] - off + 2):
                    yield circle_at(str(pipe.number), x, y)


def _numbers_upon(pipe: PicturePipe, run: DrawnRun) -> Iterator[Label]:
    for begin, end in pairwise(run.points):
        is_level = abs(begin[1] - end[1]) < 1
        for at in _from_middle(*((begin[0], end[0]) if is_level else (begin[1], end[1]))):
            x, y = (at, begin[1]) if is_level else (begin[0], at)
            yield circle_at(str(pipe.number), x, y)


def _open_words(pipe: PicturePipe, run: DrawnRun) -> Iterator[Label]:
    """What is open, beside the gap; "open" where all of it has no room."""
    if run.gap_at is None:
        return
    (x1, y1), (x2, y2) = run.gap_at
    middle, off = (x1 + x2) / 2, run.width / 2 + FLANGE + OFF
    for text in (pipe.open_words, "open"):
        room = words_at(text, middle, y1, "bold", is_middle=True).box
        half = (room.right - room.left) / 2
        if abs(y1 - y2) < 1:
            within = _within(run, y1, middle, half)
            places = [(x, y) for y in (y1 + off + 9, y1 - off) for x in (middle, within)]
        else:
            y = (y1 + y2) / 2 + 4
            places = [(x1 + off + half, y), (x1 - off - half, y)]
        for x, y in places:
            yield _label(words_at(text, x, y, "bold", is_middle=True))


def _within(run: DrawnRun, y: float, middle: float, half: float) -> float:
    """The middle of words of that half breadth that end where their straight does."""
    low, high = next(
        sorted((a[0], b[0]))
        for a, b in _levels(run)
        if abs(a[1] - y) < 1 and min(a[0], b[0]) <= middle <= max(a[0], b[0])
    )
    return max(low + half + 3, min(middle, high - half - 3))


def _label(words: Words) -> Label:
    return Label(text=words.text, x=words.x, y=words.y, box=words.box, ends_here=False)


def _from_middle(begin: float, end: float) -> Iterator[float]:
    """Places along a straight, from its middle outwards, a little within its ends."""
    low, high = sorted((begin, end))
    middle = (low + high) / 2
    yield middle
    steps = int(max(0.0, (high - low) / 2 - CIRCLE - 1) // STEP)
    for step in range(1, steps + 1):
        yield middle - STEP * step
        yield middle + STEP * step
