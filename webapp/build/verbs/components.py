"""Components and their ports: put in, changed, named anew, shut, opened, taken out."""

from collections.abc import Iterable, Mapping
from dataclasses import replace

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key, replaced_by_key
from webapp.build.checks.fault_words import shown
from webapp.build.edited import Edited
from webapp.build.plumbing import (
    Circuit,
    Component,
    Flow,
    Plumbing,
    Port,
    Run,
    Size,
    Stop,
    address_of,
    component_at,
)
from webapp.build.verbs.plumbing_edits import fault_of, lost, plumbed_edit, refused
from webapp.build.verbs.plumbing_keys import free_key

TOLD_AT_MOST = 5


def add_component(build: BuildInput, component: Component) -> Edited[str]:
    """With one component more; made is its key, one of its own made of its name where it has none
    or one that is taken."""
    plumbing = build.plumbing
    taken = {one.key for one in plumbing.components}
    key = free_key(component.key or component.name, taken)
    new = replace(component, key=key)
    return plumbed_edit(build, replace(plumbing, components=(*plumbing.components, new)), key)


def change_component(build: BuildInput, component: Component) -> Edited[str]:
    """With the component of that key as it is given; ports are named anew by `rename_port`."""
    plumbing, key = build.plumbing, component.key
    if find_by_key(plumbing.components, key) is None:
        return lost(build, "component", key, key)
    components = replaced_by_key(plumbing.components, component)
    return plumbed_edit(build, replace(plumbing, components=components), key)


def remove_component(build: BuildInput, key: str) -> Edited[str]:
    """Without a component; refused while runs hang on it or a circuit begins or ends there."""
    plumbing = build.plumbing
    component = find_by_key(plumbing.components, key)
    if component is None:
        return lost(build, "component", key, key)
    runs = [run for run in plumbing.runs if key in map(component_at, run.ports)]
    if runs:
        hang = "a run hangs" if len(runs) == 1 else f"{len(runs)} runs hang"
        text = f"{hang} on it: {_named(runs)}. Remove or join them elsewhere first."
        return refused(build, key, fault_of("component", component, "", text))
    ends = [
        one for one in plumbing.circuits if key in map(component_at, (one.from_port, one.to_port))
    ]
    if ends:
        text = f"it is where {_named(ends)} begins or ends. Choose another port for that first."
        return refused(build, key, fault_of("component", component, "", text))
    left = tuple(one for one in plumbing.components if one.key != key)
    circuits = tuple(
        replace(one, highest=None) if one.highest and component_at(one.highest) == key else one
        for one in plumbing.circuits
    )
    return plumbed_edit(build, replace(plumbing, components=left, circuits=circuits), key)


TURNED: Mapping[Flow, Flow] = {"in": "out", "out": "in", "both": "both", "none": "none"}
"""Which way it flows through a port of a component that is turned round."""


def turn_component(build: BuildInput, key: str, circuit: str) -> Edited[str]:
    """With a component the other way round in one circuit: its ways in are ways out.

    A vent, a drain or a filler stays what it is, and what is joined stays joined: no test falls.
    """
    component = find_by_key(build.plumbing.components, key)
    if component is None:
        return lost(build, "component", key, key)
    ports = tuple(
        replace(port, flow=TURNED[port.flow])
        if port.role is None and (port.circuit or component.circuit) == circuit
        else port
        for port in component.ports
    )
    return change_component(build, replace(component, ports=ports))


def add_ports(build: BuildInput, key: str, ports: Iterable[Port]) -> Edited[str]:
    """With more ports on a component."""
    component = find_by_key(build.plumbing.components, key)
    if component is None:
        return lost(build, "component", key, key)
    return change_component(build, replace(component, ports=(*component.ports, *ports)))


def remove_port(build: BuildInput, address: str) -> Edited[str]:
    """Without a port, its inner ways and what it is the highest point of; refused while a run joins
    it or a circuit begins or ends there."""
    found = port_at(build, address)
    if found is None:
        return lost(build, "port", address, address)
    component, port = found
    joined = [run for run in build.plumbing.runs if address in run.ports]
    if joined:
        text = f"port {shown(port.name)} is joined by {_named(joined)}. Remove that first."
        return refused(build, address, fault_of("component", component, "ports", text))
    ends = [one for one in build.plumbing.circuits if address in (one.from_port, one.to_port)]
    if ends:
        text = f"{_named(ends)} begins or ends at port {shown(port.name)}. Choose another for that."
        return refused(build, address, fault_of("component", component, "ports", text))
    passages = component.passages
    if passages is not None:
        passages = tuple(pair for pair in passages if port.name not in pair)
    ports = tuple(one for one in component.ports if one is not port)
    without = replace(component, ports=ports, passages=passages)
    circuits = tuple(
        replace(one, highest=None) if one.highest == address else one
        for one in build.plumbing.circuits
    )
    components = replaced_by_key(build.plumbing.components, without)
    plumbing = replace(build.plumbing, components=components, circuits=circuits)
    return plumbed_edit(build, plumbing, address)


