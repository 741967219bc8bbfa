"""Components as they are drawn: a usual one with its sizes, changed, taken out."""

import hashlib
from dataclasses import dataclass, replace
from itertools import combinations
from typing import cast

from webapp.build.build_input import BuildInput, Fault
from webapp.build.by_key import find_by_key
from webapp.build.edited import Edited, Lost
from webapp.build.plumbing import END_KINDS, Circuit, Component, EndKind, Port, Volume
from webapp.build.usual_components import UsualComponent, circuit_of_port
from webapp.build.verbs.components import add_component, change_component, turn_component
from webapp.build.verbs.plumbing_keys import free_key
from webapp.pages.forms.shown import Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.plumbing.piece_fields import amount_reader, amount_shown, size_reader
from webapp.pages.words.plumbing_drawn import SHORT_FLOW, end_word
from webapp.plumbing.flow import IN, OUT


@dataclass(frozen=True, slots=True, kw_only=True)
class UsualRow:
    """One port of a usual component in the form: what it is, and what is usual."""

    number: int
    name: str
    hint: str
    about: str


def usual_rows(usual: UsualComponent) -> tuple[UsualRow, ...]:
    """The ports of a usual component as the form lists them."""
    return tuple(
        UsualRow(
            number=number,
            name=port.name,
            hint="; ".join(
                filter(None, (f"usually {port.usual}" if port.usual else "", port.remark))
            ),
            about=f"{end_word(port.end)}, {SHORT_FLOW[port.flow]}",
        )
        for number, port in enumerate(usual.ports)
    )


def opened_usual(usual: UsualComponent, own: Circuit, circuits: tuple[Circuit, ...]) -> TypedForm:
    """The form of a usual component: its ends and circuits as usual, its sizes to be filled in."""
    values = {"name": usual.name, "litres": ""}
    for number, port in enumerate(usual.ports):
        values[f"port_size-{number}"] = ""
        values[f"end-{number}"] = port.end
        values[f"of_circuit-{number}"] = circuit_of_port(port, own, circuits) or ""
    return TypedForm({name: (text,) for name, text in values.items()})


