"""What is plumbed in a build: components with their ports, the runs between them, circuits, shelf.

Stored is only what was drawn, measured or done. What follows from it (fits, states, what is
open, closed or lacking) is worked out by `webapp.plumbing`. Sizes in mm are as they were typed.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from webapp.build.build_input import Medium, Moment

EndKind = Literal[
    "spigot",
    "bead",
    "nipple",
    "hose",
    "socket",
    "weld",
    "vband",
    "quick_male",
    "quick_female",
    "flare45_male",
    "flare45_female",
    "male",
    "female",
    "banjo",
    "flare37_male",
    "flare37_female",
    "cone24_male",
    "cone24_female",
    "flange",
    "oring_male",
    "oring_female",
    "open",
]
END_KINDS: tuple[EndKind, ...] = (
    *("spigot", "bead", "nipple", "hose", "socket", "weld", "vband"),
    *("quick_male", "quick_female", "flare45_male", "flare45_female"),
    *("male", "female", "banjo", "flare37_male", "flare37_female"),
    *("cone24_male", "cone24_female", "flange", "oring_male", "oring_female", "open"),
)
"""Every kind of end: the first two lines by mm, O-rings either way, `open` by nothing, the rest
by name."""
BY_MM: frozenset[EndKind] = frozenset(END_KINDS[:11])
BY_EITHER: frozenset[EndKind] = frozenset(("oring_male", "oring_female"))
"""Named or measured; 37 degree flares are named by a dash, which may be typed as a number."""
THREADED: frozenset[EndKind] = frozenset(("male", "female", "banjo"))

PieceKind = Literal[
    "hose",
    "elbow",
    "reducer",
    "coupler",
    "tube",
    "bend",
    "step",
    "joiner",
    "sleeve",
    "adapter",
    "inline",
    "line",
]
PIECE_KINDS: tuple[PieceKind, ...] = (
    *("hose", "elbow", "reducer", "coupler", "tube", "bend", "step", "joiner", "sleeve"),
    *("adapter", "inline", "line"),
)
SOFT: frozenset[PieceKind] = frozenset(("hose", "elbow", "reducer", "coupler"))
HARD: frozenset[PieceKind] = frozenset(("tube", "bend", "step", "joiner", "sleeve"))
WITH_ENDS: frozenset[PieceKind] = frozenset(("adapter", "inline", "line"))
"""Pieces that name their ends, because their kind does not say them."""
BY_LENGTH: frozenset[PieceKind] = frozenset(("hose", "tube"))
OF_TWO_SIZES: frozenset[PieceKind] = frozenset(("reducer", "step"))

ShelfKind = PieceKind | Literal["clamp", "cap", "seal"]
SHELF_KINDS: tuple[ShelfKind, ...] = (*PIECE_KINDS, "clamp", "cap", "seal")

Flow = Literal["in", "out", "both", "none"]
FLOWS: tuple[Flow, ...] = ("in", "out", "both", "none")
Role = Literal["vent", "bleed", "drain", "fill", "signal"]
ROLES: tuple[Role, ...] = ("vent", "bleed", "drain", "fill", "signal")
StopKind = Literal["cap", "part", "air", "cover"]
STOP_KINDS: tuple[StopKind, ...] = ("cap", "part", "air", "cover")
Arrow = Literal["to", "from"]
ARROWS: tuple[Arrow, ...] = ("to", "from")
Waivable = Literal["no vent", "no drain", "no way when shut"]
WAIVABLE: tuple[Waivable, ...] = ("no vent", "no drain", "no way when shut")

Antifreeze = Literal["ethylene", "propylene"]
ANTIFREEZES: tuple[Antifreeze, ...] = ("ethylene", "propylene")
"""Glycols."""

Size = float | str
"""Millimetres, or a name: a thread, a dash, a cone, a flange."""


@dataclass(frozen=True, slots=True, kw_only=True)
class End:
    """How a port or piece joins on: its kind and size; None is not measured yet."""

    kind: EndKind
    size: Size | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """What shuts a port, and since when; `cover` (rag, tape) counts as nothing."""

    kind: StopKind
    on: Moment | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Port:
    """Where something joins on to a component. `flow` is as seen from the component.

    `circuit` only where it is not the component's own. `shuts`: a thermostat or valve sits there
    that may shut by design.
    """

    name: str
    end: EndKind
    flow: Flow
    size: Size | None = None
    role: Role | None = None
    circuit: str | None = None
    shuts: bool = False
    stop: Stop | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Volume:
    """What a component holds of one circuit; None is not known."""

    circuit: str
    litres: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Component:
    """What has ports: a radiator, an engine, a T.

    `passages` are the pairs of ports that are joined inside; None: all of one circuit are.
    `part` is the key of a part without whose arrival it is not here.
    """

    key: str
    name: str
    ports: tuple[Port, ...] = ()
    kind: str = ""
    circuit: str | None = None
    part: str | None = None
    volumes: tuple[Volume, ...] = ()
    passages: tuple[tuple[str, str], ...] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Waiver:
    """Something a circuit does without, and the person's reason."""

    why: Waivable
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Circuit:
    """A way for one medium, from a port to a port ("rad.top"), or round a loop.

    `hose` and `tube` are what its pieces are made of unless they say otherwise; `bar` its
    pressure (gauge); `highest` the port at its highest point; `holds` the keys of the tasks
    that wait until it is closed.

    The rest is the coolant that it is mixed, None where nobody said: the hardest frost in °C, the
    concentrate, the litres it holds where they are not the drawn ones, and how many litres of what
    share of concentrate are in it already.
    """

    key: str
    name: str
    medium: Medium
    from_port: str
    to_port: str
    subsystem: str | None = None
    hose: str | None = None
    tube: str | None = None
    bar: float | None = None
    highest: str | None = None
    waived: tuple[Waiver, ...] = ()
    holds: tuple[str, ...] = ()
    needed_to_start: bool = True
    test: str | None = None
    tested_on: Moment | None = None
    frost_c: float | None = None
    antifreeze: Antifreeze | None = None
    full_litres: float | None = None
    there_litres: float | None = None
    there_percent: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class AnyPiece:
    """What pieces of a run and things on the shelf both say.

    `size` in mm, two of them where its ends differ.
    """

    piece: ShelfKind
    size: float | tuple[float, float] | None = None
    ends: tuple[End, ...] = ()
    length_mm: float | None = None
    angle: float | None = None
    of: str | None = None
    wall_mm: float | None = None
    bore_mm: float | None = None
    name: str | None = None
    arrow: Arrow | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece(AnyPiece):
    """One piece of a run: it has two ends."""

    piece: PieceKind


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """What joins two ports: pieces in a row, () where they are bolted straight together.

    `clamps` are the names of the clamps that went on when it was clamped: taking it off gives
    them back.
    """

    key: str
    from_port: str
    to_port: str
    name: str = ""
    pieces: tuple[Piece, ...] = ()
    cut_on: Moment | None = None
    fitted_on: Moment | None = None
    clamped_on: Moment | None = None
    clamps: tuple[str, ...] = ()
    tasks: tuple[str, ...] = ()
    licensed: str | None = None

    @property
    def ports(self) -> tuple[str, str]:
        """The two ports it joins."""
        return (self.from_port, self.to_port)


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfThing(AnyPiece):
    """So many of one thing that lie unused: a length, a whole piece, a clamp, a cap, a seal."""

    range_mm: tuple[float, float] | None = None
    count: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Ordered:
    """What a part of the build brings for the plumbing, by its name on the buy list; litres are of
    what is poured in."""

    part: str
    what: str
    count: int | None = None
    metres: float | None = None
    litres: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SoldLength:
    """A length in which a hose or tube is sold, `what` by its name on the buy list: what one costs,
    and how many there are; None is as many as wanted."""

    what: str
    length_mm: float
    price: float = 0.0
    count: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Plumbing:
    """All that is plumbed; empty where nobody has drawn anything."""

    components: tuple[Component, ...] = ()
    circuits: tuple[Circuit, ...] = ()
    runs: tuple[Run, ...] = ()
    shelf: tuple[ShelfThing, ...] = ()
    ordered: tuple[Ordered, ...] = ()
    sold: tuple[SoldLength, ...] = ()


NOTHING_PLUMBED = Plumbing()


def component_at(address: str) -> str:
    """The key of the component that a port belongs to: of `rad.top` it is `rad`."""
    return address.partition(".")[0]


def address_of(component: str, port: str) -> str:
    """What a port is called: `rad.top`."""
    return f"{component}.{port}"
