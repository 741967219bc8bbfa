"""What is known to be open in a build itself before the key: tasks, parts, circuits."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from webapp.build.build_input import BuildInput
from webapp.build.circuit_dependencies import as_planned
from webapp.build.folded_name import folded_name
from webapp.build.plumbing import Circuit
from webapp.build.precedence import needed_for
from webapp.first_start.check_list import CheckList
from webapp.plumbing.plumbed import Plumbed

HoleKind = Literal["check", "answer", "stop line", "shut", "task", "part", "circuit", "not tested"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """One thing that is open: its noun and key, what it is called, why, and a check's stage.

    `why` of a check is its state; of a circuit how many things are open in it, in words.
    """

    kind: HoleKind
    key: str
    name: str
    why: str
    stage: str = ""


def build_holes(build: BuildInput, known: Plumbed) -> Iterator[Hole]:
    """What first start needs of a build and has not: tasks and parts as entered, then circuits."""
    needed = _needed(build)
    for task in build.tasks:
        if task.key in needed and task.finished_on is None:
            why = "set aside" if task.set_aside_on is not None else "not finished"
            yield Hole(kind="task", key=task.key, name=task.name, why=why)
    for part in build.parts:
        if not part.arrived and needed.intersection(part.serves):
            yield Hole(kind="part", key=part.key, name=part.name, why="not here")
    for one in known.circuits:
        circuit = one.circuit
        if not circuit.needed_to_start:
            continue
        if one.open:
            why = f"{len(one.open)} open"
            yield Hole(kind="circuit", key=circuit.key, name=circuit.name, why=why)
        elif circuit.test and not one.is_tested:
            yield Hole(kind="not tested", key=circuit.key, name=circuit.name, why="not tested")


def _needed(build: BuildInput) -> frozenset[str]:
    """The tasks that come before first start, without itself."""
    end = build.first_start
    if end is None or all(task.key != end for task in build.tasks):
        return frozenset()
    return needed_for(as_planned(build), end) - {end}


def circuits_open(
    build: BuildInput, checks: CheckList, known: Plumbed
) -> Mapping[str, tuple[Circuit, ...]]:
    """The drawn circuits that are open, by the circuit of the list that they are.

    A drawn circuit is the list's of its key or name; where the list's has none of that, it is
    each that lies in its subsystem.
    """
    names = {
        subsystem.key: f"{subsystem.key} {folded_name(subsystem.name)}"
        for subsystem in build.subsystems
    }
    found: dict[str, tuple[Circuit, ...]] = {}
    for key, _ in checks.groups:
        named = [
            one for one in known.circuits if key in (one.circuit.key, folded_name(one.circuit.name))
        ]
        meant = named or [
            one
            for one in known.circuits
            if key in checks.circuits_of_subsystem(names.get(one.circuit.subsystem or "", ""))
        ]
        if open_now := tuple(one.circuit for one in meant if one.open):
            found[key] = open_now
    return found
