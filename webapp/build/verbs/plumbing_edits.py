"""What every verb of the plumbing ends with: tests that are stale by it fall, faults are told.

A verb answers with the build as it was where the change would bring a fault into the plumbing.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any, TypeVar

from webapp.build.build_input import BuildInput, Fault
from webapp.build.checks.fault_words import Thing
from webapp.build.checks.plumbing_checks import plumbing_faults
from webapp.build.edited import Edited, Lost
from webapp.build.plumbing import Plumbing, address_of

Made = TypeVar("Made")


def plumbed_edit(
    build: BuildInput, plumbing: Plumbing, made: Made, *, is_renaming: bool = False
) -> Edited[Made]:
    """The build with its plumbing changed, where that brings no new fault into the plumbing.

    A circuit of which an end, a piece, a clamp or a cap differs is to be tested anew, unless all
    that was changed is what things are called.
    """
    if not is_renaming:
        plumbing = with_stale_tests(build.plumbing, plumbing)
    return checked_edit(build, replace(build, plumbing=plumbing), made)


def checked_edit(build: BuildInput, after: BuildInput, made: Made) -> Edited[Made]:
    """`after`, or the build as it was with the faults that its plumbing would have after it."""
    faults = tuple(plumbing_faults(after))
    if faults:
        known = set(plumbing_faults(build))
        faults = tuple(fault for fault in faults if fault not in known)
    return Edited(build=build if faults else after, made=made, faults=faults)


def refused(build: BuildInput, made: Made, *faults: Fault) -> Edited[Made]:
    """The build as it was, and why."""
    return Edited(build=build, made=made, faults=faults)


def lost(build: BuildInput, kind: str, key: str, made: Made) -> Edited[Made]:
    """The build as it was: what was to be changed is not there any more."""
    return Edited(build=build, made=made, lost=Lost(kind=kind, key=key))


def fault_of(kind: str, thing: Any, field: str, text: str) -> Fault:
    """A fault of a component, circuit or run, by its own name."""
    return Thing(kind=kind, key=thing.key, name=thing.name).fault(field, text)


def with_stale_tests(before: Plumbing, after: Plumbing) -> Plumbing:
    """`after`, every circuit of which something tight differs being tested no more."""
    was, now = _tight(before), _tight(after)
    tested = {circuit.key: circuit.tested_on for circuit in before.circuits}
    circuits = tuple(
        replace(circuit, tested_on=None)
        if circuit.tested_on is not None
        and circuit.tested_on == tested.get(circuit.key)
        and was.get(circuit.key) != now.get(circuit.key)
        else circuit
        for circuit in after.circuits
    )
    return replace(after, circuits=circuits)


def _tight(plumbing: Plumbing) -> dict[str, frozenset[object]]:
    """By circuit what a test says something of: ends, what shuts them, pieces, clamps."""
    found: dict[str, set[object]] = {circuit.key: set() for circuit in plumbing.circuits}
    for circuit, what in _tight_things(plumbing):
        if circuit in found:
            found[circuit].add(what)
    return {key: frozenset(things) for key, things in found.items()}


def _tight_things(plumbing: Plumbing) -> Iterator[tuple[str | None, object]]:
    circuit_at: dict[str, str | None] = {}
    for component in plumbing.components:
        for port in component.ports:
            address, circuit = (
                address_of(component.key, port.name),
                port.circuit or component.circuit,
            )
            circuit_at[address] = circuit
            yield circuit, (address, port.end, port.size, port.stop)
    for one in plumbing.circuits:
        yield one.key, ("made of", one.hose, one.tube)
    for run in plumbing.runs:
        pieces = tuple(replace(piece, name=None) for piece in run.pieces)
        done = run.fitted_on, run.clamped_on, run.clamps
        yield circuit_at.get(run.from_port), (frozenset(run.ports), pieces, done)
