"""The path drawn together: letters for hands, numbers for waits."""

import datetime as dt
from dataclasses import replace

from hypothesis import given, settings

from tests.build.builds import MONDAY, build_of, task
from tests.build.random_builds import builds
from webapp.build.build_input import BuildInput, Part
from webapp.planning.order.job_order import make_plan
from webapp.planning.order.stretches import MOST_DESCENTS, Descent, Stretch, path_pieces

Piece = Stretch | Descent


def pieces_of(build: BuildInput) -> tuple[Piece, ...]:
    return path_pieces(build, make_plan(build))


def told(build: BuildInput) -> list[str]:
    """Each piece in short: "A ab 5.0" for tasks and hours, "1 cure air" for a wait."""
    lines = []
    for piece in pieces_of(build):
        if isinstance(piece, Stretch):
            keys = "".join(step.what for step in piece.steps)
            nicks = "".join(f" nick {wait.number}" for wait in piece.waits)
            lines.append(f"{piece.letter} {keys} {piece.hours}{nicks}")
        else:
            waits = ", ".join(f"{wait.number} {wait.kind}" for wait in piece.waits)
            lines.append(f"{waits} {piece.subsystem}")
    return lines


def test_tasks_of_any_subsystem_in_a_row_are_one_stretch_and_a_cure_parts_two() -> None:
    # 2 h + 3 h, a cure of 24 h on b (air), then 1 h; the shop is always open.
    build = build_of(
        [task("a", 2, subsystem="water"), task("b", 3, subsystem="air"), task("z", 1)],
        [("a", "b"), ("b", "z", 24)],
        first_start="z",
    )
    assert told(build) == ["A ab 5.0", "1 cure air", "B z 1.0"]
    first, cure, last = pieces_of(build)
    assert (first.begins, first.ends) == (MONDAY, MONDAY + dt.timedelta(hours=5))
    assert cure.ends == last.begins == MONDAY + dt.timedelta(hours=29)


def test_a_wait_under_half_a_day_is_a_nick_and_the_stretch_goes_on() -> None:
    build = build_of([task("a", 2), task("z", 1)], [("a", "z", 11.5)], first_start="z")
    assert told(build) == ["A az 3.0 nick 1"]


def test_a_part_and_outside_work_are_waits_of_the_subsystem_of_their_task() -> None:
    """Hose here on Wednesday 0:00; 2 h; coating outside for 3 days; 1 h."""
    hose = Part(key="hose", name="Hose", serves=("f",), arrives_on=MONDAY + dt.timedelta(days=2))
    coat = replace(task("c", 0, subsystem="air"), outside_days=3.0)
    build = build_of(
        [task("f", 2, subsystem="water"), coat, task("z", 1)],
        [("f", "c"), ("c", "z")],
        first_start="z",
        parts=(hose,),
    )
    assert told(build) == ["1 part water", "A f 2.0", "2 outside air", "B z 1.0"]


def test_waits_of_one_subsystem_that_follow_one_another_are_one_descent() -> None:
    """Coated for 3 days, then 24 h until it may be touched, both of the same task."""
    coat = replace(task("c", 0, subsystem="air"), outside_days=3.0)
    build = build_of([coat, task("z", 1)], [("c", "z", 24)], first_start="z")
    assert told(build) == ["1 outside, 2 cure air", "A z 1.0"]


def test_of_more_waits_than_eight_the_longest_leave_the_hands() -> None:
    """Ten cures of 24 to 33 h between eleven tasks: those of 24 and 25 h are nicks."""
    keys = "abcdefghijk"
    links = [(keys[i], keys[i + 1], 24.0 + i) for i in range(10)]
    build = build_of([task(key, 1) for key in keys], links, first_start="k")
    shown = pieces_of(build)
    descents = [piece for piece in shown if isinstance(piece, Descent)]
    assert [piece.waits[0].number for piece in descents] == list(range(3, 11))
    assert isinstance(shown[0], Stretch)
    assert [wait.number for wait in shown[0].waits] == [1, 2]
    assert "".join(step.what for step in shown[0].steps) == "abc"


@settings(derandomize=True, max_examples=200, deadline=None)
@given(build=builds(max_tasks=14))
def test_every_task_and_wait_of_the_path_stands_in_one_piece_without_a_gap(
    build: BuildInput,
) -> None:
    plan = make_plan(build)
    pieces = path_pieces(build, plan)
    steps, numbers, at = [], [], plan.now
    for piece in pieces:
        assert piece.begins == at
        assert piece.ends >= piece.begins
        at = piece.ends
        numbers += [wait.number for wait in piece.waits]
        steps += [wait.step for wait in piece.waits]
        if isinstance(piece, Stretch):
            steps += piece.steps
    assert len(steps) == len([step for step in plan.path if step.kind != "session"])
    assert {step.what for step in plan.path if step.kind == "task"} <= {s.what for s in steps}
    assert numbers == list(range(1, len(numbers) + 1))
    assert sum(isinstance(piece, Descent) for piece in pieces) <= MOST_DESCENTS
    if plan.path:
        assert at == plan.first_start_at
