"""What the page of one circuit shows: its picture, what is open, its runs and its ports."""

from dataclasses import dataclass

from webapp.pages import addresses
from webapp.pages.plumbing.bay_view import circuit_litres_how, litres_said, test_said
from webapp.pages.plumbing.open_lines import OpenLine, open_lines
from webapp.pages.plumbing.picture_model import circuit_model
from webapp.pages.plumbing.seen import Named, Seen, end_of
from webapp.pages.plumbing.tasks_of_runs import TasksView, circuit_tasks_view
from webapp.pages.plumbing.work_forms import TESTED_WORDS, Press
from webapp.pages.words import plumbing_open as said
from webapp.pages.words import sizes
from webapp.pages.words.amounts import count, day, listed, sentence
from webapp.pages.words.how import How
from webapp.pages.words.media import MEDIUM_WORDS
from webapp.pictures.circuit import circuit_pictures
from webapp.pictures.circuit_model import CircuitPicture
from webapp.plumbing.drawing import PlacedPort
from webapp.plumbing.names import piece_name
from webapp.plumbing.needs import Need, gathered
from webapp.plumbing.plumbed import PlumbedCircuit, PlumbedRun


@dataclass(frozen=True, slots=True, kw_only=True)
class RunLine:
    """One run: its number in the picture, where it leads, its pieces, how far it is."""

    number: str
    name: str
    address: str
    ends: str
    pieces: str
    state: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PortLine:
    """One port: its end, and what is on it; `join` is where a run from it is begun, "" where it
    is not open."""

    name: str
    end: str
    joined: str
    address: str
    join: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ComponentLine:
    """A component with those of its ports that are in the circuit."""

    name: str
    address: str
    ports: tuple[PortLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CircuitView:
    """One circuit, in strings and pictures."""

    name: str
    medium: str
    medium_word: str
    lede: str
    pictures: tuple[CircuitPicture, ...]
    open: tuple[OpenLine, ...]
    mend_how: How | None
    runs: tuple[RunLine, ...]
    components: tuple[ComponentLine, ...]
    ports: str
    facts: tuple[tuple[str, str], ...]
    waived: tuple[tuple[str, str], ...]
    litres: str
    holds: tuple[Named, ...]
    test: Press | None
    tasks_to_make: TasksView | None
    how: How


def circuit_view(seen: Seen, key: str) -> CircuitView:
    """One circuit."""
    one = seen.circuits[key]
    opens = open_lines(seen, key)
    components = _components(seen, key)
    return CircuitView(
        name=one.circuit.name,
        medium=one.circuit.medium,
        medium_word=MEDIUM_WORDS[one.circuit.medium],
        lede=_lede(one, opens),
        pictures=circuit_pictures(circuit_model(seen, key)),
        open=opens,
        mend_how=(said.MEND_HOW if any(line.mend is not None for line in one.open) else None),
        runs=tuple(run_line(seen, run) for run in seen.runs_of[key]),
        components=components,
        ports=(
            f"{count(len(components), 'component')} with"
            f" {count(sum(len(line.ports) for line in components), 'port')}"
        ),
        facts=tuple(_facts(seen, one)),
        waived=tuple((waiver.why, said.WAIVED[waiver.why]) for waiver in one.circuit.waived),
        litres=litres_said(one),
        holds=seen.held_by.get(key, ()),
        test=_test_press(one),
        tasks_to_make=circuit_tasks_view(seen, key),
        how=circuit_litres_how(seen, key),
    )


def _test_press(one: PlumbedCircuit) -> Press | None:
    """Saying that it was tested; None while something is open, and where it is or need not be."""
    if not one.is_closed or one.is_tested or not one.circuit.test:
        return None
    return Press(does="tested", words=TESTED_WORDS, about=one.circuit.key)


def _lede(one: PlumbedCircuit, opens: tuple[OpenLine, ...]) -> str:
    if not opens:
        return "Closed: nothing is open."
    things = "One thing is open" if len(opens) == 1 else f"{len(opens)} things are open"
    if one.is_complete:
        return f"{things}, and the drawing is right: what is open is to be made or put on."
    return f"{things}. The first along the flow is at {opens[0].place}."


def _facts(seen: Seen, one: PlumbedCircuit) -> list[tuple[str, str]]:
    circuit = one.circuit
    first, last = (seen.port_name(address) for address in (circuit.from_port, circuit.to_port))
    facts = [("Loop" if one.kind == "loop" else "Line", f"from {first}, to {last}")]
    if one.way:
        facts.append(("Shortest way", _way(seen, one.way)))
    made = listed([text for text in (circuit.hose, circuit.tube) if text])
    if made:
        facts.append(("Hose and tube", made))
    if circuit.bar is not None:
        facts.append(("Pressure", sizes.bar(circuit.bar)))
    if circuit.highest is not None and circuit.highest in seen.drawing.ports:
        facts.append(("Highest", seen.port_name(circuit.highest)))
    tested = test_said(seen, one)
    if tested:
        facts.append(("Test", tested))
    facts += [
        (sentence(said.WAIVED[waiver.why]), waiver.reason or "no reason was said")
        for waiver in circuit.waived
    ]
    return facts


def _way(seen: Seen, way: tuple[str, ...]) -> str:
    """The components that a shortest way passes, each once."""
    names = dict.fromkeys(seen.drawing.ports[address].component.name for address in way)
    return " · ".join(names)


def run_line(seen: Seen, found: PlumbedRun) -> RunLine:
    """One run, as a row of the table of its circuit."""
    run = found.run
    first, last = run.ports
    if found.flow == "back":
        first, last = last, first
    circuit = seen.drawing.circuit_of(run)
    pieces = gathered(
        Need(what=name, length_mm=piece.length_mm)
        if piece.piece in ("hose", "tube") and piece.length_mm
        else Need(what=name, count=1)
        for piece in run.pieces
        for name in (piece_name(piece, circuit),)
    )
    without = said.NOTHING_IN_IT if said.is_empty(found) else "bolted straight together"
    return RunLine(
        number=str(seen.numbers[run.key]),
        name=seen.run_name(run.key),
        address=addresses.run(seen.slug, run.key),
        ends=f"{seen.place(first)} to {seen.place(last)}",
        pieces=" · ".join(map(sizes.so_many, pieces)) or without,
        state=said.state_said(found),
    )


# --- ports ------------------------------------------------------------------------------------


def _components(seen: Seen, key: str) -> tuple[ComponentLine, ...]:
    found: dict[str, list[PlacedPort]] = {}
    for placed in seen.drawing.ports_by_circuit[key]:
        found.setdefault(placed.component.key, []).append(placed)
    return tuple(
        ComponentLine(
            name=seen.components[owner].name,
            address=addresses.component(seen.slug, owner),
            ports=tuple(port_line(seen, placed) for placed in ports),
        )
        for owner, ports in found.items()
    )


def port_line(seen: Seen, placed: PlacedPort) -> PortLine:
    """One port."""
    stop = placed.port.stop
    is_open = (
        seen.drawing.run_at.get(placed.address) is None
        and placed.port.flow != "none"
        and (stop is None or stop.kind == "cover")
    )
    circuit = placed.circuit or ""
    return PortLine(
        name=placed.port.name,
        end=end_of(placed),
        joined=_joined(seen, placed),
        address=addresses.port(seen.slug, placed.address),
        join=addresses.new_run(seen.slug, circuit, placed.address) if is_open else "",
    )


def _joined(seen: Seen, placed: PlacedPort) -> str:
    run, stop = seen.drawing.run_at.get(placed.address), placed.port.stop
    if run is not None:
        return f"{seen.numbers[run.key]} {seen.run_name(run.key)}"
    if stop is None:
        return "open"
    words = {
        "cap": "capped",
        "part": "closed by its part",
        "air": "open to the air, as it is meant",
        "cover": "open, a cover on it",
    }[stop.kind]
    if stop.on is not None:
        return f"{words}, {day(stop.on, today=seen.today)}"
    return f"{words} in the drawing, not on yet" if stop.kind in ("cap", "part") else words
