"""Cutting, fitting, clamping a run, and taking it off again: what each does to a build.

Cutting takes the pieces from the shelf, clamping the seals and clamps: those that the shelf gives
to the run now. Taking off gives clamps back, seals never. What changes a run makes the test of its
circuit stale.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from webapp.build.build_input import BuildInput, Moment
from webapp.build.by_key import get_by_key, replaced_by_key
from webapp.build.plumbing import Plumbing, Run, ShelfThing
from webapp.plumbing.bars import Bar
from webapp.plumbing.clamps import CLAMP_STEPS_MM, to_buy
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.names import clamp_name, is_by_length, piece_name
from webapp.plumbing.shelf import CutPiece, given_out

LEAST_LEFTOVER_MM = 20.0
"""A shorter end of hose or tube is thrown away: assumed, no source."""


def cut_run(build: BuildInput, key: str, *, on: Moment) -> BuildInput:
    """Every piece of the run is made and lies there. KeyError without such a run."""
    run = get_by_key(build.plumbing.runs, key)
    gifts = given_out(Drawing(build)).gifts[key]
    shelf = _without(build.plumbing.shelf, Counter(gifts.pieces))
    shelf = _cut_from(shelf, gifts.lengths)
    return _changed(build, replace(run, cut_on=on), shelf)


def fitted_run(build: BuildInput, key: str, *, on: Moment) -> BuildInput:
    """The run is on, perhaps dry. KeyError without such a run."""
    run = get_by_key(build.plumbing.runs, key)
    return _changed(build, replace(run, fitted_on=on), build.plumbing.shelf)


def clamped_run(build: BuildInput, key: str, *, on: Moment) -> BuildInput:
    """The run is on for good, its seals in. KeyError without such a run."""
    run = get_by_key(build.plumbing.runs, key)
    gifts = given_out(Drawing(build)).gifts[key]
    shelf = _without(build.plumbing.shelf, Counter(gifts.small))
    return _changed(build, replace(run, clamped_on=on), shelf)


def run_taken_off(build: BuildInput, key: str) -> BuildInput:
    """The run lies there as it was cut. KeyError without such a run.

    Nobody wrote down which hose clamps were on it: those are given back that would be bought.
    """
    run = get_by_key(build.plumbing.runs, key)
    back = tuple(_clamps_of(build, run)) if run.clamped_on is not None else ()
    off = replace(run, fitted_on=None, clamped_on=None)
    return _changed(build, off, _gathered((*build.plumbing.shelf, *back)))


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
    steps = {clamp_name(*step): step for step in CLAMP_STEPS_MM}
    for joint in Drawing(build).joints[run.key]:
        if joint.fit.clamp_over_mm is not None:
            name = to_buy(joint.fit.clamp_over_mm)
            step = steps.get(name)
            yield ShelfThing(piece="clamp", range_mm=step, name=None if step else name)
        for seal in joint.fit.seals:
            if seal.startswith(("slip clamp ", "V clamp ")):
                yield ShelfThing(piece="clamp", name=seal)


# --- the shelf -----------------------------------------------------------------------------------


def _without(shelf: tuple[ShelfThing, ...], gone: Counter[str]) -> tuple[ShelfThing, ...]:
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
    return _gathered(shelf)


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


def _gathered(shelf: tuple[ShelfThing, ...]) -> tuple[ShelfThing, ...]:
    """Lines that say the same but for their count, in one."""
    found: dict[ShelfThing, int] = {}
    for thing in shelf:
        alike = replace(thing, count=0)
        found[alike] = found.get(alike, 0) + thing.count
    return tuple(replace(thing, count=count) for thing, count in found.items())
