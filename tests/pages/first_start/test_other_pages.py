"""What First start says elsewhere: on Bench once it ran, and beside the task a check hangs on."""

import re
from dataclasses import replace

from tests.first_start.lists import ENGINE, start_build
from tests.first_start.walker import Walker, to_it_ran
from tests.pages.first_start.conftest import Bay, BayOf
from webapp.build.build_input import BuildInput, Task
from webapp.build.three_point import ThreePoint
from webapp.first_start.list_facts import facts_of
from webapp.pages.words.start_page import ROAD

HOUR = ThreePoint(optimistic=1, most_likely=1, pessimistic=1)


def planned() -> BuildInput:
    """A build with first start in it, which needs a task, and with a task a check hangs on."""
    tasks = (
        Task(key="charge_fit", name="Fit the charge tubes", hours=HOUR),
        Task(key="first_start", name="First start", hours=HOUR),
    )
    return replace(start_build(ENGINE), tasks=tasks, first_start="first_start")


def ran(bay_of: BayOf) -> Bay:
    build = planned()
    done = replace(build.tasks[0], finished_on=build.now)
    return bay_of(to_it_ran, build=replace(build, tasks=(done, build.tasks[1])))


def test_bench_has_the_second_look_and_the_work_after_it_on_top(bay_of: BayOf) -> None:
    bay = ran(bay_of)
    top = bay.get("bench").split("<main", 1)[1]
    note = top.index('id="ran"')
    assert "Stay thirty minutes" in top
    assert "Second look at" in top
    for key in facts_of(ENGINE).after_work:
        text = next(one.text for one in ENGINE.checks if one.key == key)
        assert note < top.index(text.rstrip(".")) < top.index("<h1"), key
    for word in ("ongratul", "ell done", "confetti", "hare"):
        assert word not in top[note : note + 1500]


def test_the_second_look_stands_above_what_is_in_the_way_of_a_plan(bay_of: BayOf) -> None:
    build = planned()
    both = replace(build.tasks[0], finished_on=build.now, set_aside_on=build.now.date())
    bay = bay_of(to_it_ran, build=replace(build, tasks=(both, build.tasks[1])))
    page = bay.get("bench")
    assert page.index('id="ran"') < page.index("What stands in the way of a plan")


def test_the_road_sentence_stands_on_bench_from_it_ran_until_the_papers_are_signed(
    bay_of: BayOf,
) -> None:
    bay = bay_of(build=planned())
    assert ROAD not in bay.get("bench")
    bay = ran(bay_of)
    assert ROAD in bay.get("bench")
    bay.wait(days=9)
    assert ROAD in bay.get("bench")


def test_it_ran_finishes_first_start_with_its_moment(bay_of: BayOf) -> None:
    bay = ran(bay_of)
    end = next(task for task in bay.build.tasks if task.key == "first_start")
    assert end.finished_on is not None
    assert bay.standing.ran_at is not None


def test_a_check_is_offered_on_the_page_and_the_card_of_the_task_it_hangs_on(
    bay_of: BayOf,
) -> None:
    bay = bay_of(build=planned())
    check = next(one for one in ENGINE.checks if one.key == "cooler_dry")
    page = bay.get("tasks/charge_fit")
    assert check.text in page
    assert check.caution in page
    assert "To be looked at" not in bay.get("tasks/first_start")
    bay.post("bench/begin", task="charge_fit")
    card = bay.get("bench")
    assert re.search(rf'first-start/check\?key={check.key}"', card)
    assert check.caution in card


def test_beginning_a_task_makes_the_signatures_of_its_circuit_fall_and_says_so(
    bay_of: BayOf,
) -> None:
    def signed(walker: Walker) -> None:
        walker.sign_all("dry")

    build = planned()
    bay = bay_of(signed, build=build)
    one = bay.standing.of("turbo_free")
    assert one is not None
    assert one.state == "stands"
    bay.wait(minutes=1)
    bay.post("bench/begin", task="charge_fit")
    page = bay.get("first-start")
    assert "Fit the charge tubes was begun" in page.split("What fell", 1)[1]
