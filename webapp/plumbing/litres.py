"""What a circuit holds: its hoses, tubes and bends by bore and length, and its components."""

import math
from dataclasses import dataclass

from webapp.build.plumbing import Circuit, Piece
from webapp.plumbing.drawing import Drawing

MM3_IN_A_LITRE = 1_000_000
USUAL_TUBE_WALL_MM = 1.5
"""Common practice, no source."""
ARC_DIAMETERS = 1.5
"""Radius of a bend on its centre line, in diameters, where no length is typed."""
USUAL_ANGLE = 90.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Litres:
    """What a circuit holds in litres, and the keys of what is not counted: nobody said how much."""

    litres: float
    without: tuple[str, ...]


def litres_of(drawing: Drawing, circuit: Circuit) -> Litres:
    """The sum of what is known."""
    total, without = 0.0, []
    keys = {placed.component.key for placed in drawing.ports_by_circuit[circuit.key]}
    for component in drawing.plumbing.components:
        said = [volume.litres for volume in component.volumes if volume.circuit == circuit.key]
        known = [litres for litres in said if litres is not None]
        total += sum(known)
        if not known and (said or component.key in keys):
            without.append(component.key)
    for run in drawing.runs_by_circuit[circuit.key]:
        volumes = [piece_litres(piece) for piece in run.pieces]
        total += sum(volume or 0.0 for volume in volumes)
        if None in volumes:
            without.append(run.key)
    return Litres(litres=round(total, 3), without=tuple(without))


def piece_litres(piece: Piece) -> float | None:
    """What one piece holds; None where its bore is not known, 0 for what is hardly longer than
    its joints."""
    match piece.piece:
        case "hose" | "elbow":
            bore_mm = _diameter_mm(piece)
        case "tube" | "bend":
            wall_mm = USUAL_TUBE_WALL_MM if piece.wall_mm is None else piece.wall_mm
            bore_mm = max(_diameter_mm(piece) - 2 * wall_mm, 0.0)
        case "line":
            if piece.bore_mm is None or piece.length_mm is None:
                return None
            bore_mm = piece.bore_mm
        case _:
            return 0.0
    length_mm = _arc_mm(piece) if piece.length_mm is None else piece.length_mm
    return math.pi / 4 * bore_mm**2 * length_mm / MM3_IN_A_LITRE


def _diameter_mm(piece: Piece) -> float:
    """Its bore or diameter; the mean of the two where its ends differ."""
    if piece.size is None:
        return 0.0
    sizes = piece.size if isinstance(piece.size, tuple) else (piece.size,)
    return sum(sizes) / len(sizes)


def _arc_mm(piece: Piece) -> float:
    angle = USUAL_ANGLE if piece.angle is None else piece.angle
    return ARC_DIAMETERS * _diameter_mm(piece) * math.radians(angle)
