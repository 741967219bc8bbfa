"""The next piece of a run: its kind picked, its size from the end before, one number typed."""

import hashlib
from dataclasses import dataclass, replace
from typing import Any, cast

from webapp.build.build_input import BuildInput, Fault
from webapp.build.by_key import find_by_key
from webapp.build.edited import Edited, Lost
from webapp.build.plumbing import (
    BY_LENGTH,
    END_KINDS,
    OF_TWO_SIZES,
    PIECE_KINDS,
    WITH_ENDS,
    End,
    EndKind,
    Piece,
    PieceKind,
    Run,
)
from webapp.build.typed_sizes import typed_size_words
from webapp.build.verbs.runs import add_piece
from webapp.pages import addresses
from webapp.pages.forms.posted import whole_number
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.plumbing.piece_fields import (
    Reader,
    amount_reader,
    place_of_piece_fault,
    read_angle,
    size_reader,
)
from webapp.pages.plumbing.seen import Seen
from webapp.pages.words import sizes
from webapp.pages.words.plumbing_drawn import PIECE_WORDS
from webapp.pages.words.sizes import shop_units
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.ends import HARD_ENDS, OPPOSITE
from webapp.plumbing.next_piece import end_before

OWN_FIELDS = ("piece", "first_size", "number", "other_end", "other_size", "own_name")
BENT: frozenset[PieceKind] = frozenset(("elbow", "bend"))


@dataclass(frozen=True, slots=True, kw_only=True)
class NextPiece:
    """What stands above the form: what the piece joins on to, and how far the run has come.

    `whole` is the page of the run where a piece is put in at its end, "" where that is so.
    """

    begins: str
    said: str
    heading: str = "Next piece"
    whole: str = ""


def pieces_seen(run: Run) -> str:
    """The pieces of a run as a form carries them: another window may add one meanwhile."""
    return hashlib.sha256(repr(run.pieces).encode()).hexdigest()[:16]


def opened_next(seen: Seen, key: str, before: int = 0) -> TypedForm:
    """The form of the next piece of a run, its kind and size filled in; of one `before` another."""
    run = seen.runs[key].run
    before = before if 1 <= before <= len(run.pieces) else 0
    end = end_before(seen.build, key, before or None)
    kind = usual_kind(seen.drawing, run, end)
    size = None if end is None or kind in WITH_ENDS else end.size
    values = {
        "piece": kind,
        "first_size": typed_size_words(
            size if isinstance(size, float | int) else None, shop_units()
        ),
        "number": "",
        "other_end": "",
        "other_size": "",
        "own_name": "",
        "seen": pieces_seen(run),
        "before": str(before) if before else "",
    }
    if end is not None and kind in WITH_ENDS:
        values["first_size"] = typed_size_words(end.size, shop_units())
    return TypedForm({name: (text,) for name, text in values.items()})


def usual_kind(drawing: Drawing, run: Run, end: End | None) -> PieceKind:
    """What mostly follows an end: a hose over a spigot, a tube in a hose, a tube on a tube where
    the circuit has no hose."""
    circuit = drawing.circuit_of(run)
    if end is None or end.kind == "open":
        return "hose"
    if end.kind in HARD_ENDS:
        return "tube" if circuit.hose is None and circuit.tube is not None else "hose"
    return "tube" if end.kind in ("hose", "weld", "socket") else "line"


def next_piece(seen: Seen, key: str, before: int = 0) -> NextPiece:
    """What the piece joins on to, and whether the run could end here."""
    found = seen.runs[key]
    pieces = found.run.pieces
    if not 1 <= before <= len(pieces):
        before = 0
    end = end_before(seen.build, key, before or None)
    begins = "" if end is None else sizes.end(end)
    if before:
        behind = sizes.joined_end(found.joints[before - 1].right)
        return NextPiece(
            begins=begins,
            said=f"Behind it comes piece {before}, with {behind}.",
            heading=f"A piece before piece {before}",
            whole=addresses.run(seen.slug, key),
        )
    last = found.joints[-1]
    to = seen.place(found.run.to_port)
    if last.fit.is_joined:
        said = f"This end fits {to}, where the run ends: it may be whole."
    else:
        said = f"It is to reach {to}."
    return NextPiece(begins=begins, said=said)


# --- what a press stores ----------------------------------------------------------------------


