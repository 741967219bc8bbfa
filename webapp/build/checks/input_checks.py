"""Every fault of a build at once, each with the thing's own name and the remedy."""

from collections.abc import Iterable, Iterator
from itertools import chain

from webapp.build.build_input import MEDIA, BuildInput, Fault
from webapp.build.by_key import find_by_key
from webapp.build.checks.count_checks import count_faults
from webapp.build.checks.data_sheet_checks import data_sheet_faults
from webapp.build.checks.earlier_record_checks import earlier_record_faults
from webapp.build.checks.fault_words import Thing, shown
from webapp.build.checks.first_start_checks import first_start_faults
from webapp.build.checks.link_checks import (
    dependency_faults,
    log_faults,
    part_faults,
    photograph_faults,
)
from webapp.build.checks.looked_at_checks import looked_at_faults
from webapp.build.checks.plumbing_checks import plumbing_faults
from webapp.build.checks.room_checks import room_faults
from webapp.build.checks.shop_checks import shop_faults
from webapp.build.checks.size_checks import size_faults
from webapp.build.checks.task_checks import task_faults
from webapp.build.checks.wish_checks import wish_faults, wish_size_faults
from webapp.build.house_rules import HOUSE_RULES
from webapp.build.limits import (
    LEAST_CONFIDENCE,
    MOST_CONFIDENCE,
    MOST_COST,
    MOST_CURRENCY_CHARACTERS,
    MOST_RANK,
)
from webapp.build.units import SHOP_UNITS


def faults_of(build: BuildInput) -> tuple[Fault, ...]:
    """Every fault of a build; () means that it can go to the planner.

    A part that never comes or a task that is held for ever is no fault: it is a gap in the
    plan, and the planner names it. Takes time in proportion to the build.
    """
    return tuple(
        chain(
            _build_faults(build),
            count_faults(build),
            shop_faults(build),
            _subsystem_faults(build),
            task_faults(build),
            dependency_faults(build),
            part_faults(build),
            wish_size_faults(build),
            wish_faults(build),
            log_faults(build),
            looked_at_faults(build),
            plumbing_faults(build),
            room_faults(build),
            data_sheet_faults(build),
            first_start_faults(build),
            photograph_faults(build),
            earlier_record_faults(build),
            size_faults(build),
            _shared_key_faults(build),
        )
    )


def _build_faults(build: BuildInput) -> Iterator[Fault]:
    thing = Thing(kind="build", key="", name=build.name)
    yield from thing.text_faults("name", build.name, required=True)
    yield from thing.text_faults("vehicle", build.vehicle)
    yield from thing.day_faults("now", "the moment it is planned from,", build.now)
    yield from thing.day_faults("starts_on", "the day it starts,", build.starts_on)
    yield from thing.day_faults("wanted_by", "the day it is wanted by,", build.wanted_by)
    yield from thing.number_faults(
        "confidence",
        "the share of cases that “firm” stands for",
        build.confidence,
        least=LEAST_CONFIDENCE,
        most=MOST_CONFIDENCE,
    )
    yield from _first_start_faults(thing, build)
    yield from thing.day_faults("kept_on", "the day its order was kept,", build.kept_on)
    yield from _kept_order_faults(thing, build)
    yield from _house_rules_faults(thing, build)
    yield from thing.text_faults("end_name", build.end_name)
    yield from thing.text_faults("currency", build.currency)
    if len(build.currency) > MOST_CURRENCY_CHARACTERS:
        yield thing.fault(
            "currency",
            f"the currency has {len(build.currency)} characters. Write its sign, or a word of "
            f"{MOST_CURRENCY_CHARACTERS} at most.",
        )
    yield from thing.number_faults(
        "money_limit", "the limit of money", build.money_limit, most=MOST_COST
    )
    if build.units not in SHOP_UNITS:
        yield thing.fault("units", f"its units are not known. Pick {', '.join(SHOP_UNITS)}.")
    yield from _starter_faults(build)


def _first_start_faults(thing: Thing, build: BuildInput) -> Iterator[Fault]:
    if build.first_start is None:
        yield thing.fault(
            "first_start",
            f"it has no {build.the_end}. Say which task is {build.the_end}: all work leads up to "
            "it.",
        )
        return
    task = find_by_key(build.tasks, build.first_start)
    if task is None:
        yield thing.fault(
            "first_start",
            f"its {build.the_end}, {shown(build.first_start)}, is not among the tasks. "
            "Pick a task that is in the build, or add it.",
        )
    elif task.set_aside_on is not None and task.finished_on is None:
        yield thing.fault(
            "first_start",
            f"its {build.the_end}, {shown(task.name or task.key)}, is set aside. "
            "Take it up again, or pick another task.",
        )


