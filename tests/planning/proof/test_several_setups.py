"""Plans of several people with setups pass; one getting out too few or too many is refused."""

from collections.abc import Iterator
from dataclasses import replace

from tests.build.builds import MONDAY, build_of, task
from tests.build.several_people import build_of_several
from tests.planning.proof.test_plan_checks import HOUR, plan_of, planned
from webapp.build.build_input import BuildInput
from webapp.build.checks.input_checks import faults_of
from webapp.build.shop import Setup
from webapp.planning.order.job_order import make_plan
from webapp.planning.order.plan import Plan, PlannedTask
from webapp.planning.proof.plan_checks import violations

BUILDS = 120
TIG, ROLLER, SAW = (Setup(key=k, name=k.upper(), hours=1) for k in ("tig", "roller", "saw"))


def test_no_plan_of_a_random_build_of_several_people_departs_from_its_input() -> None:
    for seed in range(BUILDS):
        build = build_of_several(2 + seed % 12, seed)
        assert faults_of(build) == (), seed
        assert violations(build, make_plan(build)) == (), seed


def with_another_getting_out(build: BuildInput, plan: Plan) -> Iterator[tuple[str, Plan]]:
    """The plan with one getting out left away, or done though the setup lies there, each once.

    The work itself stays where it is, so that its hours and its end are right.
    """
    hours = {setup.key: setup.hours for setup in build.shop.setups}
    setup_of = {one.key: one.setup for one in build.tasks}
    for one in plan.tasks:
        setup = setup_of[one.key]
        by_hands = one.end_shop_hours > one.begin_shop_hours
        if setup is not None and hours[setup] and by_hands:
            other = 0.0 if one.setup_hours else hours[setup]
            yield one.key, replace(plan, tasks=tuple(_changed(plan, one, other)))


def _changed(plan: Plan, one: PlannedTask, setup_hours: float) -> Iterator[PlannedTask]:
    begin = one.begin_shop_hours + one.setup_hours - setup_hours
    for other in plan.tasks:
        changed = replace(other, setup_hours=setup_hours, begin_shop_hours=begin)
        yield changed if other is one else other


def test_a_getting_out_too_few_or_too_many_is_refused() -> None:
    tried = 0
    for seed in range(BUILDS // 2):
        build = build_of_several(10 + seed % 8, seed)
        for key, plan in with_another_getting_out(build, make_plan(build)):
            tried += 1
            sentence = f"“Task {key}”: its set-up hours are not those due."
            assert sentence in violations(build, plan), (seed, key)
    assert tried > 150


def three_setups(*, again: bool) -> tuple[BuildInput, Plan]:
    """Two people weld, roll, saw and weld again, one after another; the last with or without
    getting the welder out anew."""
    kinds = (("a", "tig"), ("b", "roller"), ("c", "saw"), ("d", "tig"))
    tasks = [task(key, 1, setup=setup) for key, setup in kinds]
    links = [("a", "b"), ("b", "c"), ("c", "d")]
    build = build_of(tasks, links, people=2, setups=(TIG, ROLLER, SAW))
    last = 2 if again else 1
    placed = [
        planned(
            key,
            MONDAY + at * HOUR,
            MONDAY + (at + hours) * HOUR,
            at,
            at + hours,
            *before,
            setup_hours=hours - 1.0,
        )
        for key, at, hours, before in (
            ("a", 0, 2, ()),
            ("b", 2, 2, (("dependency", "a"),)),
            ("c", 4, 2, (("dependency", "b"),)),
            ("d", 6, last, (("dependency", "c"),)),
        )
    ]
    return build, plan_of(*placed)


def test_of_three_setups_two_people_have_two_out() -> None:
    build, plan = three_setups(again=True)
    assert violations(build, plan) == ()
    build, plan = three_setups(again=False)
    assert violations(build, plan) == ("“D”: its set-up hours are not those due.",)
    # With three people the welder still stands there.
    third = replace(build, shop=replace(build.shop, people=3))
    assert violations(third, plan) == ()


def test_a_setup_got_out_at_two_places_is_refused() -> None:
    build = build_of([task(k, 1, setup="tig") for k in "ab"], people=2, setups=(TIG,))
    both = [planned(k, MONDAY, MONDAY + 2 * HOUR, 0, 2, setup_hours=1.0) for k in "ab"]
    assert "The setup “TIG” is used by more than one task at a time." in violations(
        build, plan_of(*both)
    )
