"""Ticking a step: that one step of that task and nothing else."""

from dataclasses import replace

import pytest

from tests.build.builds import build_of, task
from tests.build.verbs.test_taking_back import edited, whys
from webapp.build.build_input import BuildInput, Measure, Step
from webapp.build.by_key import get_by_key
from webapp.build.verbs.steps import with_step_moved, with_step_ticked
from webapp.build.verbs.taking_back import taken_back

BOLTS = Measure(kind="torque", name="Bolts", value="45 Nm")
A, B, C = (Step(text=text) for text in ("Cut", "Tack", "Weld"))
BUILD = build_of(
    [task("a", 1, steps=(A, B, C), measures=(BOLTS,)), task("b", 2, steps=(A,))], first_start="b"
)


def done(build: BuildInput, key: str = "a") -> list[str]:
    return [step.text for step in get_by_key(build.tasks, key).steps if step.done]


def test_a_step_is_ticked_and_unticked_by_its_text() -> None:
    ticked = with_step_ticked(BUILD, "a", "Cut", done=True)
    assert done(ticked) == ["Cut"]
    assert done(ticked, "b") == []
    assert with_step_ticked(ticked, "a", "Cut", done=False) == BUILD


def test_what_is_ticked_already_or_is_not_there_changes_nothing() -> None:
    ticked = with_step_ticked(BUILD, "a", "Cut", done=True)
    assert with_step_ticked(ticked, "a", "Cut", done=True) is ticked
    assert with_step_ticked(BUILD, "a", "Paint", done=True) is BUILD
    with pytest.raises(KeyError):
        with_step_ticked(BUILD, "none", "Cut", done=True)


# taking back --------------------------------------------------------------------------------
def test_a_tick_is_taken_back_and_a_later_one_stays() -> None:
    first = with_step_ticked(BUILD, "a", "Cut", done=True)
    second = with_step_ticked(first, "a", "Weld", done=True)
    taken = taken_back(second, before=BUILD, after=first)
    assert not taken.is_refused
    assert done(taken.build) == ["Weld"]


def test_steps_that_were_added_go_while_a_later_tick_stays() -> None:
    added = edited(BUILD, "a", steps=(A, Step(text="Deburr"), B, C))
    ticked = with_step_ticked(added, "a", "Weld", done=True)
    taken = taken_back(ticked, before=BUILD, after=added)
    assert get_by_key(taken.build.tasks, "a").steps == (A, B, replace(C, done=True))


def test_steps_that_were_taken_out_come_back_in_their_place() -> None:
    without = edited(BUILD, "a", steps=(A, C))
    ticked = with_step_ticked(without, "a", "Weld", done=True)
    taken = taken_back(ticked, before=BUILD, after=without)
    assert get_by_key(taken.build.tasks, "a").steps == (A, B, replace(C, done=True))


def test_a_step_that_was_ticked_since_it_was_added_hangs_on_the_change() -> None:
    added = edited(BUILD, "a", steps=(A, B, C, Step(text="Deburr")))
    ticked = with_step_ticked(added, "a", "Deburr", done=True)
    taken = taken_back(ticked, before=BUILD, after=added)
    assert taken.is_refused
    assert whys(taken.made) == [("changed again", "task", "steps")]


def test_a_torque_is_taken_back_and_a_later_size_stays() -> None:
    tighter = edited(BUILD, "a", measures=(replace(BOLTS, value="50 Nm"),))
    size = Measure(kind="size", name="Bolts", value="M10")
    later = edited(tighter, "a", measures=(replace(BOLTS, value="50 Nm"), size))
    taken = taken_back(later, before=BUILD, after=tighter)
    assert get_by_key(taken.build.tasks, "a").measures == (BOLTS, size)


def test_a_step_changes_places_with_its_neighbour_and_takes_its_tick_along() -> None:
    build = with_step_ticked(BUILD, "a", "Cut", done=True)
    before = get_by_key(build.tasks, "a").steps
    moved = get_by_key(with_step_moved(build, "a", before[0].text, down=True).tasks, "a").steps
    assert moved == (before[1], before[0], *before[2:])
    back = with_step_moved(
        with_step_moved(build, "a", before[0].text, down=True), "a", before[0].text, down=False
    )
    assert back == build
    assert with_step_moved(build, "a", before[0].text, down=False) is build
    assert with_step_moved(build, "a", before[-1].text, down=True) is build
    assert with_step_moved(build, "a", "gone", down=True) is build
