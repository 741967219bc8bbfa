"""A proposal taken into its run: what mends a joint becomes pieces of it, each the right way round.

What was proposed of the shelf is then spoken for there, what is to be bought is on the buy list.
"""

from collections.abc import Iterator
from dataclasses import fields, replace
from itertools import product
from typing import get_args

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.build.checks.plumbing_checks import plumbing_faults
from webapp.build.edited import Edited
from webapp.build.plumbing import HARD, SOFT, AnyPiece, Circuit, Piece, PieceKind, Run, ShelfThing
from webapp.build.verbs.plumbing_edits import fault_of, lost, refused
from webapp.build.verbs.runs import change_run, turned_piece
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.named_things import things_named
from webapp.plumbing.names import piece_name
from webapp.plumbing.plumbed import plumbed
from webapp.plumbing.proposals import Proposal

CHANGED = "what would mend joint {at} is not what it was. Look at it again."
NOT_DRAWN = "{name} is called so by nobody: draw it by hand."


def take_mend(build: BuildInput, key: str, at: int, seen: tuple[str, ...]) -> Edited[str]:
    """With what is proposed for a joint taken into its run; `seen` are the names it was shown with.

    A joint that fits by now stays as it is. Refused where something else is proposed.
    """
    run = find_by_key(build.plumbing.runs, key)
    if run is None:
        return lost(build, "run", key, key)
    standing = tuple(plumbing_faults(build))
    if standing:
        return refused(build, key, *standing)
    of_run = (one for one in plumbed(build).proposals if one.run == key)
    mend = next((one for one in of_run if one.at == at), None)
    drawing = Drawing(build)
    if mend is None and 1 <= at <= len(drawing.joints[key]):
        return Edited(build=build, made=key)
    if mend is None or mend.pieces != seen:
        return refused(build, key, fault_of("run", run, "pieces", CHANGED.format(at=at)))
    pieces = []
    for name in mend.pieces:
        piece = _piece_called(drawing, name, drawing.circuit_of(run))
        if piece is None:
            text = NOT_DRAWN.format(name=name)
            return refused(build, key, fault_of("run", run, "pieces", text))
        pieces.append(piece)
    return change_run(build, _best_turned(drawing, run, mend, pieces))


def _piece_called(drawing: Drawing, name: str, circuit: Circuit) -> Piece | None:
    """A piece of that name: as it lies on the shelf, else as it is called."""
    there = (thing for thing in drawing.plumbing.shelf if piece_name(thing) == name)
    thing = next(there, None) or next(iter(things_named(drawing, name, count=1, metres=None)), None)
    if thing is None:
        return None
    return _as_piece(thing, circuit)


def _as_piece(thing: ShelfThing, circuit: Circuit) -> Piece | None:
    kind = next((one for one in get_args(PieceKind) if one == thing.piece), None)
    if kind is None:
        return None
    said = {one.name: getattr(thing, one.name) for one in fields(AnyPiece)}
    usual = circuit.hose if kind in SOFT else circuit.tube if kind in HARD else None
    if said["of"] == usual:
        said["of"] = None
    return Piece(**{**said, "piece": kind})


def _best_turned(drawing: Drawing, run: Run, mend: Proposal, pieces: list[Piece]) -> Run:
    """The run with the pieces in, each turned so that the fewest joints do not fit."""

    def unfit(changed: Run) -> int:
        return sum(not joint.fit.is_joined for joint in drawing.joints_of(changed))

    return min(_ways(run, mend, pieces), key=unfit)


def _ways(run: Run, mend: Proposal, pieces: list[Piece]) -> Iterator[Run]:
    begin = mend.at - 1 if mend.instead_of is None else mend.instead_of - 1
    behind = begin if mend.instead_of is None else begin + 1
    for turns in product((False, True), repeat=len(pieces)):
        turned = tuple(
            turned_piece(piece) if is_turned else piece
            for piece, is_turned in zip(pieces, turns, strict=True)
        )
        yield replace(run, pieces=(*run.pieces[:begin], *turned, *run.pieces[behind:]))
