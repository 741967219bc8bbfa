"""What is plumbed, looked up by name: ports by address, runs by port, all by circuit."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from webapp.build.build_input import BuildInput
from webapp.build.plumbing import HARD, Circuit, Component, Piece, Port, Run, address_of
from webapp.plumbing.ends import Joining, end_words, joining_of, joinings_of
from webapp.plumbing.fits import Fit, fit_of


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedPort:
    """A port where it stands."""

    address: str
    component: Component
    port: Port

    @property
    def circuit(self) -> str | None:
        """The key of its circuit: its own, else its component's."""
        return self.port.circuit or self.component.circuit


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """Two neighbouring ends of a run, `at` from 1: left is nearer to where the run begins."""

    run: str
    at: int
    left: Joining
    right: Joining
    fit: Fit

    @property
    def ends(self) -> tuple[str, str]:
        """What the two ends are called."""
        left, right = (
            end_words(joining.end, is_hard=joining.piece in HARD)
            for joining in (self.left, self.right)
        )
        return (left, right)


class Drawing:
    """The plumbing of a build without faults, looked up by name. Nothing in it changes."""

    def __init__(self, build: BuildInput) -> None:
        self.build = build
        self.plumbing = build.plumbing
        self.ports = {
            address_of(component.key, port.name): PlacedPort(
                address=address_of(component.key, port.name), component=component, port=port
            )
            for component in build.plumbing.components
            for port in component.ports
        }
        self.circuits = {circuit.key: circuit for circuit in build.plumbing.circuits}
        self.runs = {run.key: run for run in build.plumbing.runs}
        self.run_at = {address: run for run in build.plumbing.runs for address in run.ports}

    def circuit_of(self, run: Run) -> Circuit:
        """The circuit that a run belongs to."""
        return self.circuits[self.ports[run.from_port].circuit or ""]

    @cached_property
    def ports_by_circuit(self) -> dict[str, tuple[PlacedPort, ...]]:
        """The ports of each circuit, in the order of the document."""
        found: dict[str, list[PlacedPort]] = {key: [] for key in self.circuits}
        for placed in self.ports.values():
            found[placed.circuit or ""].append(placed)
        return {key: tuple(ports) for key, ports in found.items()}

    @cached_property
    def runs_by_circuit(self) -> dict[str, tuple[Run, ...]]:
        """The runs of each circuit, in the order of the document."""
        found: dict[str, list[Run]] = {key: [] for key in self.circuits}
        for run in self.plumbing.runs:
            found[self.circuit_of(run).key].append(run)
        return {key: tuple(runs) for key, runs in found.items()}

    @cached_property
    def joints(self) -> dict[str, tuple[Joint, ...]]:
        """The joints of each run, from the port it begins at."""
        return {run.key: tuple(self.joints_of(run)) for run in self.plumbing.runs}

    def joints_of(self, run: Run) -> Iterator[Joint]:
        """The joints that a run between ports of the drawing has, or would have."""
        circuit = self.circuit_of(run)
        pairs = [joinings_of(piece, circuit) for piece in run.pieces]
        first, last = (joining_of(self.ports[address].port) for address in run.ports)
        rights = [*(pair[0] for pair in pairs), last]
        lefts = [first, *(pair[1] for pair in pairs)]
        for at, (left, right) in enumerate(zip(lefts, rights, strict=True), start=1):
            fit = fit_of(left, right, circuit)
            yield Joint(run=run.key, at=at, left=left, right=right, fit=fit)

    def pieces_of(self, run: Run) -> Iterator[tuple[Piece, Circuit]]:
        """The pieces of a run, with the circuit that says what they are made of."""
        circuit = self.circuit_of(run)
        for piece in run.pieces:
            yield piece, circuit
