"""All checks of a build: its drawing and its data sheet in, one answer a place out."""

from collections.abc import Iterator

from webapp.build.build_input import BuildInput
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.plumbed import Plumbed, PlumbedCircuit
from webapp.sizing.answers import Answer
from webapp.sizing.of_air import air_checks
from webapp.sizing.of_exhaust import exhaust_checks, typed_exhaust_checks
from webapp.sizing.of_fuel import fuel_checks
from webapp.sizing.of_others import left_to_others_checks
from webapp.sizing.of_water import water_checks
from webapp.sizing.of_wires_and_belts import belt_checks, wire_checks
from webapp.sizing.sheet import Sheet


def checks_of(build: BuildInput, plumbed: Plumbed) -> tuple[Answer, ...]:
    """Every check that the drawing or the data sheet of a build gives rise to.

    By circuit in the order of the document, then wires and belts. `plumbed` is what follows from
    the plumbing of this very build. A check that lacks something is there too, and says what.
    """
    drawing, sheet = Drawing(build), Sheet(build.data_sheet)
    found = [
        answer.within(one.circuit.key)
        for one in plumbed.circuits
        for answer in _circuit_checks(drawing, sheet, one)
    ]
    typed = typed_exhaust_checks(drawing, sheet)
    return (*found, *typed, *wire_checks(sheet), *belt_checks(sheet))


def _circuit_checks(drawing: Drawing, sheet: Sheet, one: PlumbedCircuit) -> Iterator[Answer]:
    match one.circuit.medium:
        case "air":
            yield from air_checks(drawing, sheet, one)
        case "water":
            yield from water_checks(drawing, sheet, one)
        case "fuel":
            yield from fuel_checks(drawing, sheet, one)
        case "gas":
            yield from exhaust_checks(drawing, sheet, one)
        case _:
            pass
    yield from left_to_others_checks(drawing, one)
