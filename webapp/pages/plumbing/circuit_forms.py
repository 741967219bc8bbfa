"""Circuits as they are drawn: begun at two components, changed, taken out, what they go without."""

from dataclasses import replace
from typing import cast

from webapp.build.build_input import MEDIA, BuildInput, Fault, Medium
from webapp.build.by_key import find_by_key, replaced_by_key
from webapp.build.edited import Edited, Lost
from webapp.build.plumbing import (
    WAIVABLE,
    Circuit,
    Component,
    Flow,
    Waivable,
    address_of,
    component_at,
)
from webapp.build.usual_components import UsualComponent, circuit_of_port, first_port
from webapp.build.verbs.circuits import (
    add_circuit,
    change_circuit,
    waive,
    waive_no_more,
)
from webapp.build.verbs.components import port_at
from webapp.build.verbs.plumbing_keys import free_key
from webapp.pages.forms.picking import PickList
from webapp.pages.forms.shown import Rows, Shown
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.frame.form_change import FormEdit
from webapp.pages.plumbing.piece_fields import amount_reader, amount_shown
from webapp.services.seed_builds import usual_components

BLANK_HOLDS = 1
ROWS = (Rows(stems=("holds",), identity="holds"),)
PORT, KIND = "port:", "new:"
"""What stands before an address of a port, or a kind of component, where either is picked."""
_MAKERS: tuple[tuple[str, str, Flow], ...] = (
    ("begins", "Where it begins", "out"),
    ("ends", "Where it ends", "in"),
)


# --- a new one ----------------------------------------------------------------------------------


def enter_circuit(form: TypedForm, build: BuildInput) -> Edited[str]:
    """A circuit between two ports that are there, or that come with usual components."""
    name = form.text("name", "The name of the circuit", needed=True) or "Circuit"
    medium = form.one_of("medium", f"{name}, medium", MEDIA)
    if medium is None:
        form.fault("medium", f"{name}, medium: none is picked. Pick what flows in it.")
    key = free_key(name, {one.key for one in build.plumbing.circuits}, "circuit")
    own = Circuit(
        key=key,
        name=name,
        medium=cast(Medium, medium or "water"),
        from_port="",
        to_port="",
        hose=form.text("hose", f"{name}, hose") or None,
        tube=form.text("tube", f"{name}, tube") or None,
    )
    ends = _read_ends(form, build, own)
    if form.faults or ends is None:
        return Edited(build=build, made=key)
    addresses, made, moved = ends
    for address in moved:
        build = _of_circuit(build, address, key)
    return add_circuit(build, replace(own, from_port=addresses[0], to_port=addresses[1]), *made)


_Ends = tuple[tuple[str, str], tuple[Component, ...], tuple[str, ...]]
"""Where it begins and ends, components that come with it, ports that are there and become its."""


def _read_ends(form: TypedForm, build: BuildInput, own: Circuit) -> _Ends | None:
    made: list[Component] = []
    moved: list[str] = []
    addresses: list[str] = []
    taken = {one.key for one in build.plumbing.components}
    for field, label, flow in _MAKERS:
        picked = form.typed(field).strip()
        if not picked and field == "ends" and len(addresses) == 1:
            picked = _same_component(build, made, addresses[0])
        if picked.startswith(KIND):
            usual = next((u for u in usual_components() if u.kind == picked[len(KIND) :]), None)
            if usual is None:
                form.fault(field, f"{label}: this is not in the list. Pick one that is.")
                continue
            component = _new_component(usual, own, free_key(usual.name, taken))
            taken.add(component.key)
            made.append(component)
            port = first_port(component, flow)
            if port is None:
                way = "out of" if flow == "out" else "into"
                form.fault(field, f"{label}: nothing flows {way} “{usual.name}”. Pick another.")
                continue
            addresses.append(address_of(component.key, port.name))
        elif picked.startswith(PORT) and port_at(build, picked[len(PORT) :]) is not None:
            moved.append(picked[len(PORT) :])
            addresses.append(picked[len(PORT) :])
        elif any(picked == address_of(one.key, port.name) for one in made for port in one.ports):
            addresses.append(picked)
        else:
            form.fault(field, f"{label}: nothing is picked. Pick a component, or a port.")
    if form.faults or len(addresses) < len(_MAKERS):
        return None
    return (addresses[0], addresses[1]), tuple(made), tuple(moved)


def _same_component(build: BuildInput, made: list[Component], begins: str) -> str:
    """The port by which a loop comes back to the component it begins at; "" where there is none."""
    for component in (*made, *build.plumbing.components):
        if component.key != component_at(begins):
            continue
        left = tuple(p for p in component.ports if address_of(component.key, p.name) != begins)
        port = first_port(replace(component, ports=left), "in")
        if port is None:
            return ""
        address = address_of(component.key, port.name)
        return address if component in made else PORT + address
    return ""


