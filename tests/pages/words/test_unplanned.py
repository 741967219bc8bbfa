"""Why a task can not be planned, in sentences."""

import datetime as dt
from dataclasses import replace

from tests.build.builds import EVENINGS, MONDAY, build_of, session, stretch, task
from webapp.build.build_input import BuildInput, Part
from webapp.build.shop import DayException
from webapp.pages.words.blocks import block_words
from webapp.pages.words.unplanned import gap_words, unplanned_words
from webapp.planning.order.job_order import make_plan
from webapp.planning.tighten.tighten import tighten


def held() -> BuildInput:
    return build_of(
        [task("aside", 1, set_aside_on=MONDAY.date()), *(task(key, 1) for key in "bcdez")],
        [("aside", "b"), ("b", "c"), ("c", "d"), ("d", "z")],
        parts=(Part(key="p", name="Oil cooler", serves=("e", "b")),),
        first_start="z",
    )


def words_of(build: BuildInput) -> dict[str, str]:
    return unplanned_words(build, make_plan(build))


def test_what_holds_a_task_for_ever_is_told_by_name() -> None:
    holds = (
        "it comes after “ASIDE”, which is set aside and it needs the part “Oil cooler”, which has"
        " no date."
    )
    assert words_of(held()) == {
        "b": f"“B” cannot be planned: {holds}",
        "c": f"“C” cannot be planned: it comes after “B”, which cannot be planned itself: {holds}",
        "d": f"“D” cannot be planned: it comes after “C”, and that after “B”: {holds}",
        "e": "“E” cannot be planned: it needs the part “Oil cooler”, which has no date.",
        "z": f"“Z” cannot be planned: it comes after “D”, and that after “B”: {holds}",
    }


def test_two_set_aside_tasks_of_one_name_are_told_once() -> None:
    tasks = [task(key, 1, set_aside_on=MONDAY.date()) for key in ("left", "right")]
    named = [replace(one, name="Mount") for one in tasks]
    build = build_of([*named, task("z", 1)], [("left", "z"), ("right", "z")])
    assert words_of(build)["z"].count("Mount") == 1


def test_work_that_would_take_centuries_says_how_many() -> None:
    # An hour a week: 20,000 hours are 385 years.
    tasks = [task("a", 10_000), task("b", 10_000)]
    build = build_of(tasks, [("a", "b")], first_start="b", week=(session(0, 18, 19),))
    assert words_of(build)["b"] == (
        "“B” cannot be planned: it would not be done in 300 years of these shop hours."
    )


def test_work_without_a_session_left_and_what_comes_after_it() -> None:
    tasks = [task("lift", 1, helper=True), task("z", 1)]
    build = build_of(tasks, [("lift", "z")], first_start="z", week=EVENINGS)
    assert words_of(build) == {
        "lift": "“LIFT” cannot be planned: no session, or no helper session, that is long enough "
        "is left for it.",
        "z": "“Z” cannot be planned: a task before it cannot be planned itself.",
    }


def test_a_block_that_is_held_reads_like_the_plan() -> None:
    answer = tighten(held(), seconds=0.1)
    assert block_words(held(), answer.blocked) == (words_of(held())["b"],)


def test_work_that_fits_alone_but_not_together_is_said_to() -> None:
    # One Saturday with the helper, 4 h long, and no other ever: 3 h and 2 h do not both fit.
    saturday = DayException(date=dt.date(2026, 1, 10), sessions=(stretch(9, 13, helper=True),))
    tasks = [task("x", 3, helper=True), task("y", 2, helper=True), task("z", 0)]
    week = (session(1, 18, 21),)
    links = [("x", "z"), ("y", "z")]
    build = build_of(tasks, links, first_start="z", week=week, days=(saturday,))
    words = block_words(build, tighten(build, seconds=10).blocked)
    assert words[0] == (
        "“X” finds no room with the others named here: it needs a session with the helper of "
        "3 hours, and not enough of them are left."
    )
    assert len(words) == 2


def causes_of(build: BuildInput) -> tuple[str, ...]:
    return tuple(why for _, why in gap_words(build, make_plan(build)))


def test_each_cause_is_told_once_with_all_tasks_that_wait_for_it() -> None:
    # Of a -> b -> c -> d -> z the first is set aside: b and the three after it wait for that. The
    # part holds b and e, and so the same three: five.
    assert causes_of(held()) == (
        "The part “Oil cooler” has no date: 5 tasks cannot be planned, “B”, “E” and 3 after them.",
        "“ASIDE” is set aside: 4 tasks cannot be planned, “B” and 3 after it.",
    )


def test_what_waits_for_no_cause_is_not_counted_and_many_tasks_are_not_all_named() -> None:
    keys = [f"t{n}" for n in range(42)]
    part = Part(key="p", name="Hose", serves=tuple(keys))
    build = build_of([task(key, 1) for key in [*keys, "free"]], parts=(part,))
    assert causes_of(build) == (
        "The part “Hose” has no date: 42 tasks cannot be planned, “T0”, “T1”, “T2” and 39 more.",
    )


def test_a_task_that_two_ways_lead_to_is_counted_once() -> None:
    # a -> b -> d and a -> c -> d.
    links = [("a", "b"), ("a", "c"), ("b", "d"), ("c", "d")]
    part = Part(key="p", name="Hose", serves=("a",))
    build = build_of([task(key, 1) for key in "abcd"], links, parts=(part,))
    assert causes_of(build) == (
        "The part “Hose” has no date: 4 tasks cannot be planned, “A” and 3 after it.",
    )


def test_one_task_without_anything_after_it_is_one_task() -> None:
    build = build_of([task("a", 1)], parts=(Part(key="p", name="Hose", serves=("a",)),))
    assert causes_of(build) == ("The part “Hose” has no date: 1 task cannot be planned, “A”.",)


def test_a_task_without_a_session_and_work_for_centuries_are_causes_too() -> None:
    tasks = [task("lift", 1, helper=True), task("z", 1)]
    lifting = build_of(tasks, [("lift", "z")], first_start="z", week=EVENINGS)
    assert causes_of(lifting) == (
        "No session, or no helper session, that is long enough is left: 2 tasks cannot be planned,"
        " “LIFT” and 1 after it.",
    )
    # An hour a week, as above: after the 192 years of the first not even half are left.
    long = [task("a", 10_000), task("b", 10_000)]
    centuries = build_of(long, [("a", "b")], first_start="b", week=(session(0, 18, 19),))
    assert causes_of(centuries) == (
        "Not done in 300 years of these shop hours: 1 task cannot be planned, “B”.",
    )


def test_every_task_that_is_left_out_stands_with_a_cause() -> None:
    for build in (held(), build_of([task("lift", 1, helper=True)], week=EVENINGS)):
        plan = make_plan(build)
        told = {key for gap, _ in gap_words(build, plan) for key in (*gap.at, *gap.behind)}
        assert told == {task.key for task in plan.unplanned}
