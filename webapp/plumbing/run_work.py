"""Cutting, fitting, clamping a run, and taking it off again: what each does to a build.

Cutting takes the pieces from the shelf, clamping the seals and clamps: those that the shelf gives
to the run now. The run keeps the names of the clamps that went on; taking off gives those back,
seals never. What changes a run makes the test of its circuit stale.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from webapp.build.build_input import BuildInput, Moment
from webapp.build.by_key import get_by_key, replaced_by_key
from webapp.build.plumbing import Plumbing, Run, ShelfThing
from webapp.build.verbs.shelf import gathered
from webapp.plumbing.bars import Bar
from webapp.plumbing.clamps import to_buy
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.named_things import clamp_named, is_clamp
from webapp.plumbing.names import is_by_length, piece_name
from webapp.plumbing.shelf import CutPiece, given_out

LEAST_LEFTOVER_MM = 20.0
"""A shorter end of hose or tube is thrown away: assumed, no source."""


def cut_run(build: BuildInput, key: str, *, on: Moment) -> BuildInput:
    """Every piece of the run is made and lies there. KeyError without such a run."""
    run = get_by_key(build.plumbing.runs, key)
    gifts = given_out(Drawing(build)).gifts[key]
    shelf = shelf_without(build.plumbing.shelf, Counter(gifts.pieces))
    shelf = _cut_from(shelf, gifts.lengths)
    return _changed(build, replace(run, cut_on=on), shelf)


def fitted_run(build: BuildInput, key: str, *, on: Moment) -> BuildInput:
    """The run is on, perhaps dry. KeyError without such a run."""
    run = get_by_key(build.plumbing.runs, key)
    return _changed(build, replace(run, fitted_on=on), build.plumbing.shelf)


def clamped_run(build: BuildInput, key: str, *, on: Moment) -> BuildInput:
    """The run is on for good, its seals in. KeyError without such a run.

    A clamp that did not lie there is on it all the same: as it would be bought.
    """
    run = get_by_key(build.plumbing.runs, key)
    given = given_out(Drawing(build))
    taken = given.gifts[key].small
    lacking = [need.what for need in given.run_needs[key] for _ in range(need.count or 0)]
    clamps = tuple(name for name in (*taken, *lacking) if is_clamp(name))
    shelf = shelf_without(build.plumbing.shelf, Counter(taken))
    return _changed(build, replace(run, clamped_on=on, clamps=clamps), shelf)


def run_taken_off(build: BuildInput, key: str) -> BuildInput:
    """The run lies there as it was cut. KeyError without such a run.

    Where nobody wrote down which clamps were on it, those are given back that would be bought.
    """
    run = get_by_key(build.plumbing.runs, key)
    back: tuple[ShelfThing, ...] = ()
    if run.clamps:
        back = tuple(map(clamp_named, run.clamps))
    elif run.clamped_on is not None:
        back = tuple(_clamps_of(build, run))
    off = replace(run, fitted_on=None, clamped_on=None, clamps=())
    return _changed(build, off, gathered((*build.plumbing.shelf, *back)))


def _changed(build: BuildInput, run: Run, shelf: tuple[ShelfThing, ...]) -> BuildInput:
    """With the run as it is now, the shelf, and no test of its circuit."""
    plumbing: Plumbing = build.plumbing
    circuit = replace(Drawing(build).circuit_of(run), tested_on=None)
    return replace(
        build,
        plumbing=replace(
            plumbing,
            runs=replaced_by_key(plumbing.runs, run),
            circuits=replaced_by_key(plumbing.circuits, circuit),
            shelf=shelf,
        ),
    )


def _clamps_of(build: BuildInput, run: Run) -> Iterator[ShelfThing]:
    for joint in Drawing(build).joints[run.key]:
        if joint.fit.clamp_over_mm is not None:
            yield clamp_named(to_buy(joint.fit.clamp_over_mm))
        yield from (clamp_named(seal) for seal in joint.fit.seals if is_clamp(seal))


# --- the shelf -----------------------------------------------------------------------------------


def shelf_without(shelf: tuple[ShelfThing, ...], gone: Counter[str]) -> tuple[ShelfThing, ...]:
    """The shelf without so many of each name; lines that are used up go."""
    left = []
    for thing in shelf:
        name = piece_name(thing)
        taken = 0 if is_by_length(thing) else min(gone[name], thing.count)
        gone[name] -= taken
        if taken < thing.count or not taken:
            left.append(replace(thing, count=thing.count - taken))
    return tuple(left)


def _cut_from(
    shelf: tuple[ShelfThing, ...], lengths: tuple[tuple[CutPiece, Bar], ...]
) -> tuple[ShelfThing, ...]:
    """The shelf after the lengths were cut off their bars; what is left of each lies there."""
    cut_off: dict[int, float] = {}
    bars: dict[int, tuple[str, Bar]] = {}
    for piece, bar in lengths:
        cut_off[id(bar)] = cut_off.get(id(bar), 0.0) + piece.length_mm + piece.kerf_mm
        bars[id(bar)] = (piece.what, bar)
    for mark, (what, bar) in bars.items():
        shelf = _one_cut(shelf, what, bar.lay_mm, bar.lay_mm - cut_off[mark])
    return gathered(shelf)


def _one_cut(
    shelf: tuple[ShelfThing, ...], what: str, lay_mm: float, left_mm: float
) -> tuple[ShelfThing, ...]:
    after: list[ShelfThing] = []
    is_done = False
    for thing in shelf:
        is_it = is_by_length(thing) and piece_name(thing) == what and thing.length_mm == lay_mm
        if is_done or not is_it or not thing.count:
            after.append(thing)
            continue
        is_done = True
        if thing.count > 1:
            after.append(replace(thing, count=thing.count - 1))
        if left_mm >= LEAST_LEFTOVER_MM:
            after.append(replace(thing, count=1, length_mm=left_mm))
    return tuple(after)
