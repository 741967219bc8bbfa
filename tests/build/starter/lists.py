"""A starter list small enough to be reckoned by hand. Invented."""

from tests.build.builds import EVENINGS, task
from webapp.build.build_input import Dependency, Part, Subsystem
from webapp.build.shop import Setup
from webapp.build.starter.starter_list import (
    Answer,
    HangsOn,
    ListedDependency,
    ListedPart,
    ListedTask,
    Question,
    StarterList,
)


def on(**answers: str) -> tuple[HangsOn, ...]:
    """What an entry hangs on: `turbo="yes"`, several answers with a blank between."""
    return tuple(
        HangsOn(question=question, answers=tuple(said.split()))
        for question, said in answers.items()
    )


def listed(key: str, hours: float = 1, *, setup: str | None = None, **answers: str) -> ListedTask:
    made = task(key, hours, subsystem="air", setup=setup, hours_guessed=True)
    return ListedTask(task=made, hangs_on=on(**answers))


def link(
    before: str, after: str, wait: float = 0, why: str = "", **answers: str
) -> ListedDependency:
    made = Dependency(before=before, after=after, wait_hours=wait, why=why)
    return ListedDependency(dependency=made, hangs_on=on(**answers))


def part(key: str, *serves: str, **answers: str) -> ListedPart:
    made = Part(key=key, name=key.upper(), serves=serves, lead_days=7)
    return ListedPart(part=made, hangs_on=on(**answers))


def asked(key: str, *answers: str) -> Question:
    """A question of which the first answer is the usual one."""
    made = tuple(Answer(key=each, name=each, usual=not i) for i, each in enumerate(answers))
    return Question(key=key, group="All", ask=f"{key}?", answers=made)


SMALL = StarterList(
    key="small",
    name="Small list",
    about="a small build",
    end_name="first start",
    first_start="start",
    questions=(asked("turbo", "yes", "no"), asked("cooler", "none", "used")),
    tasks=(
        listed("mock"),
        listed("clock", turbo="yes"),
        listed("wash", cooler="used"),
        listed("tubes", 3, setup="welder", turbo="yes"),
        listed("fit"),
        listed("start"),
    ),
    dependencies=(
        link("mock", "clock"),
        link("clock", "tubes", 2, "metal cold"),
        link("wash", "tubes", 24, "dry inside"),
        link("mock", "wash"),
        link("tubes", "fit", 48, "paint hardens"),
        link("fit", "start"),
    ),
    parts=(
        part("tube", "tubes", turbo="yes"),
        part("soap", "wash"),
        part("clamps", "tubes", "fit"),
    ),
    subsystems=(Subsystem(key="air", name="Air"),),
    setups=(Setup(key="welder", name="Welder out", hours=0.5),),
    week=EVENINGS,
)
"""mock -> clock -2h-> tubes -48h-> fit -> start, and mock -> wash -24h-> tubes."""
