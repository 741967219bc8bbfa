"""One piece of a run: changed, moved, turned round, taken out, a T put in before it.

A piece is told by what it says, not by its number: another window may have put one in before it.
"""

import hashlib

from webapp.build.build_input import BuildInput, Fault
from webapp.build.by_key import find_by_key
from webapp.build.edited import Edited, Lost
from webapp.build.plumbing import Piece, Run
from webapp.build.verbs.plumbing_edits import fault_of
from webapp.build.verbs.runs import change_piece, move_piece, remove_piece, turned_piece
from webapp.pages.forms.posted import whole_number
from webapp.pages.forms.typed_form import TypedForm
from webapp.pages.plumbing.piece_fields import (
    amount_reader,
    place_of_piece_fault,
    read_piece,
    shown_piece,
)
from webapp.plumbing.branching import branch_here

WORK = ("earlier", "later", "out", "turn", "branch")


def digest_of(piece: object) -> str:
    """A piece as a form carries it."""
    return hashlib.sha256(repr(piece).encode()).hexdigest()[:16]


def place_now(run: Run, number: int, digest: str) -> int | None:
    """The number of the piece that was shown as that number, 0 where it is not told which; None
    where there is none like it."""
    alike = [at for at, piece in enumerate(run.pieces, start=1) if digest_of(piece) == digest]
    if number in alike:
        return number
    return alike[0] if len(alike) == 1 else None


def edit_piece(form: TypedForm, build: BuildInput) -> Edited[str]:
    """A piece as its form says it."""
    key = form.typed("run")
    run = find_by_key(build.plumbing.runs, key)
    if run is None:
        return Edited(build=build, made=key, lost=Lost(kind="run", key=key))
    number = whole_number(form.typed("at"))
    at = place_now(run, number, form.typed("piece_seen"))
    if at is None:
        if not 1 <= number <= len(run.pieces):
            return Edited(build=build, made=key, faults=(_gone(run),))
        at = number
    stored = run.pieces[at - 1]
    form.put("at", str(at))
    form.put("piece_seen", digest_of(stored))
    if not form.settle(shown_piece(stored)):
        return Edited(build=build, made=key)
    piece = read_piece(form)
    if not form.faults and piece == stored:
        return Edited(build=build, made=key)
    return change_piece(build, key, at, piece)


def place_of_fault(key: str, fault: Fault) -> str:
    """Which field of a piece a fault belongs to."""
    if fault.kind != "run" or fault.key != key or fault.field not in ("pieces", "of", "name"):
        return ""
    return place_of_piece_fault(fault)


def work_on_piece(form: TypedForm, build: BuildInput) -> Edited[str]:
    """A piece moved, taken out, or a T put before it; made is the key of the run, or of the T."""
    key, does = form.typed("run"), form.typed("does")
    run = find_by_key(build.plumbing.runs, key)
    if run is None or does not in WORK:
        return Edited(build=build, made=key, lost=Lost(kind="run", key=key))
    at = place_now(run, whole_number(form.typed("at")), form.typed("piece_seen"))
    if at is None:
        return Edited(build=build, made=key, faults=(_gone(run),))
    if does == "out":
        return remove_piece(build, key, at)
    if does == "turn":
        return change_piece(build, key, at, turned_piece(run.pieces[at - 1]))
    if does == "branch":
        return _branched(form, build, run, at)
    to = at - 1 if does == "earlier" else at + 1
    if not 1 <= to <= len(run.pieces):
        return Edited(build=build, made=key)
    return move_piece(build, key, at, to)


def _branched(form: TypedForm, build: BuildInput, run: Run, at: int) -> Edited[str]:
    mm = form.read("at_mm", "Where the T comes", amount_reader("length"))
    name = form.text("tee", "The name of the T") or "T"
    if form.faults:
        return Edited(build=build, made=run.key)
    return branch_here(build, run.key, before=at, at_mm=mm, name=name)


def _gone(run: Run) -> Fault:
    text = (
        "this piece was changed or taken out elsewhere meanwhile. Look at the pieces it has now,"
        " then press once more."
    )
    return fault_of("run", run, "", text)


def piece_at(run: Run, number: int) -> Piece | None:
    """The piece of that number; None where there is none."""
    return run.pieces[number - 1] if 1 <= number <= len(run.pieces) else None
