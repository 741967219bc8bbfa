"""Every fault of what is plumbed: components and their ports, circuits, the shelf, and orders.

Runs have a module of their own, and so has what circuits ask of the tasks.
"""

from collections import Counter
from collections.abc import Iterator, Sequence

from webapp.build.build_input import BuildInput, Fault
from webapp.build.checks.circuit_task_checks import circuit_task_faults
from webapp.build.checks.end_checks import end_faults, plumbing_key_faults
from webapp.build.checks.fault_words import Thing, number_words, shown
from webapp.build.checks.piece_checks import shelf_faults
from webapp.build.checks.run_checks import run_faults
from webapp.build.limits import (
    LEAST_FROST_C,
    MOST_BAR,
    MOST_CIRCUITS,
    MOST_COMPONENTS,
    MOST_CUT_LENGTH_MM,
    MOST_LENGTH_MM,
    MOST_LITRES_INSIDE,
    MOST_ON_THE_SHELF,
    MOST_PORTS,
    MOST_RUNS,
    MOST_SHELF_LINES,
    MOST_SOLD,
    MOST_STOCK_PRICE,
)
from webapp.build.plumbing import Circuit, Component, Port, address_of


def plumbing_faults(build: BuildInput) -> Iterator[Fault]:
    """Every fault of what is plumbed, all at once; none where nothing is."""
    plumbing = build.plumbing
    yield from _count_faults(build)
    circuits = {circuit.key for circuit in plumbing.circuits}
    for number, component in enumerate(plumbing.components, start=1):
        yield from _component_faults(build, component, number, circuits)
    circuit_of = {
        address_of(component.key, port.name): port.circuit or component.circuit
        for component in plumbing.components
        for port in component.ports
    }
    for number, circuit in enumerate(plumbing.circuits, start=1):
        yield from _circuit_faults(build, circuit, number, circuit_of)
    yield from run_faults(build)
    for number, lying in enumerate(plumbing.shelf, start=1):
        name = f"line {number} ({lying.piece})"
        yield from shelf_faults(Thing(kind="shelf", key="", name=name), lying)
    yield from _order_faults(build)
    yield from _sold_faults(build)
    yield from circuit_task_faults(build)


def circuits_in_words(circuits: Sequence[str] | set[str]) -> str:
    """The circuits there are, to pick one from."""
    named = ", ".join(shown(key) for key in sorted(circuits))
    return f"Name one of: {named}." if named else "Enter a circuit first."


def _count_faults(build: BuildInput) -> Iterator[Fault]:
    plumbing = build.plumbing
    thing = Thing(kind="build", key="", name=build.name)
    for words, things, most in (
        ("components", plumbing.components, MOST_COMPONENTS),
        ("circuits", plumbing.circuits, MOST_CIRCUITS),
        ("runs", plumbing.runs, MOST_RUNS),
        ("lines on the shelf", plumbing.shelf, MOST_SHELF_LINES),
        ("lengths that are sold", plumbing.sold, MOST_SOLD),
    ):
        yield from thing.count_faults("plumbing", words, things, most)


# --- components and their ports --------------------------------------------------------------


def _component_faults(
    build: BuildInput, component: Component, number: int, circuits: set[str]
) -> Iterator[Fault]:
    thing = Thing(kind="component", key=component.key, name=component.name, number=number)
    yield from thing.key_faults()
    yield from plumbing_key_faults(thing)
    yield from thing.text_faults("name", component.name, required=True)
    yield from thing.text_faults("kind", component.kind)
    if len(component.ports) > MOST_PORTS:
        yield thing.fault(
            "ports", f"it has {len(component.ports)} ports: {MOST_PORTS} is the most."
        )
    if component.circuit is not None and component.circuit not in circuits:
        yield thing.fault(
            "circuit",
            f"there is no circuit {shown(component.circuit)}. {circuits_in_words(circuits)}",
        )
    if component.part is not None and all(part.key != component.part for part in build.parts):
        yield thing.fault(
            "part", f"there is no part {shown(component.part)}. Pick one that is in the build."
        )
    yield from _inside_faults(thing, component, circuits)
    for name, times in Counter(port.name for port in component.ports).items():
        if times > 1:
            yield thing.fault(
                "ports", f"{times} of its ports are called {shown(name)}. Give each its own name."
            )
    for port in component.ports:
        yield from _port_faults(build, component, port, circuits)


