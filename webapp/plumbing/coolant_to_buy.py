"""Coolant as a part: concentrate and water for the mixture that is kept with a circuit.

Like a part of the buy list it follows what lacks as long as nobody ordered it. What came counts
until it is said to be poured in.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from webapp.build.build_input import BuildInput, Part
from webapp.build.by_key import find_by_key, replaced_by_key
from webapp.build.checks.plumbing_checks import plumbing_faults
from webapp.build.data_sheet import DataSheet
from webapp.build.edited import Edited
from webapp.build.plumbing import ANTIFREEZES, Antifreeze, Circuit, Ordered
from webapp.build.verbs.plumbing_edits import checked_edit, refused
from webapp.plumbing.coolant import CoolantFill, Mixture, NoMixture, coolant_fill, mixture_for
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.litres import Litres, litres_of
from webapp.plumbing.parts_to_buy import (
    POUR,
    Wanted,
    in_order,
    is_loose,
    loose_part_of,
    parts_edit,
    parts_made,
    with_part,
)

CONCENTRATES: dict[Antifreeze, str] = {
    "ethylene": "ethylene glycol concentrate",
    "propylene": "propylene glycol concentrate",
}
WATER = "soft water"
RADIATOR = "radiator"
LEAST_LITRES = 0.05
"""Less than this is not bought, and not told to be too much: nobody measures it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OverPoured:
    """More litres of a thing are ordered, or here, than are wanted."""

    what: str
    ordered: float
    wanted: float


def full_litres(
    build: BuildInput, drawing: Drawing, circuit: Circuit, drawn: Litres
) -> tuple[float, bool]:
    """What a circuit holds, and whether that was typed: with its coolant, or, where the drawing
    has holes and it has a radiator, on the data sheet."""
    if circuit.full_litres is not None:
        return circuit.full_litres, True
    if drawn.without and is_cooling(drawing, circuit):
        for figure in build.data_sheet.figures:
            if figure.name == "coolant_l" and not isinstance(figure.value, str):
                return figure.value, True
    return drawn.litres, False


def is_cooling(drawing: Drawing, circuit: Circuit) -> bool:
    """Whether it is a circuit of water with a radiator in it."""
    placed = drawing.ports_by_circuit[circuit.key]
    return circuit.medium == "water" and any(one.component.kind == RADIATOR for one in placed)


def kind_of(sheet: DataSheet, circuit: Circuit) -> Antifreeze:
    """The concentrate of a circuit: its own, else that of the data sheet, else the usual one."""
    if circuit.antifreeze is not None:
        return circuit.antifreeze
    said = [figure.value for figure in sheet.figures if figure.name == "antifreeze"]
    return next((one for one in ANTIFREEZES if one in said), ANTIFREEZES[0])


def fill_with(circuit: Circuit, litres: float, mixture: Mixture) -> CoolantFill | NoMixture:
    """What brings a circuit that holds so much to a mixture, with what is in it already."""
    return coolant_fill(
        litres,
        mixture,
        there_litres=circuit.there_litres or 0.0,
        there_share=(circuit.there_percent or 0.0) / 100,
    )


def kept_fill(
    build: BuildInput, drawing: Drawing, circuit: Circuit
) -> CoolantFill | NoMixture | None:
    """What to pour by the mixture that is kept with a circuit; None where there is none."""
    if circuit.medium != "water" or circuit.frost_c is None:
        return None
    found = mixture_for(circuit.frost_c, kind_of(build.data_sheet, circuit))
    if isinstance(found, NoMixture):
        return found
    litres, _ = full_litres(build, drawing, circuit, litres_of(drawing, circuit))
    return fill_with(circuit, litres, found)


def put_coolant_into_parts(
    build: BuildInput, key: str, *, lead_days: float
) -> Edited[tuple[str, ...]]:
    """With a part for the coolant of a circuit that is not ordered, and the keys that differ."""
    standing = tuple(plumbing_faults(build))
    if standing:
        return refused(build, (), *standing)
    circuit = find_by_key(build.plumbing.circuits, key)
    wanted = None if circuit is None else wanted_coolant(build, Drawing(build), circuit)
    if wanted is None:
        return Edited(build=build, made=())
    after = with_part(build, wanted, lead_days=lead_days, serves=wanted.serves)
    return parts_edit(build, in_order(after))


