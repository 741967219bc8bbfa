"""Random changes of a build, each by a verb of the pages or as one of their forms makes it."""

import datetime as dt
from collections.abc import Callable
from dataclasses import replace
from random import Random

from webapp.build.build_input import (
    MEASURE_KINDS,
    BuildInput,
    Dependency,
    LogEntry,
    Measure,
    Part,
    Photograph,
    StationNeed,
    Step,
    Subsystem,
    Task,
)
from webapp.build.by_key import find_by_key, replaced_by_key
from webapp.build.earlier_record import EarlierKind, EarlierRecord
from webapp.build.shop import (
    DayException,
    DayHours,
    DayRange,
    LaterWeek,
    Setup,
    Station,
    WeekSession,
)
from webapp.build.three_point import ThreePoint
from webapp.build.verbs.earlier_records import with_record, without_record
from webapp.build.verbs.log_entries import with_log_entry, without_log_entry
from webapp.build.verbs.steps import with_step_ticked
from webapp.build.verbs.task_links import with_links, with_parts, without_task
from webapp.build.verbs.wish_decisions import accept, take_back
from webapp.build.verbs.wish_tasks import fresh_key
from webapp.build.verbs.work import OUTCOMES, Stop, begun_build, finished_build, stopped_build
from webapp.build.wish import WISH_WAYS, Wish, WishDecision, WishPart

RandomChange = Callable[[BuildInput, Random], BuildInput]
"""A change; the build itself where there is nothing to be changed in that way."""


def _hours(chance: Random) -> ThreePoint:
    low, likely, high = sorted(round(chance.uniform(0.1, 9), 2) for _ in range(3))
    return ThreePoint(optimistic=low, most_likely=likely, pessimistic=high)


def begin(build: BuildInput, chance: Random) -> BuildInput:
    open_keys = [task.key for task in build.tasks if task.is_open]
    return begun_build(build, chance.choice(open_keys), now=build.now) if open_keys else build


def stop(build: BuildInput, chance: Random) -> BuildInput:
    if build.on_bench is None:
        return build
    worked, left = chance.randint(1, 9) / 4, chance.randint(1, 9) / 4
    meant = Stop(outcome=chance.choice(OUTCOMES), worked_hours=worked, left_hours=left)
    on = build.now.date()
    return stopped_build(build, build.on_bench.task, meant, on=on, now=build.now)


def finish(build: BuildInput, chance: Random) -> BuildInput:
    return finished_build(build, chance.choice(build.tasks).key, now=build.now)


def log_hours(build: BuildInput, chance: Random) -> BuildInput:
    on = build.now.date() - dt.timedelta(days=chance.randint(0, 2))
    entry = LogEntry(task=chance.choice(build.tasks).key, on=on, hours=chance.choice((1.0, 2.0)))
    return with_log_entry(build, entry)


def correct_hours(build: BuildInput, chance: Random) -> BuildInput:
    if not build.log:
        return build
    place = chance.randrange(len(build.log))
    entry = replace(build.log[place], hours=chance.choice((1.0, 2.0, 3.5)))
    return with_log_entry(build, entry, place=place)


def take_hours_out(build: BuildInput, chance: Random) -> BuildInput:
    return without_log_entry(build, chance.randrange(len(build.log))) if build.log else build


def enter_task(build: BuildInput, chance: Random) -> BuildInput:
    key = fresh_key("new", {task.key for task in build.tasks})
    stations = tuple(
        StationNeed(station=one.key) for one in build.shop.stations if chance.random() < 0.5
    )
    task = Task(key=key, name=f"New {key}", hours=_hours(chance), stations=stations)
    link = Dependency(before=key, after=chance.choice(build.tasks).key, wait_hours=1.5)
    return replace(build, tasks=(*build.tasks, task), dependencies=(*build.dependencies, link))


def edit_task(build: BuildInput, chance: Random) -> BuildInput:
    task = chance.choice(build.tasks)
    subsystems = (None, *(one.key for one in build.subsystems))
    changed = replace(
        task,
        name=chance.choice((task.name, f"{task.name}, again")),
        hours=chance.choice((task.hours, _hours(chance))),
        subsystem=chance.choice(subsystems),
        people=chance.randint(1, 2),
    )
    return replace(build, tasks=replaced_by_key(build.tasks, changed))


