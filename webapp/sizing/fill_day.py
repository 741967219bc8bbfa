"""Fill day: what goes into each circuit of a liquid, how much of it, and what it waits for."""

from collections.abc import Iterator
from dataclasses import dataclass

from webapp.build.build_input import BuildInput, Medium, Part
from webapp.build.plumbing import Circuit
from webapp.plumbing.coolant import CoolantFill, NoMixture, mixture_for, mixture_of
from webapp.plumbing.coolant_to_buy import RADIATOR, fill_with, full_litres, kind_of
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.plumbed import Plumbed, PlumbedCircuit
from webapp.sizing.answers import Missing
from webapp.sizing.left_to_others import NOT_SIZED, LeftToOthers
from webapp.sizing.of_others import BY_KIND
from webapp.sizing.of_water import antifreeze_of
from webapp.sizing.sheet import Sheet, missing
from webapp.sizing.way import kinds_in

LIQUIDS: tuple[Medium, ...] = ("water", "fuel", "oil")
NOT_FILLED = frozenset(("brakes", "clutch", "refrigerant"))
"""Matters whose fluid is filled by those who are licensed to: no amount is told."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fill:
    """One circuit to fill.

    `litres` is what it holds as far as that is known, `without` the keys of what nobody said the
    volume of; `is_typed`: the volume is the one that was typed, for the drawing has holes.
    `coolant` is what to buy and pour, a reason or a gap where that can not be said; None for no
    coolant. `parts` are not here yet, `holds` the tasks that wait until it is closed.
    """

    circuit: Circuit
    fuel: str
    litres: float
    without: tuple[str, ...]
    is_typed: bool
    coolant: CoolantFill | NoMixture | Missing | None
    parts: tuple[Part, ...]
    holds: tuple[str, ...]
    is_closed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FillDay:
    """All of it: the circuits to fill, and those that others fill."""

    fills: tuple[Fill, ...]
    others: tuple[tuple[Circuit, LeftToOthers], ...]


def fill_day(build: BuildInput, plumbed: Plumbed) -> FillDay:
    """What is filled in and what it waits for; `plumbed` is what follows from this very build."""
    drawing, sheet = Drawing(build), Sheet(build.data_sheet)
    fills, others = list[Fill](), list[tuple[Circuit, LeftToOthers]]()
    for one in plumbed.circuits:
        left = _left_to(drawing, one.circuit)
        if left is not None:
            others.append((one.circuit, left))
        elif one.circuit.medium in LIQUIDS:
            fills.append(_fill(build, drawing, sheet, one))
    return FillDay(fills=tuple(fills), others=tuple(others))


def _left_to(drawing: Drawing, circuit: Circuit) -> LeftToOthers | None:
    kinds = kinds_in(drawing, circuit)
    if circuit.medium == "vacuum":
        return None
    matters = (matter for kind, matter in BY_KIND.items() if kind in kinds)
    return next((NOT_SIZED[matter] for matter in matters if matter in NOT_FILLED), None)


def _fill(build: BuildInput, drawing: Drawing, sheet: Sheet, one: PlumbedCircuit) -> Fill:
    circuit = one.circuit
    has_radiator = circuit.medium == "water" and RADIATOR in kinds_in(drawing, circuit)
    is_coolant = has_radiator or (circuit.medium == "water" and circuit.frost_c is not None)
    litres, is_typed = full_litres(build, drawing, circuit, one.litres)
    return Fill(
        circuit=circuit,
        fuel=sheet.fuel or "" if circuit.medium == "fuel" else "",
        litres=litres,
        without=one.litres.without,
        is_typed=is_typed,
        coolant=coolant_of(sheet, circuit, litres) if is_coolant else None,
        parts=tuple(_parts(build, drawing, circuit)),
        holds=circuit.holds,
        is_closed=one.is_closed,
    )


def coolant_of(sheet: Sheet, circuit: Circuit, litres: float) -> CoolantFill | NoMixture | Missing:
    """As it is kept with the circuit, else by the sheet: by the share that was typed, else the
    thinnest that stands the frost."""
    if circuit.frost_c is not None:
        kept = mixture_for(circuit.frost_c, kind_of(sheet.sheet, circuit))
        return kept if isinstance(kept, NoMixture) else fill_with(circuit, litres, kept)
    share, frost_c = sheet.number("antifreeze_percent"), sheet.number("frost_c")
    if share is None and frost_c is None:
        return missing("antifreeze_percent", "frost_c")
    kind = antifreeze_of(sheet)
    if share is not None:
        found = mixture_of(share / 100, kind)
    else:
        found = mixture_for(frost_c or 0.0, kind)
    return found if isinstance(found, NoMixture) else fill_with(circuit, litres, found)


def _parts(build: BuildInput, drawing: Drawing, circuit: Circuit) -> Iterator[Part]:
    """Parts that are not here: of its components, of the work on its runs, of what it holds."""
    placed = drawing.ports_by_circuit[circuit.key]
    named = {one.component.part for one in placed}
    tasks = {
        *circuit.holds,
        *(key for run in drawing.runs_by_circuit[circuit.key] for key in run.tasks),
    }
    for part in build.parts:
        if not part.arrived and (part.key in named or tasks.intersection(part.serves)):
            yield part
