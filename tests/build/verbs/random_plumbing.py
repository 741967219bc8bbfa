"""Random changes of what is plumbed, each by its verb; the build itself where that refuses."""

import datetime as dt
from dataclasses import replace
from random import Random
from typing import Any

from tests.build.verbs.random_changes import RandomChange
from webapp.build.build_input import BuildInput
from webapp.build.by_key import replaced_by_key
from webapp.build.plumbing import (
    WAIVABLE,
    Circuit,
    Component,
    Ordered,
    Piece,
    Port,
    Run,
    ShelfThing,
    Stop,
    address_of,
)
from webapp.build.verbs import circuits, components, runs, shelf
from webapp.plumbing import (
    arrivals,
    branching,
    cap_work,
    coolant_to_buy,
    parts_to_buy,
    run_states,
)

SIZES = (6.0, 19.0, 38.0, 38.1, 51.0)


def _day(build: BuildInput, chance: Random) -> dt.date:
    return build.now.date() - dt.timedelta(days=chance.randint(0, 3))


def _address(build: BuildInput, chance: Random) -> str:
    return chance.choice(
        [address_of(one.key, port.name) for one in build.plumbing.components for port in one.ports]
    )


def _run(build: BuildInput, chance: Random) -> Run:
    return chance.choice(build.plumbing.runs or (Run(key="none", from_port="a", to_port="b"),))


def _piece(chance: Random) -> Piece:
    size = chance.choice(SIZES)
    kind: Any = chance.choice(("hose", "tube", "elbow", "coupler"))
    length = float(chance.randint(50, 900)) if kind in ("hose", "tube") else None
    angle = 90.0 if kind == "elbow" else None
    return Piece(piece=kind, size=size, length_mm=length, angle=angle)


def enter_component(build: BuildInput, chance: Random) -> BuildInput:
    circuit = chance.choice(build.plumbing.circuits).key
    flows: Any = ("in", "out", "both")
    ports = tuple(
        Port(name=f"p{n}", end="bead", flow=chance.choice(flows), size=chance.choice(SIZES))
        for n in range(chance.randint(0, 3))
    )
    new = Component(key="", name=chance.choice(("Cooler", "Tank")), circuit=circuit, ports=ports)
    return components.add_component(build, new).build


def edit_component(build: BuildInput, chance: Random) -> BuildInput:
    one = chance.choice(build.plumbing.components)
    part = chance.choice((None, *(part.key for part in build.parts)))
    return components.change_component(
        build, replace(one, name=chance.choice(("A", "B")), part=part)
    ).build


def remove_component(build: BuildInput, chance: Random) -> BuildInput:
    key = chance.choice(build.plumbing.components).key
    return components.remove_component(build, key).build


def edit_port(build: BuildInput, chance: Random) -> BuildInput:
    address = _address(build, chance)
    match chance.randint(0, 4):
        case 0:
            return components.measure_port(build, address, chance.choice(SIZES)).build
        case 1:
            name = f"q{chance.randint(0, 9)}"
            return components.rename_port(build, address, name).build
        case 2:
            kind: Any = chance.choice(("part", "air", "cover"))
            return components.shut_port(build, address, Stop(kind=kind)).build
        case 3:
            return components.open_port(build, address).build
        case _:
            return components.remove_port(build, address).build


def cap(build: BuildInput, chance: Random) -> BuildInput:
    address = _address(build, chance)
    if chance.random() < 0.5:
        return cap_work.put_cap_on(build, address, on=_day(build, chance)).build
    return cap_work.take_cap_off(build, address).build


def join(build: BuildInput, chance: Random) -> BuildInput:
    ends = (_address(build, chance), _address(build, chance))
    pieces = [_piece(chance) for _ in range(chance.randint(0, 3))]
    return runs.join_ports(build, *ends, name="Hose", pieces=pieces).build


def edit_pieces(build: BuildInput, chance: Random) -> BuildInput:
    key, number = _run(build, chance).key, chance.randint(1, 4)
    match chance.randint(0, 3):
        case 0:
            return runs.add_piece(build, key, _piece(chance)).build
        case 1:
            return runs.change_piece(build, key, number, _piece(chance)).build
        case 2:
            return runs.remove_piece(build, key, number).build
        case _:
            return runs.move_piece(build, key, number, chance.randint(1, 4)).build


def edit_run(build: BuildInput, chance: Random) -> BuildInput:
    run = _run(build, chance)
    tasks = tuple(task.key for task in build.tasks if chance.random() < 0.3)
    return runs.change_run(build, replace(run, name=chance.choice("XY"), tasks=tasks)).build


def turn(build: BuildInput, chance: Random) -> BuildInput:
    return runs.turn_run(build, _run(build, chance).key).build


def turn_component(build: BuildInput, chance: Random) -> BuildInput:
    one = chance.choice(build.plumbing.components)
    circuit = chance.choice(build.plumbing.circuits).key
    return components.turn_component(build, one.key, circuit).build


