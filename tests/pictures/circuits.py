"""Random circuits to be drawn, and what may not be in a drawing of them."""

import random
from collections.abc import Iterator
from itertools import combinations, pairwise

from hypothesis import strategies as st

from webapp.pictures.circuit_model import (
    CircuitModel,
    CircuitPicture,
    DrawnRun,
    PictureBox,
    PicturePipe,
    PicturePort,
)
from webapp.pictures.labels import Box

FINE = 0.2
RING = 8.5
"""The circle round a number, as the template draws it."""
NARROWEST_BOX = 84.0
WALLS = 3.0
"""Both walls of a pipe are drawn outside its width."""
NAMES = ("T", "Radiator", "Fuel filter with water trap", "Engine, 2.2 turbo-diesel, of the van")
RUN_NAMES = ("Hose", "Upper hose", "Boost line of the actuator")
OPEN = ("", "", "does not fit", "pieces missing", "not clamped")


def circuit_models(most: int = 12) -> st.SearchStrategy[CircuitModel]:
    """Branches, returns, double runs, runs from a component to itself, components with none.

    Made of a count and a seed: drawn field by field they took longer than their pictures.
    """
    return st.builds(_random_circuit, st.integers(1, most), st.integers(0, 2**32))


def _random_circuit(count: int, seed: int) -> CircuitModel:
    chance = random.Random(seed)
    keys = [f"c{number}" for number in range(count)]
    boxes = tuple(
        PictureBox(
            key=key,
            name=chance.choice(NAMES),
            mark=chance.choice(("", "wheel", "vessel", "fins")),
            note=chance.choice(("", "5.2 litres")),
            open_words=chance.choice(("", "", "", "not here")),
        )
        for key in keys
    )
    behind = [
        (keys[chance.randint(max(0, place - 3), place - 1)], keys[place])
        for place in range(1, count)
    ]
    more = [(chance.choice(keys), chance.choice(keys)) for _ in range(chance.randint(0, count))]
    return CircuitModel(
        title="A circuit",
        medium="water",
        start=keys[0],
        boxes=boxes,
        pipes=tuple(_pipe(chance, place, *pair) for place, pair in enumerate([*behind, *more])),
        ports=tuple(
            PicturePort(
                key=f"p{place}", box=chance.choice(keys), name=chance.choice(("drain", *NAMES))
            )
            for place in range(chance.randint(0, 5))
        ),
        whole=chance.choice(((), ("no vent at the top",))),
    )


def _pipe(chance: random.Random, place: int, from_box: str, to_box: str) -> PicturePipe:
    open_words = chance.choice(OPEN)
    return PicturePipe(
        number=place + 1,
        key=f"r{place}",
        from_box=from_box,
        to_box=to_box,
        name=chance.choice(RUN_NAMES),
        size=chance.choice(("", "38", "63-60")),
        bore_mm=chance.choice((6.0, 8.0, 19.0, 38.0, 60.0, 102.0)),
        is_made=chance.choice((False, True)),
        one_way=chance.choice((False, True)),
        gap=chance.choice(("begin", "middle", "end")) if open_words else "",
        open_words=open_words,
    )


# --- what may not be --------------------------------------------------------------------------


def meet(one: Box, other: Box, by: float = FINE) -> bool:
    """Whether two rooms overlap by more than that."""
    return (
        one.left < other.right - by
        and other.left < one.right - by
        and one.top < other.bottom - by
        and other.top < one.bottom - by
    )


def texts_of(picture: CircuitPicture) -> list[tuple[str, Box]]:
    """Every text and its room, numbers in their circles among them."""
    circles = [
        (
            each.text,
            Box(left=each.x - RING, top=each.y - RING, right=each.x + RING, bottom=each.y + RING),
        )
        for each in picture.numbers
    ]
    return [*((each.text, each.box) for each in picture.words), *circles]


def straights(run: DrawnRun) -> list[Box]:
    """The centre lines of a run, one by one, as boxes without breadth."""
    return [
        Box(
            left=min(a[0], b[0]), top=min(a[1], b[1]), right=max(a[0], b[0]), bottom=max(a[1], b[1])
        )
        for a, b in pairwise(run.points)
    ]


def overlaps(picture: CircuitPicture) -> Iterator[str]:
    """What lies on something that it may not lie on, or out of the picture."""
    texts, boxes = texts_of(picture), [(each.key, each.box) for each in picture.boxes]
    for (one, here), (other, there) in combinations([*texts], 2):
        if meet(here, there):
            yield f"“{one}” lies on “{other}”"
    for (one, here), (other, there) in combinations(boxes, 2):
        if meet(here, there):
            yield f"{one} lies on {other}"
    for text, room in texts:
        for key, box in boxes:
            if meet(room, box) and not _is_within(room, box):
                yield f"“{text}” lies across the wall of {key}"
    for name, room in (*texts, *boxes, *_pipes(picture)):
        if (
            room.left < 0
            or room.top < 0
            or room.right > picture.width
            or room.bottom > picture.height
        ):
            yield f"{name} is cut off"
    yield from _runs_on_boxes(picture)
    yield from _runs_on_runs(picture)
    yield from _hidden_gaps(picture)


def _is_within(room: Box, box: Box) -> bool:
    return (
        room.left >= box.left
        and room.right <= box.right
        and room.top >= box.top
        and room.bottom <= box.bottom
    )


def _pipes(picture: CircuitPicture) -> list[tuple[str, Box]]:
    return [
        (
            run.key,
            Box(
                left=line.left - run.width / 2,
                top=line.top - run.width / 2,
                right=line.right + run.width / 2,
                bottom=line.bottom + run.width / 2,
            ),
        )
        for run in picture.runs
        for line in straights(run)
    ]


def _runs_on_boxes(picture: CircuitPicture) -> Iterator[str]:
    for run in picture.runs:
        for line in straights(run):
            for box in picture.boxes:
                edge = box.box
                is_over = (
                    line.left < edge.right - 1
                    and line.right > edge.left + 1
                    and line.top < edge.bottom - 1
                    and line.bottom > edge.top + 1
                )
                if is_over:
                    yield f"{run.key} runs over {box.key}"


def _runs_on_runs(picture: CircuitPicture) -> Iterator[str]:
    """Two runs may cross; they may not run along on one another."""
    lines = [
        (run.key, run.width, line, line.bottom - line.top < FINE)
        for run in picture.runs
        for line in straights(run)
    ]
    for (one, width, here, level), (other, width2, there, level2) in combinations(lines, 2):
        if one == other or level != level2:
            continue
        if level:
            along = min(here.right, there.right) - max(here.left, there.left)
            apart = abs(here.top - there.top)
        else:
            along = min(here.bottom, there.bottom) - max(here.top, there.top)
            apart = abs(here.left - there.left)
        if along > 2 and apart < (width + width2) / 2 + WALLS - FINE:
            yield f"{one} runs along on {other}"


def _hidden_gaps(picture: CircuitPicture) -> Iterator[str]:
    for run in picture.runs:
        if run.gap_at is None:
            continue
        (x1, y1), (x2, y2) = run.gap_at
        gap = Box(left=min(x1, x2), top=min(y1, y2), right=max(x1, x2), bottom=max(y1, y2))
        around = Box(left=gap.left - 1, top=gap.top - 1, right=gap.right + 1, bottom=gap.bottom + 1)
        for text, room in texts_of(picture):
            if meet(around, room, 1.2):
                yield f"“{text}” hides the gap of {run.key}"
