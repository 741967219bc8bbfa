"""Not known is said so: no work before first start, or no hours in it, is no date."""

import datetime as dt

import pytest

from tests.build.builds import EVENINGS, MONDAY, build_of, task
from webapp.build.build_input import BuildInput
from webapp.planning.order.job_order import make_plan
from webapp.planning.order.known_date import Missing, what_is_missing, with_known_date

DONE = dt.date(2026, 1, 2)
START = task("start", 0)
LINK = [("a", "start")]


def first_start_of(build: BuildInput) -> dt.datetime | None:
    return with_known_date(build, make_plan(build)).first_start_at


@pytest.mark.parametrize(
    ("build", "missing"),
    [
        (build_of([START], first_start="start"), "tasks"),
        (build_of([START, task("a", 4)], first_start="start"), "tasks"),
        (build_of([START, task("a", 0)], LINK, first_start="start"), "hours"),
        (build_of([START, task("a", 4, set_aside_on=DONE)], LINK, first_start="start"), "tasks"),
    ],
)
def test_without_work_or_hours_before_first_start_there_is_no_date(
    build: BuildInput, missing: Missing
) -> None:
    assert what_is_missing(build) == missing
    plan = with_known_date(build, make_plan(build))
    assert (plan.first_start_at, plan.first_start_shop_hours, plan.path) == (None, None, ())


def test_a_build_whose_work_is_all_done_still_has_its_date() -> None:
    done = task("a", 4, finished_on=DONE)
    build = build_of([START, done], LINK, first_start="start", week=EVENINGS)
    assert what_is_missing(build) is None
    assert first_start_of(build) == MONDAY


def test_outside_work_without_hours_and_a_first_start_with_hours_are_enough() -> None:
    out = build_of([START, task("a", 0, outside_days=3)], LINK, first_start="start")
    assert first_start_of(out) == MONDAY + dt.timedelta(days=3)
    alone = build_of([task("start", 2)], first_start="start")
    assert first_start_of(alone) == MONDAY + dt.timedelta(hours=2)


def test_the_first_hours_entered_give_the_date() -> None:
    before = build_of([START, task("a", 0)], LINK, first_start="start")
    after = build_of([START, task("a", 1)], LINK, first_start="start")
    assert first_start_of(before) is None
    assert first_start_of(after) == MONDAY + dt.timedelta(hours=1)
