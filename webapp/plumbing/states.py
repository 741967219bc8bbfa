"""The states of a run and of a circuit: worked out, never stored."""

from typing import Literal

from webapp.build.moments import is_after
from webapp.build.plumbing import Circuit, Run
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.needs import Need

RunState = Literal["drawn", "on hand", "cut", "fitted", "clamped"]


def state_of(run: Run, needs: tuple[Need, ...]) -> RunState:
    """How far a run is; on hand where it is drawn and the shelf has all it needs."""
    if run.clamped_on is not None:
        return "clamped"
    if run.fitted_on is not None:
        return "fitted"
    if run.cut_on is not None:
        return "cut"
    return "drawn" if needs else "on hand"


def is_tested(drawing: Drawing, circuit: Circuit, *, is_closed: bool) -> bool:
    """Closed, and tested since the last clamp or cap was put on."""
    tested = circuit.tested_on
    if not is_closed or tested is None:
        return False
    clamped = (run.clamped_on for run in drawing.runs_by_circuit[circuit.key])
    capped = (
        placed.port.stop.on
        for placed in drawing.ports_by_circuit[circuit.key]
        if placed.port.stop is not None and placed.port.stop.kind == "cap"
    )
    return not any(done is not None and is_after(done, tested) for done in (*clamped, *capped))
