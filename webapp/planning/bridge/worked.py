"""Hours worked on a task on one date, getting out told apart."""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from webapp.build.build_input import BuildInput, LogEntry, Task
from webapp.build.setups_out import SetupKeys, out_after

NO_HOURS = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Worked:
    """An entry of the log: `setup_hours` went into getting the setup out, not among `hours`."""

    task: str
    on: dt.date
    hours: float
    setup_hours: float = 0.0


def worked_by(log: Iterable[LogEntry]) -> list[Worked]:
    """What a log says was worked."""
    return [
        Worked(
            task=entry.task,
            on=entry.on,
            hours=entry.hours,
            setup_hours=entry.setup_hours,
        )
        for entry in log
    ]


def told_apart(
    entries: Iterable[Worked],
    tasks: Mapping[str, Task],
    setups: Mapping[str, float],
    *,
    out: SetupKeys,
    people: int,
    rest: dict[str, float] | None = None,
) -> list[Worked]:
    """Entries in which getting out stands apart, also where the log has it among the hours.

    A task whose setup was not out, and of whose getting out nothing was said, took the setup's
    hours for it first. Where more than one work, the log does not tell in which order: only the
    first entry of a task is looked at. `out` are the setups that were out before, `rest` hours
    still to get out of, by task key.
    """
    rest = {} if rest is None else rest
    seen: set[str] = set()
    found = []
    for entry in entries:
        task = tasks.get(entry.task)
        if task is None or task.setup is None or task.setup not in setups:
            found.append(entry)
            continue
        key = task.key
        if entry.setup_hours > NO_HOURS:
            rest.pop(key, None)
        else:
            if task.setup not in out and (people == 1 or key not in seen):
                rest[key] = setups[task.setup]
            getting_out = min(rest.get(key, 0.0), entry.hours)
            entry = replace(entry, hours=entry.hours - getting_out, setup_hours=getting_out)
            left = rest.pop(key, 0.0) - getting_out
            if left > NO_HOURS:
                rest[key] = left
        found.append(entry)
        seen.add(key)
        out = out_after(out, (task.setup,), people)
    return found


def setup_hours_of(*builds: BuildInput) -> dict[str, float]:
    """The hours of every setup; of one that two builds know, as the first has it."""
    return {s.key: s.hours for build in reversed(builds) for s in build.shop.setups}
