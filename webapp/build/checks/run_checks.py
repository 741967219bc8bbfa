"""Faults of runs: what they join, the pieces they are made of, the days of their states."""

from collections.abc import Iterator
from dataclasses import dataclass

from webapp.build.build_input import BuildInput, Fault
from webapp.build.checks.end_checks import plumbing_key_faults
from webapp.build.checks.fault_words import Thing, moment_words, shown
from webapp.build.checks.piece_checks import piece_faults
from webapp.build.limits import MOST_CLAMPS, MOST_PIECES
from webapp.build.moments import is_after
from webapp.build.plumbing import Component, Port, Run, address_of

_STOPPED = {"cap": "capped", "part": "shut by a part", "air": "open to the air on purpose"}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Placed:
    """A port and what it belongs to."""

    component: Component
    port: Port

    @property
    def circuit(self) -> str | None:
        return self.port.circuit or self.component.circuit


def run_thing(run: Run, number: int) -> Thing:
    """A run as faults call it."""
    return Thing(kind="run", key=run.key, name=run.name, number=number)


def piece_thing(run: Run, number: int, piece: str) -> Thing:
    """A piece as faults call it, by its run, its number from 1 and its kind."""
    words = f"piece {number} ({shown(piece)})"
    name = run.name or run.key
    return Thing(kind="run", key=run.key, name=f"{name}, {words}")


def run_faults(build: BuildInput) -> Iterator[Fault]:
    """Every fault of every run, in the order of the document."""
    ports = {
        address_of(component.key, port.name): _Placed(component=component, port=port)
        for component in build.plumbing.components
        for port in component.ports
    }
    circuits = {circuit.key for circuit in build.plumbing.circuits}
    tasks = {task.key for task in build.tasks}
    yield from _joined_twice(build)
    for number, run in enumerate(build.plumbing.runs, start=1):
        thing = run_thing(run, number)
        yield from thing.key_faults()
        yield from plumbing_key_faults(thing)
        yield from thing.text_faults("name", run.name)
        yield from _end_faults(thing, run, ports, circuits)
        yield from _piece_faults(run, thing)
        yield from _day_faults(build, thing, run)
        yield from _clamp_faults(thing, run)
        for task in run.tasks:
            if task not in tasks:
                yield thing.fault(
                    "tasks", f"there is no task {shown(task)}. Pick one that is in the build."
                )
        if run.licensed is not None:
            yield from thing.text_faults("licensed", run.licensed)


def _joined_twice(build: BuildInput) -> Iterator[Fault]:
    joined: dict[str, list[str]] = {}
    for run in build.plumbing.runs:
        for address in dict.fromkeys(run.ports):
            joined.setdefault(address, []).append(run.key)
    for address, runs in joined.items():
        if len(runs) > 1:
            named = " and ".join(f"run {shown(key)}" for key in runs)
            yield Thing(kind="port", key=address).fault(
                "", f"it is joined more than once, by {named}: put a T there, or remove one."
            )


def _end_faults(
    thing: Thing, run: Run, ports: dict[str, _Placed], circuits: set[str]
) -> Iterator[Fault]:
    if run.from_port == run.to_port:
        yield thing.fault(
            "to",
            f"it runs from {shown(run.from_port)} into itself: choose the port where it ends.",
        )
    ends = list(dict.fromkeys(run.ports))
    for address in ends:
        placed = ports.get(address)
        if placed is None:
            yield thing.fault(
                "to" if address == run.to_port else "from",
                f"there is no port {shown(address)}. It was removed or renamed: join the run "
                "anew or remove it.",
            )
            continue
        stop = placed.port.stop
        field = "to" if address == run.to_port else "from"
        if placed.port.flow == "none":
            yield thing.fault(
                field,
                f"nothing flows through {shown(address)}, it is for a sender or switch. End the "
                "run elsewhere.",
            )
        elif stop is not None and stop.kind in _STOPPED:
            yield thing.fault(
                field,
                f"{shown(address)} is {_STOPPED[stop.kind]}. Take that off first, or end the run "
                "elsewhere.",
            )
    joined = {ports[address].circuit for address in ends if address in ports}
    if len(joined) > 1 and joined <= circuits:
        yield _two_circuits(thing, run, ports)


def _two_circuits(thing: Thing, run: Run, ports: dict[str, _Placed]) -> Fault:
    joined = " to ".join(
        f"{shown(ports[address].circuit or 'no circuit')} ({shown(address)})"
        for address in run.ports
    )
    return thing.fault(
        "to",
        f"it joins {joined}: one run carries one circuit. Choose another port, or put both ports "
        "into one circuit.",
    )


def _piece_faults(run: Run, thing: Thing) -> Iterator[Fault]:
    if len(run.pieces) > MOST_PIECES:
        yield thing.fault(
            "pieces", f"it has {len(run.pieces)} pieces, and {MOST_PIECES} is the most."
        )
    for number, piece in enumerate(run.pieces, start=1):
        yield from piece_faults(piece_thing(run, number, piece.piece), "pieces", piece)


def _clamp_faults(thing: Thing, run: Run) -> Iterator[Fault]:
    if len(run.clamps) > MOST_CLAMPS:
        yield thing.fault(
            "clamps", f"it has {len(run.clamps)} clamps on it, and {MOST_CLAMPS} is the most."
        )
    if run.clamps and run.clamped_on is None:
        yield thing.fault(
            "clamps", "it has clamps on it and is not clamped. Enter the day, or take them out."
        )
    for name in dict.fromkeys(run.clamps):
        yield from thing.text_faults("clamps", name)
        if not name.strip():
            yield thing.fault("clamps", "a clamp on it has no name. Enter one, as clamp 40-60.")


def _day_faults(build: BuildInput, thing: Thing, run: Run) -> Iterator[Fault]:
    days = (("cut", run.cut_on), ("fitted", run.fitted_on), ("clamped", run.clamped_on))
    for done, day in days:
        field = f"{done}_on"
        if day is not None and is_after(day, build.now):
            yield thing.fault(
                field,
                f"{done}: {moment_words(day)} is still to come. Leave it empty until it is done.",
            )
        else:
            yield from thing.day_faults(field, f"{done}:", day)
    before = None
    for place, (_, day) in enumerate(days):
        missing = day is not None and place > 0 and days[place - 1][1] is None
        early = day is not None and before is not None and is_after(before, day)
        if missing or early:
            yield thing.fault(
                "clamped_on",
                "it is cut, then fitted, then clamped; the dates say otherwise. Correct them.",
            )
            return
        before = day if day is not None else before
