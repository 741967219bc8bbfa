"""Faults of what hangs on tasks: dependencies, parts, log entries, photographs."""

from collections.abc import Container, Iterator
from dataclasses import replace

from webapp.build.build_input import BuildInput, Dependency, Fault, Part
from webapp.build.checks.fault_words import Thing, shown
from webapp.build.limits import (
    MOST_COST,
    MOST_DAYS_AWAY,
    MOST_HOURS,
    MOST_WAIT_HOURS,
)
from webapp.build.precedence import loops_of

SHOWN_OF_A_LOOP = 12


def dependency_key(before: str, after: str) -> str:
    """What a fault of a dependency carries as its key."""
    return f"{before} -> {after}"


def dependency_faults(build: BuildInput) -> Iterator[Fault]:
    """Unknown ends, a task after itself, pairs entered twice, waits, and loops by name."""
    names = {task.key: _name(task.name, task.key) for task in build.tasks}
    seen: set[tuple[str, str]] = set()
    links: list[Dependency] = []
    for dependency in build.dependencies:
        before, after = dependency.before, dependency.after
        if _is_plain(dependency, names) and (before, after) not in seen:
            # Of tens of thousands almost all are: nothing to be said of them.
            seen.add((before, after))
            links.append(dependency)
            continue
        label = f"{names.get(before) or shown(before)} -> {names.get(after) or shown(after)}"
        thing = Thing(kind="dependency", key=dependency_key(before, after), name=label)
        if before == after:
            yield thing.fault("", "a task cannot come after itself. Take this out.")
        for field, key in {"before": before, "after": after}.items():
            if key not in names:
                yield _no_task(thing, field, key)
        if (before, after) in seen:
            yield thing.fault("", "this pair is entered twice. Keep one of the two.")
        seen.add((before, after))
        yield from thing.number_faults(
            "wait_hours", "the wait in hours", dependency.wait_hours, most=MOST_WAIT_HOURS
        )
        yield from thing.text_faults("why", dependency.why, long=True)
        if before != after and before in names and after in names:
            links.append(dependency)
    yield from _loop_faults(replace(build, dependencies=tuple(links)), names)


def _is_plain(dependency: Dependency, names: Container[str]) -> bool:
    """Whether it leads from one task to another and says nothing else."""
    before, after = dependency.before, dependency.after
    if dependency.wait_hours != 0 or dependency.why:
        return False
    return before != after and before in names and after in names


def _name(name: str, key: str) -> str:
    return shown(name if name.strip() else key)


def _loop_faults(build: BuildInput, names: dict[str, str]) -> Iterator[Fault]:
    for loop in loops_of(build):
        steps = [names[key] for key in loop]
        if len(steps) > SHOWN_OF_A_LOOP:
            left_out = len(steps) - SHOWN_OF_A_LOOP
            steps[SHOWN_OF_A_LOOP - 2 : -2] = [f"… {left_out:,} more …"]
        yield Fault(
            kind="dependency",
            key=dependency_key(loop[0], loop[1]),
            field="",
            text=f"Loop: {' -> '.join(steps)}. These tasks wait for each other in a ring. "
            "Take out one of these dependencies.",
        )


def part_faults(build: BuildInput) -> Iterator[Fault]:
    """Every fault of the parts; one that never comes is a gap in the plan, not a fault."""
    tasks = {task.key for task in build.tasks}
    for number, part in enumerate(build.parts, start=1):
        thing = Thing(kind="part", key=part.key, name=part.name, number=number)
        yield from thing.key_faults()
        yield from thing.text_faults("name", part.name, required=True)
        yield from thing.text_faults("supplier", part.supplier)
        yield from _part_number_faults(thing, part)
        for field, what, day in (
            ("arrives_on", "the arrival", part.arrives_on),
            ("promised_on", "the promised day", part.promised_on),
            ("ordered_on", "the day it was ordered", part.ordered_on),
        ):
            yield from thing.day_faults(field, what, day)
        seen: set[str] = set()
        for key in part.serves:
            if key not in tasks:
                yield thing.fault(
                    "serves",
                    f"there is no task {shown(key)} for it. "
                    "Pick a task that is in the build, or add it.",
                )
            elif key in seen:
                yield thing.fault("serves", f"the task {shown(key)} is listed twice. List it once.")
            seen.add(key)


def _part_number_faults(thing: Thing, part: Part) -> Iterator[Fault]:
    yield from thing.number_faults(
        "lead_days", "the days it takes to come", part.lead_days, most=MOST_DAYS_AWAY
    )
    yield from thing.number_faults("cost", "the cost", part.cost, most=MOST_COST)
    yield from thing.number_faults(
        "paid", "what was paid", part.paid, least=-MOST_COST, most=MOST_COST
    )


def log_faults(build: BuildInput) -> Iterator[Fault]:
    """Every fault of the hours that were logged."""
    names = {task.key: _name(task.name, task.key) for task in build.tasks}
    for entry in build.log:
        label = f"of {entry.on.isoformat()}, {names.get(entry.task) or shown(entry.task)}"
        thing = Thing(kind="log", key=entry.task, name=label)
        if entry.task not in names:
            yield _no_task(thing, "task", entry.task)
        yield from thing.day_faults("on", "the day", entry.on, now=build.now)
        yield from thing.number_faults("hours", "the hours worked", entry.hours, most=MOST_HOURS)
        yield from thing.number_faults(
            "setup_hours", "the hours of getting out", entry.setup_hours, most=MOST_HOURS
        )
        yield from thing.number_faults("left", "the hours left", entry.left, most=MOST_HOURS)


def photograph_faults(build: BuildInput) -> Iterator[Fault]:
    """Every fault of the photographs; whether their files are there is not known here."""
    names = {task.key: _name(task.name, task.key) for task in build.tasks}
    seen: set[tuple[str, str]] = set()
    for each in build.photographs:
        label = f"of {names.get(each.task) or shown(each.task)}"
        thing = Thing(kind="photograph", key=each.digest, name=label)
        if each.task not in names:
            yield _no_task(thing, "task", each.task)
        if (each.task, each.digest) in seen:
            yield thing.fault("", "the task has it twice. Keep it once.")
        seen.add((each.task, each.digest))
        yield from thing.text_faults("caption", each.caption)
        yield from thing.day_faults("added_on", "the day it was added", each.added_on)


def _no_task(thing: Thing, field: str, key: str) -> Fault:
    return thing.fault(
        field, f"there is no task {shown(key)}. Pick a task that is in the build, or add it."
    )
