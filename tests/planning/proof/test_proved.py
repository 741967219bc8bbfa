"""A plan is proved before it is claimed."""

import pytest

from tests.build.builds import build_of, task
from tests.planning.proof.test_plan_checks import changed
from webapp.planning.order.job_order import make_plan
from webapp.planning.proof.proved import DisprovedError, proved


def test_a_plan_that_obeys_its_input_is_given_back() -> None:
    build = build_of([task("a", 1), task("z", 1)], [("a", "z")], first_start="z")
    plan = make_plan(build)
    assert proved(build, plan) is plan


def test_a_plan_that_does_not_is_never_claimed() -> None:
    build = build_of([task("a", 1), task("z", 1)], [("a", "z")], first_start="z")
    plan = make_plan(build)
    early = changed(plan, "z", begin_shop_hours=0.0, begins=plan.now)
    with pytest.raises(DisprovedError, match="“Z”"):
        proved(build, early)
