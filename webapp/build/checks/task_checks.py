"""Faults of the tasks, each for itself and against what the shop has."""

import math
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace

from webapp.build.build_input import BuildInput, Fault, Task
from webapp.build.checks.fault_words import Thing, length_words, moment_words, shown
from webapp.build.checks.step_checks import measure_faults, step_faults
from webapp.build.hours_to_go import planned_seconds
from webapp.build.limits import (
    MOST_COST,
    MOST_DAYS_AWAY,
    MOST_HOURS,
    MOST_OF_A_STATION,
    MOST_PEOPLE,
    MOST_SPACE_LITRES,
)
from webapp.build.moments import is_after, workable_from
from webapp.build.shop import Shop
from webapp.build.time.session_lengths import longest_session_minutes


def task_faults(build: BuildInput) -> Iterator[Fault]:
    """Every fault of the tasks; what ties them to each other is looked at in `link_checks`."""
    subsystems = {subsystem.key for subsystem in build.subsystems}
    setups = {setup.key for setup in build.shop.setups}
    stations = {station.key: station.count for station in build.shop.stations}
    logged = {entry.task for entry in build.log if entry.bench_hours > 0}
    unclear: set[str] = set()
    for number, task in enumerate(build.tasks, start=1):
        thing = _thing(task, number)
        yield from thing.key_faults()
        yield from _word_faults(thing, task)
        yield from step_faults(thing, task)
        yield from measure_faults(thing, task)
        hours_faults = [*_hours_faults(thing, task)]
        if hours_faults:
            unclear.add(task.key)
        yield from hours_faults
        yield from _number_faults(thing, task)
        yield from _date_faults(thing, task, build)
        yield from _progress_faults(thing, task, task.key in logged)
        if task.subsystem is not None and task.subsystem not in subsystems:
            yield thing.fault(
                "subsystem",
                f"its subsystem {shown(task.subsystem)} is not among the subsystems. "
                "Pick another, or add it there.",
            )
        yield from _setup_faults(thing, task, setups)
        yield from _people_faults(thing, task, build.shop)
        yield from _station_faults(thing, task, stations)
    yield from _fit_faults(build, unclear)


def _thing(task: Task, number: int = 0) -> Thing:
    return Thing(kind="task", key=task.key, name=task.name, number=number)


def _word_faults(thing: Thing, task: Task) -> Iterator[Fault]:
    yield from thing.text_faults("name", task.name, required=True)
    yield from thing.text_faults("caution", task.caution, long=True)
    yield from thing.text_faults("notes", task.notes, long=True)


def _hours_faults(thing: Thing, task: Task) -> Iterator[Fault]:
    yield from thing.hours_faults("hours", "the hours", task.hours)
    yield from thing.number_faults("hours_left", "the hours left", task.hours_left, most=MOST_HOURS)


def _number_faults(thing: Thing, task: Task) -> Iterator[Fault]:
    yield from thing.number_faults(
        "outside_days", "the days away", task.outside_days, most=MOST_DAYS_AWAY
    )
    for field, words, value in (
        ("cost", "the cost", task.cost),
        ("offer_cost", "what somebody else takes for it", task.offer_cost),
    ):
        yield from thing.number_faults(field, words, value, most=MOST_COST)
    yield from thing.number_faults(
        "paid", "what was paid", task.paid, least=-MOST_COST, most=MOST_COST
    )
    yield from thing.number_faults(
        "offer_days", "the days somebody else takes", task.offer_days, most=MOST_DAYS_AWAY
    )
    yield from thing.number_faults(
        "space_litres", "the space it claims, in litres", task.space_litres, most=MOST_SPACE_LITRES
    )
    yield from thing.number_faults("people", "the people it needs", task.people, most=MOST_PEOPLE)


def _date_faults(thing: Thing, task: Task, build: BuildInput) -> Iterator[Fault]:
    yield from thing.day_faults("begun_on", "the begin", task.begun_on, now=build.now)
    yield from thing.day_faults("finished_on", "the finish", task.finished_on, now=build.now)
    yield from thing.day_faults("set_aside_on", "the day set aside", task.set_aside_on)
    if task.begun_on and task.finished_on and is_after(task.begun_on, task.finished_on):
        yield thing.fault(
            "finished_on",
            f"it is finished on {moment_words(task.finished_on)}, before it was begun on "
            f"{moment_words(task.begun_on)}. Correct one of the two.",
        )
    if task.finished_on and task.set_aside_on:
        yield thing.fault(
            "set_aside_on", "it is both finished and set aside. Take one of the two dates out."
        )


