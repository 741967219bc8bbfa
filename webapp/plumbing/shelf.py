"""What lies unused, given out once: lengths, pieces, seals and clamps, caps, then proposals.

The order in which runs are served is that of the document; of lengths the longest first.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from webapp.build.plumbing import Run, ShelfThing
from webapp.plumbing.bars import Bar, Bars
from webapp.plumbing.clamps import Range, picked, to_buy
from webapp.plumbing.drawing import Drawing, PlacedPort
from webapp.plumbing.ends import is_measured, joining_of
from webapp.plumbing.names import clamp_name, is_by_length, piece_name, stop_name
from webapp.plumbing.needs import Need, gathered

TUBE_KERF_MM, HOSE_KERF_MM = 3.0, 0.0
"""What a saw takes away between two pieces, and a knife does not: common practice."""


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
        self.bars: dict[str, Bars] = {}
        self.counts: Counter[str] = Counter()
        self.pieces: dict[str, ShelfThing] = {}
        self._clamps: dict[str, Range] = {}
        for thing in things:
            name = piece_name(thing)
            if is_by_length(thing):
                self.bars.setdefault(name, Bars()).add(thing.length_mm or 0.0, thing.count)
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

    def best_clamp(self, over_mm: float) -> str:
        """The name of the clamp that lies there and holds a diameter best, else of one to buy."""
        there = (clamp for name, clamp in self._clamps.items() if self.counts[name] > 0)
        clamp = picked(there, over_mm)
        return to_buy(over_mm) if clamp is None else clamp_name(*clamp)


@dataclass(frozen=True, slots=True, kw_only=True)
class Gifts:
    """What one run got: whole pieces, seals and clamps by name, and its lengths, each with the
    bar it comes off."""

    pieces: tuple[str, ...]
    small: tuple[str, ...]
    lengths: tuple[tuple[CutPiece, Bar], ...]

    @property
    def things(self) -> tuple[Need, ...]:
        """All of it, each thing once."""
        cut = (Need(what=piece.what, length_mm=piece.length_mm) for piece, _ in self.lengths)
        whole = (Need(what=name, count=1) for name in (*self.pieces, *self.small))
        return gathered((*cut, *whole))


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """Who got what: what is still lacking, by run and by port, and what is left."""

    left: Shelf
    run_needs: dict[str, tuple[Need, ...]]
    stop_needs: dict[str, Need]
    cut_pieces: tuple[CutPiece, ...]
    gifts: dict[str, Gifts]

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
    lengths: dict[str, list[tuple[CutPiece, Bar]]] = {key: [] for key in lacking}
    for piece in sorted(cut_pieces, key=lambda one: -one.length_mm):
        bars = shelf.bars.get(piece.what)
        bar = None if bars is None else bars.cut(piece.length_mm, piece.kerf_mm)
        if bar is None:
            lacking[piece.run].append(Need(what=piece.what, length_mm=piece.length_mm))
        else:
            lengths[piece.run].append((piece, bar))
    gifts = {}
    for run in drawing.plumbing.runs:
        pieces = _taken(_whole_pieces(drawing, run), shelf, lacking[run.key])
        small = _taken(_small_things(drawing, run, shelf), shelf, lacking[run.key])
        gifts[run.key] = Gifts(pieces=pieces, small=small, lengths=tuple(lengths[run.key]))
    return Given(
        left=shelf,
        run_needs={key: gathered(needs) for key, needs in lacking.items()},
        stop_needs=_stop_needs(drawing, shelf),
        cut_pieces=cut_pieces,
        gifts=gifts,
    )


def _taken(names: Iterator[str], shelf: Shelf, lacking: list[Need]) -> tuple[str, ...]:
    """Those that lay there; the others are lacking."""
    got = []
    for name in names:
        if shelf.take(name):
            got.append(name)
        else:
            lacking.append(Need(what=name, count=1))
    return tuple(got)


def _stop_needs(drawing: Drawing, shelf: Shelf) -> dict[str, Need]:
    """Caps that are meant to be on, are not and do not lie there, by the ports they are for."""
    needs = {}
    for placed in drawing.ports.values():
        end = joining_of(placed.port).end
        if is_cap_missing(drawing, placed) and is_measured(end):
            name = stop_name(end)
            if not shelf.take(name):
                needs[placed.address] = Need(what=name, count=1)
    return needs


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


def _whole_pieces(drawing: Drawing, run: Run) -> Iterator[str]:
    """The whole pieces of a run that is not cut yet."""
    if run.cut_on is None:
        for piece, circuit in drawing.pieces_of(run):
            if not is_by_length(piece):
                yield piece_name(piece, circuit)


def _small_things(drawing: Drawing, run: Run, shelf: Shelf) -> Iterator[str]:
    """The seals and clamps of a run that is not clamped yet, each clamp as the shelf has it."""
    if run.clamped_on is None:
        for joint in drawing.joints[run.key]:
            yield from joint.fit.seals
            if joint.fit.clamp_over_mm is not None:
                yield shelf.best_clamp(joint.fit.clamp_over_mm)
