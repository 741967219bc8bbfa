"""What the time until first start is made of: the path as stretches of the wall clock."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from webapp.build.build_input import BuildInput, Task
from webapp.planning.order.plan import PathStep, Plan, PlannedTask

TimeKind = Literal["hands", "closed", "part", "outside", "cure", "helper"]
KINDS: tuple[TimeKind, ...] = ("hands", "closed", "part", "outside", "cure", "helper")
OF_WAITS: dict[str, TimeKind] = {"wait": "cure", "part": "part", "helper": "helper"}


@dataclass(frozen=True, slots=True, kw_only=True)
class TimePart:
    """So many seconds of the wall clock of one kind, and what they went to, by key.

    hands: shop time of the tasks of the path, getting setups out among it; closed: the shop was
    closed, or a session was waited for; part, outside, cure, helper: what was waited for.
    """

    kind: TimeKind
    seconds: int
    whats: tuple[str, ...]

    @property
    def days(self) -> float:
        """The same in days."""
        return self.seconds / 86_400


def made_of(build: BuildInput, plan: Plan) -> tuple[TimePart, ...]:
    """The time from now to first start by kind: the parts sum to the whole, to the minute.

    Empty where first start has no date. Kinds that take no time are left out.
    """
    if plan.first_start_at is None or not plan.path:
        return ()
    tasks = {task.key: task for task in build.tasks}
    planned = {task.key: task for task in plan.tasks}
    seconds = dict.fromkeys(KINDS, 0)
    whats: dict[TimeKind, dict[str, None]] = {kind: {} for kind in KINDS}
    at = plan.now
    for step in plan.path:
        begins = max(at, step.begins)
        seconds["closed"] += _between(at, begins)
        for kind, length in _kinds(step, begins, tasks, planned):
            seconds[kind] += length
            if kind != "closed":
                whats[kind][step.what] = None
        at = max(at, step.ends)
    seconds["closed"] += _between(at, plan.first_start_at)
    return tuple(
        TimePart(kind=kind, seconds=seconds[kind], whats=tuple(whats[kind]))
        for kind in KINDS
        if seconds[kind]
    )


def _kinds(
    step: PathStep,
    begins: dt.datetime,
    tasks: Mapping[str, Task],
    planned: Mapping[str, PlannedTask],
) -> tuple[tuple[TimeKind, int], ...]:
    """A stretch of the path from `begins` on, split into kinds."""
    length = _between(begins, step.ends)
    if step.kind != "task":
        return ((OF_WAITS.get(step.kind, "closed"), length),)
    task, plan = tasks[step.what], planned[step.what]
    if task.outside_days is not None:
        return (("outside", length),)
    worked = round((plan.end_shop_hours - plan.begin_shop_hours) * 3600)
    # Begins and ends are shown to the minute, floored: a stretch never holds more than there is.
    worked = min(worked, length)
    return (("hands" if task.people else "cure", worked), ("closed", length - worked))


def _between(earlier: dt.datetime, later: dt.datetime) -> int:
    return max(0, round((later - earlier).total_seconds()))
