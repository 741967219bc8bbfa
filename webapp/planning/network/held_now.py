"""What keeps a task from being begun this moment: worked out, never stored."""

import datetime as dt
from collections import defaultdict
from dataclasses import dataclass
from typing import Literal

from webapp.build.build_input import BuildInput, Moment
from webapp.build.due_days import due_of
from webapp.build.moments import moment_at_start
from webapp.planning.network.outside_holds import finished_waits, holding_parts


@dataclass(frozen=True, slots=True, kw_only=True)
class Holding:
    """One thing a task still waits for.

    `what` is the key of the task before (dependency, wait) or of the part. `until` is when it
    clears; None where that is not known from the facts alone.
    """

    kind: Literal["dependency", "wait", "part"]
    what: str
    until: Moment | None = None


def held_now(build: BuildInput) -> dict[str, tuple[Holding, ...]]:
    """Every open task that can not be begun now, with all it waits for.

    A task before it that is not finished, a wait that still runs, a part that is neither here
    nor due. Hands, setups, stations and closed hours are not looked at. The build must have no
    faults.
    """
    open_keys = {task.key for task in build.tasks if task.is_open}
    finished = {task.key for task in build.tasks if task.finished_on is not None}
    holdings: defaultdict[str, list[Holding]] = defaultdict(list)
    for dependency in build.dependencies:
        if dependency.before not in finished:
            holdings[dependency.after].append(Holding(kind="dependency", what=dependency.before))
    for before, after, until in finished_waits(build):
        if until > build.now:
            holdings[after].append(Holding(kind="wait", what=before, until=until))
    for part, key in holding_parts(build):
        due = due_of(part, build.now.date())
        if due is None or moment_at_start(due.on) > build.now:
            there = None if due is None else due.on
            holdings[key].append(Holding(kind="part", what=part.key, until=there))
    return {key: tuple(held) for key, held in holdings.items() if key in open_keys}


def back_at(begun_on: Moment, outside_days: float) -> dt.datetime:
    """When begun outside work is due back."""
    return moment_at_start(begun_on) + dt.timedelta(days=outside_days)
