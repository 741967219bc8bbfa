"""What things are called on the buy list, the shelf and the cut list: one name, one thing."""

from webapp.build.plumbing import HARD, AnyPiece, Circuit, End, EndKind, ShelfThing
from webapp.plumbing.ends import end_size_words, end_words, ends_of, material_of
from webapp.plumbing.sizes import mm_words, size_words

_PLUGGED: frozenset[EndKind] = frozenset(
    (
        *("female", "hose", "socket", "quick_female", "flare37_female", "flare45_female"),
        *("cone24_female", "oring_female"),
    )
)
"""Ends that something goes into."""


def piece_name(piece: AnyPiece, circuit: Circuit | None = None) -> str:
    """A piece, or what lies on the shelf, by its name: "hose 38 coolant", "reducer 63-60 oil"."""
    match piece.piece:
        case "adapter":
            return "adapter " + " - ".join(sorted(map(end_words, ends_of(piece))))
        case "line" | "inline":
            words = " - ".join(map(end_words, ends_of(piece)))
            return f"{piece.name or piece.piece} {words}"
        case "clamp" | "cap" | "seal":
            return _small_name(piece)
    is_hard = piece.piece in HARD
    size = _size_words(piece, is_hard=is_hard)
    angle = f"{mm_words(piece.angle)}°" if piece.angle is not None and _turns(piece) else ""
    parts = (piece.piece, size, angle, material_of(piece, circuit))
    return " ".join(part for part in parts if part)


def _turns(piece: AnyPiece) -> bool:
    return piece.piece in ("elbow", "bend")


def _size_words(piece: AnyPiece, *, is_hard: bool) -> str:
    if piece.size is not None:
        return size_words(piece.size, is_hard=is_hard)
    return " - ".join(map(end_words, ends_of(piece)))


def _small_name(piece: AnyPiece) -> str:
    """A clamp by its range, a cap or seal by the end it is for, each by its name if it has one."""
    if isinstance(piece, ShelfThing) and piece.range_mm is not None:
        return clamp_name(*piece.range_mm)
    if piece.name or not piece.ends:
        return piece.name or piece.piece
    end = piece.ends[0]
    if piece.piece == "cap":
        return stop_name(end)
    if piece.piece == "clamp":
        return v_clamp_name(end) if end.kind == "vband" else slip_clamp_name(end)
    if end.kind == "flange":
        return gasket_name(end)
    return o_ring_name(end) if end.kind in ("oring_male", "oring_female") else washer_name(end)


def stop_name(end: End) -> str:
    """What shuts an end for good: a cap over it, a plug into it, a blank on it."""
    called = "blank" if end.kind == "flange" else "plug" if end.kind in _PLUGGED else "cap"
    return f"{called} {end_size_words(end)}"


def clamp_name(low_mm: float, high_mm: float) -> str:
    """A hose clamp by its range."""
    return f"clamp {mm_words(low_mm)}-{mm_words(high_mm)}"


def slip_clamp_name(socket: End) -> str:
    """What holds a slip joint, by its wide half."""
    return f"slip clamp {end_size_words(socket)}"


def v_clamp_name(band: End) -> str:
    """What holds two V band flanges."""
    return f"V clamp {end_size_words(band)}"


def washer_name(thread: End) -> str:
    """A sealing washer, by its thread."""
    return f"washer {end_size_words(thread)}"


def gasket_name(flange: End) -> str:
    """A gasket, by its flange."""
    return f"gasket {end_size_words(flange)}"


def o_ring_name(end: End) -> str:
    """An O-ring, by its end."""
    return f"O-ring {end_size_words(end)}"


def is_by_length(piece: AnyPiece) -> bool:
    """Whether it is cut from a length: a hose or a tube."""
    return piece.piece in ("hose", "tube")
