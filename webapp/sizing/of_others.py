"""What of a drawing is left to licensed practice: told once a circuit, never sized."""

from collections.abc import Iterator

from webapp.build.plumbing import component_at
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.plumbed import PlumbedCircuit
from webapp.sizing.answers import Answer
from webapp.sizing.left_to_others import Matter, left_to_others
from webapp.sizing.way import kinds_in

BY_KIND: dict[str, Matter] = {
    "servo": "brakes",
    "brake_master": "brakes",
    "clutch_master": "clutch",
    "condenser": "refrigerant",
    "evaporator": "refrigerant",
    "drier": "refrigerant",
    "common_rail": "injection",
    "injection_pump": "injection",
    "auto_box": "gearbox_cooler",
}
"""Kinds of components that tell what a circuit is part of."""
STEERING_PUMP, STEERING_GEAR = "ps_pump", "ps_gear"


def left_to_others_checks(drawing: Drawing, one: PlumbedCircuit) -> Iterator[Answer]:
    """The matters of a circuit that are not sized here, each once."""
    circuit, kinds = one.circuit, kinds_in(drawing, one.circuit)
    matters = dict.fromkeys(matter for kind, matter in BY_KIND.items() if kind in kinds)
    for matter in matters:
        yield left_to_others(matter, circuit.key)
    if "turbo" in kinds and circuit.medium == "oil":
        yield left_to_others("turbo_oil", circuit.key)
    if STEERING_PUMP in kinds:
        yield left_to_others("steering_pressure", _pressure_run(drawing, circuit.key))


def _pressure_run(drawing: Drawing, circuit: str) -> str:
    """The run from the steering pump to the gear, else the circuit."""
    kind_of = {component.key: component.kind for component in drawing.plumbing.components}
    for run in drawing.runs_by_circuit[circuit]:
        if {kind_of[component_at(port)] for port in run.ports} == {STEERING_PUMP, STEERING_GEAR}:
            return run.key
    return circuit