def _kept_order_faults(thing: Thing, build: BuildInput) -> Iterator[Fault]:
    if not build.kept_order:
        return
    tasks, seen = {task.key for task in build.tasks}, set[str]()
    for key in build.kept_order:
        if key not in tasks:
            yield thing.fault(
                "kept_order",
                f"its kept order names {shown(key)}, which is not among the tasks. "
                "Take it out of the order, or add the task.",
            )
        elif key in seen:
            yield thing.fault(
                "kept_order", f"its kept order names {shown(key)} twice. Name it once."
            )
        seen.add(key)


def _house_rules_faults(thing: Thing, build: BuildInput) -> Iterator[Fault]:
    rules = build.house_rules
    for rule in dict.fromkeys(rules):
        if rule not in HOUSE_RULES:
            yield thing.fault(
                "house_rules",
                f"its house rules name {shown(rule)}, which is none. "
                f"There are {', '.join(HOUSE_RULES)}.",
            )
        elif rules.count(rule) > 1:
            yield thing.fault(
                "house_rules", f"its house rules name {shown(rule)} twice. Name it once."
            )


def _starter_faults(build: BuildInput) -> Iterator[Fault]:
    thing = Thing(kind="build", key="", name=build.name)
    yield from thing.text_faults("starter_list", build.starter_list)
    for said in build.starter_answers:
        yield from thing.text_faults("starter_answers", said.question)
        yield from thing.text_faults("starter_answers", said.answer)
    for key in build.starter_left_out:
        yield from thing.text_faults("starter_left_out", key)


def _subsystem_faults(build: BuildInput) -> Iterator[Fault]:
    for number, subsystem in enumerate(build.subsystems, start=1):
        thing = Thing(kind="subsystem", key=subsystem.key, name=subsystem.name, number=number)
        yield from thing.key_faults()
        yield from thing.text_faults("name", subsystem.name, required=True)
        yield from thing.number_faults(
            "order",
            "its place in the working order",
            subsystem.order,
            least=-MOST_RANK,
            most=MOST_RANK,
        )
        if subsystem.medium not in MEDIA:
            yield thing.fault(
                "medium",
                f"the medium {shown(subsystem.medium)} is unknown. Pick one of {', '.join(MEDIA)}.",
            )


def _shared_key_faults(build: BuildInput) -> Iterator[Fault]:
    shop = build.shop
    yield from _shared_keys("setup", ((s.key, s.name) for s in shop.setups))
    yield from _shared_keys("station", ((s.key, s.name) for s in shop.stations))
    yield from _shared_keys("subsystem", ((s.key, s.name) for s in build.subsystems))
    yield from _shared_keys("task", ((t.key, t.name) for t in build.tasks))
    yield from _shared_keys("part", ((p.key, p.name) for p in build.parts))
    yield from _shared_keys("wish", ((w.key, w.text) for w in build.wishes))
    yield from _shared_keys("wish size", ((s.key, s.name) for s in build.wish_sizes))
    plumbing = build.plumbing
    yield from _shared_keys("component", ((c.key, c.name) for c in plumbing.components))
    yield from _shared_keys("circuit", ((c.key, c.name) for c in plumbing.circuits))
    yield from _shared_keys("run", ((r.key, r.name or r.key) for r in plumbing.runs))
    yield from _shared_keys("earlier record", ((r.key, r.name) for r in build.earlier_records))
    yield from _shared_keys("room", ((r.key, r.name) for r in build.rooms))
    yield from _shared_keys("wire", ((w.key, w.name) for w in build.data_sheet.wires))
    yield from _shared_keys("belt", ((b.key, b.name) for b in build.data_sheet.belts))


def _shared_keys(kind: str, entries: Iterable[tuple[str, str]]) -> Iterator[Fault]:
    first_named: dict[str, str] = {}
    for key, name in entries:
        if key not in first_named:
            first_named[key] = name
        elif key.strip():
            yield Thing(kind=kind, key=key, name=name).fault(
                "key",
                f"{shown(first_named[key])} has the key {shown(key)} already. "
                f"Give this {kind} another key.",
            )
