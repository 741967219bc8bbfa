"""Small plumbing for tests, written by hand. All of it is invented."""

import datetime as dt
from typing import Any

from tests.build.builds import ALWAYS
from webapp.build.build_input import BuildInput, Part, Task
from webapp.build.plumbing import (
    Circuit,
    Component,
    End,
    EndKind,
    Flow,
    Piece,
    Plumbing,
    Port,
    Run,
    ShelfThing,
    Size,
    address_of,
)
from webapp.build.shop import Shop
from webapp.build.three_point import ThreePoint
from webapp.plumbing.ends import Joining

NOW = dt.datetime(2026, 2, 9, 18, 0)
DAY = dt.date(2026, 2, 1)


def port(name: str, flow: Flow, end: EndKind = "bead", size: Size | None = 38, **said: Any) -> Port:
    """A port, a bead of 38 unless said otherwise."""
    return Port(name=name, flow=flow, end=end, size=size, **said)


def component(key: str, *ports: Port, circuit: str = "c", **said: Any) -> Component:
    """A component of one circuit."""
    return Component(key=key, name=key.capitalize(), circuit=circuit, ports=ports, **said)


def through(key: str, **said: Any) -> Component:
    """A component with one port in and one out, beads of 38."""
    return component(key, port("in", "in"), port("out", "out"), **said)


def hose(size: float = 38, length_mm: float = 100, **said: Any) -> Piece:
    """A length of hose."""
    return Piece(piece="hose", size=size, length_mm=length_mm, **said)


def tube(size: float = 38, length_mm: float = 100, **said: Any) -> Piece:
    """A length of tube."""
    return Piece(piece="tube", size=size, length_mm=length_mm, **said)


def run(key: str, first: str, last: str, *pieces: Piece, **said: Any) -> Run:
    """A run, one hose of 38 unless said otherwise."""
    return Run(key=key, from_port=first, to_port=last, pieces=pieces or (hose(),), **said)


def done(key: str, first: str, last: str, *pieces: Piece) -> Run:
    """A run that is clamped."""
    return run(key, first, last, *pieces, cut_on=DAY, fitted_on=DAY, clamped_on=DAY)


def circuit(first: str, last: str, **said: Any) -> Circuit:
    """A circuit with hoses and tubes of its own."""
    kept = {"key": "c", "name": "Circuit", "medium": "oil", "hose": "rubber", "tube": "steel"}
    return Circuit(**{**kept, **said}, from_port=first, to_port=last)


def lying(piece: Any, count: int = 1, **said: Any) -> ShelfThing:
    """What lies on the shelf."""
    return ShelfThing(piece=piece, count=count, **said)


def clamp(low: float, high: float, count: int = 1) -> ShelfThing:
    """Hose clamps on the shelf."""
    return lying("clamp", count, range_mm=(low, high))


def build(
    components: tuple[Component, ...],
    circuits: tuple[Circuit, ...],
    runs: tuple[Run, ...] = (),
    shelf: tuple[ShelfThing, ...] = (),
    *,
    tasks: tuple[str, ...] = (),
    parts: tuple[Part, ...] = (),
    **said: Any,
) -> BuildInput:
    """A build with that plumbing; tasks of an hour, the last of them is first start."""
    return BuildInput(
        name="Bench",
        now=NOW,
        first_start="start",
        shop=Shop(week=ALWAYS),
        tasks=tuple(
            Task(key=key, name=key.capitalize(), hours=ThreePoint.certain(1))
            for key in (*tasks, "start")
        ),
        parts=parts,
        plumbing=Plumbing(components=components, circuits=circuits, runs=runs, shelf=shelf, **said),
    )


def joining(kind: EndKind, size: Size | None, **said: Any) -> Joining:
    """An end as a joint sees it."""
    return Joining(end=End(kind=kind, size=size), **said)


def every_address(of: BuildInput) -> list[str]:
    """The addresses of all ports."""
    return [address_of(one.key, port.name) for one in of.plumbing.components for port in one.ports]
