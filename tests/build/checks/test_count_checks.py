"""More of something than the program answers for is a fault that says how many there may be."""

import datetime as dt
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest

from tests.build.builds import MONDAY, build_of, session, task
from webapp.build.build_input import Dependency, LogEntry, Part, Subsystem
from webapp.build.checks.input_checks import faults_of
from webapp.build.limits import (
    MOST_DAY_EXCEPTIONS,
    MOST_DEPENDENCIES,
    MOST_GIVEN_AWAY,
    MOST_LATER_WEEKS,
    MOST_LOG_ENTRIES,
    MOST_PARTS,
    MOST_RANGES,
    MOST_SETUPS,
    MOST_STATIONS,
    MOST_SUBSYSTEMS,
    MOST_TASKS,
)
from webapp.build.shop import DayException, DayRange, GivenAway, LaterWeek, Setup, Station

DAY = dt.timedelta(days=1)
ONE = build_of([task("a", 1, begun_on=MONDAY)], first_start="a")


def dependencies(count: int) -> tuple[tuple[Any, ...], tuple[Dependency, ...]]:
    """Tasks and so many dependencies among them, without a loop."""
    keys = [f"t{i}" for i in range(201)]
    pairs = [(a, b) for i, a in enumerate(keys) for b in keys[i + 1 :]]
    tasks = tuple(task(key, 1) for key in keys)
    return tasks, tuple(Dependency(before=a, after=b) for a, b in pairs[:count])


def test_a_build_of_as_many_tasks_and_dependencies_as_there_may_be_has_no_fault() -> None:
    keys = [f"t{i}" for i in range(MOST_TASKS)]
    chain = [*pairwise(keys)]
    skips = [(keys[i], keys[i + d]) for d in range(2, 12) for i in range(MOST_TASKS - d)]
    links = [*chain, *skips][:MOST_DEPENDENCIES]
    assert faults_of(build_of([task(key, 1) for key in keys], links, first_start=keys[-1])) == ()


@pytest.mark.parametrize(
    ("field", "most"), [("tasks", MOST_TASKS), ("dependencies", MOST_DEPENDENCIES)]
)
def test_one_more_is_told_with_both_numbers(field: str, most: int) -> None:
    if field == "tasks":
        build = build_of([task(f"t{i}", 1) for i in range(most + 1)], first_start="t0")
    else:
        tasks, links = dependencies(most + 1)
        build = replace(ONE, tasks=tasks, dependencies=links, first_start="t0")
    (fault,) = faults_of(build)
    assert fault.field == field
    assert f"it has {most + 1:,} {field}, and {most:,} is the most." in fault.text


@pytest.mark.parametrize(
    ("field", "most", "facts"),
    [
        ("parts", MOST_PARTS, lambda i: Part(key=f"p{i}", name="Bolt")),
        ("log", MOST_LOG_ENTRIES, lambda _: LogEntry(task="a", on=MONDAY.date(), hours=0.1)),
        ("subsystems", MOST_SUBSYSTEMS, lambda i: Subsystem(key=f"s{i}", name="Air")),
    ],
)
def test_too_many_of_the_things_of_a_build_are_a_fault(field: str, most: int, facts: Any) -> None:
    def build_with(count: int) -> Any:
        things: dict[str, Any] = {field: tuple(facts(i) for i in range(count))}
        return replace(ONE, **things)

    assert faults_of(build_with(most)) == ()
    (fault,) = faults_of(build_with(most + 1))
    assert (fault.kind, fault.field) == ("build", field)


@pytest.mark.parametrize(
    ("field", "most", "facts"),
    [
        ("setups", MOST_SETUPS, lambda i: Setup(key=f"s{i}", name="Saw", hours=1)),
        ("stations", MOST_STATIONS, lambda i: Station(key=f"s{i}", name="Lift")),
        ("days", MOST_DAY_EXCEPTIONS, lambda i: DayException(date=MONDAY.date() + i * DAY)),
        (
            "later_weeks",
            MOST_LATER_WEEKS,
            lambda i: LaterWeek(from_on=MONDAY.date() + i * DAY, week=(session(1, 18, 21),)),
        ),
        (
            "ranges",
            MOST_RANGES,
            lambda i: DayRange(first_on=MONDAY.date() + i * DAY, last_on=MONDAY.date() + i * DAY),
        ),
        (
            "given",
            MOST_GIVEN_AWAY,
            lambda i: GivenAway(
                first_on=MONDAY.date() + i * DAY,
                last_on=MONDAY.date() + i * DAY,
                opens_minute=0,
                closes_minute=60,
                belongs_to="The Boat",
            ),
        ),
    ],
)
def test_too_many_of_the_things_of_a_shop_are_a_fault(field: str, most: int, facts: Any) -> None:
    def shop_with(count: int) -> Any:
        things: dict[str, Any] = {field: tuple(facts(i) for i in range(count))}
        return replace(ONE.shop, **things)

    assert faults_of(replace(ONE, shop=shop_with(most))) == ()
    (fault,) = faults_of(replace(ONE, shop=shop_with(most + 1)))
    assert (fault.kind, fault.field) == ("build", field)
