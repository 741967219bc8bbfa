"""The pipe run: labels meet nothing, the path is unbroken, all is inside the picture."""

import datetime as dt
import re
from collections.abc import Callable
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from webapp.build.build_input import MEDIA
from webapp.pictures.blocks import joined
from webapp.pictures.labels import Label
from webapp.pictures.lines import Point, rounded, straightened
from webapp.pictures.pipe_run import letter_texts, wide
from webapp.pictures.pipe_run_model import (
    Block,
    Chances,
    Fall,
    HandsRun,
    Nick,
    Pipe,
    PipeRun,
    PipeRunModel,
    Wait,
)
from webapp.pictures.pipe_run_upright import upright

NOW = dt.datetime(2026, 2, 10, 18, 30)
DAY = dt.timedelta(days=1)
HALF_LINE = 3.0
"""Half the width of the path as the style sheet draws it (6 units with its edge)."""
WORDS = ("part: Hose", "cure: Wash, mask and paint the MMMMWWWW bay", "|" * 40, "%" * 60)


def hands(letter: str, begins: dt.datetime, ends: dt.datetime, tasks: int = 3) -> HandsRun:
    return HandsRun(
        letter=letter,
        tasks=f"{tasks} tasks",
        hours=f"{4 * tasks}.5 h",
        begins=begins,
        ends=ends,
        ticks=tuple(begins + (ends - begins) * i / tasks for i in range(tasks)),
        nicks=(),
    )


def fall(number: int, pipe: int, begins: dt.datetime, ends: dt.datetime, *, more: int = 0) -> Fall:
    length = (ends - begins) / (more + 1)
    return Fall(
        pipe=pipe,
        begins=begins,
        ends=ends,
        waits=tuple(
            Wait(
                number=number + i,
                at=begins + length * (i + 0.5),
                words=WORDS[(number + i) % len(WORDS)],
            )
            for i in range(more + 1)
        ),
    )


@st.composite
def models(draw: st.DrawFn) -> PipeRunModel:
    """Pipes with work done and to come; a path of up to eight waits with hands between them."""
    count = draw(st.integers(1, 16))
    blocks: list[list[Block]] = [[] for _ in range(count)]
    for pipe in blocks:
        for _ in range(draw(st.integers(0, 3))):
            ends = NOW - dt.timedelta(hours=draw(st.integers(0, 4000)))
            begins = ends - dt.timedelta(hours=draw(st.integers(0, 200)))
            pipe.append(Block(begins=begins, ends=ends, done=True))
    path: list[HandsRun | Fall] = []
    at, number = NOW, 1
    for i in range(draw(st.integers(0, 8))):
        if draw(st.booleans()) or i == 0:
            ends = at + dt.timedelta(hours=draw(st.sampled_from((0, 1, 3, 30, 900))))
            run = hands("ABCDEFGHI"[i], at, ends, draw(st.integers(1, 40)))
            nicks = draw(st.integers(0, 3))
            path.append(run if not nicks else with_nicks(run, number, nicks))
            at, number = ends, number + nicks
        ends = at + dt.timedelta(hours=draw(st.sampled_from((12, 24, 150, 700))))
        more = draw(st.integers(0, 2))
        path.append(fall(number, draw(st.integers(0, count - 1)), at, ends, more=more))
        at, number = ends, number + more + 1
    ends = at + dt.timedelta(hours=draw(st.sampled_from((1, 30, 400))))
    path.append(hands("Z", at, ends, draw(st.integers(1, 40))))
    blocks[draw(st.integers(0, count - 1))].append(Block(begins=NOW, ends=ends, done=False))
    late = draw(st.integers(0, 60))
    return PipeRunModel(
        now=NOW,
        first_start_at=ends,
        first_start_words=("First start, likely", "Wed 30 September 2026"),
        pipes=pipes_of(blocks),
        path=tuple(path),
        chances=Chances(
            likely=ends,
            early=ends - DAY * late / 2,
            late=ends + DAY * late,
            words=("between Wed 30 Sep 2026", "and Wed 30 Dec 2026,", "8 times in 10"),
        )
        if draw(st.booleans())
        else None,
    )


