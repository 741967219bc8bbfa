"""A task taken out of a build, and what came before and after it."""

from dataclasses import replace

from tests.pages.form_build import small_build
from webapp.build.build_input import Dependency
from webapp.build.verbs.task_links import without_task


def test_removing_a_task_passes_the_order_on_with_the_wait_before_it() -> None:
    build = without_task(small_build(), "weld", keep_order=True)
    assert build.dependencies == (
        Dependency(before="bracket", after="start", wait_hours=1.5, why="paint dries"),
    )
    assert build.parts[0].serves == ()
    assert build.log == ()
    assert without_task(small_build(), "weld", keep_order=False).dependencies == ()


def test_removing_a_task_keeps_the_longer_of_two_waits() -> None:
    direct = Dependency(before="bracket", after="start", wait_hours=0.5)
    build = replace(small_build(), dependencies=(*small_build().dependencies, direct))
    kept = without_task(build, "weld", keep_order=True).dependencies
    assert [link.wait_hours for link in kept] == [1.5]
