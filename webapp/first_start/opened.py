"""What an opening reaches: the circuits of a list, and the signatures that it makes fall."""

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from webapp.build.first_start import EngineRun, FirstStart, Opening
from webapp.build.folded_name import folded_name
from webapp.first_start.attempts import THREE_CRANKS, three_unfired
from webapp.first_start.check_list import Check, CheckList


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """Something that makes signatures fall: what it was called, how it came, when.

    `circuits` are those of the list it reaches; `marks` what falls name otherwise ("task:…").
    """

    name: str
    how: str
    at: dt.datetime
    circuits: frozenset[str] = frozenset()
    marks: frozenset[str] = frozenset()

    def hits(self, check: Check) -> bool:
        """Whether a signature of the check from before it falls."""
        if f"check:{check.key}" in self.marks:
            return True
        for fall in check.falls:
            match fall.kind:
                case "circuit":
                    if fall.key in self.circuits:
                        return True
                case "part":
                    if any(one.startswith("part:") and fall.key in one for one in self.marks):
                        return True
                case "task" | "answer" | "said":
                    if f"{fall.kind}:{fall.key}" in self.marks:
                        return True
                case _:
                    pass
        return False


def events_of(
    checks: CheckList, start: FirstStart, answers: Mapping[str, str], now: dt.datetime
) -> tuple[Event, ...]:
    """Every event up to a moment, in the order of time."""
    found = [event_of(checks, one) for one in start.openings]
    found += _of_runs(checks, start.runs, answers)
    return tuple(sorted((one for one in found if one.at <= now), key=lambda one: one.at))


def event_of(checks: CheckList, opening: Opening) -> Event:
    """What an opening reaches in a list."""
    return Event(
        name=opening.name,
        how=opening.how,
        at=opening.at,
        circuits=circuits_reached(checks, opening),
        marks=frozenset((*opening.reaches, *(f"task:{key}" for key in _listed(checks, opening)))),
    )


def circuits_reached(checks: CheckList, opening: Opening) -> frozenset[str]:
    """The circuits of a list that an opening reaches.

    What a check of the list names, and what is drawn, is known to the circuit; of anything else
    only the subsystem is, and then every circuit that may be in it is reached.
    """
    known = {circuit for circuit, _ in checks.groups}
    found = {key for kind, key in _said(opening.reaches) if kind == "circuit"}
    for key in _listed(checks, opening):
        found |= checks.circuits_of_task(key)
    drawn = [key for kind, key in _said(opening.reaches) if kind == "drawn"]
    found.update(known.intersection(drawn))
    for kind, key in _said(opening.reaches):
        if kind.startswith("in ") and kind.removeprefix("in ") not in known:
            found |= checks.circuits_of_subsystem(key.removeprefix("subsystem:"))
    if found or opening.what.partition(":")[0] not in ("task", "part"):
        return frozenset(found)
    for kind, key in _said(opening.reaches):
        if kind == "subsystem":
            found |= checks.circuits_of_subsystem(key)
    return frozenset(found)


def _said(reaches: Iterable[str]) -> Iterator[tuple[str, str]]:
    for one in reaches:
        kind, _, key = one.partition(":")
        yield kind, key


def _listed(checks: CheckList, opening: Opening) -> tuple[str, ...]:
    """The tasks of the list that an opening names, by their keys or by what they are called."""
    named = dict(checks.task_names)
    keys = [key for kind, key in _said(opening.reaches) if kind == "task" and key in named]
    if not keys and opening.what.startswith("task:"):
        return _by_name(checks.task_names).get(folded_name(opening.name), ())
    return tuple(keys)


@lru_cache(maxsize=8)  # openings come by the hundred, lists do not
def _by_name(names: tuple[tuple[str, str], ...]) -> dict[str, tuple[str, ...]]:
    """The keys of tasks by what they are called."""
    keys: dict[str, tuple[str, ...]] = {}
    for key, called in dict(names).items():
        keys[folded_name(called)] = (*keys.get(folded_name(called), ()), key)
    return keys


def _of_runs(
    checks: CheckList, runs: tuple[EngineRun, ...], answers: Mapping[str, str]
) -> Iterator[Event]:
    aborts = {abort.key: abort for abort in checks.aborts_for(answers)}
    for run in runs:
        abort = aborts.get(run.abort)
        if run.ended_at is not None and abort is not None:
            marks = frozenset(f"check:{key}" for key in abort.makes_fall)
            yield Event(name=abort.notice, how="aborted", at=run.ended_at, marks=marks)
    for at in three_unfired(runs):
        yield Event(
            name=THREE_CRANKS, how="cranked", at=at, marks=frozenset((f"said:{THREE_CRANKS}",))
        )