def with_nicks(run: HandsRun, number: int, nicks: int) -> HandsRun:
    return HandsRun(
        letter=run.letter,
        tasks=run.tasks,
        hours=run.hours,
        begins=run.begins,
        ends=run.ends,
        ticks=run.ticks,
        nicks=tuple(
            Nick(number=number + i, at=run.begins + (run.ends - run.begins) * i / nicks)
            for i in range(nicks)
        ),
    )


def pipes_of(blocks: list[list[Block]]) -> tuple[Pipe, ...]:
    return tuple(
        Pipe(
            name=f"Subsystem {i}",
            medium=MEDIA[i % len(MEDIA)],
            medium_word="word",
            blocks=tuple(own),
        )
        for i, own in enumerate(blocks)
    )


def model_of(path: tuple[HandsRun | Fall, ...], pipes: int) -> PipeRunModel:
    """A model of this path over so many pipes without work; first start at its end."""
    return PipeRunModel(
        now=NOW,
        first_start_at=path[-1].ends if path else NOW + 9 * DAY,
        first_start_words=("First start",),
        pipes=pipes_of([[] for _ in range(pipes)]),
        path=path,
    )


def labels_of(run: PipeRun) -> list[Label]:
    return [*run.letters, *run.names, *run.notes, *run.numbers, *run.nick_numbers]


def crosses(run: PipeRun) -> list[str]:
    """The labels that the drawn path touches, worked out apart from how labels are set."""
    found = []
    for label in labels_of(run):
        box = label.box
        for (x1, y1), (x2, y2) in pairwise(run.path.points):
            if (
                min(x1, x2) - HALF_LINE < box.right
                and max(x1, x2) + HALF_LINE > box.left
                and min(y1, y2) - HALF_LINE < box.bottom
                and max(y1, y2) + HALF_LINE > box.top
            ):
                found.append(label.text)
    return found


@pytest.mark.parametrize("draw_run", [wide, upright])
@settings(max_examples=60, deadline=None)
@given(model=models())
def test_no_label_meets_the_path_or_another_label_or_leaves_the_picture(
    draw_run: Callable[[PipeRunModel], PipeRun], model: PipeRunModel
) -> None:
    run = draw_run(model)
    assert crosses(run) == []
    boxes = [label.box for label in (*labels_of(run), *run.key_words, *run.range_words)]
    for i, one in enumerate(boxes):
        assert one.left >= 0
        assert one.top >= 0
        assert one.right <= run.width
        assert one.bottom <= run.height
        for other in boxes[:i]:
            apart_sideways = one.right <= other.left or other.right <= one.left
            apart_in_height = one.bottom <= other.top or other.bottom <= one.top
            assert apart_sideways or apart_in_height


@settings(max_examples=60, deadline=None)
@given(model=models())
def test_the_upright_picture_names_every_stretch_and_wait_that_stands_apart(
    model: PipeRunModel,
) -> None:
    run = upright(model)
    letters = [one.letter for one in model.path if isinstance(one, HandsRun)]
    numbers = [str(w.number) for one in model.path if isinstance(one, Fall) for w in one.waits]
    assert [label.text for label in run.letters] == letters
    assert [label.text for label in run.numbers] == numbers
    places = sorted(label.y for label in run.names)
    assert all(b - a >= 40 - 1e-9 for a, b in pairwise(places))


@pytest.mark.parametrize("draw_run", [wide, upright])
@settings(max_examples=60, deadline=None)
@given(model=models())
def test_the_path_is_one_unbroken_line_of_right_angles_from_today_to_the_key(
    draw_run: Callable[[PipeRunModel], PipeRun], model: PipeRunModel
) -> None:
    run = draw_run(model)
    assert run.path.points[-1] == run.key
    for (x1, y1), (x2, y2) in pairwise(run.path.points):
        assert x1 == x2 or y1 == y2
        assert 0 <= x2 <= run.width
        assert 0 <= y2 <= run.height
    along = [y if run.upright else x for x, y in run.path.points]
    assert along == sorted(along)


