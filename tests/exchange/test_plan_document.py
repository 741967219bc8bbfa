"""The plan as JSON has exactly the fields of the format; hours and dates worked out by hand."""

from typing import Any

from tests.build.builds import ALWAYS, build_of, session, task
from webapp.build.build_input import BuildInput, Part, Setup
from webapp.exchange.plan_document import plan_document
from webapp.planning.order.job_order import days_cost, make_plan

WHY = {"start": "It needs the pump."}


def document_of(build: BuildInput) -> dict[str, Any]:
    return plan_document(make_plan(build), days_cost(build), unplanned=WHY)


def two_tasks() -> BuildInput:
    """Monday 00:00; open 09:00 to 12:00 daily. a takes 0.5 h setup and 4 h, then start 1 h."""
    week = tuple(session(day, 9, 12) for day in range(7))
    return build_of(
        [task("a", 4, setup="tig"), task("start", 1)],
        [("a", "start")],
        first_start="start",
        week=week,
        setups=(Setup(key="tig", name="TIG", hours=0.5),),
    )


def test_the_plan_has_the_fields_of_the_format() -> None:
    # a: Monday 09:00 to 12:00, Tuesday 09:00 to 10:30. start: 10:30 to 11:30.
    # Without a, start ends on Monday at 10:00: 25.5 hours = 1.0625 days earlier.
    # Without start, a is done on Tuesday at 10:30: 1 hour earlier.
    document = document_of(two_tasks())
    assert document == {
        "first_start": {"at": "2026-01-06T11:30", "shop_hours": 5.5},
        "tasks": [
            {
                "key": "a",
                "begins": "2026-01-05T09:00",
                "ends": "2026-01-06T10:30",
                "begin_shop_hours": 0.0,
                "end_shop_hours": 4.5,
                "setup_hours": 0.5,
                "held_by": [{"kind": "session", "what": "2026-01-05T09:00"}],
                "total_float_hours": 0.0,
                "free_float_hours": 0.0,
                "on_path": True,
                "days_cost": 25.5 / 24,
            },
            {
                "key": "start",
                "begins": "2026-01-06T10:30",
                "ends": "2026-01-06T11:30",
                "begin_shop_hours": 4.5,
                "end_shop_hours": 5.5,
                "setup_hours": 0.0,
                "held_by": [
                    {"kind": "dependency", "what": "a"},
                    {"kind": "people", "what": "a"},
                ],
                "total_float_hours": 0.0,
                "free_float_hours": 0.0,
                "on_path": True,
                "days_cost": 1 / 24,
            },
        ],
        "unplanned": [],
    }


def with_a_gap() -> BuildInput:
    return build_of(
        [task("a", 2), task("start", 1)],
        [("a", "start")],
        first_start="start",
        week=ALWAYS,
        parts=(Part(key="p", name="Pump", serves=("start",)),),
    )


def test_a_gap_leaves_first_start_without_a_date_and_names_what_stands_in_the_way() -> None:
    document = document_of(with_a_gap())
    assert document["first_start"] is None
    assert document["unplanned"] == [{"key": "start", "why": "It needs the pump."}]
    assert document["tasks"][0]["days_cost"] is None
