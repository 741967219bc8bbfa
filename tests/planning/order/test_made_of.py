"""What the time until first start is made of: the parts sum to the whole."""

import datetime as dt
from dataclasses import replace

from hypothesis import given, settings

from tests.build.builds import MONDAY, build_of, session, task
from tests.build.random_builds import builds
from webapp.build.build_input import BuildInput, Part
from webapp.planning.order.job_order import make_plan
from webapp.planning.order.made_of import made_of

SATURDAYS = (session(5, 9, 17, helper=True),)
HOUR = 3600


def seconds(build: BuildInput) -> dict[str, int]:
    return {part.kind: part.seconds for part in made_of(build, make_plan(build))}


def test_hands_and_a_closed_shop() -> None:
    # From Monday 0:00: 10 h on Saturdays of 8 h end on the second at 11:00: 5 + 7 days and 11 h.
    build = build_of([task("a", 9), task("z", 1)], [("a", "z")], first_start="z", week=SATURDAYS)
    whole = (12 * 24 + 11) * HOUR
    assert seconds(build) == {"hands": 10 * HOUR, "closed": whole - 10 * HOUR}


def test_a_part_outside_work_and_a_cure_are_told_apart_from_hands() -> None:
    """The shop is always open: a part on Wednesday, 2 h, a cure of 20 h, 3 days out, 1 h."""
    hose = Part(key="hose", name="Hose", serves=("fit",), arrives_on=MONDAY + dt.timedelta(days=2))
    tasks = [task("fit", 2), replace(task("blast", 0), outside_days=3.0), task("z", 1)]
    build = build_of(tasks, [("fit", "blast", 20), ("blast", "z")], first_start="z", parts=(hose,))
    assert seconds(build) == {
        "hands": 3 * HOUR,
        "part": 48 * HOUR,
        "outside": 72 * HOUR,
        "cure": 20 * HOUR,
    }
    named = {part.kind: part.whats for part in made_of(build, make_plan(build))}
    assert named["part"] == ("hose",)
    assert named["hands"] == ("fit", "z")


def test_the_helper_that_is_waited_for() -> None:
    week = (session(0, 0, 24), session(1, 0, 24), session(5, 9, 17, helper=True))
    build = build_of([task("a", 1), task("z", 1, helper=True)], [("a", "z")], week=week)
    build = replace(build, first_start="z")
    found = seconds(build)
    # Monday 1:00, when all else had cleared, to Saturday 9:00 is waited for the helper.
    assert found == {"helper": (5 * 24 + 8) * HOUR, "hands": 2 * HOUR}


@settings(derandomize=True, max_examples=150, deadline=None)
@given(build=builds(max_tasks=10))
def test_the_parts_sum_to_the_time_until_first_start(build: BuildInput) -> None:
    plan = make_plan(build)
    parts = made_of(build, plan)
    if plan.first_start_at is None or not plan.path:
        assert parts == ()
        return
    whole = (plan.first_start_at - plan.now).total_seconds()
    assert sum(part.seconds for part in parts) == whole
    assert all(part.seconds > 0 for part in parts)