def test_the_line_has_two_verticals_a_wait_however_many_tasks_there_are() -> None:
    """Fifty tasks and one wait: down to its pipe and up again, then down to the key."""
    path = (
        hands("A", NOW, NOW + 20 * DAY, 30),
        fall(1, 1, NOW + 20 * DAY, NOW + 25 * DAY),
        hands("B", NOW + 25 * DAY, NOW + 40 * DAY, 20),
    )
    run = wide(model_of(path, 2))
    verticals = [(a, b) for a, b in pairwise(run.path.points) if a[0] == b[0]]
    assert len(verticals) == 3
    assert run.path.waiting.count("M") == 1
    assert run.path.line.count("M") == 2
    assert len(re.findall("M", run.hands.ticks)) == 50


def test_a_stretch_has_its_words_where_its_pipe_is_longer_than_seven_units_a_letter() -> None:
    run = hands("A", NOW, NOW + DAY)
    # "A 3 tasks, 12.5 h" has 17 characters, "A 3 tasks" nine: 119 and 63 units.
    assert letter_texts(run, 120) == ("A 3 tasks, 12.5 h", "A 3 tasks", "A")
    assert letter_texts(run, 119) == ("A 3 tasks", "A")
    assert letter_texts(run, 63) == ("A",)


def test_tasks_less_than_three_days_apart_are_one_block_done_and_to_come_two() -> None:
    def block(begin: float, end: float, *, done: bool = False) -> Block:
        return Block(begins=NOW + begin * DAY, ends=NOW + end * DAY, done=done)

    given_blocks = (
        block(5.9, 7),
        block(0, 1),
        block(2, 3),
        block(10, 11),
        block(-2, -1, done=True),
    )
    # 1 to 2 and 3 to 5.9 are less than three days, 7 to 10 is not; done work stays by itself.
    assert joined(given_blocks) == (given_blocks[-1], block(0, 7), block(10, 11))


def test_without_a_date_for_first_start_there_is_no_path_no_key_and_no_header() -> None:
    run = wide(
        PipeRunModel(
            now=NOW,
            first_start_at=None,
            first_start_words=("First start has no date",),
            pipes=model_of((), 2).pipes,
            path=(),
        )
    )
    assert (run.path.line, run.key, run.header) == ("", None, "")
    assert [label.text for label in run.key_words] == ["First start has no date"]


def test_week_lines_stand_on_mondays_and_none_of_their_dates_meet() -> None:
    """9 February 2026 is a Monday (ISO 8601: 2026-W07-1)."""
    ticks = wide(model_of((hands("A", NOW, NOW + 40 * DAY),), 1)).ticks
    days = [dt.datetime.strptime(f"{t.text} 2026", "%d %b %Y") for t in ticks if t.text]
    assert days
    assert {day.weekday() for day in days} == {0}
    assert all(b.x - a.x > 30 for a, b in pairwise(ticks))


def test_corners_are_rounded_no_farther_than_there_is_room() -> None:
    """Legs of 4 and 20 units: the corner takes 2, half of the shorter, though 7 is asked for."""
    assert rounded([(0, 0), (4, 0), (4, 20)], 7) == "M0 0L2 0Q4 0 4 2L4 20"


def test_a_straight_line_keeps_only_its_ends() -> None:
    points: list[Point] = [(0, 0), (0, 0), (3, 0), (9, 0), (9, 5)]
    assert straightened(points) == [(0, 0), (9, 0), (9, 5)]


def test_a_pipe_of_hundreds_of_tasks_is_drawn_in_as_few_shapes_as_one_of_two() -> None:
    """What the page weighs grows by path data alone: one shape a layer."""
    many = tuple(
        Block(begins=NOW + i * 4 * DAY, ends=NOW + i * 4 * DAY + DAY / 5, done=False)
        for i in range(300)
    )
    pipe = Pipe(name="Air", medium="air", medium_word="air", blocks=many)
    drawn = wide(
        PipeRunModel(
            now=NOW,
            first_start_at=NOW + 1201 * DAY,
            first_start_words=("",),
            pipes=(pipe,),
            path=(),
        )
    ).pipes[0]
    assert len(re.findall("z", drawn.open)) == 300
    assert drawn.done == ""
