"""Builds for tests, written by hand; see `random_builds` for those at random.

All names and data are invented.
"""

import datetime as dt
from collections.abc import Iterable
from typing import Any

from webapp.build.build_input import BuildInput, Dependency, Task
from webapp.build.shop import DayException, DayHours, Setup, Shop, Station, WeekSession
from webapp.build.three_point import ThreePoint

MONDAY = dt.datetime(2026, 1, 5)
"""A Monday, 00:00."""


# --- by hand --------------------------------------------------------------------------------


def session(weekday: int, opens: float, closes: float, *, helper: bool = False) -> WeekSession:
    """A weekly session; `opens` and `closes` in hours after midnight."""
    return WeekSession(weekday=weekday, hours=stretch(opens, closes, helper=helper))


def stretch(opens: float, closes: float, *, helper: bool = False) -> DayHours:
    """A stretch of open hours; `opens` and `closes` in hours after midnight."""
    return DayHours(opens_minute=round(opens * 60), closes_minute=round(closes * 60), helper=helper)


ALWAYS = tuple(session(day, 0, 24) for day in range(7))
"""Open day and night: shop hours equal wall-clock hours."""

ALWAYS_WITH_HELPER = tuple(session(day, 0, 24, helper=True) for day in range(7))

EVENINGS = tuple(session(day, 18, 21) for day in range(5))
"""18:00 to 21:00 from Monday to Friday."""


def task(key: str, hours: float | tuple[float, float, float], **facts: Any) -> Task:
    """A task named like its key in capitals; `hours` as in the build document."""
    points = (hours, hours, hours) if isinstance(hours, int | float) else hours
    optimistic, most_likely, pessimistic = points
    three = ThreePoint(optimistic=optimistic, most_likely=most_likely, pessimistic=pessimistic)
    return Task(key=key, name=key.upper(), hours=three, **facts)


def build_of(
    tasks: Iterable[Task],
    dependencies: Iterable[tuple[str, str] | tuple[str, str, float]] = (),
    *,
    first_start: str | None = None,
    now: dt.datetime = MONDAY,
    week: tuple[WeekSession, ...] = ALWAYS,
    days: tuple[DayException, ...] = (),
    people: int = 1,
    setups: tuple[Setup, ...] = (),
    setup_out: str | tuple[str, ...] | None = None,
    stations: tuple[Station, ...] = (),
    **rest: Any,
) -> BuildInput:
    """A build of `tasks`; dependencies as (before, after) or (before, after, wait hours)."""
    shop = Shop(
        people=people,
        setups_out=(setup_out,) if isinstance(setup_out, str) else setup_out or (),
        week=week,
        days=days,
        setups=setups,
        stations=stations,
    )
    links = tuple(
        Dependency(before=d[0], after=d[1], wait_hours=d[2] if len(d) > 2 else 0.0)
        for d in dependencies
    )
    return BuildInput(
        name="Test bench",
        now=now,
        first_start=first_start,
        shop=shop,
        tasks=tuple(tasks),
        dependencies=links,
        **rest,
    )
