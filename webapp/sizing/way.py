"""The way of a medium through a circuit as it is drawn: runs in order, bores, lengths, turns."""

import math
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from itertools import pairwise

from webapp.build.plumbing import SOFT, Circuit, Component, Piece, Run, component_at
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.litres import ARC_DIAMETERS, USUAL_ANGLE, USUAL_TUBE_WALL_MM
from webapp.sizing.answers import Missing
from webapp.sizing.pipe_loss import Stretch

SMALL_TUBE_MM, SMALL_TUBE_WALL_MM = 12.0, 1.0
_TURNS = ("bend", "elbow")
_HARD = ("tube", "bend", "step")


@dataclass(frozen=True, slots=True, kw_only=True)
class Leg:
    """A run on the way, with the kinds of the components that were passed before it."""

    run: Run
    is_back: bool
    passed: frozenset[str]

    @property
    def stretches(self) -> tuple[Stretch, ...] | Missing:
        """Its stretches with the flow; what has no bore is named."""
        found = stretches_of(self.run)
        if isinstance(found, Missing):
            return found
        return tuple(reversed(found)) if self.is_back else found

    @property
    def soft_pieces(self) -> tuple[Piece, ...]:
        """Its hoses, elbows, reducers and couplers."""
        return tuple(piece for piece in self.run.pieces if piece.piece in SOFT)


def legs_of(drawing: Drawing, way: tuple[str, ...]) -> tuple[Leg, ...]:
    """The runs on a way of ports, in order; () where there is no way."""
    by_key = {component.key: component for component in drawing.plumbing.components}
    legs, passed = list[Leg](), list[str]()
    for one, other in pairwise(way):
        run = drawing.run_at.get(one)
        if run is not None and other in run.ports and component_at(one) != component_at(other):
            legs.append(Leg(run=run, is_back=run.from_port == other, passed=frozenset(passed)))
            passed.append(by_key[component_at(other)].kind)
    return tuple(legs)


def on_the_way(drawing: Drawing, way: tuple[str, ...]) -> tuple[Component, ...]:
    """The components that a way leads through, each once."""
    by_key = {component.key: component for component in drawing.plumbing.components}
    return tuple(by_key[key] for key in dict.fromkeys(map(component_at, way)))


def is_behind(leg: Leg, kinds: Collection[str]) -> bool:
    """Whether a component of one of the kinds was passed before a run."""
    return any(kind in leg.passed for kind in kinds)


def stretches_of(run: Run) -> tuple[Stretch, ...] | Missing:
    """The stretches of a run from where it begins; joints that are hardly long count as none.

    The loss of a bend has its own length in it; what is longer than the arc counts as straight.
    """
    found = list[Stretch]()
    for piece in run.pieces:
        bores = bores_mm(piece)
        if bores is None:
            called = piece.name or piece.piece
            return Missing(names=(f"bore of the {called} in {run.name or run.key}",), at=run.key)
        found += _stretches(piece, bores)
    return tuple(found)


def bores_mm(piece: Piece) -> tuple[float, ...] | None:
    """The bore of a piece, two where its ends differ, () where it counts as none; None where
    nobody said."""
    if piece.bore_mm is not None:
        return (piece.bore_mm,)
    if piece.piece in ("joiner", "sleeve", "adapter", "inline"):
        return ()
    if piece.piece == "line":
        return None
    sizes: tuple[float | None, ...] = piece.size if isinstance(piece.size, tuple) else (piece.size,)
    if piece.size is None:
        sizes = tuple(end.size if isinstance(end.size, float) else None for end in piece.ends)
    known = [size for size in sizes if size is not None]
    if not known:
        return None
    if piece.piece in _HARD:
        wall_mm = usual_wall_mm(max(known)) if piece.wall_mm is None else piece.wall_mm
        known = [size - 2 * wall_mm for size in known]
    return tuple(known) if min(known) > 0 else None


def usual_wall_mm(size_mm: float) -> float:
    """The wall of a tube where nobody said: small lines have a thinner one. Common practice."""
    return SMALL_TUBE_WALL_MM if size_mm <= SMALL_TUBE_MM else USUAL_TUBE_WALL_MM


def _stretches(piece: Piece, bores: tuple[float, ...]) -> Iterator[Stretch]:
    turn = (USUAL_ANGLE if piece.angle is None else piece.angle) if piece.piece in _TURNS else 0.0
    for at, bore_mm in enumerate(bores):
        arc_mm = ARC_DIAMETERS * bore_mm * math.radians(turn)
        long_mm = max((piece.length_mm or 0.0) / len(bores) - arc_mm, 0.0)
        yield Stretch(bore_mm=bore_mm, length_mm=long_mm, turn_deg=turn if at == 0 else 0.0)


def narrowest_mm(stretches: tuple[Stretch, ...]) -> float | None:
    """The narrowest bore; None where there is no stretch."""
    return min((stretch.bore_mm for stretch in stretches), default=None)


def kinds_in(drawing: Drawing, circuit: Circuit) -> frozenset[str]:
    """The kinds of the components of a circuit."""
    return frozenset(placed.component.kind for placed in drawing.ports_by_circuit[circuit.key])
