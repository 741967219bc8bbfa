"""Pairs of builds a stretch of life apart, lived as planned but for one planted cause."""

import datetime as dt
import random
from dataclasses import dataclass, replace
from typing import Literal

from tests.lives.life_builds import life_build
from tests.lives.living import AS_PLANNED, News, Truth, lived
from webapp.build.build_input import BuildInput, Part, Task
from webapp.build.by_key import get_by_key, replaced_by_key
from webapp.build.moments import moment_at_start
from webapp.build.three_point import ThreePoint
from webapp.build.time.shop_calendar import sessions_on
from webapp.build.verbs.wish_decisions import accept
from webapp.build.wish import Wish, WishDecision, WishPart
from webapp.planning.chances.pace import AS_ESTIMATED, Pace, paced_seconds
from webapp.planning.order.job_order import make_plan
from webapp.planning.order.plan import PlannedTask
from webapp.planning.simulator.work_arrays import lay_out

Kind = Literal["as planned", "estimate", "missed", "late part", "late outside", "wish"]
KINDS: tuple[Kind, ...] = (
    "as planned",
    "estimate",
    "missed",
    "late part",
    "late outside",
    "wish",
)
CAUSE_OF: dict[Kind, str] = {
    "estimate": "estimates",
    "missed": "shop_time",
    "late part": "parts",
    "late outside": "parts",
    "wish": "scope",
}
"""The one cause that may have a share; none where everything went as planned."""
DAY = dt.timedelta(days=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """Two snapshots of one life, and what was planted in between."""

    seed: int
    kind: Kind
    earlier: BuildInput
    later: BuildInput
    pace: Pace


@dataclass(frozen=True, slots=True, kw_only=True)
class Beginning:
    """A build up to the earlier snapshot, how it is planned to go on, and up to when it will."""

    seed: int
    build: BuildInput
    tasks: tuple[PlannedTask, ...]
    until: dt.datetime
    pace: Pace


def beginning(seed: int, pace: Pace = AS_ESTIMATED) -> Beginning | None:
    """Half of the lives are looked at from their first plan, half from somewhere on the way.

    None where first start is done by then.
    """
    chance = random.Random(f"beginning {seed}")
    build = life_build(seed)
    if chance.random() < 0.5:
        build = lived(build, _moment(build.now, chance, most_days=8), Truth(pace=pace))
    if not get_by_key(build.tasks, "start").is_open:
        return None
    seconds = paced_seconds(build, pace.factors, pace.factor)
    plan = make_plan(build, work=lay_out(build, work_seconds=seconds))
    return Beginning(
        seed=seed,
        build=build,
        tasks=plan.tasks,
        until=_moment(build.now, chance, most_days=9),
        pace=pace,
    )


def _moment(since: dt.datetime, chance: random.Random, *, most_days: int) -> dt.datetime:
    """Midnight, Sunday evening or any minute."""
    day = moment_at_start(since.date() + DAY * chance.randint(3, most_days))
    match chance.choice(("midnight", "sunday", "minute")):
        case "sunday":
            return day + DAY * (6 - day.weekday()) + dt.timedelta(hours=20)
        case "minute":
            return day + dt.timedelta(minutes=chance.randrange(1440))
        case _:
            return day


def planted(begun: Beginning, kind: Kind) -> Pair | None:
    """Live on to the later snapshot with one cause planted; None where it has no place."""
    chance = random.Random(f"{kind} {begun.seed}")
    truth = _truth(begun, kind, chance)
    if truth is None:
        return None
    return Pair(
        seed=begun.seed,
        kind=kind,
        earlier=begun.build,
        later=lived(begun.build, begun.until, replace(truth, pace=begun.pace)),
        pace=begun.pace,
    )


def _truth(begun: Beginning, kind: Kind, chance: random.Random) -> Truth | None:
    match kind:
        case "as planned":
            return AS_PLANNED
        case "estimate":
            return _longer(begun, chance)
        case "missed":
            return _missed(begun, chance)
        case "late part":
            return _late_part(begun, chance)
        case "late outside":
            return _late_outside(begun, chance)
        case "wish":
            return _wish(begun, chance)


def _longer(begun: Beginning, chance: random.Random) -> Truth | None:
    tasks = [
        p.key
        for p in begun.tasks
        if p.begins < begun.until and p.for_first_start and _takes_hands(_task(begun, p.key))
    ]
    return Truth(hours={chance.choice(tasks): 1.5}) if tasks else None


def _missed(begun: Beginning, chance: random.Random) -> Truth | None:
    dates = [
        begun.build.now.date() + DAY * i
        for i in range((begun.until - begun.build.now).days)
        if sessions_on(begun.build, begun.build.now.date() + DAY * i)
    ]
    return Truth(missed=frozenset({chance.choice(dates)})) if dates else None


def _late_part(begun: Beginning, chance: random.Random) -> Truth | None:
    """It does not come on its day; then the person is told of another one."""
    parts = [
        part
        for part in begun.build.parts
        if not part.arrived
        and part.arrives_on is not None
        and begun.build.now < moment_at_start(part.arrives_on) < begun.until
    ]
    if not parts:
        return None
    part = chance.choice(parts)
    assert part.arrives_on is not None
    promised = moment_at_start(part.arrives_on)
    comes = promised + DAY * chance.randint(2, 9)

    def told(build: BuildInput) -> BuildInput:
        known: Part = replace(get_by_key(build.parts, part.key), arrives_on=comes)
        return replace(build, parts=replaced_by_key(build.parts, known))

    return Truth(arrivals={part.key: comes}, news=(News(at=promised, verb=told),))


def _late_outside(begun: Beginning, chance: random.Random) -> Truth | None:
    """It is not back when it should be; then the person is told how long it takes."""
    out = [
        p
        for p in begun.tasks
        if _task(begun, p.key).outside_days is not None and p.ends < begun.until
    ]
    if not out:
        return None
    late = chance.choice(out)
    days = (_task(begun, late.key).outside_days or 0) + chance.randint(2, 6)

    def told(build: BuildInput) -> BuildInput:
        known: Task = replace(get_by_key(build.tasks, late.key), outside_days=days)
        return replace(build, tasks=replaced_by_key(build.tasks, known))

    return Truth(outside_days={late.key: days}, news=(News(at=late.ends, verb=told),))


def _wish(begun: Beginning, chance: random.Random) -> Truth | None:
    build = begun.build
    minutes = (begun.until - build.now) // dt.timedelta(minutes=1)
    at = build.now + dt.timedelta(minutes=chance.randrange(1, minutes))
    hours = chance.choice((1.5, 3.0, 7.0))
    wish = Wish(
        key="wish",
        text="A lamp over the bench",
        logged_on=build.now.date(),
        subsystem=chance.choice((None, "s0", "s2")),
        after=chance.choice((None, *(task.key for task in build.tasks[:-1]))),
        hours=ThreePoint(optimistic=hours - 0.5, most_likely=hours, pessimistic=hours + 0.5),
        setup=chance.choice((None, "setup1")),
        parts=chance.choice(((), (WishPart(name="Lamp", lead_days=4),))),
    )
    decision = WishDecision(way="fit now", decided_on=at.date())

    def accepted(build: BuildInput) -> BuildInput:
        return accept(replace(build, wishes=(*build.wishes, wish)), wish, decision)

    return Truth(news=(News(at=at, verb=accepted),))


def _task(begun: Beginning, key: str) -> Task:
    return get_by_key(begun.build.tasks, key)


def _takes_hands(task: Task) -> bool:
    return task.outside_days is None and task.people > 0 and task.hours.expected > 0