def _new_component(usual: UsualComponent, own: Circuit, key: str) -> Component:
    """A usual component with those of its ports that are of the circuit."""
    ports = tuple(p.port() for p in usual.ports if circuit_of_port(p, own, ()) == own.key)
    return Component(key=key, name=usual.name, kind=usual.kind, circuit=own.key, ports=ports)


def _of_circuit(build: BuildInput, address: str, circuit: str) -> BuildInput:
    """The build with a port that belongs to another circuit, one that is still to be put in."""
    found = port_at(build, address)
    if found is None:
        return build
    component, old = found
    ports = tuple(replace(p, circuit=circuit) if p is old else p for p in component.ports)
    components = replaced_by_key(build.plumbing.components, replace(component, ports=ports))
    return replace(build, plumbing=replace(build.plumbing, components=components))


# --- one that is there ----------------------------------------------------------------------------


def shown_circuit(build: BuildInput, circuit: Circuit) -> Shown:
    """The form of a circuit as it is opened."""
    return (
        Shown()
        .text("name", circuit.name)
        .choice("medium", circuit.medium)
        .choice("subsystem", circuit.subsystem)
        .choice("from_port", circuit.from_port)
        .choice("to_port", circuit.to_port)
        .choice("highest", circuit.highest)
        .text("hose", circuit.hose or "")
        .text("tube", circuit.tube or "")
        .add("bar", amount_shown(circuit.bar, "pressure"), circuit.bar)
        .text("test", circuit.test or "")
        .tick("needed_to_start", circuit.needed_to_start)
        .pick_rows("holds", circuit.holds, PickList.of("task", build.tasks), BLANK_HOLDS)
    )


def edit_circuit(key: str) -> FormEdit[str]:
    """The edit that gives a circuit what its form says."""

    def edit(form: TypedForm, build: BuildInput) -> Edited[str]:
        stored = find_by_key(build.plumbing.circuits, key)
        if stored is None:
            return Edited(build=build, made=key, lost=Lost(kind="circuit", key=key))
        if not form.settle(shown_circuit(build, stored), ROWS):
            return Edited(build=build, made=key)
        return change_circuit(build, _as_typed(form, build, stored))

    return edit


def _as_typed(form: TypedForm, build: BuildInput, stored: Circuit) -> Circuit:
    name = form.text("name", "The name of the circuit", needed=True) or stored.name
    ports = {
        address_of(component.key, port.name)
        for component in build.plumbing.components
        for port in component.ports
    }
    picks = PickList.of("task", build.tasks)
    holds = (
        form.picked(f"holds-{row}", f"{name}, what waits for it", picks)
        for row in form.row_numbers("holds")
    )
    medium = form.one_of("medium", f"{name}, medium", MEDIA) or stored.medium
    return replace(
        stored,
        name=name,
        medium=cast(Medium, medium),
        subsystem=form.one_of(
            "subsystem", f"{name}, subsystem", {one.key for one in build.subsystems}
        ),
        from_port=form.one_of("from_port", f"{name}, begins at", ports) or stored.from_port,
        to_port=form.one_of("to_port", f"{name}, ends at", ports) or stored.to_port,
        highest=form.one_of("highest", f"{name}, highest point", ports),
        hose=form.text("hose", f"{name}, hose") or None,
        tube=form.text("tube", f"{name}, tube") or None,
        bar=form.read("bar", f"{name}, pressure", amount_reader("pressure")),
        test=form.text("test", f"{name}, test") or None,
        needed_to_start=form.ticked("needed_to_start"),
        holds=tuple(dict.fromkeys(key for key in holds if key is not None)),
    )


def place_of_fault(_made: str, fault: Fault) -> str:
    """Which field of a circuit a fault belongs to."""
    if fault.kind != "circuit":
        return ""
    fields = {"from": "from_port", "to": "to_port", "holds": "holds-0"}
    return fields.get(fault.field, fault.field if fault.field != "waived" else "")


def place_of_new_fault(_made: str, fault: Fault) -> str:
    """Which field of a new circuit a fault belongs to."""
    if fault.kind != "circuit":
        return ""
    return {"from": "begins", "to": "ends", "medium": "medium"}.get(fault.field, "name")


def edit_waivers(form: TypedForm, build: BuildInput) -> Edited[str]:
    """A circuit goes without a vent or the like, for a reason; or not any more."""
    key = form.typed("circuit")
    why = form.one_of("why", "What it goes without", WAIVABLE)
    if why is None or find_by_key(build.plumbing.circuits, key) is None:
        return Edited(build=build, made=key, lost=Lost(kind="circuit", key=key))
    of = cast(Waivable, why)
    if form.typed("does") == "no more":
        return waive_no_more(build, key, of)
    return waive(build, key, of, form.text("reason", "The reason", needed=True))