def tick_step(build: BuildInput, chance: Random) -> BuildInput:
    steps = [(task.key, step) for task in build.tasks for step in task.steps]
    if not steps:
        return build
    key, step = chance.choice(steps)
    return with_step_ticked(build, key, step.text, done=not step.done)


def edit_steps(build: BuildInput, chance: Random) -> BuildInput:
    """Steps and measures put into another order, some left out, some new."""
    task = chance.choice(build.tasks)
    steps = [*task.steps, *(Step(text=f"Step {chance.randint(1, 6)}") for _ in range(2))]
    measures = [
        *task.measures,
        Measure(
            kind=chance.choice(MEASURE_KINDS), name=f"Bolts {chance.randint(1, 3)}", value="45 Nm"
        ),
    ]
    chance.shuffle(steps)
    told = {step.text: step for step in steps if chance.random() < 0.8}
    named = {(one.kind, one.name): one for one in measures if chance.random() < 0.8}
    changed = replace(task, steps=tuple(told.values()), measures=tuple(named.values()))
    return replace(build, tasks=replaced_by_key(build.tasks, changed))


def link_tasks(build: BuildInput, chance: Random) -> BuildInput:
    key = chance.choice(build.tasks).key
    others = [task.key for task in build.tasks if task.key != key]
    befores = tuple(
        Dependency(before=other, after=key) for other in others if chance.random() < 0.2
    )
    afters = tuple(link for link in build.dependencies if link.before == key)
    needed = frozenset(part.key for part in build.parts if chance.random() < 0.4)
    return replace(
        build,
        dependencies=with_links(build.dependencies, key, befores, afters),
        parts=with_parts(build.parts, key, needed),
    )


def remove_task(build: BuildInput, chance: Random) -> BuildInput:
    keys = [task.key for task in build.tasks if task.key != build.first_start]
    if not keys:
        return build
    return without_task(build, chance.choice(keys), keep_order=chance.random() < 0.5)


def enter_part(build: BuildInput, chance: Random) -> BuildInput:
    key = fresh_key("bolt", {part.key for part in build.parts})
    part = Part(key=key, name="Bolt", serves=(chance.choice(build.tasks).key,), lead_days=3.0)
    return replace(build, parts=(*build.parts, part))


def edit_part(build: BuildInput, chance: Random) -> BuildInput:
    if not build.parts:
        return build
    part = chance.choice(build.parts)
    if chance.random() < 0.3:
        return replace(build, parts=tuple(one for one in build.parts if one is not part))
    changed = replace(part, arrived=not part.arrived, arrives_on=build.now, cost=12.5)
    return replace(build, parts=replaced_by_key(build.parts, changed))


def change_money(build: BuildInput, chance: Random) -> BuildInput:
    """What something costs, what was paid for it, the currency, the limit."""
    task, sum_of = chance.choice(build.tasks), chance.randint(-500, 5_000) / 100
    changed = replace(task, cost=abs(sum_of), paid=chance.choice((None, sum_of)))
    build = replace(build, tasks=replaced_by_key(build.tasks, changed))
    if build.parts:
        part = replace(chance.choice(build.parts), paid=chance.choice((None, sum_of)))
        build = replace(build, parts=replaced_by_key(build.parts, part))
    if build.wishes:
        wish = replace(chance.choice(build.wishes), cost=abs(sum_of))
        build = replace(build, wishes=replaced_by_key(build.wishes, wish))
    limit = chance.choice((None, 1_000.0, 2_000.5))
    return replace(build, currency=chance.choice(("", "kr", "€")), money_limit=limit)


def log_wish(build: BuildInput, chance: Random) -> BuildInput:
    key = fresh_key("idea", {wish.key for wish in build.wishes})
    parts = tuple(WishPart(name="Lamp", lead_days=4.0) for _ in range(chance.randint(0, 2)))
    wish = Wish(key=key, text="Another lamp", logged_on=build.now.date(), parts=parts)
    return replace(build, wishes=(*build.wishes, wish))


