"""What a circuit as a whole lacks: a vent, a drain, a way, a way when a thermostat is shut.

Asked of one circuit at a time; the person may waive some of it, and says why.
"""

from collections.abc import Iterator
from typing import Literal

from webapp.build.plumbing import Circuit, Run
from webapp.plumbing.drawing import Drawing, PlacedPort
from webapp.plumbing.flow import IN, OUT, Network, reached, turned

CircuitKind = Literal["loop", "line"]
LackWord = Literal[
    "no vent", "no drain", "no way", "stands apart", "goes nowhere", "no way when shut"
]
_VENTS = ("vent", "bleed", "fill")


def kind_of(drawing: Drawing, circuit: Circuit) -> CircuitKind:
    """A loop comes back to the component it left; a tree is a line with Ts."""
    ends = (drawing.ports[address] for address in (circuit.from_port, circuit.to_port))
    return "loop" if len({placed.component.key for placed in ends}) == 1 else "line"


def is_vented(drawing: Drawing, circuit: Circuit) -> bool:
    """Water: the highest port lets air out. Fuel: a vent is joined or open to the air."""
    if circuit.medium == "water":
        highest = drawing.ports.get(circuit.highest or "")
        return highest is not None and highest.port.role in _VENTS
    if circuit.medium == "fuel":
        return any(
            placed.port.role == "vent" and (placed.address in drawing.run_at or _is_air(placed))
            for placed in drawing.ports_by_circuit[circuit.key]
        )
    return True


def is_drained(drawing: Drawing, circuit: Circuit) -> bool:
    """Water has a port to be drained by."""
    ports = drawing.ports_by_circuit[circuit.key]
    return circuit.medium != "water" or any(placed.port.role == "drain" for placed in ports)


def leads_on(circuit: Circuit, network: Network) -> bool:
    """Whether a way with the flow leads from where the circuit begins to where it ends."""
    return circuit.to_port in reached([circuit.from_port], network.runs, network.inside)


def apart(drawing: Drawing, circuit: Circuit, network: Network) -> Iterator[str]:
    """Components that are joined to something, but not to where the circuit begins."""
    there = reached([circuit.from_port], network.aside)
    joined: dict[str, list[str]] = {}
    for placed in network.ports:
        if placed.address in drawing.run_at:
            joined.setdefault(placed.component.key, []).append(placed.address)
    for key, addresses in joined.items():
        if not any(address in there for address in addresses):
            yield key


def going_nowhere(drawing: Drawing, circuit: Circuit, network: Network) -> Iterator[Run]:
    """Runs on no way from a source to a sink."""
    ports = network.ports
    led_to = turned(network.inside)
    sources = [one.address for one in ports if _is_source(one, circuit, led_to)]
    sinks = [one.address for one in ports if _is_sink(one, circuit, network.inside)]
    after = reached(sources, network.runs, network.inside)
    before = reached(sinks, turned(network.runs), led_to)
    for run in drawing.runs_by_circuit[circuit.key]:
        first, last = run.ports
        is_on = any(
            there in network.runs.get(here, ()) and here in after and there in before
            for here, there in ((first, last), (last, first))
        )
        if not is_on:
            yield run


def _is_source(placed: PlacedPort, circuit: Circuit, led_to: dict[str, set[str]]) -> bool:
    port = placed.port
    if placed.address == circuit.from_port:
        return True
    if port.flow in IN and (_is_air(placed) or port.role == "fill"):
        return True
    return port.flow in OUT and not led_to.get(placed.address)


def _is_sink(placed: PlacedPort, circuit: Circuit, leads_to: dict[str, set[str]]) -> bool:
    port = placed.port
    if placed.address == circuit.to_port or (_is_air(placed) and port.flow in OUT):
        return True
    return port.flow in IN and not leads_to.get(placed.address)


def _is_air(placed: PlacedPort) -> bool:
    return placed.port.stop is not None and placed.port.stop.kind == "air"


def leads_on_when_shut(drawing: Drawing, circuit: Circuit, network: Network) -> bool:
    """Whether water comes back to its pump with every thermostat and valve shut."""
    if circuit.medium != "water" or kind_of(drawing, circuit) != "loop":
        return True
    shut = {placed.address for placed in network.ports if placed.port.shuts}
    if not shut:
        return True
    pump = drawing.ports[circuit.from_port].component.key
    own = {placed.address for placed in network.ports if placed.component.key == pump}
    elsewhere = {here: theres for here, theres in network.inside.items() if here not in own}
    outlets = [
        placed.address
        for placed in network.ports
        if placed.address in own and placed.port.flow in OUT
    ]
    return circuit.to_port in reached(outlets, network.runs, elsewhere, without=shut)


def lacks_of(
    drawing: Drawing, circuit: Circuit, network: Network, *, is_joined: bool
) -> Iterator[tuple[str, LackWord, str]]:
    """What the circuit lacks: kind of thing, why, and its key.

    Ways are asked about only where everything is joined and nothing stands against the flow:
    else the cause is said already.
    """
    waived = {waiver.why for waiver in circuit.waived}
    if not is_vented(drawing, circuit) and "no vent" not in waived:
        yield "circuit", "no vent", circuit.key
    if not is_drained(drawing, circuit) and "no drain" not in waived:
        yield "circuit", "no drain", circuit.key
    if not is_joined:
        return
    if not leads_on(circuit, network):
        yield "circuit", "no way", circuit.key
    for key in apart(drawing, circuit, network):
        yield "component", "stands apart", key
    for run in going_nowhere(drawing, circuit, network):
        yield "run", "goes nowhere", run.key
    if not leads_on_when_shut(drawing, circuit, network) and "no way when shut" not in waived:
        yield "circuit", "no way when shut", circuit.key
