"""Faults of a build that holds more of something than the program answers for in time."""

from collections.abc import Iterator, Sized

from webapp.build.build_input import BuildInput, Fault
from webapp.build.checks.fault_words import Thing
from webapp.build.limits import (
    MOST_ANSWERS,
    MOST_DAY_EXCEPTIONS,
    MOST_DEPENDENCIES,
    MOST_EARLIER_RECORDS,
    MOST_GIVEN_AWAY,
    MOST_LATER_WEEKS,
    MOST_LOG_ENTRIES,
    MOST_LOOKED_AT,
    MOST_MEASURES,
    MOST_PARTS,
    MOST_PHOTOGRAPHS,
    MOST_RANGES,
    MOST_ROOMS,
    MOST_SETUPS,
    MOST_STATIONS,
    MOST_STEPS,
    MOST_SUBSYSTEMS,
    MOST_TASKS,
    MOST_WISHES,
)


def count_faults(build: BuildInput) -> Iterator[Fault]:
    """One fault for each kind of thing there are too many of."""
    shop = build.shop
    steps = [step for task in build.tasks for step in task.steps]
    measures = [measure for task in build.tasks for measure in task.measures]
    counted: tuple[tuple[str, str, Sized, int], ...] = (
        ("tasks", "tasks", build.tasks, MOST_TASKS),
        ("steps", "steps of tasks", steps, MOST_STEPS),
        ("measures", "torques and sizes of tasks", measures, MOST_MEASURES),
        ("dependencies", "dependencies", build.dependencies, MOST_DEPENDENCIES),
        ("parts", "parts", build.parts, MOST_PARTS),
        ("wishes", "wishes", build.wishes, MOST_WISHES),
        ("log", "log entries", build.log, MOST_LOG_ENTRIES),
        ("photographs", "photographs", build.photographs, MOST_PHOTOGRAPHS),
        ("subsystems", "subsystems", build.subsystems, MOST_SUBSYSTEMS),
        ("setups", "setups", shop.setups, MOST_SETUPS),
        ("stations", "stations", shop.stations, MOST_STATIONS),
        ("starter_answers", "answers to its starter list", build.starter_answers, MOST_ANSWERS),
        ("starter_left_out", "things left out of it", build.starter_left_out, MOST_TASKS),
        ("rooms", "rooms", build.rooms, MOST_ROOMS),
        (
            "earlier_records",
            "records of earlier builds",
            build.earlier_records,
            MOST_EARLIER_RECORDS,
        ),
        ("looked_at", "things looked at", build.looked_at, MOST_LOOKED_AT),
        ("days", "dates with hours of their own", shop.days, MOST_DAY_EXCEPTIONS),
        ("later_weeks", "shop weeks with a first day", shop.later_weeks, MOST_LATER_WEEKS),
        ("ranges", "ranges of days", shop.ranges, MOST_RANGES),
        ("given", "sessions of other builds", shop.given, MOST_GIVEN_AWAY),
    )
    thing = Thing(kind="build", key="", name=build.name)
    for field, words, things, most in counted:
        yield from thing.count_faults(field, words, things, most)
