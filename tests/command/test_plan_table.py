"""The plan as a table for the eye."""

from tests.build.builds import MONDAY, build_of, task
from tests.exchange.test_plan_document import two_tasks, with_a_gap
from webapp.command.plan_table import plan_table
from webapp.planning.order.job_order import days_cost, make_plan


def test_the_table_says_the_same_to_the_eye() -> None:
    build = two_tasks()
    table = plan_table(build, make_plan(build), days_cost(build))
    assert "First start 2026-01-06 11:30, 5.5 shop hours from now." in table
    assert "* 2026-01-05 09:00 2026-01-06 10:30    4.5     0.0    1.1  A" in table
    assert "after A" in table


def test_the_table_names_the_gap() -> None:
    build = with_a_gap()
    table = plan_table(build, make_plan(build), days_cost(build))
    assert "no date" in table
    assert "Pump" in table


def test_the_table_of_a_finished_build_says_that_it_is_done() -> None:
    build = build_of([task("start", 1, finished_on=MONDAY)], first_start="start")
    assert "First start is done." in plan_table(build, make_plan(build), days_cost(build))
