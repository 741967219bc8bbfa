"""From one open end to another by what lies on the shelf: the shortest chain of whole pieces."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from webapp.build.plumbing import HARD, SOFT, Circuit, ShelfKind, ShelfThing
from webapp.plumbing.ends import Joining, ends_of
from webapp.plumbing.fits import fit_of

CHAINED: frozenset[ShelfKind] = frozenset(
    ("coupler", "reducer", "joiner", "step", "sleeve", "adapter")
)
"""Pieces that lead straight from one end to another and do nothing else."""
MOST_IN_A_CHAIN = 4
Goes = Callable[[Joining, Joining], bool]


@dataclass(frozen=True, slots=True)
class _Turned:
    """A piece one way round: it joins on by `near` and leaves `far` open."""

    name: str
    near: int
    far: int


class Chains:
    """The pieces of a shelf that may stand in the runs of one circuit, and how they join."""

    def __init__(self, pieces: dict[str, ShelfThing], circuit: Circuit) -> None:
        self._circuit = circuit
        self._ends: dict[Joining, int] = {}
        self._joinings: list[Joining] = []
        self._goes: dict[tuple[int, int], bool] = {}
        self._behind: dict[int, frozenset[int]] = {}
        turned: dict[_Turned, None] = {}
        for name in sorted(pieces):
            for near, far in self._ways_round(pieces[name]):
                turned[_Turned(name, self._number(near), self._number(far))] = None
        self._turned = list(turned)

    def _ways_round(self, thing: ShelfThing) -> Iterator[tuple[Joining, Joining]]:
        if not may_stand_in(thing, self._circuit) or thing.piece not in CHAINED:
            return
        one, other = (
            Joining(end=end, piece=None, of=thing.of or "", wall_mm=thing.wall_mm)
            for end in ends_of(thing)
        )
        yield one, other
        yield other, one

    def _number(self, joining: Joining) -> int:
        if joining not in self._ends:
            self._ends[joining] = len(self._joinings)
            self._joinings.append(joining)
        return self._ends[joining]

    def _joins(self, one: int, other: int) -> bool:
        pair = (one, other)
        if pair not in self._goes:
            self._goes[pair] = goes(self._joinings[one], self._joinings[other], self._circuit)
        return self._goes[pair]

    def shortest(
        self, start: Joining, goal: Joining, is_there: Callable[[str], bool]
    ) -> tuple[str, ...] | None:
        """The names of the fewest pieces that lead from one end to the other, in their order.

        At most four, no name twice; of several the first by their names. None: there is none.
        """
        first, last = self._number(start), self._number(goal)
        there = [piece for piece in self._turned if is_there(piece.name)]
        # layers[k]: from these, k pieces or fewer lead on to the goal, names left aside
        layers: list[list[_Turned]] = []
        while len(layers) < MOST_IN_A_CHAIN:
            layers.append(self._leading_on(there, last, layers[-1] if layers else None))
            found = self._walk(first, last, layers, ())
            if found is not None:
                return found
        return None

    def reached(
        self, start: Joining, is_there: Callable[[str], bool]
    ) -> tuple[tuple[Joining, tuple[str, ...]], ...]:
        """The ends that stand open behind the fewest pieces, with these; the start, with none.

        At most three pieces, no name twice: with the one to be bought they are a chain.
        """
        first = self._number(start)
        there = [piece for piece in self._turned if is_there(piece.name)]
        found: dict[int, tuple[str, ...]] = {first: ()}
        ahead = [first]
        for _ in range(MOST_IN_A_CHAIN - 1):
            here, ahead = ahead, []
            for end in here:
                for piece in there:
                    is_new = piece.far not in found and piece.name not in found[end]
                    if is_new and self._joins(end, piece.near):
                        found[piece.far] = (*found[end], piece.name)
                        ahead.append(piece.far)
        return tuple((self._joinings[end], names) for end, names in found.items())

    def _leading_on(
        self, there: Sequence[_Turned], goal: int, next_ones: Sequence[_Turned] | None
    ) -> list[_Turned]:
        if next_ones is None:
            return [piece for piece in there if self._joins(piece.far, goal)]
        nears = {piece.near for piece in next_ones}
        return [piece for piece in there if not self._onto(piece.far).isdisjoint(nears)]

    def _onto(self, far: int) -> frozenset[int]:
        """The ends by which any piece may stand behind this one, whether it lies there or not."""
        if far not in self._behind:
            nears = {piece.near for piece in self._turned}
            self._behind[far] = frozenset(near for near in nears if self._joins(far, near))
        return self._behind[far]

    def _walk(
        self, here: int, goal: int, layers: Sequence[Sequence[_Turned]], used: tuple[str, ...]
    ) -> tuple[str, ...] | None:
        """A chain of exactly so many pieces as there are layers, the first by its names."""
        *rest, leading = layers
        for piece in leading:
            if piece.name in used or not self._joins(here, piece.near):
                continue
            chain = (*used, piece.name)
            if not rest:
                return chain
            found = self._walk(piece.far, goal, rest, chain)
            if found is not None:
                return found
        return None


def goes(one: Joining, other: Joining, circuit: Circuit) -> bool:
    """Whether a chain may have this joint: it fits, loose ones left out, and nothing is welded."""
    return fit_of(one, other, circuit).word in ("ok", "tight")


def may_stand_in(thing: ShelfThing, circuit: Circuit) -> bool:
    """Soft ones of what the circuit's hoses are of, hard ones of its tubes, adapters any."""
    if thing.piece in SOFT:
        return (thing.of or "") == (circuit.hose or "")
    if thing.piece in HARD:
        return (thing.of or "") == (circuit.tube or "")
    return True
