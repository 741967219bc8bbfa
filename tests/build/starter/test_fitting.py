"""A list fitted to answers."""

from tests.build.builds import build_of
from tests.build.starter.lists import SMALL, on
from webapp.build.build_input import BuildInput, StarterAnswer
from webapp.build.checks.input_checks import faults_of
from webapp.build.starter.fitting import begun_with, kept
from webapp.build.starter.starter_list import dropped_by


def begun(**said: str) -> BuildInput:
    return begun_with(build_of(()), SMALL, {**SMALL.usual, **said})


def said_of(build: BuildInput) -> set[tuple[str, str, float]]:
    return {(link.before, link.after, link.wait_hours) for link in build.dependencies}


def test_the_usual_answers_keep_what_hangs_on_them() -> None:
    build = begun()
    assert [task.key for task in build.tasks] == ["mock", "clock", "tubes", "fit", "start"]
    assert [part.key for part in build.parts] == ["tube", "clamps"]
    assert faults_of(build) == ()


def test_the_answers_the_end_and_its_name_are_kept_with_the_build() -> None:
    build = begun(turbo="no")
    assert (build.starter_list, build.first_start, build.end_name) == (
        "small",
        "start",
        "first start",
    )
    assert build.starter_answers == (
        StarterAnswer(question="turbo", answer="no"),
        StarterAnswer(question="cooler", answer="none"),
    )


def test_without_a_turbo_the_washed_cooler_still_dries_before_what_comes_after() -> None:
    build = begun(turbo="no", cooler="used")
    # wash -24h-> (tubes) -48h-> fit: the drying stays, the paint on the tubes goes with them.
    assert said_of(build) == {("mock", "wash", 0), ("wash", "fit", 24), ("fit", "start", 0)}


def test_a_part_serves_the_tasks_that_are_there() -> None:
    clamps = next(part for part in begun(turbo="no").parts if part.key == "clamps")
    assert clamps.serves == ("fit",)


def test_a_part_that_serves_nothing_that_is_there_is_not_kept() -> None:
    assert kept(SMALL, SMALL.usual).parts == {"tube", "clamps"}
    assert kept(SMALL, {"turbo": "no", "cooler": "used"}).parts == {"soap", "clamps"}


def test_setups_that_no_task_needs_are_not_there() -> None:
    assert begun(turbo="no").shop.setups == ()
    assert [setup.key for setup in begun().shop.setups] == ["welder"]


def test_an_answer_that_is_not_offered_counts_as_the_usual_one() -> None:
    odd = (StarterAnswer(question="turbo", answer="two"), StarterAnswer(question="?", answer="no"))
    assert SMALL.said(odd) == {"turbo": "yes", "cooler": "none"}


def test_what_several_answers_drop_is_told_with_the_last_of_them() -> None:
    hangs_on = on(turbo="yes", cooler="used")
    assert dropped_by(hangs_on, {"turbo": "yes", "cooler": "used"}) is None
    assert dropped_by(hangs_on, {"turbo": "no", "cooler": "used"}) == "turbo"
    assert dropped_by(hangs_on, {"turbo": "no", "cooler": "none"}) == "cooler"
