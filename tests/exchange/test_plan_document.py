"""The plan as JSON has exactly the fields of the format; hours and dates worked out by hand."""

import datetime as dt
from dataclasses import replace
from typing import Any

from tests.build.builds import ALWAYS, build_of, session, task
from webapp.build.build_input import BuildInput, Part
from webapp.build.shop import Setup
from webapp.exchange.plan_document import assumed_parts, plan_document
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


def test_days_of_arrival_that_nobody_entered_are_said_to_be_assumed() -> None:
    # Monday 5 January: promised for the 9th; ordered on the 2nd and 10 days are the 12th; ordered
    # today and 3 days are the 8th; promised for the day before, so reckoned with for today.
    day, for_a = dt.date(2026, 1, 1), ("a",)
    days = [day + dt.timedelta(days=i) for i in range(31)]
    parts = (
        Part(key="typed", name="Typed", serves=for_a, arrives_on=days[5], promised_on=days[8]),
        Part(key="promise", name="Promise", serves=for_a, promised_on=days[8], lead_days=1),
        Part(key="order", name="Order", serves=for_a, ordered_on=days[1], lead_days=10),
        Part(key="lead", name="Lead", serves=("a", "start"), lead_days=3),
        Part(key="late", name="Late", serves=for_a, promised_on=days[3]),
        Part(key="here", name="Here", serves=for_a, lead_days=3, arrived=True),
        Part(key="spare", name="Spare", lead_days=3),
    )
    build = replace(two_tasks(), parts=parts)
    document = plan_document(make_plan(build), {}, assumed=assumed_parts(build))
    assert document["assumed"] == [
        {"part": "promise", "on": "2026-01-09", "from": "promised"},
        {"part": "order", "on": "2026-01-12", "from": "ordered"},
        {"part": "lead", "on": "2026-01-08", "from": "lead"},
        {"part": "late", "on": "2026-01-05", "from": "promised"},
    ]


def test_nothing_is_said_of_assumed_days_where_there_are_none() -> None:
    build = replace(two_tasks(), parts=(Part(key="p", name="P", serves=("a",), arrived=True),))
    assert "assumed" not in plan_document(make_plan(build), {}, assumed=assumed_parts(build))