def put_next_piece(form: TypedForm, build: BuildInput) -> Edited[str]:
    """One piece more in a run, at its end or before another, unless its pieces are not those that
    were shown."""
    key = form.typed("run")
    run = find_by_key(build.plumbing.runs, key)
    if run is None:
        return Edited(build=build, made=key, lost=Lost(kind="run", key=key))
    before = whole_number(form.typed("before")) or None
    if before is not None and before > len(run.pieces):
        before = None
    end = end_before(build, key, before)
    piece = _read(form, end)
    if form.typed("seen") != pieces_seen(run):
        form.put("seen", pieces_seen(run))
        form.put("before", "" if before is None else str(before))
        form.fault(
            "number",
            "The pieces of this run were changed elsewhere since this was shown; what it has now"
            f" stands above. Press once more to put yours {_place_said(before)}"
            f"{'' if end is None else f', on to {sizes.end(end)}'}, or change its size first.",
        )
    return add_piece(build, key, piece, before=before)


def _place_said(before: int | None) -> str:
    return "behind them" if before is None else f"before piece {before}"


def place_of_fault(key: str, fault: Fault) -> str:
    """Which field of the next piece a fault belongs to."""
    if fault.kind != "run" or fault.key != key or fault.field not in ("pieces", "of", "name"):
        return ""
    field = place_of_piece_fault(fault, length="number", angle="number")
    instead = {"end_a": "other_end", "size_b": "other_size"}
    field = instead.get(field, field)
    return field if field in OWN_FIELDS else "first_size"


def _read(form: TypedForm, before: End | None) -> Piece:
    kind = cast(PieceKind | None, form.one_of("piece", "Kind of piece", PIECE_KINDS))
    if kind is None:
        form.fault("piece", "Kind of piece: none is picked. Pick one.")
        kind = "hose"
    if kind in WITH_ENDS:
        return _with_ends(form, kind, before)
    called = PIECE_WORDS[kind].capitalize()
    size = form.read("first_size", f"{called}, size", _size_or_before("hose", before))
    number = form.typed("number").strip()
    piece = Piece(piece=kind, size=size, name=form.text("own_name", called) or None)
    if kind in BY_LENGTH:
        if not number:
            form.fault("number", f"{called}: its length is missing. Type it.")
        mm = form.read("number", f"{called}, length", amount_reader("length"))
        return replace(piece, length_mm=mm)
    if kind in BENT:
        return replace(piece, angle=form.read("number", f"{called}, angle", read_angle))
    other = form.read("number", f"{called}, size of the other end", size_reader("hose"))
    if kind in OF_TWO_SIZES:
        if other is None and not form.faults_at("number"):
            form.fault("number", f"{called}: the size of its other end is missing. Type it.")
        return replace(piece, size=None if size is None or other is None else (size, other))
    return piece if other is None else replace(piece, size=other)


def _with_ends(form: TypedForm, kind: PieceKind, before: End | None) -> Piece:
    """A piece that names both its ends: the first one joins on to the end before it."""
    called = PIECE_WORDS[kind].capitalize()
    first: EndKind = "bead" if before is None else OPPOSITE[before.kind]
    size: Any = form.read("first_size", f"{called}, size", _size_or_before(first, before))
    picked = form.one_of("other_end", f"{called}, other end", END_KINDS)
    other = first if picked is None else cast(EndKind, picked)
    field = "number" if kind == "adapter" else "other_size"
    end_size = form.read(field, f"{called}, size of the other end", size_reader(other))
    if end_size is None and other == first:
        end_size = size
    length = None
    if kind != "adapter":
        length = form.read("number", f"{called}, length", amount_reader("length"))
    ends = (End(kind=first, size=size), End(kind=other, size=end_size))
    name = form.text("own_name", f"{called}, its own name") or None
    return Piece(piece=kind, ends=ends, length_mm=length, name=name)


def _size_or_before(kind: EndKind, before: End | None) -> Reader:
    """Reads a size; one that is left as it was filled in means that of the end before it, to the
    last digit."""
    read = size_reader(kind)

    def read_or_before(text: str) -> tuple[Any, str]:
        size = None if before is None else before.size
        if isinstance(size, float | int) and text == typed_size_words(size, shop_units()):
            return size, ""
        return read(text)

    return read_or_before