def decide_wish(build: BuildInput, chance: Random) -> BuildInput:
    undecided = [wish for wish in build.wishes if wish.decision is None]
    if not undecided:
        return build
    decision = WishDecision(way=chance.choice(WISH_WAYS), decided_on=build.now.date(), why="so")
    return accept(build, chance.choice(undecided), decision)


def take_decision_back(build: BuildInput, chance: Random) -> BuildInput:
    decided = [wish for wish in build.wishes if wish.decision is not None]
    return take_back(build, chance.choice(decided)) or build if decided else build


def remove_wish(build: BuildInput, chance: Random) -> BuildInput:
    made = {task.wish for task in build.tasks}
    free = [wish for wish in build.wishes if wish.key not in made]
    gone = chance.choice(free) if free else None
    return replace(build, wishes=tuple(wish for wish in build.wishes if wish is not gone))


def change_week(build: BuildInput, chance: Random) -> BuildInput:
    opens = chance.randint(8, 12) * 60
    week = tuple(
        WeekSession(
            weekday=day,
            hours=DayHours(opens_minute=opens, closes_minute=opens + 240, helper=day == 5),
        )
        for day in sorted(chance.sample(range(7), 4))
    )
    return replace(build, shop=replace(build.shop, week=(*week, *build.shop.week[:0])))


def change_day(build: BuildInput, chance: Random) -> BuildInput:
    date = build.now.date() + dt.timedelta(days=chance.randint(0, 3))
    others = tuple(day for day in build.shop.days if day.date != date)
    hours = DayHours(opens_minute=600, closes_minute=60 * chance.randint(12, 20))
    day = DayException(date=date, sessions=chance.choice(((), (hours,))))
    days = others if chance.random() < 0.3 else (*others, day)
    return replace(build, shop=replace(build.shop, days=days))


def change_later_week(build: BuildInput, chance: Random) -> BuildInput:
    first = build.now.date() + dt.timedelta(days=chance.randint(-3, 3))
    others = tuple(one for one in build.shop.later_weeks if one.from_on != first)
    opens = chance.randint(8, 12) * 60
    hours = DayHours(opens_minute=opens, closes_minute=opens + 240, helper=True)
    week = tuple(WeekSession(weekday=day, hours=hours) for day in sorted({1, chance.randint(2, 6)}))
    later = others if chance.random() < 0.3 else (*others, LaterWeek(from_on=first, week=week))
    return replace(build, shop=replace(build.shop, later_weeks=later))


def change_range(build: BuildInput, chance: Random) -> BuildInput:
    first = build.now.date() + dt.timedelta(days=10 * chance.randint(1, 4))
    others = tuple(one for one in build.shop.ranges if one.first_on != first)
    last = first + dt.timedelta(days=chance.randint(0, 9))
    week = chance.choice(((), build.shop.week))
    days = DayRange(first_on=first, last_on=last, name=chance.choice(("", "away")), week=week)
    ranges = others if chance.random() < 0.3 else (*others, days)
    return replace(build, shop=replace(build.shop, ranges=ranges))


def change_hands(build: BuildInput, chance: Random) -> BuildInput:
    keys = [setup.key for setup in build.shop.setups]
    out = tuple(chance.sample(keys, chance.randint(0, min(2, len(keys)))))
    return replace(build, shop=replace(build.shop, people=chance.randint(2, 3), setups_out=out))


def change_lists(build: BuildInput, chance: Random) -> BuildInput:
    """Setups, stations and subsystems: one more of each, ranks exchanged."""
    key = fresh_key("more", {one.key for one in build.subsystems})
    shop = replace(
        build.shop,
        setups=(*build.shop.setups, Setup(key=f"{key}-s", name="Jig", hours=0.5)),
        stations=(*build.shop.stations, Station(key=f"{key}-t", name="Stand", count=2)),
    )
    if chance.random() < 0.5:
        shop = build.shop
    subsystems = [replace(one, order=chance.randint(0, 9)) for one in build.subsystems]
    return replace(
        build,
        shop=shop,
        subsystems=(*subsystems, Subsystem(key=key, name="More", order=chance.randint(0, 9))),
    )