def change_port(build: BuildInput, address: str, port: Port) -> Edited[str]:
    """With a port as it is given, which goes by the name it had."""
    found = port_at(build, address)
    if found is None:
        return lost(build, "port", address, address)
    component, old = found
    new = replace(port, name=old.name)
    ports = tuple(new if one is old else one for one in component.ports)
    return replace(change_component(build, replace(component, ports=ports)), made=address)


def rename_port(build: BuildInput, address: str, name: str) -> Edited[str]:
    """With a port called otherwise, everywhere; made is its new address. No test falls by that."""
    found = port_at(build, address)
    if found is None:
        return lost(build, "port", address, address)
    component, old = found
    new = address_of(component.key, name)
    ports = tuple(replace(one, name=name) if one is old else one for one in component.ports)
    passages = component.passages
    if passages is not None:
        swapped = {old.name: name}
        passages = tuple((swapped.get(a, a), swapped.get(b, b)) for a, b in passages)
    components = replaced_by_key(
        build.plumbing.components, replace(component, ports=ports, passages=passages)
    )
    renamed = _with_address(replace(build.plumbing, components=components), address, new)
    return plumbed_edit(build, renamed, new, is_renaming=True)


def measure_port(build: BuildInput, address: str, size: Size | None) -> Edited[str]:
    """With the size of a port as it was measured; None: not measured yet."""
    found = port_at(build, address)
    if found is None:
        return lost(build, "port", address, address)
    return change_port(build, address, replace(found[1], size=size))


def shut_port(build: BuildInput, address: str, stop: Stop) -> Edited[str]:
    """With a port that a cap, a part, the air on purpose or a cover shuts, or is meant to."""
    found = port_at(build, address)
    if found is None:
        return lost(build, "port", address, address)
    return change_port(build, address, replace(found[1], stop=stop))


def open_port(build: BuildInput, address: str) -> Edited[str]:
    """With nothing that shuts a port: a cover is off, a part is out."""
    found = port_at(build, address)
    if found is None:
        return lost(build, "port", address, address)
    return change_port(build, address, replace(found[1], stop=None))


def cover_off(build: BuildInput, address: str) -> Edited[str]:
    """With the cover off a port; refused where something else shuts it."""
    found = port_at(build, address)
    if found is None:
        return lost(build, "port", address, address)
    component, port = found
    if port.stop is None or port.stop.kind == "cover":
        return open_port(build, address)
    text = f"port {shown(port.name)} has no cover on it, but a stop for good. Take that off."
    return refused(build, address, fault_of("component", component, "ports", text))


def port_at(build: BuildInput, address: str) -> tuple[Component, Port] | None:
    """The component and the port of an address; None where there is no such port."""
    component = find_by_key(build.plumbing.components, component_at(address))
    for port in component.ports if component is not None else ():
        if component is not None and address_of(component.key, port.name) == address:
            return component, port
    return None


def _with_address(plumbing: Plumbing, old: str, new: str) -> Plumbing:
    def moved(address: str) -> str:
        return new if address == old else address

    return replace(
        plumbing,
        circuits=tuple(
            replace(
                one,
                from_port=moved(one.from_port),
                to_port=moved(one.to_port),
                highest=None if one.highest is None else moved(one.highest),
            )
            for one in plumbing.circuits
        ),
        runs=tuple(
            replace(run, from_port=moved(run.from_port), to_port=moved(run.to_port))
            for run in plumbing.runs
        ),
    )


def _named(things: list[Run] | list[Circuit]) -> str:
    names = [shown(one.name or one.key) for one in things]
    more = f" and {len(names) - TOLD_AT_MOST} more" if len(names) > TOLD_AT_MOST else ""
    return ", ".join(names[:TOLD_AT_MOST]) + more