def _progress_faults(thing: Thing, task: Task, is_logged: bool) -> Iterator[Fault]:
    if task.begun_on is not None or task.finished_on is not None:
        return
    if task.hours_left is not None:
        yield thing.fault(
            "hours_left",
            "it has hours left but no date on which it was begun. "
            "Enter that date, or take the hours left out.",
        )
    if is_logged:
        yield thing.fault(
            "begun_on",
            "hours are logged on it but it has no date on which it was begun. Enter that date.",
        )


def _setup_faults(thing: Thing, task: Task, setups: set[str]) -> Iterator[Fault]:
    if task.setup is None:
        return
    if task.setup not in setups:
        yield thing.fault(
            "setup",
            f"its setup {shown(task.setup)} is not among the setups. "
            "Pick another, or add it to the shop.",
        )
    if task.people == 0 and task.outside_days is None:
        yield thing.fault(
            "setup",
            "it runs by itself (no people), so it cannot need a setup, which takes hands. "
            "Take the setup out, or enter 1 for people.",
        )


def _people_faults(thing: Thing, task: Task, shop: Shop) -> Iterator[Fault]:
    if not task.is_open or task.outside_days is not None:
        return
    if shop.people < task.people <= MOST_PEOPLE and shop.people >= 1:
        there = "1 person" if shop.people == 1 else f"{shop.people} people"
        yield thing.fault(
            "people",
            f"it needs {task.people} people, and the shop has {there}. Enter fewer, "
            "or ask for the helper instead, or enter more people for the shop.",
        )


def _station_faults(thing: Thing, task: Task, stations: dict[str, int]) -> Iterator[Fault]:
    if not task.stations:
        return
    asked = Counter(need.station for need in task.stations)
    for station, times in asked.items():
        if times > 1:
            yield thing.fault(
                "stations", f"the station {shown(station)} is listed twice. List it once."
            )
    for need in task.stations:
        name = shown(need.station)
        if need.station not in stations:
            yield thing.fault(
                "stations",
                f"the station {name} is not among the stations. "
                "Pick another, or add it to the shop.",
            )
            continue
        yield from thing.number_faults(
            "stations", f"how many it needs of {name}", need.count, least=1, most=MOST_OF_A_STATION
        )
        there = stations[need.station]
        if (
            task.is_open
            and task.outside_days is None
            and 1 <= there < need.count <= MOST_OF_A_STATION
        ):
            yield thing.fault(
                "stations",
                f"it needs {need.count} of the station {name}, and the shop has {there}. "
                "Enter fewer, or enter more of them for the shop.",
            )


def _fit_faults(build: BuildInput, unclear: set[str]) -> Iterator[Fault]:
    """Work that must lie within one session, or one stretch with the helper, and is too long."""
    bound = [
        task
        for task in build.tasks
        if task.is_open
        and task.outside_days is None
        and (task.in_one_go or task.helper)
        and task.key not in unclear
    ]
    if not bound or not build.shop.week:
        return
    hours_to_go = _hours_to_go(build, bound)
    since = workable_from(build)
    # What another build leaves it is no fault of the build: it is a gap in its plan.
    shop = replace(build.shop, given=())
    longest = longest_session_minutes(shop, since) / 60
    longest_helper = longest_session_minutes(shop, since, helper=True) / 60
    for task in bound:
        hours = hours_to_go[task.key]
        if task.helper:
            if hours > longest_helper:
                yield _thing(task).fault("helper", _too_long_for_helper(hours, longest_helper))
        elif hours > longest:
            yield _thing(task).fault(
                "in_one_go",
                f"it must be done in one go and takes {length_words(hours)}, but the "
                f"longest session ahead has {length_words(longest)}. "
                "Split the task, or plan a longer session.",
            )


def _hours_to_go(build: BuildInput, tasks: Iterable[Task]) -> dict[str, float]:
    log = tuple(entry for entry in build.log if 0 <= entry.hours < math.inf)
    seconds = planned_seconds(replace(build, tasks=tuple(tasks), log=log))
    return {key: value / 3600 for key, value in seconds.items()}


def _too_long_for_helper(hours: float, longest: float) -> str:
    if not longest:
        return (
            "it needs the helper, but there is no session with the helper. "
            "Mark a session of the shop week as one with the helper."
        )
    return (
        f"it needs the helper for {length_words(hours)}, but the longest stretch ahead "
        f"with the helper has {length_words(longest)}. "
        "Split the task, or plan a longer session with the helper."
    )
