"""The likely hours alone are no certainty: an assumed range, until somebody says one."""

from dataclasses import replace

import pytest

from tests.pages.form_build import small_build
from webapp.build.assumed_range import COMMON_SHARES
from webapp.build.build_input import BuildInput, Task
from webapp.build.three_point import ThreePoint
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.tasks.estimate_fields import assumed_words
from webapp.pages.tasks.quick_entry import enter_rows
from webapp.pages.tasks.task_form import edit_task, shown_of

ASSUMED = ThreePoint(optimistic=3, most_likely=4, pessimistic=8)
"""0.75 and 2 times four hours."""


def points(low: float, likely: float, high: float) -> ThreePoint:
    return ThreePoint(optimistic=low, most_likely=likely, pessimistic=high)


def build_with(hours: ThreePoint, *, assumed: bool = False) -> BuildInput:
    """The small build, its bracket with these hours."""
    build = small_build()
    bracket = replace(build.tasks[0], hours=hours, spread_assumed=assumed)
    return replace(build, tasks=(bracket, *build.tasks[1:]))


def after(build: BuildInput, **typed: str) -> tuple[Task, TypedForm]:
    """The bracket after its form was opened, changed so and sent."""
    opened = TypedForm.opened(shown_of(build, build.tasks[0]))
    fields = {**opened.values, **{name: (text,) for name, text in typed.items()}}
    form = TypedForm({**fields, "shown": (opened.carried,)})
    return edit_task("bracket")(form, build).build.tasks[0], form


def test_a_form_that_is_sent_as_it_was_opened_changes_nothing() -> None:
    for hours, assumed in ((ASSUMED, True), (points(1, 2, 3), False), (points(4, 4, 4), False)):
        build = build_with(hours, assumed=assumed)
        task, form = after(build)
        assert (task, form.faults) == (build.tasks[0], ())


def test_an_assumed_range_stays_to_the_digit_when_something_else_is_changed() -> None:
    # A range from another record than today's: it is not worked out anew.
    odd = points(2.9, 4, 6.66)
    task, _ = after(build_with(odd, assumed=True), name="Make both brackets")
    assert (task.name, task.hours, task.spread_assumed) == ("Make both brackets", odd, True)


def test_other_likely_hours_spread_an_assumed_range_anew() -> None:
    task, _ = after(build_with(ASSUMED, assumed=True), likely="6")
    assert (task.hours, task.spread_assumed) == (points(4.5, 6, 12), True)


def test_the_range_of_a_guess_goes_where_other_likely_hours_alone_are_typed() -> None:
    guessed = build_with(points(1, 2, 3))
    bracket = replace(guessed.tasks[0], hours_guessed=True)
    guessed = replace(guessed, tasks=(bracket, *guessed.tasks[1:]))
    task, form = after(guessed, likely="4")
    assert form.faults == ()
    assert (task.hours, task.spread_assumed) == (ASSUMED, True)
    task, _ = after(guessed, likely="4", fights="5")  # the range was looked at: it is the person's
    assert (task.hours, task.spread_assumed) == (points(1, 4, 5), False)
    task, _ = after(build_with(points(1, 2, 3)), likely="4")  # as is one that is no guess: a fault
    assert (task.hours, task.spread_assumed) == (points(1, 4, 3), False)


@pytest.mark.parametrize(
    ("typed", "hours"),
    [
        ({"well": "2"}, points(2, 4, 8)),
        ({"fights": "5"}, points(3, 4, 5)),
        ({"well": "4", "fights": "4"}, points(4, 4, 4)),
    ],
)
def test_a_typed_end_takes_the_mark_away(typed: dict[str, str], hours: ThreePoint) -> None:
    task, form = after(build_with(ASSUMED, assumed=True), **typed)
    assert (task.hours, task.spread_assumed, form.faults) == (hours, False, ())


def test_emptied_ends_are_assumed_again() -> None:
    task, _ = after(build_with(points(1, 4, 5)), well="", fights="")
    assert (task.hours, task.spread_assumed) == (ASSUMED, True)


def test_hours_said_to_be_certain_have_no_range() -> None:
    task, _ = after(build_with(ASSUMED, assumed=True), certain="on")
    assert (task.hours, task.spread_assumed) == (points(4, 4, 4), False)
    changed, _ = after(build_with(points(4, 4, 4)), likely="5")
    assert (changed.hours, changed.spread_assumed) == (points(5, 5, 5), False)
    unsure, _ = after(build_with(points(4, 4, 4)), certain="")
    assert (unsure.hours, unsure.spread_assumed) == (ASSUMED, True)


def test_certain_hours_with_a_range_are_asked_about() -> None:
    _, form = after(build_with(points(4, 4, 4)), fights="6")
    (fault,) = form.faults
    assert fault.field == "certain"
    assert "Untick that they are certain, or empty" in fault.text


def test_a_task_of_no_hours_has_no_range_to_assume() -> None:
    task, _ = after(build_with(ASSUMED, assumed=True), likely="0")
    assert (task.hours, task.spread_assumed) == (points(0, 0, 0), False)


def test_quick_entry_takes_certain_hours_and_three_equal_ones_as_said() -> None:
    form = TypedForm(
        {
            "name-0": ("Test run",),
            "likely-0": ("1",),
            "certain-0": ("on",),
            "name-1": ("Bake",),
            "well-1": ("2",),
            "likely-1": ("2",),
            "fights-1": ("2",),
            "name-2": ("Fit",),
            "likely-2": ("4",),
        }
    )
    run, bake, fit = enter_rows(form, small_build()).build.tasks[-3:]
    assert (run.hours, run.spread_assumed) == (points(1, 1, 1), False)
    assert (bake.hours, bake.spread_assumed) == (points(2, 2, 2), False)
    assert (fit.hours, fit.spread_assumed) == (ASSUMED, True)


def test_the_assumed_hours_are_said_to_be_assumed_and_where_they_come_from() -> None:
    words = assumed_words(build_with(ASSUMED, assumed=True).tasks[0], COMMON_SHARES)
    assert (words.well, words.fights) == ("3 h assumed", "8 h assumed")
    assert "0.75 to 2 times the likely hours, common practice" in words.why
    assert assumed_words(build_with(points(3, 4, 8)).tasks[0], COMMON_SHARES).well == ""
