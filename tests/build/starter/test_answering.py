"""Answering again: what comes, what goes, and what stays because somebody worked on it."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from tests.build.builds import build_of, task
from tests.build.starter.lists import SMALL
from webapp.build.build_input import BuildInput, Dependency, LogEntry, Part, RunningClock
from webapp.build.by_key import get_by_key, replaced_by_key
from webapp.build.checks.input_checks import faults_of
from webapp.build.starter.answering import Answered, answered
from webapp.build.starter.bridging import pair_of
from webapp.build.starter.fitting import begun_with
from webapp.build.verbs.task_links import without_task
from webapp.build.wish import Wish

DAY = dt.date(2026, 1, 6)
NO_TURBO = {"turbo": "no", "cooler": "none"}


def begun(**said: str) -> BuildInput:
    return begun_with(build_of(()), SMALL, {**SMALL.usual, **said})


def keys(things: Iterable[object]) -> list[str]:
    return [thing.key for thing in things]  # type: ignore[attr-defined]


def pairs(build: BuildInput) -> set[tuple[str, str, float]]:
    return {(*pair_of(link), link.wait_hours) for link in build.dependencies}


def whys(done: Answered) -> dict[str, str]:
    return {each.key: each.why for each in (*done.tasks.staying, *done.parts.staying)}


def test_what_the_answer_drops_goes_and_order_is_carried_on() -> None:
    done = answered(begun(), SMALL, NO_TURBO)
    assert keys(done.tasks.dropped) == ["clock", "tubes"]
    assert keys(done.parts.dropped) == ["tube"]
    assert pairs(done.build) == {("mock", "fit", 0), ("fit", "start", 0)}
    assert faults_of(done.build) == ()


def test_what_comes_stands_where_the_list_has_it() -> None:
    done = answered(begun(turbo="no"), SMALL, {"turbo": "yes", "cooler": "used"})
    assert keys(done.tasks.added) == ["clock", "wash", "tubes"]
    assert keys(done.build.tasks) == ["mock", "clock", "wash", "tubes", "fit", "start"]
    assert keys(done.build.shop.setups) == ["welder"]
    assert get_by_key(done.build.parts, "clamps").serves == ("fit", "tubes")


@given(st.lists(st.tuples(st.sampled_from(("yes", "no")), st.sampled_from(("none", "used")))))
def test_any_way_of_answering_ends_as_if_it_had_begun_so(ways: list[tuple[str, str]]) -> None:
    build = begun()
    for turbo, cooler in ways:
        build = answered(build, SMALL, {"turbo": turbo, "cooler": cooler}).build
    said = SMALL.said(build.starter_answers)
    fresh = begun_with(build_of(()), SMALL, said)
    assert build.tasks == fresh.tasks
    assert pairs(build) == pairs(fresh)
    assert {p.key: set(p.serves) for p in build.parts} == {
        p.key: set(p.serves) for p in fresh.parts
    }
    assert build.starter_left_out == ()


def test_a_task_that_was_worked_on_stays_whatever_is_ticked() -> None:
    tubes = get_by_key(begun().tasks, "tubes")
    for build in (
        replace(begun(), tasks=replaced_by_key(begun().tasks, replace(tubes, begun_on=DAY))),
        replace(begun(), tasks=replaced_by_key(begun().tasks, replace(tubes, finished_on=DAY))),
        replace(begun(), log=(LogEntry(task="tubes", on=DAY, hours=1),)),
        replace(begun(), on_bench=RunningClock(task="tubes", since=build_of(()).now)),
    ):
        done = answered(build, SMALL, NO_TURBO, take_out={"tubes", "tube"})
        assert whys(done) == {"tubes": "worked", "tube": "serves"}
        assert keys(done.build.tasks) == ["mock", "tubes", "fit", "start"]
        assert ("mock", "tubes", 0) in pairs(done.build)
        assert ("tubes", "fit", 48) in pairs(done.build)
        assert done.build.log == build.log


def test_a_task_that_was_edited_stays_unless_it_is_ticked() -> None:
    own = replace(get_by_key(begun().tasks, "tubes"), notes="The long ones are cut.")
    build = replace(begun(), tasks=replaced_by_key(begun().tasks, own))
    done = answered(build, SMALL, NO_TURBO)
    assert whys(done) == {"tubes": "edited", "tube": "serves"}
    assert own in done.build.tasks
    ticked = answered(build, SMALL, NO_TURBO, take_out={"tubes"})
    assert keys(ticked.build.tasks) == ["mock", "fit", "start"]
    assert keys(ticked.parts.dropped) == ["tube"]


def test_hours_that_were_confirmed_are_an_edit() -> None:
    own = replace(get_by_key(begun().tasks, "clock"), hours_guessed=False)
    build = replace(begun(), tasks=replaced_by_key(begun().tasks, own))
    assert whys(answered(build, SMALL, NO_TURBO)) == {"clock": "edited"}


def test_what_something_of_ones_own_hangs_on_stays_unless_it_is_ticked() -> None:
    plain, own = begun(), task("own", 1)
    link = Dependency(before="clock", after="own")
    tied = replace(plain, tasks=(*plain.tasks, own), dependencies=(*plain.dependencies, link))
    bought = replace(plain, parts=(*plain.parts, Part(key="jig", name="Jig", serves=("clock",))))
    wish = Wish(key="w", text="Gauge", logged_on=DAY, after="clock")
    for build in (tied, bought, replace(plain, wishes=(wish,))):
        assert whys(answered(build, SMALL, NO_TURBO)) == {"clock": "tied"}
        done = answered(build, SMALL, NO_TURBO, take_out={"clock"})
        assert "clock" not in keys(done.build.tasks)
    # The own task keeps its place behind what came before the one that went.
    out = answered(tied, SMALL, NO_TURBO, take_out={"clock"}).build
    assert ("mock", "own", 0) in pairs(out)


def test_parts_that_are_here_or_ordered_stay() -> None:
    for facts, why in (({"arrived": True}, "here"), ({"ordered_on": DAY}, "ordered")):
        tube = replace(get_by_key(begun().parts, "tube"), **facts)
        build = replace(begun(), parts=replaced_by_key(begun().parts, tube))
        done = answered(build, SMALL, NO_TURBO, take_out={"tube"})
        assert whys(done) == {"tube": why}
        assert get_by_key(done.build.parts, "tube").serves == ()


def test_a_part_that_was_edited_stays_unless_it_is_ticked() -> None:
    tube = replace(get_by_key(begun().parts, "tube"), supplier="The yard by the canal")
    build = replace(begun(), parts=replaced_by_key(begun().parts, tube))
    assert whys(answered(build, SMALL, NO_TURBO)) == {"tube": "edited"}
    assert keys(answered(build, SMALL, NO_TURBO, take_out={"tube"}).parts.dropped) == ["tube"]


def test_what_the_person_took_out_does_not_come_back_unless_asked() -> None:
    build = without_task(begun(), "clock", keep_order=True)
    away = answered(build, SMALL, NO_TURBO).build
    again = answered(away, SMALL, SMALL.usual)
    assert keys(again.tasks.left_out) == ["clock"]
    assert keys(again.build.tasks) == ["mock", "tubes", "fit", "start"]
    assert ("mock", "tubes", 0) in pairs(again.build)
    back = answered(again.build, SMALL, SMALL.usual, put_back={"clock"})
    assert keys(back.tasks.added) == ["clock"]
    assert back.build.starter_left_out == ()
    # What the list itself carried over the missing task is not needed any more.
    assert pairs(back.build) == pairs(begun())


def test_an_order_that_the_person_took_out_or_changed_stays_so() -> None:
    build = begun()
    link = next(each for each in build.dependencies if pair_of(each) == ("tubes", "fit"))
    longer = replace(link, wait_hours=72, why="a cold shed")
    links = tuple(longer if each == link else each for each in build.dependencies)
    build = replace(build, dependencies=tuple(e for e in links if pair_of(e) != ("fit", "start")))
    done = answered(build, SMALL, {"turbo": "yes", "cooler": "used"}).build
    assert ("tubes", "fit", 72) in pairs(done)
    assert not any(pair_of(each) == ("fit", "start") for each in done.dependencies)


def test_a_loop_with_the_persons_own_order_is_never_made() -> None:
    build = begun()
    turned = replace(
        build,
        dependencies=(
            *(each for each in build.dependencies if pair_of(each) != ("mock", "clock")),
            Dependency(before="tubes", after="mock"),
        ),
    )
    done = answered(turned, SMALL, {"turbo": "yes", "cooler": "used"})
    # tubes -> mock is the person's. wash -> tubes, first in the list, fits; mock -> wash then not.
    assert [pair_of(link) for link in done.against_order] == [("mock", "wash")]
    assert faults_of(done.build) == ()


def test_the_same_answers_change_nothing() -> None:
    done = answered(begun(), SMALL, SMALL.usual)
    assert not done.changes_work
    assert done.build == begun()
