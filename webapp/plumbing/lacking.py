"""What is drawn and lacks, by circuit: the shelf is given out once for all that is asked of it."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cached_property

from webapp.build.build_input import BuildInput
from webapp.build.plumbing import Run
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.needs import Need
from webapp.plumbing.shelf import CutPiece, Given, given_out


class Lacking:
    """What the shelf lacks for the drawing of a build without faults. Nothing in it changes."""

    def __init__(self, build: BuildInput) -> None:
        self.build = build
        self.drawing = Drawing(build)

    @cached_property
    def given(self) -> Given:
        """The shelf, given to what is drawn."""
        return given_out(self.drawing)

    @cached_property
    def by_circuit(self) -> Mapping[str, Mapping[str, Need]]:
        """By circuit and thing what lacks; lengths with the cuts between their pieces."""
        pieces: dict[str, list[CutPiece]] = {}
        for piece in self.given.cut_pieces:
            pieces.setdefault(piece.run, []).append(piece)
        found: dict[str, dict[str, Need]] = {}
        for circuit, runs in self.drawing.runs_by_circuit.items():
            needs = found.setdefault(circuit, {})
            for run in runs:
                for need in self.given.run_needs[run.key]:
                    own = pieces.get(run.key, ())
                    kerf = _kerfs_mm(self.given, run, own, need.what) if need.length_mm else 0.0
                    add_need(needs, replace(need, length_mm=need.length_mm + kerf))
            for placed in self.drawing.ports_by_circuit[circuit]:
                if placed.address in self.given.stop_needs:
                    add_need(needs, self.given.stop_needs[placed.address])
        return found


def add_need(found: dict[str, Need], need: Need) -> None:
    """So much more of a thing."""
    was = found.get(need.what, Need(what=need.what))
    found[need.what] = replace(
        was, count=was.count + need.count, length_mm=was.length_mm + need.length_mm
    )


def _kerfs_mm(given: Given, run: Run, own: Sequence[CutPiece], what: str) -> float:
    """What the saw takes behind each piece of a run that no length on the shelf takes."""
    from_shelf = {piece.number for piece, _ in given.gifts[run.key].lengths}
    return sum(
        piece.kerf_mm for piece in own if piece.what == what and piece.number not in from_shelf
    )
