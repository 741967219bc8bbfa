"""The path to first start drawn together: stretches of hands, and the waits between them.

Of fifty tasks in a row a person asks only where something else than their hands decides. So tasks
that follow one another, and the nights between, are one stretch, whatever their subsystems; a
cure, a part, outside work, the helper or work that runs by itself is a wait.
"""

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from itertools import groupby
from string import ascii_uppercase
from typing import Literal

from webapp.build.build_input import BuildInput
from webapp.planning.order.plan import PathStep, Plan

MOST_DESCENTS = 8
LEAST_DESCENT = dt.timedelta(hours=12)
WaitKind = Literal["cure", "part", "helper", "outside", "by_itself"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PathWait:
    """Something else than hands that has to happen first. Numbered along the path, from 1.

    `step` is that of the path; `after` the key of the task that waits for it, "" where none
    follows; `subsystem` that of the task it belongs to.
    """

    number: int
    kind: WaitKind
    step: PathStep
    after: str
    subsystem: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """An unbroken run of hands; `waits` are those in it too short, or too many, to stand apart.

    `steps` are its tasks, `hours` those of its hands, getting setups out among them.
    """

    letter: str
    begins: dt.datetime
    ends: dt.datetime
    hours: float
    steps: tuple[PathStep, ...]
    waits: tuple[PathWait, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Descent:
    """Waits that follow one another, for which the path leaves the hands for a subsystem."""

    subsystem: str | None
    begins: dt.datetime
    ends: dt.datetime
    waits: tuple[PathWait, ...]


@dataclass(slots=True)
class _Run:
    """Steps of one kind in a row: tasks of hands, or the waits of one subsystem."""

    steps: list[PathStep]
    waits: list[PathWait]
    stands: bool = False

    @property
    def length(self) -> dt.timedelta:
        return sum((w.step.ends - w.step.begins for w in self.waits), dt.timedelta())


def path_pieces(build: BuildInput, plan: Plan) -> tuple[Stretch | Descent, ...]:
    """The path from today to first start as stretches and descents, in order.

    At most `MOST_DESCENTS`, the longest first; the others and those under half a day lie within
    the stretch that goes on over them. Each begins where the one before ends.
    """
    runs = _runs(build, plan)
    longest = sorted(
        (run for run in runs if run.waits and run.length >= LEAST_DESCENT),
        key=lambda run: -run.length,
    )
    for run in longest[:MOST_DESCENTS]:
        run.stands = True
    hours = {task.key: task.end_shop_hours - task.begin_shop_hours for task in plan.tasks}
    pieces: list[Stretch | Descent] = []
    letters, at = iter(ascii_uppercase), plan.now
    for stands, group in groupby(_joined(runs), lambda run: run.stands):
        together = list(group)
        if stands:
            for run in together:
                ends = max(at, run.waits[-1].step.ends)
                pieces.append(_descent(run, begins=at, ends=ends))
                at = ends
            continue
        steps = tuple(step for run in together for step in run.steps)
        waits = tuple(wait for run in together for wait in run.waits)
        ends = max([at, *(s.ends for s in steps), *(w.step.ends for w in waits)])
        pieces.append(
            Stretch(
                letter=next(letters),
                begins=at,
                ends=ends,
                hours=sum(hours[step.what] for step in steps),
                steps=steps,
                waits=waits,
            )
        )
        at = ends
    return tuple(pieces)


def _descent(run: _Run, *, begins: dt.datetime, ends: dt.datetime) -> Descent:
    longest = max(run.waits, key=lambda wait: wait.step.ends - wait.step.begins)
    return Descent(subsystem=longest.subsystem, begins=begins, ends=ends, waits=tuple(run.waits))


def _joined(runs: list[_Run]) -> list[_Run]:
    """The same, short waits that meet a descent made part of it: no hands lie between."""
    joined: list[_Run] = []
    for run in runs:
        before = joined[-1] if joined else None
        if before is not None and before.waits and run.waits and before.stands != run.stands:
            before.waits += run.waits
            before.stands = True
        else:
            joined.append(run)
    return joined


def _runs(build: BuildInput, plan: Plan) -> list[_Run]:
    """The path's steps in runs of tasks of hands, and of waits of one subsystem."""
    kind_of = _kinds(build)
    subsystem_of = {task.key: task.subsystem for task in build.tasks}
    runs: list[_Run] = []
    number = 0
    for place, step in enumerate(plan.path):
        kind = kind_of(step)
        last = runs[-1] if runs else None
        if kind is None:
            if step.kind != "task":
                continue
            if last is None or last.waits:
                last = _Run(steps=[], waits=[])
                runs.append(last)
            last.steps.append(step)
            continue
        number += 1
        after = next((one.what for one in plan.path[place + 1 :] if one.kind == "task"), "")
        owner = step.what if step.kind in ("task", "wait") else after
        wait = PathWait(
            number=number,
            kind=kind,
            step=step,
            after=after,
            subsystem=subsystem_of.get(owner),
        )
        if last is None or not last.waits or last.waits[-1].subsystem != wait.subsystem:
            last = _Run(steps=[], waits=[])
            runs.append(last)
        last.waits.append(wait)
    return runs


def _kinds(build: BuildInput) -> Callable[[PathStep], WaitKind | None]:
    """What kind of wait a step is; None for one that only hands, a session or a setup decide."""
    outside = {task.key for task in build.tasks if task.outside_days is not None}
    by_itself = {task.key for task in build.tasks if not task.people}
    of_step: dict[str, WaitKind] = {"wait": "cure", "part": "part", "helper": "helper"}

    def kind_of(step: PathStep) -> WaitKind | None:
        if step.kind != "task":
            return of_step.get(step.kind)
        if step.what in outside:
            return "outside"
        return "by_itself" if step.what in by_itself and step.ends > step.begins else None

    return kind_of