def _inside_faults(thing: Thing, component: Component, circuits: set[str]) -> Iterator[Fault]:
    """What it holds, and which ports are joined inside."""
    for volume in component.volumes:
        if volume.circuit not in circuits:
            yield thing.fault(
                "litres",
                f"its litres name the circuit {shown(volume.circuit)}, which is not there. "
                f"{circuits_in_words(circuits)}",
            )
        yield from thing.number_faults(
            "litres", "its litres", volume.litres, most=MOST_LITRES_INSIDE
        )
    ports = {port.name for port in component.ports}
    for name in dict.fromkeys(name for pair in component.passages or () for name in pair):
        if name not in ports:
            yield thing.fault(
                "passages",
                f"a passage inside names the port {shown(name)}, which it has not. "
                "Name its ports as they are called, or leave the passage out.",
            )


def _port_faults(
    build: BuildInput, component: Component, port: Port, circuits: set[str]
) -> Iterator[Fault]:
    thing = Thing(kind="port", key=address_of(component.key, port.name))
    if not port.name.strip():
        yield thing.fault("name", "a port without a name. Enter one.")
    yield from plumbing_key_faults(thing, "name", port.name)
    yield from thing.text_faults("name", port.name)
    yield from end_faults(thing, "size", port.end, port.size)
    circuit = port.circuit or component.circuit
    if port.circuit is not None and port.circuit not in circuits:
        yield thing.fault(
            "circuit", f"there is no circuit {shown(port.circuit)}. {circuits_in_words(circuits)}"
        )
    elif circuit is None:
        yield thing.fault("circuit", f"it belongs to no circuit. {circuits_in_words(circuits)}")
    if port.stop is not None:
        words = "the day it was shut,"
        yield from thing.day_faults("stop", words, port.stop.on, now=build.now)


# --- circuits, and what parts bring -----------------------------------------------------------


def _circuit_faults(
    build: BuildInput, circuit: Circuit, number: int, circuit_of: dict[str, str | None]
) -> Iterator[Fault]:
    """`circuit_of`: the circuit of every port, by its address."""
    thing = Thing(kind="circuit", key=circuit.key, name=circuit.name, number=number)
    yield from thing.key_faults()
    yield from plumbing_key_faults(thing)
    yield from thing.text_faults("name", circuit.name, required=True)
    for field, address, does in (
        ("from", circuit.from_port, "begin"),
        ("to", circuit.to_port, "end"),
    ):
        if address not in circuit_of:
            yield thing.fault(
                field,
                f"there is no port {shown(address)} to {does} at. It was removed or renamed: "
                "choose another.",
            )
        elif circuit_of[address] != circuit.key:
            yield thing.fault(
                field,
                f"the port {shown(address)} to {does} at belongs to another circuit, "
                f"{shown(circuit_of[address] or 'none')}. Choose another port.",
            )
    if circuit.from_port == circuit.to_port:
        yield thing.fault(
            "to",
            f"it begins and ends at {shown(circuit.from_port)}: a loop leaves its pump by one "
            "port and comes back by another.",
        )
    yield from _circuit_value_faults(build, thing, circuit)


