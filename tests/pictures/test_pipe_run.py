"""The pipe run: labels meet nothing, the path is unbroken, all is inside the picture."""

import datetime as dt
import re
from collections.abc import Callable
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from webapp.build.build_input import MEDIA
from webapp.pictures.lines import Point, rounded, straightened
from webapp.pictures.pipe_run import upright, wide
from webapp.pictures.pipe_run_model import PathLeg, Pipe, PipeRun, PipeRunModel, Stretch

NOW = dt.datetime(2026, 2, 10, 18, 30)
HALF_LINE = 3.2
"""Half the width of the path as the style sheet draws it (6.4 units with its edge)."""
NAMES = ("Weld", "Fit the hoses", "Wash, mask and paint the MMMMWWWW bay", "|" * 40, "%" * 60)


@st.composite
def models(draw: st.DrawFn) -> PipeRunModel:
    """Pipes with done work behind and a path of tasks, one after the other, ahead."""
    count = draw(st.integers(1, 16))
    stretches: list[list[Stretch]] = [[] for _ in range(count)]
    for pipe in stretches:
        for _ in range(draw(st.integers(0, 3))):
            ends = NOW - dt.timedelta(hours=draw(st.integers(0, 4000)))
            begins = ends - dt.timedelta(hours=draw(st.integers(0, 200)))
            pipe.append(Stretch(begins=begins, ends=ends, done=True))
    legs, at = [], NOW
    for number in range(1, draw(st.integers(1, 60)) + 1):
        at += dt.timedelta(hours=draw(st.sampled_from((0, 0, 1, 13, 100))))
        ends = at + dt.timedelta(hours=draw(st.sampled_from((0, 1, 3, 30, 200))))
        place = draw(st.integers(0, count - 1))
        name = draw(st.sampled_from(NAMES))
        legs.append(PathLeg(number=number, name=name, pipe=place, begins=at, ends=ends))
        stretches[place].append(Stretch(begins=at, ends=ends, done=False))
        at = ends
    return PipeRunModel(
        now=NOW,
        first_start_at=at,
        first_start_words="First start, likely Sat 13 June",
        pipes=tuple(
            Pipe(
                name=f"Subsystem {i}",
                medium=MEDIA[i % len(MEDIA)],
                medium_word="word",
                stretches=tuple(own),
            )
            for i, own in enumerate(stretches)
        ),
        path=tuple(legs),
    )


def crosses(run: PipeRun) -> list[str]:
    """The labels that the drawn path touches, worked out apart from how labels are set."""
    found = []
    for label in run.labels:
        box = label.box
        for (x1, y1), (x2, y2) in pairwise(run.path_points):
            if (
                min(x1, x2) - HALF_LINE < box.right
                and max(x1, x2) + HALF_LINE > box.left
                and min(y1, y2) - HALF_LINE < box.bottom
                and max(y1, y2) + HALF_LINE > box.top
            ):
                found.append(label.text)
    return found


@pytest.mark.parametrize("draw_run", [wide, upright])
@settings(max_examples=40, deadline=None)
@given(model=models())
def test_no_label_meets_the_path_or_another_label_or_leaves_the_picture(
    draw_run: Callable[[PipeRunModel], PipeRun], model: PipeRunModel
) -> None:
    run = draw_run(model)
    assert crosses(run) == []
    boxes = [label.box for label in run.labels]
    for i, one in enumerate(boxes):
        assert one.left >= 0
        assert one.top >= 0
        assert one.right <= run.width
        assert one.bottom <= run.height
        for other in boxes[:i]:
            apart_sideways = one.right <= other.left or other.right <= one.left
            apart_in_height = one.bottom <= other.top or other.bottom <= one.top
            assert apart_sideways or apart_in_height


@pytest.mark.parametrize("draw_run", [wide, upright])
@settings(max_examples=40, deadline=None)
@given(model=models())
def test_the_path_is_one_unbroken_line_of_right_angles_from_today_to_the_key(
    draw_run: Callable[[PipeRunModel], PipeRun], model: PipeRunModel
) -> None:
    run = draw_run(model)
    assert run.path.count("M") == 1
    assert run.path_points[-1] == run.key
    for (x1, y1), (x2, y2) in pairwise(run.path_points):
        assert x1 == x2 or y1 == y2
        assert 0 <= x2 <= run.width
        assert 0 <= y2 <= run.height


def test_the_path_never_runs_back_in_time() -> None:
    legs = tuple(
        PathLeg(
            number=i + 1,
            name=f"Task {i}",
            pipe=pipe,
            begins=NOW + dt.timedelta(days=2 * i),
            ends=NOW + dt.timedelta(days=2 * i + 1),
        )
        for i, pipe in enumerate((0, 2, 1, 2))
    )
    run = wide(model_of(legs, 3))
    times = [x for x, _ in run.path_points]
    assert times == sorted(times)


def test_a_label_has_the_number_and_the_name_of_its_task_where_there_is_room() -> None:
    """Two tasks a month apart on two pipes: nothing is near either label."""
    legs = (
        PathLeg(number=1, name="Weld", pipe=0, begins=NOW, ends=NOW + dt.timedelta(days=2)),
        PathLeg(
            number=2,
            name="Paint",
            pipe=1,
            begins=NOW + dt.timedelta(days=30),
            ends=NOW + dt.timedelta(days=33),
        ),
    )
    assert [label.text for label in wide(model_of(legs, 2)).labels] == ["1 Weld", "2 Paint"]
    assert [label.text for label in upright(model_of(legs, 2)).labels] == ["1", "2"]


def test_without_a_date_for_first_start_there_is_no_path_no_key_and_no_header() -> None:
    run = wide(
        PipeRunModel(
            now=NOW,
            first_start_at=None,
            first_start_words="First start has no date",
            pipes=model_of((), 2).pipes,
            path=(),
        )
    )
    assert (run.path, run.key, run.header) == ("", None, "")
    assert run.key_words.text == "First start has no date"


def test_week_lines_stand_on_mondays_and_none_of_their_dates_meet() -> None:
    """9 February 2026 is a Monday (ISO 8601: 2026-W07-1)."""
    legs = (PathLeg(number=1, name="Weld", pipe=0, begins=NOW, ends=NOW + dt.timedelta(days=40)),)
    ticks = wide(model_of(legs, 1)).ticks
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
        Stretch(
            begins=NOW + dt.timedelta(days=i), ends=NOW + dt.timedelta(days=i, hours=5), done=False
        )
        for i in range(300)
    )
    model = model_of((), 1)
    pipe = Pipe(name="Air", medium="air", medium_word="air", stretches=many)
    drawn = wide(
        PipeRunModel(
            now=model.now,
            first_start_at=NOW + dt.timedelta(days=301),
            first_start_words="",
            pipes=(pipe,),
            path=(),
        )
    ).pipes[0]
    assert len(re.findall("z", drawn.open)) == 300
    assert drawn.done == ""


def model_of(legs: tuple[PathLeg, ...], pipes: int) -> PipeRunModel:
    """A model with these legs on so many pipes, first start at the end of the last."""
    return PipeRunModel(
        now=NOW,
        first_start_at=legs[-1].ends if legs else NOW + dt.timedelta(days=9),
        first_start_words="First start",
        pipes=tuple(
            Pipe(
                name=f"Subsystem {i}",
                medium="none",
                medium_word="no medium",
                stretches=tuple(
                    Stretch(begins=leg.begins, ends=leg.ends, done=False)
                    for leg in legs
                    if leg.pipe == i
                ),
            )
            for i in range(pipes)
        ),
        path=legs,
    )
