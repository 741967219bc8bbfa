"""What lies unused, given out once: lengths, pieces, seals and clamps, caps, then proposals.

The order in which runs are served is that of the document; of lengths the longest first.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from webapp.build.plumbing import Run, ShelfThing
from webapp.plumbing.clamps import Range, picked, to_buy
from webapp.plumbing.drawing import Drawing, PlacedPort
from webapp.plumbing.ends import is_measured, joining_of
from webapp.plumbing.names import clamp_name, is_by_length, piece_name, stop_name
from webapp.plumbing.needs import Need, gathered

TUBE_KERF_MM, HOSE_KERF_MM = 3.0, 0.0
"""What a saw takes away between two pieces, and a knife does not: common practice."""
_FINE_MM = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPiece:
    """A length that a drawn run needs: `number` is its place in the run, from 1."""

    what: str
    run: str
    number: int
    length_mm: float
    kerf_mm: float


class Shelf:
    """What is left on the shelf while it is given out, by name."""

    def __init__(self, things: tuple[ShelfThing, ...]) -> None:
        self.lengths: dict[str, Counter[float]] = {}
        self.counts: Counter[str] = Counter()
        self.pieces: dict[str, ShelfThing] = {}
        self._clamps: dict[str, Range] = {}
        for thing in things:
            name = piece_name(thing)
            if is_by_length(thing):
                self.lengths.setdefault(name, Counter())[thing.length_mm or 0.0] += thing.count
                continue
            self.counts[name] += thing.count
            self.pieces.setdefault(name, thing)
            if thing.piece == "clamp" and thing.range_mm is not None:
                self._clamps[name] = thing.range_mm

    def take(self, name: str) -> bool:
        """One of that name, where there is one left."""
        if self.counts[name] <= 0:
            return False
        self.counts[name] -= 1
        return True

    def take_length(self, name: str, length_mm: float, kerf_mm: float) -> bool:
        """A piece off the shortest length that it can be cut from."""
        lengths = self.lengths.get(name, Counter())
        takes_it = (one for one, count in lengths.items() if count and one >= length_mm - _FINE_MM)
        shortest = min(takes_it, default=None)
        if shortest is None:
            return False
        lengths[shortest] -= 1
        lengths[shortest - length_mm - kerf_mm] += 1
        return True

    def take_clamp(self, over_mm: float) -> str | None:
        """The clamp that holds a diameter best; what is to be bought where none does."""
        there = (clamp for name, clamp in self._clamps.items() if self.counts[name] > 0)
        clamp = picked(there, over_mm)
        if clamp is None:
            return to_buy(over_mm)
        self.counts[clamp_name(*clamp)] -= 1
        return None


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """Who got what: what is still lacking, by run and by port, and what is left."""

    left: Shelf
    run_needs: dict[str, tuple[Need, ...]]
    stop_needs: dict[str, Need]
    cut_pieces: tuple[CutPiece, ...]

    @property
    def needs(self) -> tuple[Need, ...]:
        """All that is lacking, by name."""
        of_runs = (need for needs in self.run_needs.values() for need in needs)
        every = gathered((*of_runs, *self.stop_needs.values()))
        return tuple(sorted(every, key=lambda need: need.what))


def given_out(drawing: Drawing) -> Given:
    """The shelf, given to what is drawn; proposals take from what is left."""
    shelf = Shelf(drawing.plumbing.shelf)
    cut_pieces = tuple(_cut_pieces(drawing))
    lacking: dict[str, list[Need]] = {run.key: [] for run in drawing.plumbing.runs}
    for piece in sorted(cut_pieces, key=lambda one: -one.length_mm):
        if not shelf.take_length(piece.what, piece.length_mm, piece.kerf_mm):
            lacking[piece.run].append(Need(what=piece.what, length_mm=piece.length_mm))
    for run in drawing.plumbing.runs:
        lacking[run.key].extend(_lacking_whole(drawing, run, shelf))
        lacking[run.key].extend(_lacking_small(drawing, run, shelf))
    stops = {}
    for placed in drawing.ports.values():
        if is_cap_missing(drawing, placed) and is_measured(joining_of(placed.port).end):
            name = stop_name(joining_of(placed.port).end)
            if not shelf.take(name):
                stops[placed.address] = Need(what=name, count=1)
    return Given(
        left=shelf,
        run_needs={key: gathered(needs) for key, needs in lacking.items()},
        stop_needs=stops,
        cut_pieces=cut_pieces,
    )


def is_cap_missing(drawing: Drawing, placed: PlacedPort) -> bool:
    """Whether a cap is meant to be on a port, and is not yet."""
    stop = placed.port.stop
    is_meant = stop is not None and stop.kind == "cap" and stop.on is None
    return is_meant and placed.address not in drawing.run_at


def _cut_pieces(drawing: Drawing) -> Iterator[CutPiece]:
    for run in drawing.plumbing.runs:
        if run.cut_on is not None:
            continue
        for number, (piece, circuit) in enumerate(drawing.pieces_of(run), start=1):
            if is_by_length(piece):
                yield CutPiece(
                    what=piece_name(piece, circuit),
                    run=run.key,
                    number=number,
                    length_mm=piece.length_mm or 0.0,
                    kerf_mm=TUBE_KERF_MM if piece.piece == "tube" else HOSE_KERF_MM,
                )


def _lacking_whole(drawing: Drawing, run: Run, shelf: Shelf) -> Iterator[Need]:
    """Whole pieces of a run that is not cut yet, which are not on the shelf."""
    if run.cut_on is not None:
        return
    for piece, circuit in drawing.pieces_of(run):
        name = piece_name(piece, circuit)
        if not is_by_length(piece) and not shelf.take(name):
            yield Need(what=name, count=1)


def _lacking_small(drawing: Drawing, run: Run, shelf: Shelf) -> Iterator[Need]:
    """Seals and clamps of a run that is not clamped yet, which are not on the shelf."""
    if run.clamped_on is not None:
        return
    for joint in drawing.joints[run.key]:
        for seal in joint.fit.seals:
            if not shelf.take(seal):
                yield Need(what=seal, count=1)
        if joint.fit.clamp_over_mm is not None:
            clamp = shelf.take_clamp(joint.fit.clamp_over_mm)
            if clamp is not None:
                yield Need(what=clamp, count=1)
