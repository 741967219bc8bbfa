"""What waits until circuits are closed or tested, and by which it is held."""

from dataclasses import dataclass
from typing import Literal

from webapp.build.circuit_dependencies import waiting_for
from webapp.plumbing.drawing import Drawing

HoldWord = Literal["open", "not tested"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """A circuit that something waits for, and what it lacks."""

    circuit: str
    why: HoldWord


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """An open task that waits for circuits: by its key."""

    task: str
    by: tuple[Hold, ...]


def held_by_circuits(
    drawing: Drawing, *, closed: frozenset[str], tested: frozenset[str]
) -> tuple[Held, ...]:
    """The open tasks that circuits hold, in the order of the document.

    What a circuit holds waits until it is closed; first start waits for every circuit that is
    needed to start, and where a test is asked for, until it is tested.
    """
    holds: dict[str, list[Hold]] = {}
    first_start = drawing.build.first_start
    for circuit in drawing.plumbing.circuits:
        for task in waiting_for(drawing.build, circuit):
            if circuit.key not in closed:
                holds.setdefault(task, []).append(Hold(circuit=circuit.key, why="open"))
            elif (
                task == first_start
                and circuit.needed_to_start
                and circuit.test
                and circuit.key not in tested
            ):
                holds.setdefault(task, []).append(Hold(circuit=circuit.key, why="not tested"))
    return tuple(
        Held(task=task.key, by=tuple(holds[task.key]))
        for task in drawing.build.tasks
        if task.is_open and task.key in holds
    )
