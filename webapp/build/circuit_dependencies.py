"""What circuits ask of the order of work: their runs are made before what waits for them."""

from collections.abc import Iterator
from dataclasses import replace

from webapp.build.build_input import BuildInput, Dependency
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
    """The build as it is planned: every open task of a run comes before what its circuit holds.

    A pair that is entered already stays as it was entered, with its wait.
    """
    if not build.plumbing.circuits:
        return build
    is_open = {task.key: task.is_open for task in build.tasks}
    there = {(dependency.before, dependency.after) for dependency in build.dependencies}
    added: dict[tuple[str, str], Dependency] = {}
    for before, after, circuit in circuit_pairs(build):
        pair = (before, after)
        if is_open.get(before) and is_open.get(after) and before != after and pair not in there:
            why = f"{CIRCUIT} {circuit.key}"
            added.setdefault(pair, Dependency(before=before, after=after, why=why))
    return replace(build, dependencies=(*build.dependencies, *added.values())) if added else build
