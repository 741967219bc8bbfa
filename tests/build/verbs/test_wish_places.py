"""Wishes that a task is ended beside, where the rest of the build leaves them no place."""

from dataclasses import replace

from tests.build.builds import MONDAY, build_of, task
from webapp.build.build_input import BuildInput
from webapp.build.checks.input_checks import faults_of
from webapp.build.verbs.wish_places import with_wishes_let_go
from webapp.build.wish import Wish


def lamp(**of: str) -> Wish:
    return Wish(key="w", text="A lamp", logged_on=MONDAY.date(), **of)  # type: ignore[arg-type]


def with_ended(key: str, wish: Wish) -> tuple[BuildInput, BuildInput]:
    """Start, then a drive, then paint; and the same with one of them finished."""
    tasks = [task("start", 1), task("drive", 1), task("paint", 1)]
    links = [("start", "drive"), ("drive", "paint")]
    build = build_of(tasks, links, first_start="start", wishes=(wish,))
    ended = tuple(
        replace(one, begun_on=MONDAY, finished_on=MONDAY) if one.key == key else one
        for one in build.tasks
    )
    return build, replace(build, tasks=ended)


def test_a_wish_between_two_tasks_after_first_start_is_left_without_either() -> None:
    """Before nothing it would be wanted before first start, and after the drive: a circle."""
    build, ended = with_ended("paint", lamp(after="drive", before="paint"))
    assert faults_of(build) == ()
    (wish,) = with_wishes_let_go(build, ended).wishes
    assert (wish.after, wish.before) == (None, None)
    assert faults_of(with_wishes_let_go(build, ended)) == ()


def test_what_a_wish_names_in_the_change_that_ends_it_is_left_to_the_checks() -> None:
    build, ended = with_ended("paint", lamp())
    named = replace(ended, wishes=(lamp(before="paint"),))
    assert with_wishes_let_go(build, named) is named
