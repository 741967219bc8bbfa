"""Branch here: a run is parted and a T put between its halves."""

from dataclasses import replace

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.build.checks.plumbing_checks import plumbing_faults
from webapp.build.edited import Edited
from webapp.build.plumbing import BY_LENGTH, Component, Piece, Port, Run, address_of
from webapp.build.verbs.plumbing_edits import fault_of, lost, plumbed_edit, refused
from webapp.build.verbs.plumbing_keys import free_key
from webapp.plumbing.drawing import Drawing
from webapp.plumbing.ends import OPPOSITE, Joining
from webapp.plumbing.run_work import run_taken_off


def branch_here(
    build: BuildInput, key: str, *, before: int, at_mm: float | None = None, name: str = "T"
) -> Edited[str]:
    """A run parted before the piece of that number (from 1; one more than it has: at its end), or
    `at_mm` into that piece where it is cut from a length; made is the key of the T.

    The T has the ports a, b and branch, through which it may flow both ways; its ends are those
    that join on to the pieces beside it. What was fitted is off again, what was cut stays cut.
    """
    run = find_by_key(build.plumbing.runs, key)
    if run is None:
        return lost(build, "run", key, "")
    standing = tuple(plumbing_faults(build))
    if standing:
        return refused(build, "", *standing)
    most = len(run.pieces) + (1 if at_mm is None else 0)
    if not 1 <= before <= most:
        text = f"there is no place {before} to branch at: it has {_pieces(len(run.pieces))}."
        return refused(build, "", fault_of("run", run, "pieces", text))
    halves = _parted(run, before, at_mm)
    if halves is None:
        text = f"piece {before} can not be parted there: only hose and tube are, between both ends."
        return refused(build, "", fault_of("run", run, "pieces", text))
    off = run_taken_off(build, key) if run.fitted_on or run.clamped_on else build
    edited = _branched(off, key, *halves, name)
    return replace(edited, build=build) if edited.faults else edited


def _pieces(count: int) -> str:
    return "1 piece" if count == 1 else f"{count} pieces"


def _parted(
    run: Run, before: int, at_mm: float | None
) -> tuple[tuple[Piece, ...], tuple[Piece, ...]] | None:
    ahead, behind = run.pieces[: before - 1], run.pieces[before - 1 :]
    if at_mm is None:
        return ahead, behind
    piece, length = behind[0], behind[0].length_mm
    if piece.piece not in BY_LENGTH or length is None or not 0 < at_mm < length:
        return None
    first, second = (replace(piece, length_mm=one) for one in (at_mm, length - at_mm))
    return (*ahead, first), (second, *behind[1:])


def _branched(
    build: BuildInput, key: str, ahead: tuple[Piece, ...], behind: tuple[Piece, ...], name: str
) -> Edited[str]:
    plumbing = build.plumbing
    drawing = Drawing(build)
    run = drawing.runs[key]
    tee = free_key(name, {one.key for one in plumbing.components}, "T")
    joints = drawing.joints[key]
    # The joint behind the pieces ahead; inside a parted piece both of its ends are of one size.
    is_inside = len(ahead) + len(behind) > len(run.pieces)
    joint = joints[len(ahead) - is_inside]
    first, second = joint.right if is_inside else joint.left, joint.right
    ports = (_port("a", first), _port("b", second), _port("branch", first))
    component = Component(
        key=tee, name=name, kind="tee", circuit=drawing.circuit_of(run).key, ports=ports
    )
    half = free_key(f"{key}-2", {one.key for one in plumbing.runs}, "run")
    one = replace(run, pieces=ahead, to_port=address_of(tee, "a"))
    other = replace(run, key=half, pieces=behind, from_port=address_of(tee, "b"))
    runs = []
    for each in plumbing.runs:
        runs += [one, other] if each.key == key else [each]
    changed = replace(plumbing, components=(*plumbing.components, component), runs=tuple(runs))
    return plumbed_edit(build, changed, tee)


def _port(name: str, joining: Joining) -> Port:
    """A port of the T that joins on to what stands beside it."""
    kind = joining.end.kind
    is_tube = kind == "spigot" and joining.piece is not None
    return Port(
        name=name, end="weld" if is_tube else OPPOSITE[kind], size=joining.end.size, flow="both"
    )
