"""Faults between circuits and the order of work: what would wait for itself."""

from collections.abc import Iterator, Sequence
from itertools import chain, pairwise

from webapp.build.build_input import BuildInput, Fault
from webapp.build.by_key import find_by_key
from webapp.build.checks.fault_words import Thing, shown
from webapp.build.circuit_dependencies import circuit_pairs, with_circuit_dependencies
from webapp.build.plumbing import Circuit
from webapp.build.precedence import followers_of, loops_of, reached, tasks_as_entered


def circuit_task_faults(build: BuildInput) -> Iterator[Fault]:
    """Tasks that circuits name and are not there, that wait for a circuit they make, or would."""
    if not build.plumbing.circuits:
        return
    tasks = {task.key for task in build.tasks}
    for circuit in build.plumbing.circuits:
        thing = Thing(kind="circuit", key=circuit.key, name=circuit.name)
        for key in circuit.holds:
            if key not in tasks:
                yield thing.fault(
                    "holds",
                    f"it holds the task {shown(key)}, which is not in the build. Pick one that is.",
                )
    faults = list(_waiting_for_themselves(build))
    yield from faults
    if not faults:
        yield from _loop_faults(build)


def _waiting_for_themselves(build: BuildInput) -> Iterator[Fault]:
    later = _Later(build)
    tasks = {task.key: task for task in tasks_as_entered(build)}
    waits: dict[tuple[str, str], list[str]] = {}
    for before, after, circuit in circuit_pairs(build):
        waits.setdefault((before, circuit.key), []).append(after)
    for (key, circuit_key), held in waits.items():
        task = tasks.get(key)
        if task is None:
            continue
        thing = Thing(kind="task", key=key, name=task.name)
        if key in held:
            yield thing.fault(
                "",
                f"it makes or fits a run of circuit {shown(circuit_key)} and waits for that "
                "circuit to be closed: take it out of one of the two.",
            )
            continue
        waiting = [one for one in held if one in tasks and tasks[one].is_open]
        first = later.first_before(key, waiting) if task.is_open else None
        if first is not None:
            yield thing.fault(
                "",
                f"it fits a run of circuit {shown(circuit_key)}, but comes after "
                f"{_named(build, first)}, which waits for that circuit: neither can begin. Take "
                "out the dependency.",
            )


class _Later:
    """Which tasks come after which, by the dependencies that were entered."""

    def __init__(self, build: BuildInput) -> None:
        self._place = {task.key: i for i, task in enumerate(tasks_as_entered(build))}
        self._after = followers_of(build)
        self._reached: dict[int, frozenset[int]] = {}

    def first_before(self, key: str, others: Sequence[str]) -> str | None:
        """Which of `others` the task comes after: one right before it, else any.

        Where both come after one another, the loop is told of elsewhere, and only what was
        entered between the two counts.
        """
        place = self._place[key]
        before = [(self._place[other], other) for other in others]
        right = (name for of, name in before if place in self._after[of])
        far = (
            name
            for of, name in before
            if place in self._behind(of) and of not in self._behind(place)
        )
        return next(chain(right, far), None)

    def _behind(self, of: int) -> frozenset[int]:
        if of not in self._reached:
            behind = reached(self._after[of], self._after.__getitem__)
            self._reached[of] = frozenset(behind)
        return self._reached[of]


def _loop_faults(build: BuildInput) -> Iterator[Fault]:
    """Loops by way of more than one circuit."""
    planned = with_circuit_dependencies(build)
    if len(planned.dependencies) == len(build.dependencies):
        return
    loops = loops_of(planned)
    if not loops or loops_of(build):
        return
    for loop in loops:
        circuits = _circuits_of(planned, loop)
        chain = " -> ".join(_named(build, key) for key in loop)
        yield Thing(kind="circuit", key=circuits[0].key, name=circuits[0].name).fault(
            "holds",
            f"what waits for {' and '.join(f'circuit {shown(c.key)}' for c in circuits)} would "
            f"wait for itself: {chain}. Take out a dependency, or a task that a circuit holds.",
        )


def _circuits_of(build: BuildInput, loop: tuple[str, ...]) -> list[Circuit]:
    steps = set(pairwise(loop))
    named = {
        circuit.key: circuit
        for before, after, circuit in circuit_pairs(build)
        if (before, after) in steps
    }
    return list(named.values()) or [build.plumbing.circuits[0]]


def _named(build: BuildInput, key: str) -> str:
    task = find_by_key(build.tasks, key)
    return f"{shown(task.name or key)} ({shown(key)})" if task else shown(key)
