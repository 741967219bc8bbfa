"""Ends of ports and pieces: which a piece has, what they are called, what would join them."""

from dataclasses import dataclass

from webapp.build.plumbing import (
    HARD,
    SOFT,
    AnyPiece,
    Circuit,
    End,
    EndKind,
    Piece,
    PieceKind,
    Port,
)
from webapp.plumbing.sizes import NEVER_MOVED, mm_words, trade_size

ENDS_OF: dict[PieceKind, EndKind] = {
    **dict.fromkeys(SOFT, "hose"),
    "tube": "spigot",
    "bend": "spigot",
    "step": "spigot",
    "joiner": "bead",
    "sleeve": "socket",
}
"""What the pieces end in that do not name their ends."""
HARD_ENDS: frozenset[EndKind] = frozenset(("spigot", "bead", "nipple"))
"""Ends that a hose goes over."""
OPPOSITE: dict[EndKind, EndKind] = {
    **dict.fromkeys(HARD_ENDS, "hose"),
    "hose": "bead",
    "socket": "spigot",
    "weld": "spigot",
    "vband": "vband",
    "flange": "flange",
    "banjo": "female",
    "open": "open",
    "male": "female",
    "female": "male",
    "quick_male": "quick_female",
    "quick_female": "quick_male",
    "flare37_male": "flare37_female",
    "flare37_female": "flare37_male",
    "flare45_male": "flare45_female",
    "flare45_female": "flare45_male",
    "cone24_male": "cone24_female",
    "cone24_female": "cone24_male",
    "oring_male": "oring_female",
    "oring_female": "oring_male",
}
"""What joins on to an end."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Joining:
    """An end as a joint sees it: what it is of decides how it stretches and is made tight.

    `piece` is None for an end of a port, `of` what the piece is made of, "" where nothing is
    said.
    """

    end: End
    piece: PieceKind | None = None
    of: str = ""
    wall_mm: float | None = None


def material_of(piece: AnyPiece, circuit: Circuit | None) -> str:
    """What a piece is made of: as it says itself, else as its circuit does; "" for neither."""
    if piece.of is not None:
        return piece.of
    if circuit is None:
        return ""
    if piece.piece in SOFT:
        return circuit.hose or ""
    return (circuit.tube or "") if piece.piece in HARD else ""


def ends_of(piece: AnyPiece) -> tuple[End, End]:
    """Both ends of a piece, in the order in which it was drawn."""
    if len(piece.ends) == 2:
        return (piece.ends[0], piece.ends[1])
    kind: EndKind = "open"
    for known, end in ENDS_OF.items():
        if piece.piece == known:
            kind = end
    sizes = piece.size if isinstance(piece.size, tuple) else (piece.size, piece.size)
    return (End(kind=kind, size=sizes[0]), End(kind=kind, size=sizes[1]))


def joinings_of(piece: Piece, circuit: Circuit | None) -> tuple[Joining, Joining]:
    """Both ends of a piece of a run, as joints see them."""
    of = material_of(piece, circuit)
    first, second = ends_of(piece)
    return (
        Joining(end=first, piece=piece.piece, of=of, wall_mm=piece.wall_mm),
        Joining(end=second, piece=piece.piece, of=of, wall_mm=piece.wall_mm),
    )


def joining_of(port: Port) -> Joining:
    """The end of a port, as a joint sees it."""
    return Joining(end=End(kind=port.end, size=port.size))


def is_measured(end: End) -> bool:
    """Whether its size is known, or it needs none."""
    return end.kind == "open" or end.size is not None


def end_words(end: End, *, is_hard: bool = False) -> str:
    """What an end is called: "bead 38", "male M16x1.5", "open"."""
    return f"{end.kind} {end_size_words(end, is_hard=is_hard)}".rstrip()


def end_size_words(end: End, *, is_hard: bool = False) -> str:
    """Its size as it is called; "?" where it is not measured yet."""
    if end.kind == "open":
        return ""
    if end.size is None:
        return "?"
    if isinstance(end.size, str):
        return end.size
    if end.kind in NEVER_MOVED:
        return mm_words(end.size)
    return mm_words(trade_size(end.size, is_hard=is_hard))