def _circuit_value_faults(build: BuildInput, thing: Thing, circuit: Circuit) -> Iterator[Fault]:
    for field, text in (
        *(("hose", circuit.hose), ("tube", circuit.tube), ("test", circuit.test)),
        *(("waived", waiver.reason) for waiver in circuit.waived),
    ):
        if text is not None:
            yield from thing.text_faults(field, text)
    for waiver in circuit.waived:
        if not waiver.reason.strip():
            yield thing.fault("waived", f"say why it may go with {waiver.why}.")
    yield from thing.number_faults("bar", "its pressure in bar", circuit.bar, most=MOST_BAR)
    yield from _coolant_faults(thing, circuit)
    if circuit.subsystem is not None and all(
        one.key != circuit.subsystem for one in build.subsystems
    ):
        yield thing.fault(
            "subsystem",
            f"there is no subsystem {shown(circuit.subsystem)}. Pick one that is there.",
        )
    yield from thing.day_faults("tested_on", "tested:", circuit.tested_on, now=build.now)


def _coolant_faults(thing: Thing, circuit: Circuit) -> Iterator[Fault]:
    """What is said of the coolant in it."""
    if circuit.frost_c is not None and not LEAST_FROST_C <= circuit.frost_c <= 0:
        yield thing.fault(
            "frost_c",
            f"a frost of {number_words(circuit.frost_c)} °C: it has to be from "
            f"{number_words(LEAST_FROST_C)} to 0 °C.",
        )
    for field, words, value in (
        ("full_litres", "what it holds in litres", circuit.full_litres),
        ("there_litres", "the litres in it already", circuit.there_litres),
    ):
        yield from thing.number_faults(field, words, value, most=MOST_LITRES_INSIDE)
    words = "the percent of concentrate in it already"
    yield from thing.number_faults("there_percent", words, circuit.there_percent, most=100)


def _order_faults(build: BuildInput) -> Iterator[Fault]:
    names = {part.key: part.name for part in build.parts}
    for ordered in build.plumbing.ordered:
        thing = Thing(kind="part", key=ordered.part, name=names.get(ordered.part, ""))
        yield from thing.text_faults("plumbing", ordered.what)
        if not ordered.what.strip():
            yield thing.fault("plumbing", "say what it brings, as the buy list calls it.")
        said = [one for one in (ordered.count, ordered.metres, ordered.litres) if one is not None]
        if len(said) != 1:
            yield thing.fault(
                "plumbing",
                f"say how many of {shown(ordered.what)} it brings, or how many metres, or litres.",
            )
        yield from thing.number_faults(
            "plumbing", f"how many of {shown(ordered.what)}", ordered.count, most=MOST_ON_THE_SHELF
        )
        yield from thing.number_faults(
            "plumbing", f"metres of {shown(ordered.what)}", ordered.metres, most=MOST_LENGTH_MM
        )
        yield from thing.number_faults(
            "plumbing", f"litres of {shown(ordered.what)}", ordered.litres, most=MOST_LITRES_INSIDE
        )
        if ordered.part not in names:
            yield thing.fault("plumbing", "there is no such part. Pick one that is in the build.")


def _sold_faults(build: BuildInput) -> Iterator[Fault]:
    seen = set[tuple[str, float]]()
    for sold in build.plumbing.sold:
        length = f"{number_words(sold.length_mm)} mm"
        thing = Thing(kind="sold", key="", name=f"{shown(sold.what)}, {length}")
        yield from thing.text_faults("what", sold.what)
        if not sold.what.strip():
            yield thing.fault("what", "say what is sold, as the buy list calls it.")
        if not 0 < sold.length_mm <= MOST_CUT_LENGTH_MM:
            yield thing.fault(
                "length_mm",
                f"{length} is no length: over 0, up to {number_words(MOST_CUT_LENGTH_MM)} mm.",
            )
        yield from thing.number_faults("price", "its price", sold.price, most=MOST_STOCK_PRICE)
        yield from thing.number_faults(
            "count", "how many there are", sold.count, most=MOST_ON_THE_SHELF
        )
        if (sold.what, sold.length_mm) in seen:
            yield thing.fault("length_mm", f"{length} stands there twice. Take one of the two out.")
        seen.add((sold.what, sold.length_mm))
