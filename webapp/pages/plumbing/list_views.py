"""What the lists show: what to buy, every joint, what lies on the shelf."""

from dataclasses import dataclass

from webapp.build.plumbing import BY_LENGTH, ShelfThing
from webapp.pages import addresses
from webapp.pages.plumbing.piece_forms import digest_of
from webapp.pages.plumbing.run_view import JointLine, joint_line, joints_how
from webapp.pages.plumbing.seen import Named, Seen
from webapp.pages.plumbing.to_parts import (
    CameView,
    ToPartsView,
    came_views,
    in_parts_of,
    over_ordered_said,
    to_parts_view,
)
from webapp.pages.words import plumbing_open as said
from webapp.pages.words import sizes
from webapp.pages.words.amounts import count
from webapp.pages.words.how import How
from webapp.pages.words.plumbing_how import lengths_how
from webapp.plumbing.ends import is_measured, joining_of
from webapp.plumbing.lacking import Lacking
from webapp.plumbing.names import piece_name, stop_name


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyLineView:
    """One thing to buy. `in_parts` are the parts that are to bring it, with how much."""

    name: str
    amount: str
    in_parts: tuple[tuple[Named, str], ...]
    for_runs: tuple[Named, ...]
    for_ports: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyView:
    """What is drawn and lacks, and what is to be said of its parts.

    `over` tells of what was ordered and is not wanted any more, `came` of what is here.
    """

    lines: tuple[BuyLineView, ...]
    to_parts: ToPartsView | None
    over: tuple[str, ...]
    came: tuple[CameView, ...]
    how: How


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfLine:
    """Things of one name on the shelf, and what they are spoken for by: runs, ports to be shut.

    `mends` are the joints that one of them would mend.
    """

    name: str
    amount: str
    given: tuple[tuple[Named, str], ...]
    ports: tuple[str, ...]
    mends: tuple[Named, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfView:
    """What lies on the shelf, and what came and is still to be put there."""

    lines: tuple[ShelfLine, ...]
    came: tuple[CameView, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RunJoints:
    """The joints of one run."""

    number: str
    name: str
    address: str
    state: str
    joints: tuple[JointLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CircuitJoints:
    """The joints of one circuit, run by run."""

    key: str
    name: str
    summary: str
    runs: tuple[RunJoints, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class JointsView:
    """Every joint of the build."""

    circuits: tuple[CircuitJoints, ...]
    how: How


def buy_view(seen: Seen) -> BuyView:
    """The buy list: what the shelf lacks for what is drawn."""
    runs: dict[str, list[Named]] = {}
    lengths: dict[str, list[float]] = {}
    for one in seen.plumbed.runs:
        for need in one.needs:
            runs.setdefault(need.what, []).append(seen.run_link(one.run.key))
            lengths.setdefault(need.what, []).append(need.length_mm)
    ports: dict[str, list[str]] = {}
    for circuit in seen.plumbed.circuits:
        for one_open in circuit.open:
            if one_open.kind == "port":
                for need in one_open.needs:
                    ports.setdefault(need.what, []).append(seen.port_name(one_open.what))
    example = next(
        (
            (line.need.what, tuple(lengths[line.need.what]), line.need.length_mm)
            for line in seen.plumbed.buy
            if line.need.length_mm and len(lengths.get(line.need.what, ())) > 1
        ),
        None,
    )
    lacking = Lacking(seen.build)
    return BuyView(
        lines=tuple(
            BuyLineView(
                name=sizes.called(line.need.what),
                amount=sizes.amount(line.need),
                in_parts=tuple(in_parts_of(seen, line.need.what)),
                for_runs=tuple(runs.get(line.need.what, ())),
                for_ports=tuple(ports.get(line.need.what, ())),
            )
            for line in seen.plumbed.buy
        ),
        to_parts=to_parts_view(lacking),
        over=over_ordered_said(lacking),
        came=came_views(seen),
        how=lengths_how(example),
    )


def shelf_view(seen: Seen) -> ShelfView:
    """What lies unused, each thing once, by name."""
    amounts: dict[str, list[str]] = {}
    counts: dict[str, int] = {}
    for thing in seen.build.plumbing.shelf:
        name = piece_name(thing)
        if thing.piece in BY_LENGTH and thing.length_mm is not None:
            many = f"{thing.count} of " if thing.count > 1 else ""
            amounts.setdefault(name, []).append(f"{many}{sizes.length(thing.length_mm)}")
        else:
            counts[name] = counts.get(name, 0) + thing.count
            amounts.setdefault(name, [])
    given: dict[str, list[tuple[Named, str]]] = {}
    for one in seen.plumbed.runs:
        for need in one.from_shelf:
            link = (seen.run_link(one.run.key), sizes.amount(need))
            given.setdefault(need.what, []).append(link)
    ports, mends = _caps_from_shelf(seen), _mends_from_shelf(seen)
    lines = tuple(
        ShelfLine(
            name=sizes.called(name),
            amount=", ".join([*lengths, *([str(counts[name])] if name in counts else [])]),
            given=tuple(given.get(name, ())),
            ports=tuple(ports.get(name, ())),
            mends=tuple(mends.get(name, ())),
        )
        for name, lengths in sorted(amounts.items())
    )
    return ShelfView(lines=lines, came=came_views(seen))


def shelf_lines(seen: Seen) -> tuple[tuple[str, str], ...]:
    """Each line of the shelf as it was put there, and where it is changed."""
    return tuple(
        (_lying(thing), shelf_address(seen.slug, at, thing))
        for at, thing in enumerate(seen.build.plumbing.shelf)
    )


def shelf_address(slug: str, place: int, thing: ShelfThing) -> str:
    """Where a line of the shelf is changed."""
    return addresses.shelf_thing(slug, place, digest_of(thing), piece_name(thing))


def _lying(thing: ShelfThing) -> str:
    told = [sizes.called(piece_name(thing))]
    if thing.length_mm is not None:
        told.append(sizes.length(thing.length_mm))
    if thing.count != 1:
        told.append(f"{thing.count} of them")
    return ", ".join(told)


def _caps_from_shelf(seen: Seen) -> dict[str, list[str]]:
    """By thing the ports that it is to shut and that the shelf has it for."""
    found: dict[str, list[str]] = {}
    for circuit in seen.plumbed.circuits:
        for one in circuit.open:
            if one.why == "cap missing" and not one.needs:
                end = joining_of(seen.drawing.ports[one.what].port).end
                if is_measured(end):
                    found.setdefault(stop_name(end), []).append(seen.port_name(one.what))
    return found


def _mends_from_shelf(seen: Seen) -> dict[str, list[Named]]:
    """By thing the joints that it would mend."""
    found: dict[str, list[Named]] = {}
    for mend in seen.plumbed.proposals:
        if mend.source == "shelf":
            name = f"{seen.run_name(mend.run)}, joint {mend.at}"
            link = Named(name=name, address=addresses.run(seen.slug, mend.run))
            for piece in mend.pieces:
                found.setdefault(piece, []).append(link)
    return found


def joints_view(seen: Seen) -> JointsView:
    """Every joint, circuit by circuit and run by run, in flow order."""
    every = tuple(joint for one in seen.plumbed.runs for joint in one.joints)
    return JointsView(
        circuits=tuple(_circuit(seen, key) for key in seen.circuits if seen.runs_of[key]),
        how=joints_how(every),
    )


def _circuit(seen: Seen, key: str) -> CircuitJoints:
    runs = tuple(
        RunJoints(
            number=str(seen.numbers[one.run.key]),
            name=seen.run_name(one.run.key),
            address=addresses.run(seen.slug, one.run.key),
            state=said.state_said(one),
            joints=tuple(joint_line(joint) for joint in one.joints),
        )
        for one in seen.runs_of[key]
    )
    joints = sum(len(run.joints) for run in runs)
    unfit = sum(joint.is_open for run in runs for joint in run.joints)
    summary = count(joints, "joint")
    if unfit:
        summary += f", {said.unfit_said(unfit)}"
    return CircuitJoints(key=key, name=seen.circuits[key].circuit.name, summary=summary, runs=runs)
