"""What would mend a joint that does not fit: from the shelf, else what to buy.

A proposal is bought when it has been taken into the run, never before.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from webapp.build.plumbing import Circuit, End, Piece, Run
from webapp.plumbing.chains import CHAINED, Chains, goes
from webapp.plumbing.drawing import Drawing, Joint
from webapp.plumbing.ends import HARD_ENDS, OPPOSITE, Joining
from webapp.plumbing.names import piece_name
from webapp.plumbing.shelf import Given, Shelf
from webapp.plumbing.sizes import trade_size

Source = Literal["shelf", "buy"]
BETWEEN, LEFT, RIGHT = 0, 1, 2
_RANK: dict[Source, int] = {"shelf": 0, "buy": 1}


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """What to put in at a joint: the names in their order from where the run begins.

    `instead_of` is the number of the piece it takes the place of, None where it goes between.
    No pieces: that one is left out.
    """

    run: str
    at: int
    instead_of: int | None
    pieces: tuple[str, ...]
    source: Source


@dataclass(frozen=True, slots=True, kw_only=True)
class _Gap:
    """Two ends to be joined; `place` is the last but one thing that proposals are ordered by."""

    left: Joining
    right: Joining
    place: int
    instead_of: int | None = None


def proposals_of(drawing: Drawing, given: Given) -> tuple[Proposal, ...]:
    """One for each joint that does not fit, run by run; what one takes no other gets."""
    found: list[Proposal] = []
    chains: dict[str, Chains] = {}
    for run in drawing.plumbing.runs:
        circuit = drawing.circuit_of(run)
        for joint in drawing.joints[run.key]:
            if joint.fit.word != "no":
                continue
            if circuit.key not in chains:
                chains[circuit.key] = Chains(given.left.pieces, circuit)
            proposal = _proposal(drawing, run, joint, chains[circuit.key], given.left)
            if proposal.source == "shelf":
                for name in proposal.pieces:
                    given.left.take(name)
            found.append(proposal)
    return tuple(found)


def _proposal(drawing: Drawing, run: Run, joint: Joint, chains: Chains, shelf: Shelf) -> Proposal:
    circuit = drawing.circuit_of(run)
    gaps = list(_gaps(drawing, run, joint))
    ways: list[tuple[tuple[int, int, int, tuple[str, ...]], _Gap]] = []
    for gap in gaps:
        from_shelf = _from_shelf(gap, chains, shelf, circuit)
        if from_shelf is not None:
            ways.append(((_RANK["shelf"], _added(gap, from_shelf), gap.place, from_shelf), gap))
    if not ways:
        for gap in gaps:
            bought = to_buy(gap.left, gap.right, circuit)
            ways.append(((_RANK["buy"], _added(gap, bought), gap.place, bought), gap))
    (rank, _, _, names), gap = min(ways, key=lambda way: way[0])
    return Proposal(
        run=run.key,
        at=joint.at,
        instead_of=gap.instead_of,
        pieces=names,
        source="shelf" if rank == _RANK["shelf"] else "buy",
    )


def _added(gap: _Gap, names: tuple[str, ...]) -> int:
    """How many pieces more there are: an exchange takes one out."""
    return len(names) - (gap.instead_of is not None)


def _gaps(drawing: Drawing, run: Run, joint: Joint) -> Iterator[_Gap]:
    """Between the two ends; as long as nothing is cut, also in the place of a piece beside it."""
    yield _Gap(left=joint.left, right=joint.right, place=BETWEEN)
    if run.cut_on is not None:
        return
    joints = drawing.joints[run.key]
    left, right = joint.at - 1, joint.at  # the numbers of the pieces beside it, from 1
    if left >= 1 and run.pieces[left - 1].piece in CHAINED:
        before = joints[left - 1]
        yield _Gap(left=before.left, right=joint.right, place=LEFT, instead_of=left)
    if right <= len(run.pieces) and run.pieces[right - 1].piece in CHAINED:
        after = joints[right]
        yield _Gap(left=joint.left, right=after.right, place=RIGHT, instead_of=right)


def _from_shelf(
    gap: _Gap, chains: Chains, shelf: Shelf, circuit: Circuit
) -> tuple[str, ...] | None:
    if gap.instead_of is not None and goes(gap.left, gap.right, circuit):
        return ()
    return chains.shortest(gap.left, gap.right, lambda name: shelf.counts[name] > 0)


# --- to buy ----------------------------------------------------------------------------------


def to_buy(left: Joining, right: Joining, circuit: Circuit) -> tuple[str, ...]:
    """The names of what to buy between two ends, in their order."""
    is_hose = [joining.end.kind == "hose" for joining in (left, right)]
    is_hard = [joining.end.kind in HARD_ENDS for joining in (left, right)]
    sizes = [joining.end.size for joining in (left, right)]
    one, other = (size if isinstance(size, int | float) else 0.0 for size in sizes)
    if all(is_hard):
        return (_soft_between(one, other, circuit),)
    if all(is_hose):
        return (_hard_between(one, other, circuit),)
    if is_hose[0] and is_hard[1]:
        return (_hard_between(one, one, circuit), _reducer(one, other, circuit))
    if is_hard[0] and is_hose[1]:
        return (_reducer(one, other, circuit), _hard_between(other, other, circuit))
    ends = tuple(
        End(kind=OPPOSITE[joining.end.kind], size=joining.end.size) for joining in (left, right)
    )
    return (piece_name(Piece(piece="adapter", ends=ends)),)


def _soft_between(one: float, other: float, circuit: Circuit) -> str:
    """Over two hard ends: a coupler, a reducer where they differ; a sleeve without hoses."""
    if circuit.hose is None:
        size = one if _is_one_size(one, other) else (one, other)
        return piece_name(Piece(piece="sleeve", size=size), circuit)
    if _is_one_size(one, other):
        return piece_name(Piece(piece="coupler", size=one), circuit)
    return _reducer(one, other, circuit)


def _reducer(one: float, other: float, circuit: Circuit) -> str:
    return piece_name(Piece(piece="reducer", size=(one, other)), circuit)


def _hard_between(one: float, other: float, circuit: Circuit) -> str:
    """Into two hoses: a joiner, a step where they differ."""
    if _is_one_size(one, other):
        return piece_name(Piece(piece="joiner", size=one), circuit)
    return piece_name(Piece(piece="step", size=(one, other)), circuit)


def _is_one_size(one: float, other: float) -> bool:
    return trade_size(one) == trade_size(other)
