"""Runs: two ports joined, pieces put in, changed, moved and taken out, a run removed.

How far a run is (cut, fitted, clamped, off again) hangs on the shelf: `webapp.plumbing.run_states`.
"""

from collections.abc import Sequence
from dataclasses import replace

from webapp.build.build_input import BuildInput, Fault
from webapp.build.by_key import find_by_key, replaced_by_key
from webapp.build.checks.fault_words import Thing, shown
from webapp.build.edited import Edited
from webapp.build.plumbing import Piece, Run
from webapp.build.verbs.plumbing_edits import fault_of, lost, plumbed_edit, refused
from webapp.build.verbs.plumbing_keys import free_key


def join_ports(
    build: BuildInput,
    from_port: str,
    to_port: str,
    *,
    name: str = "",
    pieces: Sequence[Piece] = (),
    tasks: Sequence[str] = (),
) -> Edited[str]:
    """With a run between two ports; made is its key.

    Refused: a port to itself, one that is joined already, that is shut for good or has a part on
    it, that is open to the air on purpose, of another circuit or not there.
    """
    plumbing = build.plumbing
    key = free_key(name, {run.key for run in plumbing.runs}, otherwise="run")
    new = Run(
        key=key,
        name=name,
        from_port=from_port,
        to_port=to_port,
        pieces=tuple(pieces),
        tasks=tuple(tasks),
    )
    twice = tuple(
        _joined_already(address, run)
        for address in dict.fromkeys(new.ports)
        for run in plumbing.runs
        if address in run.ports
    )
    if twice:
        return refused(build, key, *twice)
    return plumbed_edit(build, replace(plumbing, runs=(*plumbing.runs, new)), key)


def _joined_already(address: str, run: Run) -> Fault:
    return Thing(kind="port", key=address).fault(
        "",
        f"it is joined already, by {shown(run.name or run.key)}: put a T into that run, or "
        "choose another port.",
    )


def change_run(build: BuildInput, run: Run) -> Edited[str]:
    """With the run of that key as it is given: its ports, name, tasks, who makes it, its pieces."""
    plumbing, key = build.plumbing, run.key
    if find_by_key(plumbing.runs, key) is None:
        return lost(build, "run", key, key)
    return plumbed_edit(build, replace(plumbing, runs=replaced_by_key(plumbing.runs, run)), key)


def remove_run(build: BuildInput, key: str) -> Edited[str]:
    """Without a run: its two ports are open. What was clamped is taken off first (`take_off`)."""
    plumbing = build.plumbing
    run = find_by_key(plumbing.runs, key)
    if run is None:
        return lost(build, "run", key, key)
    if run.clamped_on is not None:
        text = "it is clamped. Take it off first, so that its clamps come back to the shelf."
        return refused(build, key, fault_of("run", run, "clamped_on", text))
    left = tuple(one for one in plumbing.runs if one.key != key)
    return plumbed_edit(build, replace(plumbing, runs=left), key)


def add_piece(
    build: BuildInput, key: str, piece: Piece, *, before: int | None = None
) -> Edited[str]:
    """With one piece more, before the piece of that number (from 1); at the end without one."""
    run = find_by_key(build.plumbing.runs, key)
    if run is None:
        return lost(build, "run", key, key)
    at = len(run.pieces) if before is None else before - 1
    if not 0 <= at <= len(run.pieces):
        return refused(build, key, _no_piece(run, at + 1))
    return _with_pieces(build, run, (*run.pieces[:at], piece, *run.pieces[at:]))


def change_piece(build: BuildInput, key: str, number: int, piece: Piece) -> Edited[str]:
    """With the piece of that number as it is given."""
    run = find_by_key(build.plumbing.runs, key)
    if run is None:
        return lost(build, "run", key, key)
    if not 1 <= number <= len(run.pieces):
        return refused(build, key, _no_piece(run, number))
    return _with_pieces(build, run, (*run.pieces[: number - 1], piece, *run.pieces[number:]))


def remove_piece(build: BuildInput, key: str, number: int) -> Edited[str]:
    """Without the piece of that number."""
    run = find_by_key(build.plumbing.runs, key)
    if run is None:
        return lost(build, "run", key, key)
    if not 1 <= number <= len(run.pieces):
        return refused(build, key, _no_piece(run, number))
    return _with_pieces(build, run, (*run.pieces[: number - 1], *run.pieces[number:]))


def move_piece(build: BuildInput, key: str, number: int, to: int) -> Edited[str]:
    """With the piece of that number in another place of the run."""
    run = find_by_key(build.plumbing.runs, key)
    if run is None:
        return lost(build, "run", key, key)
    for asked in (number, to):
        if not 1 <= asked <= len(run.pieces):
            return refused(build, key, _no_piece(run, asked))
    pieces = list(run.pieces)
    pieces.insert(to - 1, pieces.pop(number - 1))
    return _with_pieces(build, run, tuple(pieces))


def turn_run(build: BuildInput, key: str) -> Edited[str]:
    """With a run drawn from its other end. It is the same run: no test falls by that."""
    plumbing = build.plumbing
    run = find_by_key(plumbing.runs, key)
    if run is None:
        return lost(build, "run", key, key)
    turned = replace(
        run,
        from_port=run.to_port,
        to_port=run.from_port,
        pieces=tuple(map(turned_piece, run.pieces[::-1])),
    )
    runs = replaced_by_key(plumbing.runs, turned)
    return plumbed_edit(build, replace(plumbing, runs=runs), key, is_renaming=True)


def turned_piece(piece: Piece) -> Piece:
    """The same piece the other way round."""
    arrow = piece.arrow and ("from" if piece.arrow == "to" else "to")
    size = piece.size[::-1] if isinstance(piece.size, tuple) else piece.size
    return replace(piece, size=size, ends=piece.ends[::-1], arrow=arrow)


def _with_pieces(build: BuildInput, run: Run, pieces: tuple[Piece, ...]) -> Edited[str]:
    return change_run(build, replace(run, pieces=pieces))


def _no_piece(run: Run, number: int) -> Fault:
    there = f"it has {len(run.pieces)}" if run.pieces else "it has none"
    return fault_of("run", run, "pieces", f"there is no piece {number}, {there}. Look at it again.")
