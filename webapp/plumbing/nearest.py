"""Joints that nothing on the shelf closes: the nearest sizes that both sides reach with it.

"From the one side you get to 63, from the other to 76: a reducer 76-63 closes it." Told beside what
would be bought for the two ends as they stand, where the gap is smaller so: nearer sizes are easier
to be had, and a step lost in one place is flow lost.
"""

from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.build.plumbing import Circuit
from webapp.plumbing.chains import MOST_IN_A_CHAIN, Chains
from webapp.plumbing.drawing import Drawing, Joint
from webapp.plumbing.ends import HARD_ENDS, Joining, end_words
from webapp.plumbing.proposals import Proposal, proposals_of, to_buy
from webapp.plumbing.shelf import Shelf, given_out

Way = tuple[Joining, tuple[str, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """How far one side gets: the pieces from the joint's own end on, and the end they come to."""

    pieces: tuple[str, ...]
    end: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Nearest:
    """The nearest sizes of a joint, and the one piece to buy that closes it then."""

    run: str
    at: int
    left: Side
    right: Side
    buy: str


def nearest_sizes(build: BuildInput) -> tuple[Nearest, ...]:
    """One for each joint to buy for that the shelf brings nearer, run by run.

    What the shelf gives to runs and proposals is not there for it; it takes nothing itself.
    """
    drawing = Drawing(build)
    given = given_out(drawing)
    proposals = proposals_of(drawing, given)
    chains: dict[str, Chains] = {}
    found = []
    for one in proposals:
        if one.source != "buy":
            continue
        circuit = drawing.circuit_of(drawing.runs[one.run])
        if circuit.key not in chains:
            chains[circuit.key] = Chains(given.left.pieces, circuit)
        near = _nearest(drawing, one, circuit, chains[circuit.key], given.left)
        if near is not None:
            found.append(near)
    return tuple(found)


def _nearest(
    drawing: Drawing, of: Proposal, circuit: Circuit, chains: Chains, shelf: Shelf
) -> Nearest | None:
    joint = drawing.joints[of.run][of.at - 1]
    direct = _gap_mm(joint.left, joint.right)
    ways = (chains.reached(end, lambda name: shelf.counts[name] > 0) for end in _ends(joint))
    lefts, rights = ways
    best: tuple[tuple[float, int, tuple[str, ...]], Way, Way] | None = None
    for left in lefts:
        for right in rights:
            names = (*left[1], *right[1])
            gap = _gap_mm(left[0], right[0])
            if gap is None or (direct is not None and gap >= direct):
                continue
            if not names or len(names) >= MOST_IN_A_CHAIN or len({*names}) < len(names):
                continue
            rank = (gap, len(names), names)
            if best is None or rank < best[0]:
                best = (rank, left, right)
    if best is None:
        return None
    _, left, right = best
    (bought,) = to_buy(left[0], right[0], circuit)
    return Nearest(run=of.run, at=of.at, left=_side(left), right=_side(right), buy=bought)


def _ends(joint: Joint) -> tuple[Joining, Joining]:
    return joint.left, joint.right


def _gap_mm(left: Joining, right: Joining) -> float | None:
    """How far two sizes are apart that one reducer or step joins; None where none would."""
    one, other = left.end, right.end
    both_hard = one.kind in HARD_ENDS and other.kind in HARD_ENDS
    if not both_hard and not one.kind == other.kind == "hose":
        return None
    if isinstance(one.size, str) or isinstance(other.size, str):
        return None
    return None if one.size is None or other.size is None else abs(one.size - other.size)


def _side(way: Way) -> Side:
    joining, names = way
    return Side(pieces=names, end=end_words(joining.end))
