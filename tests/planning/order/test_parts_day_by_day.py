"""A part with nothing but a lead time, lived day by day through the planner."""

import datetime as dt
from dataclasses import replace

from tests.build.builds import MONDAY, build_of, task
from webapp.build.build_input import BuildInput, Part
from webapp.planning.order.job_order import make_plan
from webapp.planning.order.latest_arrivals import latest_arrivals

DAY = dt.timedelta(days=1)
LEAD_DAYS = 5
HOSE = Part(key="hose", name="Hose", serves=("fit",), lead_days=LEAD_DAYS)


def on_day(day: int, hose: Part = HOSE) -> BuildInput:
    """Fitting takes 2 h in a shop that is always open; `day` days after Monday 5 January."""
    fit = task("fit", 2)
    return build_of([fit], first_start="fit", now=MONDAY + day * DAY, parts=(hose,))


def test_first_start_slips_by_a_day_on_each_day_that_the_part_is_not_ordered() -> None:
    # Ordered today it is there at 00:00 five days on; two hours later it is fitted.
    for day in range(10):
        there = MONDAY + (day + LEAD_DAYS) * DAY
        assert make_plan(on_day(day)).first_start_at == there + dt.timedelta(hours=2)


def test_it_stands_once_the_part_is_ordered_until_it_is_overdue() -> None:
    ordered = replace(HOSE, ordered_on=(MONDAY + 3 * DAY).date())
    found = [make_plan(on_day(day, ordered)).first_start_at for day in range(3, 12)]
    # Ordered on the fourth day, there on the ninth; not there then, it may come at any moment:
    # two hours from each day after.
    stands = MONDAY + 8 * DAY + dt.timedelta(hours=2)
    assert found == [stands] * 6 + [stands + DAY, stands + 2 * DAY, stands + 3 * DAY]


def test_the_day_to_order_by_is_never_past() -> None:
    # Nothing else is to be done: it decides first start, so today is the day, every day.
    for day in range(10):
        build = on_day(day)
        order_by = latest_arrivals(build)["hose"] - LEAD_DAYS * DAY
        assert order_by == build.now.date()
    # With work of nine days beside it there are four days to spare at first, until they are gone.
    for day in range(10):
        build = on_day(day)
        work = task("paint", max(0, 9 - day) * 24 + 1)
        both = replace(build, tasks=(*build.tasks, work, task("z", 0)), first_start="z")
        links = build_of([], [("fit", "z"), ("paint", "z")]).dependencies
        order_by = latest_arrivals(replace(both, dependencies=links))["hose"] - LEAD_DAYS * DAY
        assert order_by == max(build.now.date(), (MONDAY + 4 * DAY).date())