def enter_component(usual: UsualComponent, circuit: str) -> FormEdit[str]:
    """The edit that puts a usual component with the sizes of its form into a circuit."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str]:
        plumbing = build.plumbing
        if find_by_key(plumbing.circuits, circuit) is None:
            return Edited(build=build, made=circuit, lost=Lost(kind="circuit", key=circuit))
        name = form.text("name", "The name of the component", needed=True) or usual.name
        key = free_key(name, {one.key for one in plumbing.components})
        ports = tuple(_read_rows(form, build, usual, circuit))
        litres = form.read("litres", f"{name}, litres", amount_reader("volume"))
        volumes = () if litres is None else (Volume(circuit=circuit, litres=litres),)
        if not ports and not form.faults:
            form.fault("of_circuit-0", f"{name} has no port left: say of one which circuit it is.")
        new = Component(
            key=key, name=name, kind=usual.kind, circuit=circuit, ports=ports, volumes=volumes
        )
        return add_component(build, new)

    return edit


def _read_rows(
    form: TypedForm, build: BuildInput, usual: UsualComponent, circuit: str
) -> list[Port]:
    """The ports that belong to a circuit; one that belongs to none is left out."""
    keys = {one.key for one in build.plumbing.circuits}
    ports = []
    for number, port in enumerate(usual.ports):
        label = f"Port {port.name}"
        of = form.one_of(f"of_circuit-{number}", f"{label}, circuit", keys)
        kind = form.one_of(f"end-{number}", f"{label}, end", END_KINDS) or port.end
        end = cast(EndKind, kind)
        size = form.read(f"port_size-{number}", f"{label}, size", size_reader(end))
        if of is None:
            continue
        own = None if of == circuit else of
        ports.append(replace(port.port(), end=end, size=size, circuit=own))
    return ports


def place_in_rows(usual: UsualComponent, fault: Fault) -> str:
    """Which field of the form of a usual component a fault belongs to."""
    if fault.kind == "port":
        for number, port in enumerate(usual.ports):
            if fault.key.endswith(f".{port.name}"):
                return f"{'of_circuit' if fault.field == 'circuit' else 'port_size'}-{number}"
    if fault.kind == "component":
        return {"litres": "litres"}.get(fault.field, "name")
    return ""


# --- a component that is there ------------------------------------------------------------------


def circuits_in(component: Component) -> tuple[str, ...]:
    """The circuits that a component has ports or litres in."""
    named = [
        component.circuit,
        *(port.circuit for port in component.ports),
        *(volume.circuit for volume in component.volumes),
    ]
    return tuple(dict.fromkeys(key for key in named if key is not None))


@dataclass(frozen=True, slots=True, kw_only=True)
class InnerWay:
    """Two ports that may be joined inside: the field of its tick, and what it is called."""

    field: str
    pair: tuple[str, str]
    words: str


ALL_WAYS, SOME_WAYS = "all", "some"


def inner_ways(component: Component) -> tuple[InnerWay, ...]:
    """Every way that may lead through a component: into a port of a circuit, out of another one;
    and those that are said to, whatever flows there."""
    own = tuple(component.passages or ())
    pairs = dict.fromkeys(own)
    known = {frozenset(pair) for pair in own}
    for one, other in combinations(component.ports, 2):
        is_one = (one.circuit or component.circuit) == (other.circuit or component.circuit)
        leads = (one.flow in IN and other.flow in OUT) or (one.flow in OUT and other.flow in IN)
        if is_one and leads and frozenset((one.name, other.name)) not in known:
            backwards = one.flow not in IN or other.flow not in OUT
            pairs[(other.name, one.name) if backwards else (one.name, other.name)] = None
    return tuple(
        InnerWay(
            field=f"inside-{hashlib.sha256(repr(pair).encode()).hexdigest()[:8]}",
            pair=pair,
            words=f"{pair[0]} to {pair[1]}",
        )
        for pair in pairs
    )


def shown_component(component: Component) -> Shown:
    """The form of a component as it is opened."""
    fields = Shown().text("name", component.name).choice("part", component.part)
    litres = {volume.circuit: volume.litres for volume in component.volumes}
    for number, key in enumerate(circuits_in(component)):
        held = litres.get(key)
        fields.add(f"litres-{number}", amount_shown(held, "volume"), held)
    passages = component.passages
    fields.choice("ways", ALL_WAYS if passages is None else SOME_WAYS)
    for way in inner_ways(component):
        is_joined = passages is None or way.pair in passages
        fields.tick(way.field, is_joined).called(f"inside, {way.words}", way.field)
    return fields


def edit_component(key: str) -> FormEdit[str]:
    """The edit that gives a component the name, part and litres that its form says."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str]:
        stored = find_by_key(build.plumbing.components, key)
        if stored is None:
            return Edited(build=build, made=key, lost=Lost(kind="component", key=key))
        if not form.settle(shown_component(stored)):
            return Edited(build=build, made=key)
        name = form.text("name", "The name of the component", needed=True) or stored.name
        volumes = []
        for number, circuit in enumerate(circuits_in(stored)):
            litres = form.read(f"litres-{number}", f"{name}, litres", amount_reader("volume"))
            if litres is not None:
                volumes.append(Volume(circuit=circuit, litres=litres))
        part = form.one_of("part", f"{name}, part", {part.key for part in build.parts})
        changed = replace(
            stored, name=name, part=part, volumes=tuple(volumes), passages=_read_ways(form, stored)
        )
        return change_component(build, changed)

    return edit


def _read_ways(form: TypedForm, stored: Component) -> tuple[tuple[str, str], ...] | None:
    """The ways inside as the form says them; None: every way in leads to every way out.

    Where that is left as it was and a way is unticked, those that are ticked are meant.
    """
    ways = inner_ways(stored)
    ticked = tuple(way.pair for way in ways if form.ticked(way.field))
    is_all = form.one_of("ways", "Its ways inside", (ALL_WAYS, SOME_WAYS)) == ALL_WAYS
    if is_all and (len(ticked) == len(ways) or not form.is_as_stored("ways")):
        return None
    return ticked


def turn_round(form: TypedForm, build: BuildInput) -> Edited[str]:
    """The edit that turns a component round in one circuit, unless it was turned since."""
    key, circuit = form.typed("component"), form.typed("circuit")
    component = find_by_key(build.plumbing.components, key)
    if component is None:
        return Edited(build=build, made=key, lost=Lost(kind="component", key=key))
    if form.typed("seen") != way_round(component, circuit):
        return Edited(build=build, made=key)
    return turn_component(build, key, circuit)


def way_round(component: Component, circuit: str) -> str:
    """Which way round a component is in a circuit, as a press carries it."""
    flows = [
        (port.name, port.flow)
        for port in component.ports
        if (port.circuit or component.circuit) == circuit
    ]
    return hashlib.sha256(repr(flows).encode()).hexdigest()[:16]


def turnable(component: Component) -> tuple[str, ...]:
    """The circuits in which a component has a way in or out."""
    return tuple(
        circuit
        for circuit in circuits_in(component)
        if any(
            port.flow in ("in", "out")
            and port.role is None
            and (port.circuit or component.circuit) == circuit
            for port in component.ports
        )
    )


def place_of_fault(_made: str, fault: Fault) -> str:
    """Which field of a component a fault belongs to."""
    if fault.kind != "component":
        return ""
    return {"litres": "litres-0", "part": "part"}.get(fault.field, "name")