def with_coolant_in_step(before: BuildInput, after: BuildInput, drawing: Drawing) -> BuildInput:
    """With the parts of coolant that are not ordered yet following what a change made of it.

    No part is made by it. A task that waits for a circuit by the change waits for its part too.
    `drawing` is what is drawn after it.
    """
    followed = after
    for circuit in after.plumbing.circuits:
        if loose_part_of(after, circuit.key, POUR) is not None:
            wanted = wanted_coolant(after, drawing, circuit)
            was = find_by_key(before.plumbing.circuits, circuit.key)
            if wanted is not None:
                held = () if was is None else was.holds
                serves = tuple(task for task in wanted.serves if task not in held)
                followed = with_part(followed, wanted, lead_days=0.0, serves=serves)
    return after if followed == after else in_order(followed)


def wanted_coolant(build: BuildInput, drawing: Drawing, circuit: Circuit) -> Wanted | None:
    """What is to be bought beyond what is ordered; None where there is nothing to make or change.

    A mixture that can not be, for now, leaves a part as it is.
    """
    fill = kept_fill(build, drawing, circuit)
    if isinstance(fill, NoMixture):
        return None
    there = fixed_litres(build, circuit.key)
    lines = []
    for what, litres in _wanted_litres(fill).items():
        rest = litres - there.get(what, 0.0)
        if rest >= LEAST_LITRES:
            lines.append(Ordered(part="", what=what, litres=round(rest, 2)))
    if not lines and loose_part_of(build, circuit.key, POUR) is None:
        return None
    serves = tuple(
        key
        for key in circuit.holds
        if (task := find_by_key(build.tasks, key)) is not None and task.is_open
    )
    return Wanted(
        circuit=circuit.key, lines=tuple(lines), serves=serves, made=POUR, name="coolant to pour in"
    )


def over_poured(
    build: BuildInput, circuit: Circuit, fill: CoolantFill | NoMixture | None
) -> tuple[OverPoured, ...]:
    """Things of which more is ordered, or here, than a circuit wants by now."""
    if isinstance(fill, NoMixture):
        return ()
    wanted = _wanted_litres(fill)
    return tuple(
        OverPoured(what=what, ordered=litres, wanted=wanted.get(what, 0.0))
        for what, litres in sorted(fixed_litres(build, circuit.key).items())
        if litres - wanted.get(what, 0.0) >= LEAST_LITRES
    )


def fixed_litres(build: BuildInput, circuit: str) -> dict[str, float]:
    """By thing the litres for a circuit that are ordered, or came and are not poured in yet."""
    found: dict[str, float] = {}
    for part, line in coolant_lines(build, circuit):
        if not is_loose(part):
            found[line.what] = found.get(line.what, 0.0) + (line.litres or 0.0)
    return found


def coolant_lines(build: BuildInput, circuit: str) -> Iterator[tuple[Part, Ordered]]:
    """What parts that were made for the coolant of a circuit bring."""
    for part in parts_made(build, circuit, POUR):
        for line in build.plumbing.ordered:
            if line.part == part.key and line.litres is not None:
                yield part, line


def circuit_of_coolant(build: BuildInput, part: Part) -> Circuit | None:
    """The circuit whose coolant a part brings; None where it brings none, or it is poured in."""
    for circuit in build.plumbing.circuits:
        if any(one.key == part.key for one, _ in coolant_lines(build, circuit.key)):
            return circuit
    return None


def poured_in(build: BuildInput, key: str) -> Edited[str]:
    """What came was poured in: the circuit is full of its mixture, and nothing stands by.

    Nothing is changed where nothing came, or there is no mixture.
    """
    circuit = find_by_key(build.plumbing.circuits, key)
    fill = None if circuit is None else kept_fill(build, Drawing(build), circuit)
    came = {part.key for part, _ in coolant_lines(build, key) if part.arrived}
    if circuit is None or not came or not isinstance(fill, CoolantFill):
        return Edited(build=build, made=key)
    full = replace(
        circuit,
        there_litres=fill.circuit_litres,
        there_percent=round(100 * fill.mixture.share, 2),
    )
    plumbing = replace(
        build.plumbing,
        circuits=replaced_by_key(build.plumbing.circuits, full),
        ordered=tuple(one for one in build.plumbing.ordered if one.part not in came),
    )
    return checked_edit(build, replace(build, plumbing=plumbing), key)


def _wanted_litres(fill: CoolantFill | None) -> dict[str, float]:
    if fill is None:
        return {}
    return {
        CONCENTRATES[fill.mixture.antifreeze]: fill.concentrate_litres,
        WATER: fill.water_litres,
    }
