"""What circuits ask of the order of work: their runs are made before what waits for them."""

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import replace
from heapq import heapify, heappop, heappush

from webapp.build.build_input import BuildInput, Dependency, Task
from webapp.build.moments import moment_at_start
from webapp.build.plumbing import Circuit, Run, address_of

CIRCUIT = "circuit"


def runs_by_circuit(build: BuildInput) -> dict[str, list[Run]]:
    """The runs of each circuit; a run belongs to the circuit of the port it begins at."""
    circuit_of = {
        address_of(component.key, port.name): port.circuit or component.circuit
        for component in build.plumbing.components
        for port in component.ports
    }
    found: dict[str, list[Run]] = {circuit.key: [] for circuit in build.plumbing.circuits}
    for run in build.plumbing.runs:
        of = circuit_of.get(run.from_port)
        if of in found:
            found[of].append(run)
    return found


def waiting_for(build: BuildInput, circuit: Circuit) -> tuple[str, ...]:
    """The tasks that wait until a circuit is closed: those it holds, and first start."""
    start = build.first_start if circuit.needed_to_start else None
    return tuple(dict.fromkeys((*circuit.holds, *((start,) if start else ()))))


def circuit_pairs(build: BuildInput) -> Iterator[tuple[str, str, Circuit]]:
    """Task of a run, task that waits for its circuit, and the circuit: each once a circuit."""
    runs = runs_by_circuit(build)
    for circuit in build.plumbing.circuits:
        tasks = dict.fromkeys(task for run in runs[circuit.key] for task in run.tasks)
        waits = waiting_for(build, circuit)
        yield from ((task, after, circuit) for task in tasks for after in waits)


def with_circuit_dependencies(build: BuildInput) -> BuildInput:
    """The build with every open task of a run before what its circuit holds.

    A pair that is entered already stays as it was entered, with its wait.
    """
    if not build.plumbing.circuits:
        return build
    is_open = {task.key: task.is_open for task in build.tasks}
    return _linked(
        build,
        (
            (before, after, circuit)
            for before, after, circuit in circuit_pairs(build)
            if is_open.get(before) and is_open.get(after)
        ),
    )


def as_planned(build: BuildInput) -> BuildInput:
    """The build as it is planned, and as it was lived: what its circuits ask of the work in it.

    Beside the open tasks of runs those that are finished come before what waits for their circuit:
    that holds no plan up, and says of the days before they were finished that it could not be
    worked on then. So a link does not fall away as a task is finished. The very build where it has
    no circuits; asked once more it adds nothing.
    """
    if not build.plumbing.circuits:
        return build
    linked = with_circuit_dependencies(build)
    place = _in_order(linked)

    def counts(before: str, after: str) -> bool:
        first, last = task_of.get(before), task_of.get(after)
        if first is None or last is None or first.finished_on is None:
            return False
        is_aside = last.finished_on is None and last.set_aside_on is not None
        # What was finished in another order than the circuit asks for makes no loop of it.
        return not is_aside and place.get(before, -1) < place.get(after, -1)

    task_of = {task.key: task for task in build.tasks}
    return _linked(linked, (pair for pair in circuit_pairs(build) if counts(pair[0], pair[1])))


def _in_order(build: BuildInput) -> dict[str, int]:
    """The place of each task in an order that no dependency contradicts: what is finished as early
    as may be, by the day. What stands in a loop has no place."""
    after: dict[str, list[str]] = {}
    waits_for = dict.fromkeys((task.key for task in build.tasks), 0)
    for link in build.dependencies:
        if link.before in waits_for and link.after in waits_for:
            after.setdefault(link.before, []).append(link.after)
            waits_for[link.after] += 1
    rank = {task.key: (*_finished(task), number) for number, task in enumerate(build.tasks)}
    free = [(rank[key], key) for key, count in waits_for.items() if not count]
    heapify(free)
    place: dict[str, int] = {}
    while free:
        _, key = heappop(free)
        place[key] = len(place)
        for follower in after.get(key, ()):
            waits_for[follower] -= 1
            if not waits_for[follower]:
                heappush(free, (rank[follower], follower))
    return place


def _finished(task: Task) -> tuple[bool, dt.datetime]:
    """What is finished first, by its moment; the rest behind it."""
    if task.finished_on is None:
        return True, dt.datetime.max
    return False, moment_at_start(task.finished_on)


def _linked(build: BuildInput, pairs: Iterable[tuple[str, str, Circuit]]) -> BuildInput:
    there = {(dependency.before, dependency.after) for dependency in build.dependencies}
    added: dict[tuple[str, str], Dependency] = {}
    for before, after, circuit in pairs:
        pair = (before, after)
        if before != after and pair not in there:
            why = f"{CIRCUIT} {circuit.key}"
            added.setdefault(pair, Dependency(before=before, after=after, why=why))
    return replace(build, dependencies=(*build.dependencies, *added.values())) if added else build
