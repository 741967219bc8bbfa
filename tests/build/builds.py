"""Builds for tests: small ones written by hand, and random faultless ones from hypothesis.

All names and data are invented.
"""

import datetime as dt
import itertools
from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from hypothesis import strategies as st

from webapp.build.build_input import (
    BuildInput,
    DayException,
    DayHours,
    Dependency,
    LogEntry,
    Moment,
    Part,
    Setup,
    Shop,
    Station,
    StationNeed,
    Subsystem,
    Task,
    ThreePoint,
    WeekSession,
)

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
    setup_out: str | None = None,
    stations: tuple[Station, ...] = (),
    **rest: Any,
) -> BuildInput:
    """A build of `tasks`; dependencies as (before, after) or (before, after, wait hours)."""
    shop = Shop(
        people=people,
        setup_out=setup_out,
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


# --- at random ------------------------------------------------------------------------------

QUARTERS = st.integers(0, 24).map(lambda quarters: quarters / 4)
ODD_HOURS = st.floats(0, 6).map(lambda hours: round(hours, 3))


@st.composite
def day_hours(draw: st.DrawFn, *, helpers: bool) -> tuple[DayHours, ...]:
    """One day's sessions: none to three, now and then touching or up to 24:00."""
    marks = draw(st.lists(st.integers(0, 48), min_size=2, max_size=6, unique=True))
    minutes = sorted(mark * 30 for mark in marks)
    if draw(st.booleans()):
        pairs = list(itertools.pairwise(minutes))[:3]  # touching
    else:
        pairs = list(zip(minutes[::2], minutes[1::2], strict=False))
    return tuple(
        DayHours(
            opens_minute=opens,
            closes_minute=closes,
            helper=helpers and draw(st.booleans()),
        )
        for opens, closes in pairs
    )


@st.composite
def weeks(draw: st.DrawFn) -> tuple[WeekSession, ...]:
    """A shop week with at least one session; some days and nights through, some of one day."""
    helpers = draw(st.booleans())
    kind = draw(st.sampled_from(("always", "evenings", "odd", "odd", "odd")))
    if kind == "always":
        return ALWAYS_WITH_HELPER if helpers else ALWAYS
    if kind == "evenings":
        return (*EVENINGS, session(5, 9, 17, helper=helpers))
    open_days = draw(st.sets(st.integers(0, 6), min_size=1))
    return tuple(
        WeekSession(weekday=day, hours=hours)
        for day in sorted(open_days)
        for hours in draw(day_hours(helpers=helpers))
    )


@st.composite
def shops(draw: st.DrawFn, now: dt.datetime) -> Shop:
    """A shop with up to three people, three setups, two stations and four day exceptions."""
    setups = tuple(
        Setup(key=f"setup{i}", name=f"Setup {i}", hours=draw(QUARTERS) / 3)
        for i in range(draw(st.integers(0, 3)))
    )
    days = draw(st.sets(st.integers(-2, 20), max_size=4))
    return Shop(
        people=draw(st.sampled_from((1, 1, 2, 3))),
        setup_out=draw(st.sampled_from((None, *(setup.key for setup in setups)))),
        week=draw(weeks()),
        days=tuple(
            DayException(
                date=now.date() + dt.timedelta(days=day),
                sessions=draw(st.just(()) | day_hours(helpers=True)),
            )
            for day in sorted(days)
        ),
        setups=setups,
        stations=tuple(
            Station(key=f"station{i}", name=f"Station {i}", count=draw(st.integers(1, 2)))
            for i in range(draw(st.sampled_from((0, 1, 1, 2))))
        ),
    )


def _longest(shop: Shop, *, helper: bool) -> float:
    """Hours of the longest weekly session, or helper session; 0 if there is none."""
    minutes = (
        s.hours.closes_minute - s.hours.opens_minute
        for s in shop.week
        if s.hours.helper or not helper
    )
    return max(minutes, default=0) / 60


@st.composite
def moments_before(draw: st.DrawFn, now: dt.datetime) -> Moment:
    """A date or a date with a time within the ten days before `now`."""
    moment = now - dt.timedelta(minutes=draw(st.integers(0, 10 * 1440)))
    return draw(st.sampled_from((moment, moment.date())))


@st.composite
def hours_of(draw: st.DrawFn, most: float) -> ThreePoint:
    """Three points of at most `most` hours, in order; now and then no hours at all."""
    if draw(st.integers(0, 9)) == 0:
        return ThreePoint.certain(0.0)
    points = sorted(min(draw(QUARTERS | ODD_HOURS), most) for _ in range(3))
    return ThreePoint(optimistic=points[0], most_likely=points[1], pessimistic=points[2])


@st.composite
def tasks_in(draw: st.DrawFn, shop: Shop, now: dt.datetime, key: str) -> Task:
    """One task with any mix of needs that the shop can meet, open, begun, done or set aside."""
    needs: dict[str, Any] = {"people": draw(st.integers(0, shop.people))}
    most = 6.0
    kind = draw(st.sampled_from(("plain", "plain", "plain", "one go", "helper", "outside")))
    if kind == "outside":
        needs["outside_days"] = draw(st.sampled_from((0.0, 0.5, 1.0, 2.25, 7.0)))
    else:
        needs["in_one_go"] = kind == "one go" or draw(st.integers(0, 5)) == 0
        needs["helper"] = kind == "helper" and _longest(shop, helper=True) > 0
        if needs["helper"]:
            needs["people"] = max(1, needs["people"])
        if needs["in_one_go"] or needs["helper"]:
            most = min(most, _longest(shop, helper=needs["helper"]))
        if needs["people"] and shop.setups and draw(st.booleans()):
            needs["setup"] = draw(st.sampled_from(shop.setups)).key
        needs["stations"] = tuple(
            StationNeed(station=s.key, count=draw(st.integers(1, s.count)))
            for s in shop.stations
            if draw(st.booleans())
        )
    facts: dict[str, Any] = {}
    state = draw(st.sampled_from(("open",) * 8 + ("begun", "begun", "finished", "aside")))
    if state in ("begun", "finished"):
        facts["begun_on"] = draw(moments_before(now))
    if state == "finished":
        facts["finished_on"] = draw(moments_before(now))
        facts["begun_on"] = draw(st.sampled_from((None, facts["finished_on"])))
    if state == "begun" and draw(st.booleans()):
        facts["hours_left"] = min(most, draw(QUARTERS))
    if state == "aside" and draw(st.booleans()):
        facts["set_aside_on"] = now.date()
    return Task(
        key=key,
        name=f"Task {key}",
        hours=draw(hours_of(most)),
        subsystem=draw(st.sampled_from((None, "air", "water"))),
        space_litres=draw(st.sampled_from((0.0, 5.0, 40.0))),
        **needs,
        **facts,
    )


@st.composite
def builds(draw: st.DrawFn, max_tasks: int = 10) -> BuildInput:
    """A random build without a fault, with every feature a plan has to obey."""
    now = MONDAY + dt.timedelta(minutes=draw(st.integers(0, 7 * 48)) * 30)
    shop = draw(shops(now))
    counts = st.integers(1, max_tasks) | st.integers(max_tasks // 2 + 1, max_tasks)
    keys = [f"t{i}" for i in range(draw(counts))]
    tasks = [draw(tasks_in(shop, now, key)) for key in keys]
    links = [
        Dependency(
            before=keys[i],
            after=keys[j],
            wait_hours=draw(st.sampled_from((0.0, 0.0, 0.0, 1.5, 12.0, 60.0))),
        )
        for j in range(len(keys))
        for i in sorted(draw(st.sets(st.integers(0, j - 1), max_size=3)) if j else ())
    ]
    parts = tuple(
        Part(
            key=f"p{i}",
            name=f"Part {i}",
            serves=tuple(sorted(draw(st.sets(st.sampled_from(keys), max_size=3)))),
            arrives_on=draw(arrivals(now)),
            promised_on=draw(st.none() | days_about(now)),
            ordered_on=draw(st.none() | days_about(now)),
            lead_days=draw(st.none() | st.sampled_from((0.0, 0.5, 3.0, 14.25))),
            arrived=draw(st.integers(0, 4)) == 0,
        )
        for i in range(draw(st.integers(0, 3)))
    )
    open_keys = [task.key for task in tasks if task.is_open]
    ends = open_keys or [task.key for task in tasks if task.finished_on is not None]
    if not ends:  # all set aside: first start must not be
        tasks[0] = replace(tasks[0], set_aside_on=None)
        ends = [keys[0]]
    return BuildInput(
        name="Random build",
        now=now,
        first_start=draw(st.sampled_from(ends)),
        shop=shop,
        subsystems=(
            Subsystem(key="water", name="Water", medium="water", order=2),
            Subsystem(key="air", name="Air", medium="air", order=1),
        ),
        tasks=tuple(draw(st.permutations(tasks))),
        dependencies=tuple(links),
        parts=parts,
        log=tuple(
            LogEntry(task=t.key, on=now.date(), hours=draw(QUARTERS))
            for t in tasks
            if t.begun_on is not None and draw(st.booleans())
        ),
        starts_on=draw(starts(now)),
    )


@st.composite
def starts(draw: st.DrawFn, now: dt.datetime) -> dt.date | None:
    """No day, or one from a week before `now` to nine days after: then no hour lies before it."""
    days = draw(st.sampled_from((None, None, -7, 0, 1, 3, 9)))
    return None if days is None else now.date() + dt.timedelta(days=days)


def days_about(now: dt.datetime) -> st.SearchStrategy[dt.date]:
    """Dates from twenty days before now to twenty after."""
    return st.integers(-20, 20).map(lambda days: now.date() + dt.timedelta(days=days))


@st.composite
def arrivals(draw: st.DrawFn, now: dt.datetime) -> Moment | None:
    """No date, or a date or moment from three days before `now` to ten days after."""
    if draw(st.integers(0, 9)) == 0:
        return None
    moment = now + dt.timedelta(minutes=draw(st.integers(-3 * 48, 10 * 48)) * 30)
    return draw(st.sampled_from((moment, moment.date())))
