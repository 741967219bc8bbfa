"""Circuits: put in, changed, taken out, and what one goes without.

That a circuit was tested hangs on whether it is closed: `webapp.plumbing.testing`.
"""

from dataclasses import replace

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key, replaced_by_key
from webapp.build.checks.fault_words import shown
from webapp.build.edited import Edited
from webapp.build.plumbing import Circuit, Component, Waivable, Waiver
from webapp.build.verbs.plumbing_edits import fault_of, lost, plumbed_edit, refused
from webapp.build.verbs.plumbing_keys import free_key


def add_circuit(build: BuildInput, circuit: Circuit, *components: Component) -> Edited[str]:
    """With one circuit more, and components that belong to it; made is its key.

    A circuit begins and ends at ports of its own, so where there are none yet the components that
    have them come with it, their circuit named by its key or left empty.
    """
    plumbing = build.plumbing
    key = free_key(circuit.key or circuit.name, {one.key for one in plumbing.circuits}, "circuit")
    own = tuple(
        replace(one, circuit=key) if one.circuit in (None, "", circuit.key) else one
        for one in components
    )
    added = replace(
        plumbing,
        circuits=(*plumbing.circuits, replace(circuit, key=key)),
        components=(*plumbing.components, *own),
    )
    return plumbed_edit(build, added, key)


def change_circuit(build: BuildInput, circuit: Circuit) -> Edited[str]:
    """With the circuit of that key as it is given."""
    plumbing, key = build.plumbing, circuit.key
    if find_by_key(plumbing.circuits, key) is None:
        return lost(build, "circuit", key, key)
    circuits = replaced_by_key(plumbing.circuits, circuit)
    return plumbed_edit(build, replace(plumbing, circuits=circuits), key)


def remove_circuit(build: BuildInput, key: str) -> Edited[str]:
    """Without a circuit; refused while components other than its two ends belong to it.

    A component whose ports all belong to it, and on which no run hangs, goes with it where the
    circuit begins or ends there.
    """
    plumbing = build.plumbing
    circuit = find_by_key(plumbing.circuits, key)
    if circuit is None:
        return lost(build, "circuit", key, key)
    belonging = [one for one in plumbing.components if belongs_to(one, key)]
    if belonging:
        named = ", ".join(shown(one.name) for one in belonging[:5])
        more = f" and {len(belonging) - 5} more" if len(belonging) > 5 else ""
        text = f"{named}{more} belong to it. Remove them, or put them into another circuit first."
        if not _goes_whole(build, circuit, belonging):
            return refused(build, key, fault_of("circuit", circuit, "", text))
    gone = {one.key for one in belonging}
    left = replace(
        plumbing,
        circuits=tuple(one for one in plumbing.circuits if one.key != key),
        components=tuple(one for one in plumbing.components if one.key not in gone),
    )
    return plumbed_edit(build, left, key)


def belongs_to(component: Component, circuit: str) -> bool:
    """Whether a component, a port of it or litres in it belong to a circuit."""
    named = {component.circuit, *(port.circuit for port in component.ports)}
    return circuit in named | {volume.circuit for volume in component.volumes}


def _goes_whole(build: BuildInput, circuit: Circuit, belonging: list[Component]) -> bool:
    """Whether nothing but the ends of a circuit is drawn of it, and that has no run."""
    ends = {address.partition(".")[0] for address in (circuit.from_port, circuit.to_port)}
    joined = {address.partition(".")[0] for run in build.plumbing.runs for address in run.ports}
    return all(
        one.key in ends
        and one.key not in joined
        and all((port.circuit or one.circuit) == circuit.key for port in one.ports)
        for one in belonging
    )


def waive(build: BuildInput, key: str, why: Waivable, reason: str) -> Edited[str]:
    """With a circuit that may go with "no vent" or the like, for a reason."""
    circuit = find_by_key(build.plumbing.circuits, key)
    if circuit is None:
        return lost(build, "circuit", key, key)
    new = Waiver(why=why, reason=reason)
    if any(one.why == why for one in circuit.waived):
        waived = tuple(new if one.why == why else one for one in circuit.waived)
    else:
        waived = (*circuit.waived, new)
    return change_circuit(build, replace(circuit, waived=waived))


def waive_no_more(build: BuildInput, key: str, why: Waivable) -> Edited[str]:
    """With a circuit that may not go with it any more."""
    circuit = find_by_key(build.plumbing.circuits, key)
    if circuit is None:
        return lost(build, "circuit", key, key)
    waived = tuple(one for one in circuit.waived if one.why != why)
    return change_circuit(build, replace(circuit, waived=waived))
