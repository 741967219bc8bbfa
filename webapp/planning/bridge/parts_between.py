"""Parts between two builds: when they were to come, and when they came."""

import datetime as dt
from collections.abc import Iterable, Mapping

from webapp.build.build_input import BuildInput, Moment, Part, Task
from webapp.build.by_key import get_by_key
from webapp.build.due_days import due_of, said_day
from webapp.build.moments import moment_at_start
from webapp.planning.bridge.replay_changes import Change, Changes


class PartsBetween:
    """The parts of any replay between two builds (see `replay`); `old` and `new` tasks by key."""

    def __init__(
        self,
        earlier: BuildInput,
        later: BuildInput,
        old: Mapping[str, Task],
        new: Mapping[str, Task],
    ) -> None:
        self._earlier, self._later = earlier, later
        self._old, self._new = old, new

    def changes(self) -> Iterable[Change]:
        """Parts of both builds that come at another time."""
        new_parts = {part.key: part for part in self._later.parts}
        for part in self._earlier.parts:
            new_part = new_parts.get(part.key)
            if new_part is not None and self._part_differs(part, new_part):
                yield "part", part.key

    def hours_late(self, key: str) -> float:
        """Hours of wall time by which a part of both builds comes later; below zero: earlier."""
        old = get_by_key(self._earlier.parts, key)
        new = get_by_key(self._later.parts, key)
        known = max(_arrival_known(old, self._earlier) or self._earlier.now, self._earlier.now)
        came = self._arrival_on(old, new, None) or self._earlier.now
        return (came - known) / dt.timedelta(hours=1)

    def parts(self, present: set[str], on: Changes) -> Iterable[Part]:
        """Parts that tasks of a replay wait for, one for each part and task."""
        old_parts = {part.key: part for part in self._earlier.parts}
        new_parts = {part.key: part for part in self._later.parts}
        for key in {**old_parts, **new_parts}:
            old, new = old_parts.get(key), new_parts.get(key)
            serving = (new if ("rest", "") in on else old) or Part(key=key, name=key)
            added = {*new.serves} - self._old.keys() if new is not None else set()
            for task_key in sorted({*serving.serves} | added):
                if task_key not in present:
                    continue
                arrival = _arrival_known(old, self._earlier) if old is not None else None
                task = self._new.get(task_key)
                if new is not None and (old is None or ("part", key) in on):
                    arrival = self._arrival_on(old, new, task)
                elif new is not None and arrival is None and not (old and old.arrived):
                    # Never promised before, so not late by it: what is known since counts.
                    arrival = self._arrival_on(old, new, task)
                if arrival is not None and arrival > self._earlier.now:
                    yield Part(key=key, name=key, serves=(task_key,), arrives_on=arrival)
                elif arrival is None and not (old and old.arrived) and not (new and new.arrived):
                    yield Part(key=key, name=key, serves=(task_key,))

    def arrivals(self, on: Changes) -> dict[str, int]:
        """For each task that waits for parts, the wall second at which the last one is there."""
        last: dict[str, int] = {}
        begun = {task.key for task in self._earlier.tasks if task.begun_on is not None}
        present = {*self._old, *self._new} - begun
        for part in self.parts(present, on):
            if part.arrives_on is not None:
                wait = moment_at_start(part.arrives_on) - self._earlier.now
                (key,) = part.serves
                last[key] = max(round(wait.total_seconds()), last.get(key, 0))
        return last

    def _arrival_on(self, old: Part | None, new: Part, task: Task | None) -> dt.datetime | None:
        """When a part came or will come for a task, as the later build knows."""
        promised = self._promised(old, new)
        if old is not None and old.arrived and new.arrived:
            return None
        used = None if task is None else task.begun_on or task.finished_on
        if new.arrived:
            there = self._later.now
            if promised is not None:
                there = min(there, moment_at_start(promised))
        elif promised is None:
            return None
        elif used is not None and old is not None and _entered(old) == _entered(new):
            # Nothing was entered, and the work did not wait: it came as reckoned with before.
            return max(_arrival_known(old, self._earlier) or self._earlier.now, self._earlier.now)
        else:
            there = max(self._later.now, moment_at_start(promised))
        if used is not None:
            there = min(there, moment_at_start(used))
        return max(there, self._earlier.now)

    def _promised(self, old: Part | None, new: Part) -> Moment | None:
        """The day a part was to come; one that is here never by a lead time from today."""
        if new.arrived:
            return said_day(new) or (said_day(old) if old is not None else None)
        due = due_of(new, self._later.now.date())
        if due is None and old is not None:
            due = due_of(old, self._earlier.now.date())
        return None if due is None else due.said

    def _part_differs(self, old: Part, new: Part) -> bool:
        tasks = [self._new.get(key) for key in new.serves]
        off = _arrival_known(old, self._earlier)
        if off is not None:
            off = max(off, self._earlier.now)
        return any(self._arrival_on(old, new, task) != off for task in tasks or [None])


def _entered(part: Part) -> tuple[Moment | float | None, ...]:
    """All that a person says of when a part comes."""
    return part.arrives_on, part.promised_on, part.ordered_on, part.lead_days


def _arrival_known(part: Part, build: BuildInput) -> dt.datetime | None:
    """When a part comes as its own build knows; None: it has come, or has no date."""
    due = None if part.arrived else due_of(part, build.now.date())
    return None if due is None else moment_at_start(due.said)