def remove_subsystem(build: BuildInput, chance: Random) -> BuildInput:
    if not build.subsystems:
        return build
    gone = chance.choice(build.subsystems).key
    tasks = tuple(
        replace(task, subsystem=None) if task.subsystem == gone else task for task in build.tasks
    )
    left = tuple(one for one in build.subsystems if one.key != gone)
    return replace(build, tasks=tasks, subsystems=left)


def change_facts(build: BuildInput, chance: Random) -> BuildInput:
    return replace(
        build,
        vehicle=chance.choice(("van", "estate")),
        wanted_by=dt.date(2026, 8, chance.randint(1, 28)),
        confidence=chance.choice((0.7, 0.9)),
        attended=chance.random() < 0.5,
        wish_sizes=build.wish_sizes[: chance.randint(1, 4)],
    )


def keep_order(build: BuildInput, chance: Random) -> BuildInput:
    order = [task.key for task in build.tasks]
    chance.shuffle(order)
    kept = tuple(order[: chance.randint(0, len(order))])
    return replace(
        build,
        kept_order=kept,
        kept_on=build.now.date() if kept else None,
        kept_setup_first=bool(kept) and chance.random() < 0.5,
    )


def shuffle(build: BuildInput, chance: Random) -> BuildInput:
    """Another order of entry, of two lists."""
    tasks, log = list(build.tasks), list(build.log)
    chance.shuffle(tasks)
    chance.shuffle(log)
    return replace(build, tasks=tuple(tasks), log=tuple(log))


def photograph(build: BuildInput, chance: Random) -> BuildInput:
    """Add a photograph, say what one shows, or take it out."""
    there = build.photographs
    task, digest = chance.choice(build.tasks).key, chance.choice("0123456789abcdef") * 64
    if there and chance.random() < 0.6:
        one = chance.choice(there)
        rest = tuple(each for each in there if each is not one)
        said = replace(one, caption=chance.choice(("dry fit", "hose labels", "")))
        return replace(build, photographs=rest if chance.random() < 0.5 else (*rest, said))
    if any((each.task, each.digest) == (task, digest) for each in there):
        return build
    new = Photograph(
        task=task,
        digest=digest,
        width_px=chance.randint(1, 2000),
        height_px=chance.randint(1, 2000),
        size_bytes=chance.randint(600, 900_000),
        added_on=build.now.date(),
    )
    return replace(build, photographs=(*there, new))


def change_earlier_record(build: BuildInput, chance: Random) -> BuildInput:
    """Take a record along, renew it, switch it or let it go."""
    key = chance.choice(("one", "two"))
    there = find_by_key(build.earlier_records, key)
    if there is not None and chance.random() < 0.3:
        return without_record(build, key)
    if there is not None and chance.random() < 0.5:
        switched = replace(there, counts=not there.counts)
        return replace(build, earlier_records=replaced_by_key(build.earlier_records, switched))
    kinds = tuple(
        EarlierKind(
            name=name,
            tasks=4,
            actual_hours=chance.choice((9.0, 12.5)),
            expected_hours=10.0,
            worth=3.5,
            log_squares=0.25,
        )
        for name in chance.sample(("", "Jig", "TIG welder"), chance.randint(0, 3))
    )
    record = EarlierRecord(
        key=key,
        name=key.capitalize(),
        taken_on=build.now.date(),
        kinds=kinds,
        weeks=chance.randint(1, 5),
        workable_hours=40.0,
        worked_hours=chance.choice((30.0, 41.5)),
    )
    return with_record(build, record)


RANDOM_CHANGES: tuple[RandomChange, ...] = (
    *(begin, stop, finish, log_hours, correct_hours, take_hours_out),
    *(enter_task, edit_task, link_tasks, remove_task, enter_part, edit_part),
    *(edit_steps, tick_step),
    *(log_wish, decide_wish, take_decision_back, remove_wish),
    change_money,
    *(change_week, change_day, change_later_week, change_range),
    *(change_hands, change_lists, remove_subsystem),
    *(change_facts, keep_order, shuffle, photograph, change_earlier_record),
)
