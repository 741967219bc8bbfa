"""Hours that are a guess until somebody changes or confirms them."""

from dataclasses import replace

from tests.build.builds import build_of, task
from webapp.build.build_input import BuildInput
from webapp.build.three_point import ThreePoint
from webapp.build.verbs.guesses import with_settled_guesses


def of_one(*, hours: float = 2, guessed: bool = True, notes: str = "") -> BuildInput:
    return build_of([task("mount", hours, hours_guessed=guessed, notes=notes)])


def test_changed_hours_are_a_guess_no_more() -> None:
    assert not with_settled_guesses(of_one(), of_one(hours=3)).tasks[0].hours_guessed


def test_days_outside_are_a_guess_likewise() -> None:
    before = build_of([task("shop", 0, hours_guessed=True, outside_days=7)])
    after = build_of([task("shop", 0, hours_guessed=True, outside_days=10)])
    assert not with_settled_guesses(before, after).tasks[0].hours_guessed


def test_another_change_leaves_the_guess() -> None:
    after = of_one(notes="Both sides.")
    assert with_settled_guesses(of_one(), after) is after


def test_taking_a_change_back_gives_the_guess_back() -> None:
    settled, back = of_one(hours=3, guessed=False), of_one()
    assert with_settled_guesses(settled, back) is back


def test_a_range_that_was_typed_settles_it_too() -> None:
    before = of_one()
    hours = ThreePoint(optimistic=1, most_likely=2, pessimistic=4)
    after = replace(before, tasks=(replace(before.tasks[0], hours=hours),))
    assert not with_settled_guesses(before, after).tasks[0].hours_guessed


def test_hours_that_were_taken_are_taken_no_more_once_they_are_changed() -> None:
    before = build_of([task("mount", 2, hours_taken=True)])
    after = build_of([task("mount", 3, hours_taken=True)])
    assert not with_settled_guesses(before, after).tasks[0].hours_taken
    assert with_settled_guesses(before, before).tasks[0].hours_taken
