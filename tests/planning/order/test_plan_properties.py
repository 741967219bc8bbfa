"""What holds of the plan of any faultless build."""

from dataclasses import replace

from hypothesis import example, given, settings
from hypothesis import strategies as st

from tests.build.builds import build_of, session, task
from tests.build.random_builds import builds
from webapp.build.build_input import BuildInput, Part, StationNeed
from webapp.build.checks.input_checks import faults_of
from webapp.build.house_rules import HOUSE_RULES
from webapp.build.precedence import needed_for
from webapp.build.shop import Setup, Station
from webapp.planning.order.job_order import make_plan
from webapp.planning.proof.plan_checks import violations
from webapp.planning.simulator.house_rules import HouseRules

rules = st.lists(st.sampled_from(HOUSE_RULES), unique=True).map(
    lambda order: HouseRules(order=tuple(order))
)

TWENTY_SECONDS = task("a", 1 / 180)


@settings(derandomize=True, max_examples=100, deadline=None)
@given(builds())
def test_random_builds_have_no_fault(build: BuildInput) -> None:
    assert faults_of(build) == ()


@settings(derandomize=True, max_examples=150, deadline=None)
@given(builds(max_tasks=12))
@example(build_of([TWENTY_SECONDS, task("b", 1)], [("a", "b")], first_start="b"))
def test_no_plan_of_a_random_build_departs_from_its_input(build: BuildInput) -> None:
    assert violations(build, make_plan(build)) == ()


@settings(derandomize=True, max_examples=80, deadline=None)
@given(builds(max_tasks=10), rules)
def test_a_plan_obeys_its_input_whatever_house_rules_hold(
    build: BuildInput, chosen: HouseRules
) -> None:
    assert violations(build, make_plan(build, chosen)) == ()


@settings(derandomize=True, max_examples=30, deadline=None)
@given(builds(max_tasks=40))
def test_larger_builds_obey_too(build: BuildInput) -> None:
    assert violations(build, make_plan(build)) == ()


@settings(derandomize=True, max_examples=30, deadline=None)
@given(builds())
def test_the_same_build_gives_the_same_plan(build: BuildInput) -> None:
    assert make_plan(build) == make_plan(build)


def without_later_work(build: BuildInput) -> BuildInput:
    """The build with nothing in it that first start does not need."""
    assert build.first_start is not None
    needed = needed_for(build, build.first_start)
    return replace(
        build,
        tasks=tuple(task for task in build.tasks if task.key in needed),
        dependencies=tuple(d for d in build.dependencies if {d.before, d.after} <= needed),
        parts=tuple(
            replace(part, serves=tuple(key for key in part.serves if key in needed))
            for part in build.parts
        ),
        log=tuple(entry for entry in build.log if entry.task in needed),
    )


@settings(derandomize=True, max_examples=150, deadline=None)
@given(builds(max_tasks=12), rules)
def test_later_work_does_not_move_first_start(build: BuildInput, chosen: HouseRules) -> None:
    bare = make_plan(without_later_work(build), chosen)
    assert make_plan(build, chosen).first_start_at == bare.first_start_at


def test_later_work_does_not_move_first_start_in_a_shop_with_every_feature() -> None:
    """Later work tempts with the setup that is out, a gap before a part, the helper, the lift."""
    week = tuple(
        session(day, opens, opens + 3, helper=day == 5) for day in range(6) for opens in (9, 18)
    )
    need = (StationNeed(station="lift"),)
    build = build_of(
        [
            task("weld", 2, setup="tig"),
            task("fit", 4, stations=need),
            task("hang", 1.5, helper=True),
            task("start", 1),
            task("rack", 2.5, setup="tig"),
            task("paint", 3, in_one_go=True),
            task("trim", 5, stations=need),
            task("door", 2, helper=True),
        ],
        [("weld", "fit", 30), ("fit", "hang"), ("hang", "start")],
        first_start="start",
        week=week,
        setups=(Setup(key="tig", name="Welder", hours=0.5),),
        stations=(Station(key="lift", name="Lift"),),
        parts=(Part(key="p", name="Flange", serves=("fit",), arrived=True),),
    )
    plan = make_plan(build)
    assert violations(build, plan) == ()
    assert plan.first_start_at == make_plan(without_later_work(build)).first_start_at
