"""Random builds to be lived: small enough to be fast, with everything a plan has to obey.

The same for the same seed. Evenings, a Saturday, now and then a morning; setups, cures that end in
the middle of a session, a helper, two people, parts, outside work, an oven, a lift. All names and
data are invented.
"""

import datetime as dt
import random
from dataclasses import replace

from tests.build.random_builds import rules_at_random
from webapp.build.build_input import BuildInput, Dependency, Part, StationNeed, Subsystem, Task
from webapp.build.checks.input_checks import faults_of
from webapp.build.shop import DayHours, DayRange, LaterWeek, Setup, Shop, Station, WeekSession
from webapp.build.three_point import ThreePoint
from webapp.build.time.session_lengths import longest_session_minutes

MONDAY = dt.datetime(2026, 2, 9)
WAITS_HOURS = (1.5, 2.25, 12.0, 24.0, 25.5, 48.0)
TASKS_LEAST, TASKS_MOST = 8, 14


def life_build(seed: int) -> BuildInput:
    """A faultless build of 8 to 14 tasks, the last of them first start."""
    chance = random.Random(f"life {seed}")
    shop = _with_other_weeks(_shop(chance), random.Random(f"life weeks {seed}"))
    now = MONDAY + dt.timedelta(minutes=chance.choice((0, 0, 7 * 60, 19 * 60 + 15)))
    count = chance.randint(TASKS_LEAST, TASKS_MOST)
    tasks = [_task(i, shop, now, chance) for i in range(count)]
    links = {
        (chance.randrange(max(0, i - 6), i), i)
        for i in range(1, count)
        for _ in range(chance.choice((0, 1, 1, 2)))
    }
    aside = {count - 1} if chance.random() < 0.3 else set()
    links = {link for link in links if not aside & set(link)}
    ends = set(range(count)) - {before for before, _ in links} - aside
    start = Task(key="start", name="First start", hours=ThreePoint.certain(1), subsystem="s2")
    build = BuildInput(
        name=f"Life {seed}",
        now=now,
        starts_on=now.date(),
        first_start="start",
        shop=shop,
        subsystems=tuple(Subsystem(key=f"s{i}", name=f"Subsystem {i}", order=i) for i in range(3)),
        tasks=(*tasks, start),
        dependencies=(
            *(
                Dependency(before=f"t{i}", after=f"t{j}", wait_hours=_wait(chance))
                for i, j in sorted(links)
            ),
            *(Dependency(before=f"t{i}", after="start") for i in sorted(ends)),
        ),
        parts=tuple(_part(i, count, now, chance) for i in range(chance.randint(1, 3))),
        house_rules=rules_at_random(random.Random(f"{seed} rules")),
    )
    assert not faults_of(build), [fault.text for fault in faults_of(build)]
    return build


def _shop(chance: random.Random) -> Shop:
    evening = DayHours(opens_minute=18 * 60, closes_minute=21 * 60)
    days = chance.sample(range(5), chance.randint(2, 4))
    helped = chance.random() < 0.7
    saturday = (
        DayHours(opens_minute=9 * 60, closes_minute=13 * 60, helper=helped),
        DayHours(opens_minute=chance.choice((13, 14)) * 60, closes_minute=17 * 60),
    )
    return Shop(
        people=chance.choice((1, 1, 1, 2)),
        week=(
            *(WeekSession(weekday=day, hours=evening) for day in sorted(days)),
            *(WeekSession(weekday=5, hours=hours) for hours in saturday),
        ),
        setups=tuple(
            Setup(key=f"setup{i}", name=f"Setup {i}", hours=chance.choice((0.25, 0.5, 0.75)))
            for i in range(3)
        ),
        setups_out=chance.choice(((), ("setup0",))),
        stations=(Station(key="lift", name="Lift"),),
    )


def _with_other_weeks(shop: Shop, chance: random.Random) -> Shop:
    """Every other shop has an evening more from a day on, holidays, Saturdays only for a while:
    any of them, on days that the life reaches."""
    if chance.random() < 0.5:
        return shop
    later: tuple[LaterWeek, ...] = ()
    ranges: list[DayRange] = []
    evening = DayHours(opens_minute=18 * 60, closes_minute=21 * 60)
    free = [day for day in range(5) if all(one.weekday != day for one in shop.week)]
    if chance.random() < 0.7:
        more = WeekSession(weekday=chance.choice(free), hours=evening)
        first = MONDAY.date() + dt.timedelta(days=chance.randint(2, 20))
        later = (LaterWeek(from_on=first, week=(*shop.week, more)),)
    begins = MONDAY.date() + dt.timedelta(days=chance.randint(1, 9))
    for name, days in (("holidays", chance.randint(1, 8)), ("winter hours", 14)):
        if chance.random() < 0.6:
            saturdays = tuple(one for one in shop.week if one.weekday == 5)
            ends = begins + dt.timedelta(days=days - 1)
            week = () if name == "holidays" else saturdays
            ranges.append(DayRange(first_on=begins, last_on=ends, name=name, week=week))
            begins = ends + dt.timedelta(days=chance.choice((1, 1, 5)))
    return replace(shop, later_weeks=later, ranges=tuple(ranges))


def _wait(chance: random.Random) -> float:
    return chance.choice(WAITS_HOURS) if chance.random() < 0.3 else 0.0


def _task(i: int, shop: Shop, now: dt.datetime, chance: random.Random) -> Task:
    kind = chance.choice((*("plain",) * 6, "one go", "helper", "outside", "oven"))
    likely = chance.choice((0.5, 1.0, 1.5, 2.25, 4.0, 6.0))
    if kind in ("one go", "helper"):
        likely = chance.choice((0.75, 1.5, 2.0))
    helped = kind == "helper" and longest_session_minutes(shop, now, helper=True) > 0
    hands = kind not in ("outside", "oven")
    return Task(
        key=f"t{i}",
        name=f"Task {i}",
        hours=_hours(likely, chance),
        subsystem=f"s{chance.randrange(3)}",
        setup=f"setup{chance.randrange(3)}" if hands and chance.random() < 0.5 else None,
        people=chance.choice((1, 1, shop.people)) if kind != "oven" else 0,
        in_one_go=kind == "one go",
        helper=helped,
        stations=(StationNeed(station="lift"),) if hands and chance.random() < 0.2 else (),
        outside_days=chance.choice((2.0, 3.5, 7.0)) if kind == "outside" else None,
        space_litres=chance.choice((0.0, 0.0, 5.0, 40.0)),
    )


def _hours(likely: float, chance: random.Random) -> ThreePoint:
    if chance.random() < 0.5:
        return ThreePoint.certain(likely)
    return ThreePoint(optimistic=likely * 0.75, most_likely=likely, pessimistic=likely * 1.25)


def _part(i: int, count: int, now: dt.datetime, chance: random.Random) -> Part:
    arrives = now + dt.timedelta(days=chance.randint(1, 12), hours=chance.choice((0, 11, 19.5)))
    return Part(
        key=f"p{i}",
        name=f"Part {i}",
        serves=(f"t{chance.randrange(count)}",),
        arrives_on=chance.choice((arrives, arrives.date())),
    )
