"""The latest arrival of a part that does not move first start."""

import datetime as dt
from dataclasses import replace

import pytest

from webapp.build.build_input import BuildInput, Dependency, Part, Task
from webapp.build.shop import DayHours, Shop, WeekSession
from webapp.build.three_point import ThreePoint
from webapp.planning.order.job_order import make_plan
from webapp.planning.order.latest_arrivals import latest_arrivals

MONDAY = dt.datetime(2026, 2, 9, 18, 0)
EVENINGS = Shop(
    week=tuple(
        WeekSession(weekday=day, hours=DayHours(opens_minute=1080, closes_minute=1320))
        for day in range(5)
    )
)


def task(key: str, hours: float) -> Task:
    return Task(key=key, name=key, hours=ThreePoint.certain(hours))


def build(*parts: Part) -> BuildInput:
    """Weekday evenings of 4 h: frame 8 h, hoses 4 h, then start. 12 h are three evenings."""
    return BuildInput(
        name="Three evenings",
        now=MONDAY,
        first_start="start",
        shop=EVENINGS,
        tasks=(task("hoses", 4), task("frame", 8), task("start", 0), task("polish", 1)),
        dependencies=(
            Dependency(before="hoses", after="start"),
            Dependency(before="frame", after="start"),
        ),
        parts=parts,
    )


def test_a_part_may_come_until_the_work_that_needs_no_part_is_done() -> None:
    # Monday and Tuesday go to the frame while the hose is in the post; it must be there on
    # Wednesday 11 February, the third evening. On Thursday first start would move.
    for due in (None, dt.date(2026, 2, 10)):
        found = latest_arrivals(
            build(Part(key="hose", name="Hose", serves=("hoses",), arrives_on=due))
        )
        assert found == {"hose": dt.date(2026, 2, 11)}


def test_a_part_that_decides_first_start_already_has_no_day_to_spare() -> None:
    late = dt.date(2026, 3, 2)
    found = latest_arrivals(
        build(Part(key="hose", name="Hose", serves=("hoses",), arrives_on=late))
    )
    assert found == {"hose": late}


def test_a_part_of_two_tasks_is_needed_by_the_first_of_them() -> None:
    # Without it nothing can be done on Monday: it must be there today.
    part = Part(key="bolt", name="Bolt", serves=("hoses", "frame"))
    assert latest_arrivals(build(part)) == {"bolt": MONDAY.date()}


def test_parts_that_have_come_or_that_first_start_does_not_need_are_left_out() -> None:
    found = latest_arrivals(
        build(
            Part(key="here", name="Here", serves=("hoses",), arrived=True),
            Part(key="wax", name="Wax", serves=("polish",)),
            Part(key="spare", name="Spare"),
        )
    )
    assert found == {}


def test_nothing_is_said_where_first_start_has_no_date() -> None:
    held = build(Part(key="hose", name="Hose", serves=("hoses",)))
    tasks = tuple(
        replace(t, set_aside_on=MONDAY.date()) if t.key == "frame" else t for t in held.tasks
    )
    assert latest_arrivals(replace(held, tasks=tasks)) == {}


@pytest.mark.parametrize("spare_days", [0, 1])
def test_the_planner_itself_agrees_with_the_date_and_with_the_day_after(spare_days: int) -> None:
    parts = (
        Part(key="hose", name="Hose", serves=("hoses",), arrives_on=dt.date(2026, 2, 10)),
        Part(key="tube", name="Tube", serves=("frame",)),
    )
    found = latest_arrivals(build(*parts))
    here = tuple(replace(p, arrived=True) if p.arrives_on is None else p for p in parts)
    first_start = make_plan(build(*here)).first_start_at
    assert first_start is not None
    for key, date in found.items():
        moved = tuple(
            replace(p, arrived=False, arrives_on=date + dt.timedelta(days=spare_days))
            if p.key == key
            else p
            for p in here
        )
        at = make_plan(build(*moved)).first_start_at
        assert at is not None
        assert (at > first_start) == bool(spare_days)


def test_the_dates_are_those_of_the_pace() -> None:
    # At half the pace the frame takes Monday to Thursday, the hoses Friday and Monday: the hose
    # must be there on Friday 13 February.
    twice = {"hoses": 8 * 3600, "frame": 16 * 3600}
    hose = Part(key="hose", name="Hose", serves=("hoses",))
    assert latest_arrivals(build(hose), twice) == {"hose": dt.date(2026, 2, 13)}


def test_the_dates_are_those_of_the_order_that_is_kept() -> None:
    # Paint 4 h cures for two days, hoses 4 h. Paint first: cured on Wednesday 22:00, when hoses
    # that are begun on Wednesday are done. Hoses first: cured on Thursday 22:00, and so are
    # hoses that are begun on Thursday.
    painted = replace(
        build(Part(key="hose", name="Hose", serves=("hoses",))),
        tasks=(task("hoses", 4), task("paint", 4), task("start", 0)),
        dependencies=(
            Dependency(before="hoses", after="start"),
            Dependency(before="paint", after="start", wait_hours=48),
        ),
    )
    assert latest_arrivals(painted) == {"hose": dt.date(2026, 2, 11)}
    kept = replace(painted, kept_order=("hoses", "paint", "start"))
    assert latest_arrivals(kept) == {"hose": dt.date(2026, 2, 12)}
