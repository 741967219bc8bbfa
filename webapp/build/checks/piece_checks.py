"""Faults of the pieces of a run and of what lies on the shelf."""

from collections.abc import Iterator

from webapp.build.build_input import Fault
from webapp.build.checks.end_checks import SIZES_IN_WORDS, end_faults
from webapp.build.checks.fault_words import Thing, number_words
from webapp.build.limits import (
    LEAST_LENGTH_MM,
    LEAST_SIZE_MM,
    MOST_ANGLE,
    MOST_LENGTH_MM,
    MOST_ON_THE_SHELF,
    MOST_SIZE_MM,
    MOST_WALL_MM,
)
from webapp.build.plumbing import (
    BY_LENGTH,
    HARD,
    OF_TWO_SIZES,
    SOFT,
    WITH_ENDS,
    AnyPiece,
    ShelfThing,
)

LENGTHS_IN_WORDS = f"from {number_words(LEAST_LENGTH_MM)} to {number_words(MOST_LENGTH_MM)} mm"


def piece_faults(thing: Thing, field: str, piece: AnyPiece) -> Iterator[Fault]:
    """What is wrong with one piece, whatever it is joined to; `thing` names it."""
    yield from _size_faults(thing, field, piece)
    yield from _length_faults(thing, field, piece)
    yield from _ends_faults(thing, field, piece)
    if piece.angle is not None and not 0 < piece.angle <= MOST_ANGLE:
        angle = number_words(piece.angle)
        yield thing.fault(
            field, f"{angle}° is no bend: enter an angle over 0, up to {number_words(MOST_ANGLE)}."
        )
    yield from _wall_faults(thing, field, piece)
    for what, text in (("of", piece.of), ("name", piece.name)):
        if text is not None:
            yield from thing.text_faults(what, text)


def _sizes(piece: AnyPiece) -> tuple[float, ...]:
    if piece.size is None:
        return ()
    return piece.size if isinstance(piece.size, tuple) else (piece.size,)


def _size_faults(thing: Thing, field: str, piece: AnyPiece) -> Iterator[Fault]:
    sizes = _sizes(piece)
    for size in dict.fromkeys(sizes):
        if not LEAST_SIZE_MM <= size <= MOST_SIZE_MM:
            yield thing.fault(
                field, f"{number_words(size)} is no bore or diameter: {SIZES_IN_WORDS}."
            )
    if not sizes and piece.piece in SOFT | HARD and not piece.ends:
        yield thing.fault(field, "its size is missing. Enter its bore or diameter in mm.")
    if piece.piece in OF_TWO_SIZES and sizes and len(set(sizes)) == 1:
        same = "coupler" if piece.piece == "reducer" else "joiner"
        yield thing.fault(
            field,
            f"it has the same size at both ends: that is a {same}, or give the other size too.",
        )
    if piece.piece in BY_LENGTH and len(sizes) == 2:
        yield thing.fault(field, f"a {piece.piece} has one size. Enter one, or pick a reducer.")


def _length_faults(thing: Thing, field: str, piece: AnyPiece) -> Iterator[Fault]:
    length = piece.length_mm
    if length is None:
        if piece.piece in BY_LENGTH:
            yield thing.fault(field, "its length is missing. Enter it in mm.")
    elif not LEAST_LENGTH_MM <= length <= MOST_LENGTH_MM:
        yield thing.fault(field, f"{number_words(length)} mm is no length: {LENGTHS_IN_WORDS}.")


def _ends_faults(thing: Thing, field: str, piece: AnyPiece) -> Iterator[Fault]:
    if piece.piece in WITH_ENDS and not piece.ends:
        yield thing.fault(field, "name its two ends.")
    wanted = (1, 2) if piece.piece in ("clamp", "cap", "seal") else (2,)
    if piece.ends and len(piece.ends) not in wanted:
        yield thing.fault(
            field,
            f"it has {len(piece.ends)} ends: a piece has two. What has three is a component: "
            "put in a T.",
        )
    for end in piece.ends:
        if end.size is None and end.kind != "open":
            called = end.kind.replace("_", " ")
            yield thing.fault(field, f"its {called} end has no size. Enter it.")
        yield from end_faults(thing, field, end.kind, end.size)


def _wall_faults(thing: Thing, field: str, piece: AnyPiece) -> Iterator[Fault]:
    wall = piece.wall_mm
    if wall is not None:
        if not 0 < wall <= MOST_WALL_MM:
            yield thing.fault(
                field,
                f"{number_words(wall)} mm is no wall: over 0, up to"
                f" {number_words(MOST_WALL_MM)} mm.",
            )
        elif piece.piece in HARD:
            size = min(_sizes(piece), default=2 * wall + 1)
            if LEAST_SIZE_MM <= size <= 2 * wall:
                yield thing.fault(
                    field,
                    f"walls of {number_words(wall)} mm leave no bore in {number_words(size)} mm. "
                    "Correct one of the two.",
                )
    bore = piece.bore_mm
    if bore is not None and not 0 < bore <= MOST_SIZE_MM:
        yield thing.fault(
            field,
            f"a bore of {number_words(bore)} mm: over 0, up to {number_words(MOST_SIZE_MM)} mm.",
        )


def shelf_faults(thing: Thing, lying: ShelfThing) -> Iterator[Fault]:
    """What is wrong with one line of the shelf."""
    yield from piece_faults(thing, "shelf", lying)
    if not 0 <= lying.count <= MOST_ON_THE_SHELF:
        yield thing.fault(
            "count",
            f"{number_words(lying.count)} of it: enter a whole number from 0 to "
            f"{number_words(MOST_ON_THE_SHELF)}.",
        )
    if lying.range_mm is not None:
        low, high = lying.range_mm
        if not LEAST_SIZE_MM <= low < high <= MOST_SIZE_MM:
            yield thing.fault(
                "range", "a clamp goes from a small to a larger diameter, as 40-60 (mm)."
            )
    is_named = bool(lying.name or lying.ends)
    if lying.piece == "clamp" and lying.range_mm is None and not is_named:
        yield thing.fault("range", "say from which to which diameter it goes, as 40-60.")
    if lying.piece == "cap" and not is_named:
        yield thing.fault("ends", "say what end it shuts.")
    if lying.piece == "seal" and not is_named:
        yield thing.fault("name", "say what it is: washer M12x1.5, O-ring 9.5.")
