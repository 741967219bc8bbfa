"""Invented workshop builds of any size, the same for the same seed.

Evenings and Saturdays, a helper on Saturdays; waits of 2 to 48 hours on 15% of the dependencies;
six setups over half of the tasks; arrivals for 10% of them; some work in one go, with the helper,
on the lift or done outside. Every task leads to first start.
"""

import datetime as dt
import random

from webapp.build.build_input import BuildInput, Dependency, Part, StationNeed, Subsystem, Task
from webapp.build.shop import DayHours, Setup, Shop, Station, WeekSession
from webapp.build.three_point import ThreePoint

NOW = dt.datetime(2026, 2, 9, 18, 0)
EVENING = DayHours(opens_minute=18 * 60 + 30, closes_minute=21 * 60 + 30)
SATURDAY = DayHours(opens_minute=9 * 60, closes_minute=17 * 60, helper=True)
SUBSYSTEMS = ("Mounts", "Air", "Coolant", "Fuel", "Steering", "Vacuum", "Heat", "Electrical", "End")


def workshop_build(count: int, seed: int = 1) -> BuildInput:
    """A build of `count` tasks, the last of them first start."""
    chance = random.Random(f"{count}/{seed}")
    tasks = [_task(i, count - 1, chance) for i in range(count - 1)]
    links = {
        (chance.randrange(max(0, i - 25), i), i)
        for i in range(1, count - 1)
        for _ in range(chance.choice((1, 1, 2)))
    }
    leaves = set(range(count - 1)) - {before for before, _ in links}
    last = Task(key="start", name="First start", hours=ThreePoint.certain(1), subsystem="s8")
    return BuildInput(
        name=f"Workshop build {count}",
        now=NOW,
        first_start="start",
        shop=_shop(chance),
        subsystems=tuple(
            Subsystem(key=f"s{i}", name=name, order=i) for i, name in enumerate(SUBSYSTEMS)
        ),
        tasks=(*tasks, last),
        dependencies=(
            *(
                Dependency(before=f"t{i}", after=f"t{j}", wait_hours=_wait(chance))
                for i, j in sorted(links)
            ),
            *(Dependency(before=f"t{i}", after="start") for i in sorted(leaves)),
        ),
        parts=tuple(
            Part(
                key=f"p{i}",
                name=f"Part {i}",
                serves=(f"t{chance.randrange(count - 1)}",),
                arrives_on=NOW.date() + dt.timedelta(days=chance.randrange(60)),
            )
            for i in range(count // 10)
        ),
    )


def _wait(chance: random.Random) -> float:
    return chance.choice((2.0, 12.0, 24.0, 48.0)) if chance.random() < 0.15 else 0.0


def _shop(chance: random.Random) -> Shop:
    evenings = (WeekSession(weekday=day, hours=EVENING) for day in (1, 3))
    return Shop(
        week=(*evenings, WeekSession(weekday=5, hours=SATURDAY)),
        setups=tuple(
            Setup(key=f"setup{i}", name=f"Setup {i}", hours=chance.choice((0.25, 0.5, 0.75)))
            for i in range(6)
        ),
        stations=(Station(key="lift", name="Lift"),),
    )


def _task(i: int, count: int, chance: random.Random) -> Task:
    in_one_go = chance.random() < 0.15
    likely = chance.choice((1.0, 2.0) if in_one_go else (1.0, 1.5, 2.0, 3.0, 4.0, 6.0))
    return Task(
        key=f"t{i}",
        name=f"Task {i}",
        hours=ThreePoint(
            optimistic=likely * 0.75,
            most_likely=likely,
            pessimistic=likely * (1.25 if in_one_go else 1.75),
        ),
        subsystem=f"s{i * len(SUBSYSTEMS) // count}",
        setup=f"setup{chance.randrange(6)}" if chance.random() < 0.5 else None,
        in_one_go=in_one_go,
        helper=likely <= 3 and chance.random() < 0.05,
        stations=(StationNeed(station="lift"),) if chance.random() < 0.1 else (),
        outside_days=chance.choice((3.0, 7.0)) if chance.random() < 0.03 else None,
        space_litres=chance.choice((0.0, 0.0, 5.0, 20.0, 80.0)),
    )
