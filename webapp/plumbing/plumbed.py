"""Everything that follows from what is plumbed: one answer about a build, worked out at once."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from webapp.build.build_input import BuildInput
from webapp.build.plumbing import Circuit, Run
from webapp.plumbing.buy_list import BuyLine, CutGroup, buy_list, cut_groups
from webapp.plumbing.closing import CircuitKind, kind_of
from webapp.plumbing.drawing import Drawing, Joint
from webapp.plumbing.flow import RunFlow, network_of, run_flow, shortest_way
from webapp.plumbing.held import Held, held_by_circuits
from webapp.plumbing.litres import Litres, litres_of
from webapp.plumbing.needs import Need
from webapp.plumbing.open_list import IN_A_COMPLETE_ONE, Open, open_lists
from webapp.plumbing.proposals import Proposal, proposals_of
from webapp.plumbing.shelf import given_out
from webapp.plumbing.states import RunState, is_tested, state_of

LookWord = Literal["tight", "loose", "tasks finished, not clamped"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlumbedCircuit:
    """A circuit as it stands. `way` are the ports from its begin to its end, () where none is."""

    circuit: Circuit
    kind: CircuitKind
    open: tuple[Open, ...]
    is_tested: bool
    way: tuple[str, ...]
    litres: Litres

    @property
    def is_closed(self) -> bool:
        """Nothing is open."""
        return not self.open

    @property
    def is_complete(self) -> bool:
        """The drawing is right; what is open is to be made, fitted or put on."""
        return all(one.why in IN_A_COMPLETE_ONE for one in self.open)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlumbedRun:
    """A run as it stands. `needs` is what the shelf lacks for it, `from_shelf` what lies there."""

    run: Run
    circuit: str
    state: RunState
    flow: RunFlow
    joints: tuple[Joint, ...]
    needs: tuple[Need, ...]
    from_shelf: tuple[Need, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """What is worth a look and keeps nothing open: a joint that is tight, a run left unclamped."""

    run: str
    why: LookWord
    joint: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Plumbed:
    """What follows from the plumbing of a build."""

    circuits: tuple[PlumbedCircuit, ...]
    runs: tuple[PlumbedRun, ...]
    proposals: tuple[Proposal, ...]
    buy: tuple[BuyLine, ...]
    cut: tuple[CutGroup, ...]
    held: tuple[Held, ...]
    look: tuple[Look, ...]


def plumbed(build: BuildInput) -> Plumbed:
    """Work out what follows from the plumbing of a build without faults."""
    drawing = Drawing(build)
    given = given_out(drawing)
    buy, cut = buy_list(drawing, given), cut_groups(given)
    proposals = proposals_of(drawing, given)
    opens = open_lists(drawing, given, proposals)
    circuits = tuple(
        _circuit(drawing, circuit, opens[circuit.key]) for circuit in build.plumbing.circuits
    )
    return Plumbed(
        circuits=circuits,
        runs=tuple(
            PlumbedRun(
                run=run,
                circuit=drawing.circuit_of(run).key,
                state=state_of(run, given.run_needs[run.key]),
                flow=run_flow(drawing, run),
                joints=drawing.joints[run.key],
                needs=given.run_needs[run.key],
                from_shelf=given.gifts[run.key].things,
            )
            for run in build.plumbing.runs
        ),
        proposals=proposals,
        buy=buy,
        cut=cut,
        held=held_by_circuits(
            drawing,
            closed=frozenset(one.circuit.key for one in circuits if one.is_closed),
            tested=frozenset(one.circuit.key for one in circuits if one.is_tested),
        ),
        look=tuple(_looks(drawing)),
    )


def _circuit(drawing: Drawing, circuit: Circuit, found: tuple[Open, ...]) -> PlumbedCircuit:
    network = network_of(drawing, circuit.key)
    return PlumbedCircuit(
        circuit=circuit,
        kind=kind_of(drawing, circuit),
        open=found,
        is_tested=is_tested(drawing, circuit, is_closed=not found),
        way=shortest_way(network, circuit.from_port, circuit.to_port),
        litres=litres_of(drawing, circuit),
    )


def _looks(drawing: Drawing) -> Iterator[Look]:
    finished = {task.key for task in drawing.build.tasks if task.finished_on is not None}
    for run in drawing.plumbing.runs:
        for joint in drawing.joints[run.key]:
            if joint.fit.word == "tight" or joint.fit.word == "loose":
                yield Look(run=run.key, why=joint.fit.word, joint=joint.at)
        is_done = bool(run.tasks) and finished.issuperset(run.tasks)
        if is_done and run.clamped_on is None:
            yield Look(run=run.key, why="tasks finished, not clamped")
