"""From the name of a thing back to the thing, so that what was bought by its name can lie there."""

import re
from dataclasses import replace
from typing import cast, get_args

from webapp.build.limits import LEAST_LENGTH_MM, MOST_LENGTH_MM
from webapp.build.plumbing import BY_MM, END_KINDS, HARD, SOFT, End, PieceKind, ShelfThing
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.names import is_by_length, piece_name

_CLAMP = re.compile(r"clamp (\d+(?:\.\d+)?)-(\d+(?:\.\d+)?)")
_CLAMPS = ("clamp ", "slip clamp ", "V clamp ")
_SEALS = ("washer ", "gasket ", "O-ring ")
_STOPS = ("cap ", "plug ", "blank ")
_NUMBER = r"\d+(?:\.\d+)?"
_PIECE = re.compile(rf"(\w+) ({_NUMBER})(?:-({_NUMBER}))?(?: ({_NUMBER})°)?(?: (.+))?")


def is_clamp(name: str) -> bool:
    """Whether a thing on the shelf or the buy list is a clamp of any kind."""
    return name.startswith(_CLAMPS)


def is_seal(name: str) -> bool:
    """Whether it is a washer, a gasket or an O-ring."""
    return name.startswith(_SEALS)


def clamp_named(name: str) -> ShelfThing:
    """A clamp of that name: by its range where it says one."""
    found = _CLAMP.fullmatch(name)
    if found is None:
        return ShelfThing(piece="clamp", name=name)
    return ShelfThing(piece="clamp", range_mm=(float(found[1]), float(found[2])))


def things_named(
    drawing: Drawing, what: str, *, count: int | None, metres: float | None
) -> tuple[ShelfThing, ...]:
    """So many of a thing, or metres of it, as they lie on the shelf; () where nothing is called so.

    A name on the buy list may come from a piece that is drawn: then the thing is like that.
    Metres come in one length, beyond the longest there may be in several.
    """
    thing = _as_drawn(drawing, what) or _as_called(what)
    if thing is None or is_by_length(thing) != (metres is not None):
        return ()
    if metres is None:
        return (replace(thing, count=count),) if count else ()
    left, lengths = metres * 1000, []
    while left >= LEAST_LENGTH_MM:
        lengths.append(min(left, MOST_LENGTH_MM))
        left -= lengths[-1]
    return tuple(replace(thing, length_mm=length, count=1) for length in lengths)


def _as_drawn(drawing: Drawing, what: str) -> ShelfThing | None:
    for run in drawing.plumbing.runs:
        for piece, circuit in drawing.pieces_of(run):
            if piece_name(piece, circuit) == what:
                of = piece.of
                if of is None and piece.piece in SOFT:
                    of = circuit.hose
                elif of is None and piece.piece in HARD:
                    of = circuit.tube
                return ShelfThing(
                    piece=piece.piece,
                    name=piece.name,
                    size=piece.size,
                    ends=piece.ends,
                    length_mm=piece.length_mm if piece.piece not in SOFT | HARD else None,
                    angle=piece.angle,
                    of=of,
                    wall_mm=piece.wall_mm,
                    bore_mm=piece.bore_mm,
                    arrow=piece.arrow,
                )
    return None


def _as_called(what: str) -> ShelfThing | None:
    thing = None
    if is_clamp(what):
        thing = clamp_named(what)
    elif what.startswith(_SEALS):
        thing = ShelfThing(piece="seal", name=what)
    elif what.startswith(_STOPS):
        thing = ShelfThing(piece="cap", name=what)
    elif what.startswith("adapter "):
        ends = tuple(_end(words) for words in what.removeprefix("adapter ").split(" - "))
        known = tuple(end for end in ends if end is not None)
        thing = ShelfThing(piece="adapter", ends=known) if len(known) == 2 else None
    else:
        thing = _piece(what)
    return thing if thing is not None and piece_name(thing) == what else None


def _end(words: str) -> End | None:
    kind, _, size = words.partition(" ")
    known = next((one for one in END_KINDS if one == kind), None)
    if known is None or known == "open":
        return None if known is None else End(kind=known)
    is_number = re.fullmatch(_NUMBER, size) is not None
    return End(kind=known, size=float(size) if is_number and known in BY_MM else size)


def _piece(what: str) -> ShelfThing | None:
    found = _PIECE.fullmatch(what)
    if found is None or found[1] not in get_args(PieceKind):
        return None
    first = float(found[2])
    return ShelfThing(
        piece=cast(PieceKind, found[1]),
        size=first if found[3] is None else (first, float(found[3])),
        angle=None if found[4] is None else float(found[4]),
        of=found[5],
    )
