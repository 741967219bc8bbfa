"""Random builds without a fault, with every feature a plan has to obey.

A build follows from a number of tasks and a seed, each thing of it from a stream of its own: with
fewer tasks the first of them stay as they were, which is how a failing build is made smaller.
Drawn by hypothesis field by field, builds took five times as long to make as to try.
"""

import datetime as dt
import itertools
import random
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from hypothesis import strategies as st

from tests.build.builds import ALWAYS, ALWAYS_WITH_HELPER, EVENINGS, MONDAY, session
from webapp.build.build_input import (
    BuildInput,
    Dependency,
    LogEntry,
    Moment,
    Part,
    StationNeed,
    Subsystem,
    Task,
)
from webapp.build.house_rules import HOUSE_RULES
from webapp.build.shop import (
    DayException,
    DayHours,
    DayRange,
    LaterWeek,
    Setup,
    Shop,
    Station,
    WeekSession,
)
from webapp.build.three_point import ThreePoint

SEEDS = st.integers(0, 2**32)
SUBSYSTEMS = (
    Subsystem(key="water", name="Water", medium="water", order=2),
    Subsystem(key="air", name="Air", medium="air", order=1),
)


def builds(max_tasks: int = 10) -> st.SearchStrategy[BuildInput]:
    """Random builds of at most so many tasks."""
    counts = st.integers(1, max_tasks) | st.integers(max_tasks // 2 + 1, max_tasks)
    return st.builds(random_build, counts, SEEDS)


def shops(now: dt.datetime) -> st.SearchStrategy[Shop]:
    """Random shops, alone."""
    return SEEDS.map(lambda seed: _shop(_stream(seed, "shop"), now))


def starts(now: dt.datetime) -> st.SearchStrategy[dt.date | None]:
    """No day, or one from a week before `now` to nine days after: then no hour lies before it."""
    days = st.sampled_from((None, None, -7, 0, 1, 3, 9))
    return days.map(lambda away: None if away is None else now.date() + dt.timedelta(days=away))


def random_build(count: int, seed: int) -> BuildInput:
    """A build of `count` tasks; the same each time."""
    chance = _stream(seed, "build")
    now = MONDAY + dt.timedelta(minutes=chance.randint(0, 7 * 48) * 30)
    shop = _with_other_weeks(_stream(seed, "weeks"), _shop(_stream(seed, "shop"), now), now)
    shop = _with_more_out(_stream(seed, "out"), shop)
    keys = [f"t{i}" for i in range(count)]
    tasks = [_task(_stream(seed, key), shop, now, key) for key in keys]
    links = [
        link
        for j in range(1, count)
        for link in _links(_stream(seed, f"links of {j}"), keys[:j], keys[j])
    ]
    parts = [_part(_stream(seed, f"part {i}"), i, keys, now) for i in range(chance.randint(0, 3))]
    ends = [t.key for t in tasks if t.is_open]
    ends = ends or [t.key for t in tasks if t.finished_on is not None]
    if not ends:  # all set aside: first start must not be
        tasks[0] = replace(tasks[0], set_aside_on=None)
        ends = [keys[0]]
    away = chance.choice((None, None, -7, 0, 1, 3, 9))
    build = BuildInput(
        name="Random build",
        now=now,
        first_start=chance.choice(ends),
        shop=shop,
        subsystems=SUBSYSTEMS,
        tasks=tuple(chance.sample(tasks, len(tasks))),
        dependencies=tuple(links),
        parts=tuple(parts),
        log=tuple(
            LogEntry(task=t.key, on=now.date(), hours=_quarters(chance))
            for t in tasks
            if t.begun_on is not None and _often(chance)
        ),
        starts_on=None if away is None else now.date() + dt.timedelta(days=away),
        house_rules=rules_at_random(_stream(seed, "rules")),
    )
    return _with_money(_stream(seed, "money"), build)


def _with_money(chance: random.Random, build: BuildInput) -> BuildInput:
    """Half of the builds cost money: estimates, what was paid, some of it back, and offers."""
    if _often(chance):
        return build

    def sum_of(*, back: bool = False) -> float | None:
        cents = chance.choice((None, None, 0, chance.randint(1, 99), chance.randint(1, 9_999_999)))
        if cents is None:
            return None
        return (-cents if back and chance.randrange(5) == 0 else cents) / 100

    return replace(
        build,
        currency=chance.choice(("", "kr", "€")),
        money_limit=sum_of(),
        parts=tuple(replace(p, cost=sum_of(), paid=sum_of(back=True)) for p in build.parts),
        tasks=tuple(
            replace(
                t,
                cost=sum_of(),
                paid=sum_of(back=True),
                offer_cost=sum_of(),
                offer_days=chance.choice((None, 3.0, 12.5)),
            )
            for t in build.tasks
        ),
    )


def rules_at_random(chance: random.Random) -> tuple[str, ...]:
    """House rules in any order, now and then without some of them."""
    rules = chance.sample(HOUSE_RULES, len(HOUSE_RULES))
    return tuple(rules[: chance.choice((2, 3, 4, 4, 4))])


def _stream(seed: int, name: str) -> random.Random:
    return random.Random(f"{seed} {name}")


def _often(chance: random.Random) -> bool:
    return chance.random() < 0.5


def _quarters(chance: random.Random) -> float:
    """No hours to six, in quarters; the least and the most of them now and then."""
    return chance.choice((0, 24, *(chance.randint(0, 24) for _ in range(8)))) / 4


def _some(chance: random.Random, things: Sequence[Any], most: int) -> list[Any]:
    """None of the things to so many of them, in their own order."""
    places = chance.sample(range(len(things)), chance.randint(0, min(most, len(things))))
    return [things[place] for place in sorted(places)]


def _hours(chance: random.Random, most: float) -> ThreePoint:
    """Three points of at most `most` hours, in order; now and then no hours at all."""
    if chance.randrange(10) == 0:
        return ThreePoint.certain(0.0)

    def point() -> float:
        odd = round(chance.uniform(0, 6), 3)
        return min(_quarters(chance) if _often(chance) else odd, most)

    optimistic, most_likely, pessimistic = sorted(point() for _ in range(3))
    return ThreePoint(optimistic=optimistic, most_likely=most_likely, pessimistic=pessimistic)


def _before(chance: random.Random, now: dt.datetime) -> Moment:
    """A date or a date with a time within the ten days before `now`."""
    minutes = chance.choice((0, chance.randint(0, 1440), chance.randint(0, 10 * 1440)))
    moment = now - dt.timedelta(minutes=minutes)
    return chance.choice((moment, moment.date()))


# --- the shop -------------------------------------------------------------------------------


def _day_hours(chance: random.Random, *, helpers: bool) -> tuple[DayHours, ...]:
    """One day's sessions: one to three, now and then touching or up to 24:00."""
    marks = sorted(chance.sample(range(49), chance.randint(2, 6)))
    if _often(chance):
        pairs = list(itertools.pairwise(marks))[:3]  # touching
    else:
        pairs = list(zip(marks[::2], marks[1::2], strict=False))
    return tuple(
        DayHours(
            opens_minute=opens * 30,
            closes_minute=closes * 30,
            helper=helpers and _often(chance),
        )
        for opens, closes in pairs
    )


def _week(chance: random.Random) -> tuple[WeekSession, ...]:
    """A shop week with at least one session; some days and nights through, some of one day."""
    helpers = _often(chance)
    kind = chance.choice(("always", "evenings", "odd", "odd", "odd"))
    if kind == "always":
        return ALWAYS_WITH_HELPER if helpers else ALWAYS
    if kind == "evenings":
        return (*EVENINGS, session(5, 9, 17, helper=helpers))
    return tuple(
        WeekSession(weekday=day, hours=hours)
        for day in sorted(chance.sample(range(7), chance.randint(1, 7)))
        for hours in _day_hours(chance, helpers=helpers)
    )


def _shop(chance: random.Random, now: dt.datetime) -> Shop:
    """A shop with up to three people, three setups, two stations and four day exceptions."""
    setups = tuple(
        Setup(key=f"setup{i}", name=f"Setup {i}", hours=_quarters(chance) / 3)
        for i in range(chance.randint(0, 3))
    )
    return Shop(
        people=chance.choice((1, 1, 2, 3)),
        setups_out=chance.choice(((), *((setup.key,) for setup in setups))),
        week=_week(chance),
        days=tuple(
            DayException(
                date=now.date() + dt.timedelta(days=away),
                sessions=() if _often(chance) else _day_hours(chance, helpers=True),
            )
            for away in _some(chance, range(-2, 21), 4)
        ),
        setups=setups,
        stations=tuple(
            Station(key=f"station{i}", name=f"Station {i}", count=chance.randint(1, 2))
            for i in range(chance.choice((0, 1, 1, 2)))
        ),
    )


def _with_more_out(chance: random.Random, shop: Shop) -> Shop:
    """Where more than one work, up to as many setups out as there are people."""
    others = [setup.key for setup in shop.setups if setup.key not in shop.setups_out]
    more = _some(chance, others, shop.people - len(shop.setups_out)) if shop.people > 1 else []
    return replace(shop, setups_out=(*more, *shop.setups_out))


def _with_other_weeks(chance: random.Random, shop: Shop, now: dt.datetime) -> Shop:
    """Half of the shops get up to two later weeks and up to three ranges of days, none of which
    overlap: some begun before `now`, some closed, some that touch."""
    if _often(chance):
        return shop
    today = now.date()
    firsts = sorted(chance.sample(range(-10, 40), chance.randint(0, 2)))
    marks = sorted(chance.sample(range(-10, 60), chance.randint(1, 4)))
    return replace(
        shop,
        later_weeks=tuple(
            LaterWeek(from_on=today + dt.timedelta(days=first), week=_week(chance))
            for first in firsts
        ),
        ranges=tuple(
            DayRange(
                first_on=today + dt.timedelta(days=first),
                last_on=today + dt.timedelta(days=last - 1),
                name=chance.choice(("", "holidays", "winter hours")),
                week=() if _often(chance) else _week(chance),
            )
            for first, last in itertools.pairwise(marks)
            if chance.randrange(3)
        ),
    )


def _longest(shop: Shop, *, helper: bool) -> float:
    """Hours of the longest session of the week that holds in the end, or of the longest with the
    helper; 0 if there is none."""
    week = shop.later_weeks[-1].week if shop.later_weeks else shop.week
    minutes = (
        s.hours.closes_minute - s.hours.opens_minute for s in week if s.hours.helper or not helper
    )
    return max(minutes, default=0) / 60


# --- tasks, dependencies, parts -------------------------------------------------------------


def _task(chance: random.Random, shop: Shop, now: dt.datetime, key: str) -> Task:
    """One task with any mix of needs that the shop can meet, open, begun, done or set aside."""
    needs, most = _needs(chance, shop)
    return Task(
        key=key,
        name=f"Task {key}",
        hours=_hours(chance, most),
        subsystem=chance.choice((None, "air", "water")),
        space_litres=chance.choice((0.0, 5.0, 40.0)),
        **needs,
        **_facts(chance, now, most),
    )


def _needs(chance: random.Random, shop: Shop) -> tuple[dict[str, Any], float]:
    """What a task needs, and the most hours it may take."""
    needs: dict[str, Any] = {"people": chance.randint(0, shop.people)}
    most = 6.0
    kind = chance.choice(("plain", "plain", "plain", "one go", "helper", "outside"))
    if kind == "outside":
        return needs | {"outside_days": chance.choice((0.0, 0.5, 1.0, 2.25, 7.0))}, most
    needs["in_one_go"] = kind == "one go" or chance.randrange(6) == 0
    needs["helper"] = kind == "helper" and _longest(shop, helper=True) > 0
    if needs["helper"]:
        needs["people"] = max(1, needs["people"])
    if needs["in_one_go"] or needs["helper"]:
        most = min(most, _longest(shop, helper=needs["helper"]))
    if needs["people"] and shop.setups and _often(chance):
        needs["setup"] = chance.choice(shop.setups).key
    needs["stations"] = tuple(
        StationNeed(station=s.key, count=chance.randint(1, s.count))
        for s in shop.stations
        if _often(chance)
    )
    return needs, most


def _facts(chance: random.Random, now: dt.datetime, most: float) -> dict[str, Any]:
    """What has happened to a task."""
    state = chance.choice(("open",) * 8 + ("begun", "begun", "finished", "aside"))
    if state == "begun":
        left = {"hours_left": min(most, _quarters(chance))} if _often(chance) else {}
        return {"begun_on": _before(chance, now)} | left
    if state == "finished":
        finished_on = _before(chance, now)
        return {"finished_on": finished_on, "begun_on": chance.choice((None, finished_on))}
    if state == "aside" and _often(chance):
        return {"set_aside_on": now.date()}
    return {}


def _links(chance: random.Random, before: Sequence[str], after: str) -> list[Dependency]:
    """Dependencies of one task on up to three of those entered before it."""
    return [
        Dependency(
            before=key,
            after=after,
            wait_hours=chance.choice((0.0, 0.0, 0.0, 1.5, 12.0, 60.0)),
        )
        for key in _some(chance, before, 3)
    ]


def _part(chance: random.Random, i: int, keys: Sequence[str], now: dt.datetime) -> Part:
    """A part with or without dates, that has come or not."""

    def day() -> dt.date | None:
        if _often(chance):
            return None
        return now.date() + dt.timedelta(days=chance.randint(-20, 20))

    arrives_on: Moment | None = None
    if chance.randrange(10):
        moment = now + dt.timedelta(minutes=chance.randint(-3 * 48, 10 * 48) * 30)
        arrives_on = chance.choice((moment, moment.date()))
    return Part(
        key=f"p{i}",
        name=f"Part {i}",
        serves=tuple(sorted(_some(chance, keys, 3))),
        arrives_on=arrives_on,
        promised_on=day(),
        ordered_on=day(),
        lead_days=chance.choice((None, 0.0, 0.5, 3.0, 14.25)),
        arrived=chance.randrange(5) == 0,
    )
