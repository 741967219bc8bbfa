"""What the page of one run shows: its pieces and joints one by one, and how far it is."""

from dataclasses import dataclass, replace

from webapp.build.plumbing import Piece
from webapp.pages import addresses
from webapp.pages.plumbing.open_lines import OpenLine, open_line
from webapp.pages.plumbing.seen import Named, Seen
from webapp.pages.plumbing.tasks_of_runs import TasksView, run_tasks_view
from webapp.pages.plumbing.work_forms import Press, next_press, off_press, turn_press
from webapp.pages.words import amounts as words
from webapp.pages.words import plumbing_joints as said
from webapp.pages.words import plumbing_open, sizes
from webapp.pages.words.how import How, together
from webapp.pages.words.plumbing_how import clamp_how, fit_how
from webapp.plumbing.clamps import to_buy
from webapp.plumbing.drawing import Joint
from webapp.plumbing.fits import usual_wall_mm
from webapp.plumbing.names import piece_name
from webapp.plumbing.plumbed import PlumbedRun


@dataclass(frozen=True, slots=True, kw_only=True)
class JointLine:
    """One joint: both ends, how they fit, the step in size, what it asks for.

    `address` is where a piece is put in between, "" where one is put in otherwise.
    """

    at: int
    ends: str
    fit: str
    step: str
    asks: str
    is_open: bool
    address: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceLine:
    """One piece: `about` is its length, its angle, what stands on it."""

    at: int
    name: str
    about: str
    address: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RunView:
    """One run. `steps` are joints and pieces in turn, from the port where it begins."""

    number: str
    name: str
    circuit: Named
    from_port: Named
    to_port: Named
    flow: str
    state: str
    dates: tuple[tuple[str, str], ...]
    steps: tuple[JointLine | PieceLine, ...]
    open: tuple[OpenLine, ...]
    needs: str
    tasks: tuple[Named, ...]
    licensed: str
    look: tuple[str, ...]
    next: Press | None
    off: Press | None
    turn: Press
    tasks_to_make: TasksView | None
    mend_how: How | None
    how: How


def run_view(seen: Seen, key: str) -> RunView:
    """One run."""
    found = seen.runs[key]
    run, circuit = found.run, seen.circuits[found.circuit]
    places = {run.key, *run.ports}
    opens = [one for one in circuit.open if one.what in places and one.kind in ("run", "port")]
    return RunView(
        number=str(seen.numbers[key]),
        name=seen.run_name(key),
        circuit=Named(
            name=circuit.circuit.name,
            address=addresses.circuit(seen.slug, found.circuit),
        ),
        from_port=_port_named(seen, run.from_port),
        to_port=_port_named(seen, run.to_port),
        flow=said.FLOWS[found.flow],
        state=plumbing_open.state_said(found),
        dates=tuple(
            (name, words.day(on, today=seen.today) if on is not None else "not yet")
            for name, on in (
                ("Cut", run.cut_on),
                ("Fitted", run.fitted_on),
                ("Clamped", run.clamped_on),
            )
        ),
        steps=tuple(_steps(seen, found)),
        open=tuple(open_line(seen, one) for one in opens),
        needs=plumbing_open.needs_said(found.from_shelf, found.needs),
        tasks=tuple(seen.tasks[task] for task in run.tasks if task in seen.tasks),
        licensed=run.licensed or "",
        next=next_press(found),
        off=off_press(found),
        turn=turn_press(run),
        tasks_to_make=run_tasks_view(seen, key),
        look=tuple(
            said.look_said(one.why, one.joint) for one in seen.plumbed.look if one.run == key
        ),
        mend_how=(plumbing_open.MEND_HOW if any(one.mend is not None for one in opens) else None),
        how=joints_how(found.joints),
    )


def _port_named(seen: Seen, address: str) -> Named:
    return Named(name=seen.place(address), address=addresses.port(seen.slug, address))


def _steps(seen: Seen, found: PlumbedRun) -> list[JointLine | PieceLine]:
    circuit = seen.drawing.circuit_of(found.run)
    steps: list[JointLine | PieceLine] = []
    for place, joint in enumerate(found.joints):
        line = joint_line(joint)
        if place < len(found.run.pieces):
            between = addresses.run_with_focus(seen.slug, found.run.key, place + 1)
            line = replace(line, address=between)
        steps.append(line)
        if place < len(found.run.pieces):
            piece = found.run.pieces[place]
            name = sizes.called(piece_name(piece, circuit))
            steps.append(
                PieceLine(
                    at=place + 1,
                    name=name,
                    about=_about(piece),
                    address=addresses.piece(seen.slug, found.run.key, place + 1),
                )
            )
    return steps


def _about(piece: Piece) -> str:
    told = [sizes.length(piece.length_mm)] if piece.length_mm is not None else []
    if piece.wall_mm is not None:
        told.append(f"wall {sizes.length(piece.wall_mm)}")
    if piece.arrow is not None:
        told.append(said.ARROWS[piece.arrow])
    return ", ".join(told)


def joint_line(joint: Joint) -> JointLine:
    """One joint in words."""
    fit = joint.fit
    asks = [sizes.so_many(need) for need in said.seals_of(fit.seals)]
    if fit.clamp_over_mm is not None:
        asks.append(said.clamp_asked(fit.clamp_over_mm))
    return JointLine(
        at=joint.at,
        ends=f"{sizes.joined_end(joint.left)} to {sizes.joined_end(joint.right)}",
        fit=said.FITS[fit.word],
        step=said.step_said(joint),
        asks=words.listed(asks),
        is_open=not fit.is_joined,
    )


def joints_how(joints: tuple[Joint, ...]) -> How:
    """How joints fit, and with the first that asks for a clamp how that is chosen."""
    clamp = example_clamp_how(joints)
    return fit_how() if clamp is None else together("fits and clamps", fit_how(), clamp)


def example_clamp_how(joints: tuple[Joint, ...]) -> How | None:
    """How a clamp is chosen, with the first joint that asks for one as the example."""
    for joint in joints:
        over = joint.fit.clamp_over_mm
        hose, hard = joint.left, joint.right
        if hose.end.kind != "hose":
            hose, hard = hard, hose
        bore, outside = hose.end.size, hard.end.size
        if over is None or isinstance(bore, str | None) or isinstance(outside, str | None):
            continue
        wall = hose.wall_mm if hose.wall_mm is not None else usual_wall_mm(bore)
        return clamp_how(
            bore_mm=bore, wall_mm=wall, over_mm=outside, holds_mm=over, name=to_buy(over)
        )
    return None
