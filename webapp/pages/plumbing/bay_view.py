"""What the page Plumbing shows: every circuit with what it still needs, and what it holds."""

from dataclasses import dataclass

from webapp.pages import addresses
from webapp.pages.plumbing.open_lines import OpenLine, open_lines
from webapp.pages.plumbing.seen import Named, Seen
from webapp.pages.words import amounts as words
from webapp.pages.words import plumbing_open as said
from webapp.pages.words import sizes
from webapp.pages.words.how import How
from webapp.pages.words.media import MEDIUM_WORDS
from webapp.pages.words.plumbing_how import litres_how, no_litres_how
from webapp.plumbing.litres import piece_litres
from webapp.plumbing.open_list import counted_once
from webapp.plumbing.plumbed import PlumbedCircuit


@dataclass(frozen=True, slots=True, kw_only=True)
class CircuitLine:
    """One circuit. `first` is what is open first along the flow, `rest` all that comes after."""

    key: str
    name: str
    address: str
    medium: str
    medium_word: str
    state: str
    litres: str
    first: OpenLine | None
    rest: tuple[OpenLine, ...]
    holds: tuple[Named, ...]
    test: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BayView:
    """The whole engine bay."""

    sentence: str
    circuits: tuple[CircuitLine, ...]
    to_buy: str
    how: How | None


def bay_view(seen: Seen) -> BayView:
    """Every circuit of the build, in the order in which they were entered."""
    found = seen.plumbed.circuits
    things = sum(len(counted_once(one.open)) for one in found)
    closed = sum(one.is_closed for one in found)
    return BayView(
        sentence=said.bay_said(closed, len(found), things),
        circuits=tuple(_line(seen, one) for one in found),
        to_buy=words.count(len(seen.plumbed.buy), "line"),
        how=_first_litres_how(seen),
    )


def _first_litres_how(seen: Seen) -> How | None:
    known = [one.circuit.key for one in seen.plumbed.circuits if one.litres.litres]
    return circuit_litres_how(seen, known[0]) if known else None


def _line(seen: Seen, one: PlumbedCircuit) -> CircuitLine:
    circuit = one.circuit
    lines = open_lines(seen, circuit.key)
    return CircuitLine(
        key=circuit.key,
        name=circuit.name,
        address=addresses.circuit(seen.slug, circuit.key),
        medium=circuit.medium,
        medium_word=MEDIUM_WORDS[circuit.medium],
        state=said.open_count(len(lines)),
        litres=litres_said(one),
        first=lines[0] if lines else None,
        rest=lines[1:],
        holds=seen.held_by.get(circuit.key, ()),
        test=test_said(seen, one),
    )


def litres_said(one: PlumbedCircuit) -> str:
    """What a circuit holds; "" where it is not filled, or nothing is known."""
    if one.circuit.medium in ("air", "vacuum", "electrical", "gas") or not one.litres.litres:
        return ""
    about = "at least" if one.litres.without else "about"
    return f"{about} {sizes.litres(one.litres.litres)}"


def test_said(seen: Seen, one: PlumbedCircuit) -> str:
    """The test of a circuit and how it stands; "" where it has none."""
    circuit = one.circuit
    if one.is_tested and circuit.tested_on is not None:
        return f"tested {words.day(circuit.tested_on, today=seen.today)}"
    if not circuit.test:
        return ""
    if circuit.tested_on is not None:
        return f"to be tested again: {circuit.test}"
    return f"not tested yet: {circuit.test}"


def circuit_litres_how(seen: Seen, key: str) -> How:
    """How what a circuit holds was worked out."""
    one = seen.circuits[key]
    if not one.litres.litres and not one.litres.without:
        return no_litres_how()
    components = tuple(
        (component.name, volume.litres)
        for component in seen.build.plumbing.components
        for volume in component.volumes
        if volume.circuit == key and volume.litres is not None
    )
    pieces = (piece for run in seen.runs_of[key] for piece in run.run.pieces)
    return litres_how(
        circuit=one.circuit.name,
        components=components,
        runs_litres=sum(piece_litres(piece) or 0.0 for piece in pieces),
        whole=one.litres.litres,
        without=tuple(seen.name_of(other) for other in one.litres.without),
    )
