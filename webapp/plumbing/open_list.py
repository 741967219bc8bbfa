"""What stands open in each circuit, in flow order: each with its place and what it needs."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from webapp.build.plumbing import Circuit, Run
from webapp.plumbing.closing import LackWord, lacks_of
from webapp.plumbing.drawing import Drawing, PlacedPort
from webapp.plumbing.ends import is_measured, joining_of
from webapp.plumbing.flow import Network, distances, network_of, run_flow
from webapp.plumbing.needs import Need
from webapp.plumbing.proposals import Proposal
from webapp.plumbing.shelf import Given
from webapp.plumbing.states import RunState, state_of

OpenKind = Literal["port", "component", "run", "circuit"]
OpenWord = (
    Literal[
        "not measured",
        "not joined",
        "cap missing",
        "part missing",
        "cover still on",
        "not here",
        "against the flow",
        "does not fit",
        "pieces missing",
        "to make",
        "not fitted",
        "not clamped",
    ]
    | LackWord
)
IN_A_COMPLETE_ONE: frozenset[OpenWord] = frozenset(
    (
        *("cap missing", "part missing", "cover still on", "not here"),
        *("pieces missing", "to make", "not fitted", "not clamped"),
    )
)
"""What may still be open where the drawing is right."""
WHY_OF_A_STATE: Mapping[RunState, OpenWord | None] = {
    "drawn": "pieces missing",
    "on hand": "to make",
    "cut": "not fitted",
    "fitted": "not clamped",
    "clamped": None,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Open:
    """One open thing: `what` is the address of a port, or the key of a thing of its kind.

    joint, ends, alike, mend : of a joint that does not fit, `joint` from 1
    needs : what the shelf lacks for it
    part : the key of the part that has not arrived
    tasks : the tasks of its run
    """

    kind: OpenKind
    what: str
    why: OpenWord
    joint: int | None = None
    ends: tuple[str, str] | None = None
    alike: str | None = None
    mend: Proposal | None = None
    needs: tuple[Need, ...] = ()
    part: str | None = None
    tasks: tuple[str, ...] = ()


def counted_once(opens: Sequence[Open]) -> tuple[Open, ...]:
    """The open things as a person counts them: a port that nothing is joined to and that is not
    measured either is one of them, that nothing is joined to it."""
    loose = {one.what for one in opens if one.why == "not joined"}
    return tuple(one for one in opens if one.why != "not measured" or one.what not in loose)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Seen:
    """What open lists are made from."""

    drawing: Drawing
    given: Given
    mends: Mapping[tuple[str, int], Proposal]
    away: frozenset[str]
    """Keys of parts that have not arrived."""


def open_lists(
    drawing: Drawing, given: Given, proposals: tuple[Proposal, ...]
) -> dict[str, tuple[Open, ...]]:
    """What is open in each circuit, by its key."""
    seen = _Seen(
        drawing=drawing,
        given=given,
        mends={(proposal.run, proposal.at): proposal for proposal in proposals},
        away=frozenset(part.key for part in drawing.build.parts if not part.arrived),
    )
    return {key: _open_list(seen, circuit) for key, circuit in drawing.circuits.items()}


def _open_list(seen: _Seen, circuit: Circuit) -> tuple[Open, ...]:
    drawing = seen.drawing
    network = network_of(drawing, circuit.key)
    found = [
        *(one for placed in network.ports for one in _of_port(seen, placed)),
        *_of_components(seen, network),
        *(one for run in drawing.runs_by_circuit[circuit.key] for one in _of_run(seen, run)),
    ]
    is_joined = not any(one.why in ("not joined", "against the flow") for one in found)
    for kind, why, key in lacks_of(drawing, circuit, network, is_joined=is_joined):
        tasks = drawing.runs[key].tasks if kind == "run" else ()
        found.append(Open(kind=_kind(kind), what=key, why=why, tasks=tasks))
    far = distances(network, circuit.from_port)
    nearest: dict[str, int] = {}
    for placed in network.ports:
        if placed.address in far:
            key, steps = placed.component.key, far[placed.address]
            nearest[key] = min(steps, nearest.get(key, steps))
    return tuple(sorted(found, key=lambda one: _place(drawing, one, far, nearest)))


def _kind(kind: str) -> OpenKind:
    return "run" if kind == "run" else "component" if kind == "component" else "circuit"


def _place(
    drawing: Drawing, one: Open, far: Mapping[str, int], nearest: Mapping[str, int]
) -> tuple[int, int]:
    """In flow order; then what is not reached; what is of the whole circuit comes last."""
    if one.kind == "circuit":
        return (2, 0)
    if one.kind == "component":
        steps = nearest.get(one.what)
    elif one.kind == "run":
        ends = (far.get(address) for address in drawing.runs[one.what].ports)
        steps = min((end for end in ends if end is not None), default=None)
    else:
        steps = far.get(one.what)
    return (1, 0) if steps is None else (0, steps)


# --- of ports, components and runs -----------------------------------------------------------


def _of_port(seen: _Seen, placed: PlacedPort) -> Iterator[Open]:
    port, stop = placed.port, placed.port.stop
    run = seen.drawing.run_at.get(placed.address)
    stopped = None if stop is None else stop.kind
    if not is_measured(joining_of(port).end) and stopped != "air":
        yield Open(kind="port", what=placed.address, why="not measured")
    if run is not None:
        if stopped == "cover" and run.fitted_on is not None:
            yield Open(kind="port", what=placed.address, why="cover still on", tasks=run.tasks)
    elif stop is None or stopped == "cover":
        yield Open(kind="port", what=placed.address, why="not joined")
    elif stop.on is None and stopped == "cap":
        need = seen.given.stop_needs.get(placed.address)
        needs = () if need is None else (need,)
        yield Open(kind="port", what=placed.address, why="cap missing", needs=needs)
    elif stop.on is None and stopped == "part":
        yield Open(kind="port", what=placed.address, why="part missing")


def _of_components(seen: _Seen, network: Network) -> Iterator[Open]:
    for component in {placed.component.key: placed.component for placed in network.ports}.values():
        if component.part in seen.away:
            yield Open(kind="component", what=component.key, why="not here", part=component.part)


def _of_run(seen: _Seen, run: Run) -> Iterator[Open]:
    joints = seen.drawing.joints[run.key]
    is_against = run_flow(seen.drawing, run) == "none"
    if is_against:
        yield Open(kind="run", what=run.key, why="against the flow", tasks=run.tasks)
    for joint in joints:
        if joint.fit.word == "no":
            yield Open(
                kind="run",
                what=run.key,
                why="does not fit",
                joint=joint.at,
                ends=joint.ends,
                alike=joint.fit.alike,
                mend=seen.mends.get((run.key, joint.at)),
                tasks=run.tasks,
            )
    if is_against or any(joint.fit.word in ("no", "not measured") for joint in joints):
        return
    needs = seen.given.run_needs[run.key]
    why = WHY_OF_A_STATE[state_of(run, needs)]
    if why is not None:
        yield Open(kind="run", what=run.key, why=why, needs=needs, tasks=run.tasks)
