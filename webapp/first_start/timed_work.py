"""Checks that take their time: offered as tasks, so that the plan knows of the hours and waits.

A pressure test, a soak, a charge: an evening or a night before the key that nobody planned. Where
the build has a task for it, of the starter list or of one's own, nothing is offered.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from webapp.build.build_input import BuildInput, Dependency, Task
from webapp.build.by_key import find_by_key
from webapp.build.edited import Edited
from webapp.build.three_point import ThreePoint
from webapp.first_start.check_list import Check, CheckList
from webapp.first_start.desk import check_fault, lost, refused
from webapp.first_start.own_list import list_of_build
from webapp.first_start.standing import StartStanding


@dataclass(frozen=True, slots=True, kw_only=True)
class Timed:
    """Hours of hands, and the wait on the wall clock after them."""

    hours: ThreePoint
    wait_hours: float = 0.0
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TimedWork:
    """A check that is offered as a task."""

    check: Check
    timed: Timed


def _hours(low: float, likely: float, high: float) -> ThreePoint:
    return ThreePoint(optimistic=low, most_likely=likely, pessimistic=high)


_TEST = Timed(hours=_hours(0.25, 0.5, 1.5))
_CHARGE = Timed(hours=_hours(0.25, 0.25, 0.5), wait_hours=12, why="it charges, then rests")
_TIMED: Mapping[str, Mapping[str, Timed]] = {
    "engine": {
        "bores_oiled": Timed(hours=_hours(0.25, 0.5, 1), wait_hours=24, why="the oil soaks"),
        "coolant_pressure": _TEST,
        "servo_holds": _TEST,
        "fuel_held": _TEST,
        "coolant_in": Timed(hours=_hours(0.5, 1, 2)),
        "oil_in": Timed(hours=_hours(0.25, 0.5, 1)),
        "battery_full": _CHARGE,
    },
    "electric": {"coolant_named": _TEST, "vacuum_holds": _TEST, "lv_full": _CHARGE},
    "boat": {
        "fresh_closed": _TEST,
        "oil_in": Timed(hours=_hours(0.25, 0.5, 1)),
        "fresh_in": Timed(hours=_hours(0.5, 1, 2)),
        "battery_full": _CHARGE,
    },
}
"""Guesses from common practice, no source; the waits are those that the checks themselves say."""


def is_timed(checks: CheckList, check: Check) -> bool:
    """Whether a check may be a task of its own."""
    return check.key in _TIMED[checks.key]


def offered_work(build: BuildInput, standing: StartStanding) -> tuple[TimedWork, ...]:
    """The checks that take time and that no task of the build is for, in the order of the list."""
    timed = _TIMED[standing.checks.key]
    return tuple(
        TimedWork(check=one.check, timed=timed[one.check.key])
        for one in standing.all
        if one.check.key in timed
        and one.state not in ("dropped", "left out", "stands", "set aside")
        and not any(_tasks_for(build, one.check))
    )


def _tasks_for(build: BuildInput, check: Check) -> Iterator[Task]:
    named = {check.key, *(need.key for need in check.needs if need.kind == "task")}
    return (task for task in build.tasks if task.key in named)


def make_work(build: BuildInput, checks: CheckList, key: str) -> Edited[str]:
    """A check becomes a task before first start, its wait after it; made is the task's key.

    The check is signed once the task is finished.
    """
    check = find_by_key(list_of_build(build, checks).checks, key)
    timed = _TIMED[checks.key].get(key)
    if check is None or timed is None:
        return lost(build, "check", key)
    if any(_tasks_for(build, check)):
        return refused(build, check_fault(key, "", "There is a task for it already."))
    task = Task(
        key=key,
        name=check.text.rstrip("."),
        hours=timed.hours,
        subsystem=_subsystem(build, checks, check),
        caution=check.caution,
        notes=check.why,
        hours_guessed=True,
    )
    there = any(one.key == build.first_start for one in build.tasks)
    links = (
        (
            Dependency(
                before=key,
                after=build.first_start,
                wait_hours=timed.wait_hours,
                why=timed.why or "a check of first start",
            ),
        )
        if there and build.first_start is not None
        else ()
    )
    made = replace(build, tasks=(*build.tasks, task), dependencies=(*build.dependencies, *links))
    return Edited(build=made, made=key)


def _subsystem(build: BuildInput, checks: CheckList, check: Check) -> str | None:
    """The subsystem of the build that the check's circuit may lie in."""
    for one in build.subsystems:
        if check.circuit in checks.circuits_of_subsystem(f"{one.key} {one.name}"):
            return one.key
    return None
