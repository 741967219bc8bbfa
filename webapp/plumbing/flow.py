"""Which way it flows: through runs, by their ports and arrows, and through components."""

from collections import deque
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import permutations
from typing import Literal

from webapp.build.plumbing import Flow, Run
from webapp.plumbing.drawing import Drawing, PlacedPort

RunFlow = Literal["on", "back", "both", "none"]
OUT: tuple[Flow, ...] = ("out", "both")
IN: tuple[Flow, ...] = ("in", "both")

Ways = Mapping[str, Collection[str]]
"""From the address of a port to those one step on."""


def run_flow(drawing: Drawing, run: Run) -> RunFlow:
    """Which way a run lets through, whichever way round it was typed in.

    "on" is from where it begins to where it ends; "none" is against the flow: out meets out, in
    meets in, or an arrow stands against it.
    """
    first, last = (drawing.ports[address].port.flow for address in run.ports)
    arrows = {piece.arrow for piece in run.pieces if piece.arrow is not None}
    is_on = first in OUT and last in IN and "from" not in arrows
    is_back = last in OUT and first in IN and "to" not in arrows
    if is_on and is_back:
        return "both"
    return "on" if is_on else "back" if is_back else "none"


@dataclass(frozen=True, slots=True)
class Network:
    """One circuit as ports and the steps between them.

    `runs` and `inside` are steps with the flow, `aside` are all steps in both directions with
    the flow left aside.
    """

    ports: tuple[PlacedPort, ...]
    runs: dict[str, set[str]] = field(default_factory=dict)
    inside: dict[str, set[str]] = field(default_factory=dict)
    aside: dict[str, set[str]] = field(default_factory=dict)

    def steps(self, address: str) -> Iterator[str]:
        """The ports one step on with the flow."""
        yield from self.runs.get(address, ())
        yield from self.inside.get(address, ())


def network_of(drawing: Drawing, circuit: str) -> Network:
    """The ports of a circuit and every step between them."""
    network = Network(drawing.ports_by_circuit[circuit])
    for run in drawing.runs_by_circuit[circuit]:
        flow = run_flow(drawing, run)
        if flow in ("on", "both"):
            network.runs.setdefault(run.from_port, set()).add(run.to_port)
        if flow in ("back", "both"):
            network.runs.setdefault(run.to_port, set()).add(run.from_port)
        _both_ways(network.aside, run.from_port, run.to_port)
    by_component: dict[str, list[PlacedPort]] = {}
    for placed in network.ports:
        by_component.setdefault(placed.component.key, []).append(placed)
    for ports in by_component.values():
        _inside(network, ports)
    return network


def _inside(network: Network, ports: list[PlacedPort]) -> None:
    passages = ports[0].component.passages
    joined = None if passages is None else {frozenset(pair) for pair in passages}
    for one, other in permutations(ports, 2):
        if joined is not None and frozenset((one.port.name, other.port.name)) not in joined:
            continue
        _both_ways(network.aside, one.address, other.address)
        if one.port.flow in IN and other.port.flow in OUT:
            network.inside.setdefault(one.address, set()).add(other.address)


def _both_ways(steps: dict[str, set[str]], one: str, other: str) -> None:
    steps.setdefault(one, set()).add(other)
    steps.setdefault(other, set()).add(one)


def distances(network: Network, start: str) -> dict[str, int]:
    """The least number of steps with the flow from a port to every one that can be reached."""
    found = {start: 0}
    ahead = deque([start])
    while ahead:
        here = ahead.popleft()
        for there in network.steps(here):
            if there not in found:
                found[there] = found[here] + 1
                ahead.append(there)
    return found


def reached(starts: Iterable[str], *ways: Ways, without: Collection[str] = ()) -> set[str]:
    """Every port that can be reached from those, they among them; none of `without` is passed."""
    seen = {start for start in starts if start not in without}
    ahead = list(seen)
    while ahead:
        here = ahead.pop()
        for steps in ways:
            for there in steps.get(here, ()):
                if there not in seen and there not in without:
                    seen.add(there)
                    ahead.append(there)
    return seen


def shortest_way(network: Network, start: str, end: str) -> tuple[str, ...]:
    """The ports of a shortest way with the flow, () where there is none; the same each time."""
    came_from: dict[str, str] = {}
    ahead = deque([start])
    while ahead:
        here = ahead.popleft()
        for there in sorted(network.steps(here)):
            if there not in came_from and there != start:
                came_from[there] = here
                ahead.append(there)
    if end not in came_from:
        return ()
    way = [end]
    while way[-1] != start:
        way.append(came_from[way[-1]])
    return tuple(reversed(way))


def turned(steps: Ways) -> dict[str, set[str]]:
    """The same steps the other way round."""
    back: dict[str, set[str]] = {}
    for here, theres in steps.items():
        for there in theres:
            back.setdefault(there, set()).add(here)
    return back