def inner_ways(build: BuildInput, chance: Random) -> BuildInput:
    one = chance.choice(build.plumbing.components)
    names = [port.name for port in one.ports]
    ways = None if len(names) < 2 or chance.random() < 0.3 else ((names[0], names[1]),)
    return components.change_component(build, replace(one, passages=ways)).build


def branch(build: BuildInput, chance: Random) -> BuildInput:
    key = _run(build, chance).key
    return branching.branch_here(build, key, before=chance.randint(1, 4)).build


def work(build: BuildInput, chance: Random) -> BuildInput:
    key, on = _run(build, chance).key, _day(build, chance)
    match chance.randint(0, 4):
        case 0:
            return run_states.mark_cut(build, key, on=on).build
        case 1:
            return run_states.mark_fitted(build, key, on=on).build
        case 2:
            return run_states.mark_clamped(build, key, on=on).build
        case 3:
            return run_states.take_off(build, key).build
        case _:
            return runs.remove_run(build, key).build


def edit_circuit(build: BuildInput, chance: Random) -> BuildInput:
    one = chance.choice(build.plumbing.circuits)
    holds = tuple(task.key for task in build.tasks if chance.random() < 0.2)
    match chance.randint(0, 3):
        case 0:
            return circuits.change_circuit(build, replace(one, holds=holds)).build
        case 1:
            return circuits.waive(build, one.key, chance.choice(WAIVABLE), "why not").build
        case 2:
            return circuits.remove_circuit(build, one.key).build
        case _:
            first, last = (
                Port(name=name, end="bead", flow="both", size=19.0) for name in ("one", "two")
            )
            ends = Component(key=f"ends{chance.randint(0, 99)}", name="Ends", ports=(first, last))
            circuit = Circuit(
                key="",
                name="More",
                medium="oil",
                from_port=f"{ends.key}.one",
                to_port=f"{ends.key}.two",
            )
            return circuits.add_circuit(build, circuit, ends).build


def sign_test(build: BuildInput, chance: Random) -> BuildInput:
    key = chance.choice(build.plumbing.circuits).key
    return run_states.mark_tested(build, key, on=_day(build, chance)).build


def edit_shelf(build: BuildInput, chance: Random) -> BuildInput:
    there = build.plumbing.shelf
    if there and chance.random() < 0.5:
        place = chance.randrange(len(there))
        if chance.random() < 0.5:
            return shelf.take_from_shelf(build, place, there[place]).build
        more = replace(there[place], count=chance.randint(0, 9))
        return shelf.change_on_shelf(build, place, there[place], more).build
    low = float(chance.randint(8, 60))
    new = ShelfThing(piece="clamp", range_mm=(low, low + 20), count=chance.randint(1, 9))
    return shelf.put_on_shelf(build, new).build


def order(build: BuildInput, chance: Random) -> BuildInput:
    if not build.parts:
        return build
    part = chance.choice(build.parts).key
    if chance.random() < 0.5:
        return arrivals.brought_to_shelf(build, part).build
    lines = [
        Ordered(part=part, what="hose 38 EPDM", metres=float(chance.randint(1, 9))),
        Ordered(part=part, what="clamp 40-60", count=chance.randint(1, 9)),
    ]
    return shelf.part_brings(build, part, lines[: chance.randint(0, 2)]).build


def into_parts(build: BuildInput, chance: Random) -> BuildInput:
    return parts_to_buy.put_into_parts(build, lead_days=float(chance.randint(0, 9))).build


def mix_coolant(build: BuildInput, chance: Random) -> BuildInput:
    one = chance.choice(build.plumbing.circuits)
    match chance.randint(0, 3):
        case 0:
            frost = chance.choice((None, -10.0, -25.0, -37.0))
            kind: Any = chance.choice((None, "ethylene", "propylene"))
            mixed = replace(one, frost_c=frost, antifreeze=kind)
        case 1:
            holds = float(chance.randint(5, 20))
            there = chance.choice((None, 0.0, holds / 2))
            mixed = replace(one, full_litres=holds, there_litres=there, there_percent=30.0)
        case 2:
            days = float(chance.randint(0, 9))
            return coolant_to_buy.put_coolant_into_parts(build, one.key, lead_days=days).build
        case _:
            return coolant_to_buy.poured_in(build, one.key).build
    return circuits.change_circuit(build, mixed).build


def coolant_comes(build: BuildInput, chance: Random) -> BuildInput:
    """One of the parts that bring coolant is ordered, or here."""
    bringing = {line.part for line in build.plumbing.ordered if line.litres is not None}
    there = [part for part in build.parts if part.key in bringing]
    if not there:
        return mix_coolant(build, chance)
    part = chance.choice(there)
    come = (
        replace(part, arrived=True)
        if chance.random() < 0.5
        else replace(part, ordered_on=_day(build, chance))
    )
    return replace(build, parts=replaced_by_key(build.parts, come))


RANDOM_PLUMBING: tuple[RandomChange, ...] = (
    *(enter_component, edit_component, remove_component, edit_port, cap, join, edit_pieces),
    *(turn_component, inner_ways),
    *(edit_run, turn, branch, work, work, edit_circuit, sign_test, edit_shelf, order, into_parts),
    *(mix_coolant, mix_coolant, coolant_comes),
)
