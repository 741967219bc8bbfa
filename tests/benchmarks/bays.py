"""The page of a bay of 300 runs, 78 of its joints unfit: median and 95th percentile over HTTP."""

import time
from dataclasses import replace

import httpx

from tests.benchmarks.served import served
from tests.benchmarks.timing import Table, best_of, spread_of
from tests.benchmarks.workshop_builds import workshop_build
from webapp.build.build_input import BuildInput, Medium
from webapp.build.plumbing import Circuit, Component, Piece, Plumbing, Port, Run, ShelfThing
from webapp.plumbing.plumbed import plumbed

CIRCUITS, RUNS, UNFIT = 10, 30, 78
TASKS = 120
MEDIA: tuple[Medium, ...] = ("water", "air", "oil", "fuel", "vacuum")
SIZES = (8.0, 16.0, 19.0, 38.0, 60.0)
SLUG = f"workshop-build-{TASKS}"
ASKED = 60


def bay(circuits: int = CIRCUITS, runs: int = RUNS, unfit: int = UNFIT) -> BuildInput:
    """A build with so many circuits of so many runs each; so many runs end on a size too large."""
    components: list[Component] = []
    drawn: list[Run] = []
    made: list[Circuit] = []
    every = circuits * runs
    for number in range(circuits):
        key, size = f"c{number}", SIZES[number % len(SIZES)]
        for place in range(runs + 1):
            at = number * runs + place
            is_unfit = place > 0 and (at * unfit) // every != ((at - 1) * unfit) // every
            ports = (
                Port(name="in", end="bead", flow="in", size=size * 1.4 if is_unfit else size),
                Port(name="out", end="bead", flow="out", size=size),
            )
            name = f"Component {place} of circuit {number}"
            components.append(Component(key=f"{key}p{place}", name=name, circuit=key, ports=ports))
        for place in range(runs):
            hose = Piece(piece="hose", size=size, length_mm=200.0 + place)
            drawn.append(
                Run(
                    key=f"{key}r{place}",
                    name=f"Hose {place} of circuit {number}",
                    from_port=f"{key}p{place}.out",
                    to_port=f"{key}p{place + 1}.in",
                    pieces=(hose,),
                )
            )
        made.append(
            Circuit(
                key=key,
                name=f"Circuit {number}",
                medium=MEDIA[number % len(MEDIA)],
                from_port=f"{key}p0.out",
                to_port=f"{key}p{runs}.in",
                hose="rubber",
                tube="steel",
            )
        )
    plumbing = Plumbing(
        components=tuple(components), circuits=tuple(made), runs=tuple(drawn), shelf=_shelf()
    )
    return replace(workshop_build(TASKS), plumbing=plumbing)


def _shelf() -> tuple[ShelfThing, ...]:
    """A couple of everything: reducers and couplers of every pair of sizes, clamps, lengths."""
    larger = tuple(size * 1.4 for size in SIZES)
    sizes = (*SIZES, *larger)
    pairs = [(one, other) for one in sizes for other in sizes if one > other]
    return (
        *(ShelfThing(piece="reducer", size=pair, of="rubber", count=2) for pair in pairs),
        *(ShelfThing(piece="joiner", size=size, of="steel", count=2) for size in sizes),
        *(ShelfThing(piece="hose", size=size, of="rubber", length_mm=3000) for size in sizes),
        *(ShelfThing(piece="clamp", range_mm=span, count=20) for span in ((40, 60), (20, 32))),
    )


def bay_on_pages(table: Table) -> None:
    """What follows from it, and its pages, each the first time and then again and again."""
    build = bay()
    of = f"{CIRCUITS * RUNS} runs, {UNFIT} joints unfit"
    seconds = best_of(3, lambda: plumbed(build))
    table.row(f"what follows from {of}", f"{seconds * 1e3:.0f} ms", seconds)
    with served(build) as server, httpx.Client(timeout=60, follow_redirects=True) as client:
        for page in ("plumbing", "plumbing/c0", "runs/c0r1", "buy-list", "joints", "shelf"):
            address = f"{server}/builds/{SLUG}/{page}"
            began = time.perf_counter()
            if client.get(address).status_code != 200:
                table.row(f"page {page} of {of}", "not there", None)
                continue
            first = time.perf_counter() - began
            middle, tail = spread_of(ASKED, lambda address=address: client.get(address))  # type: ignore[misc]
            measured = (
                f"first {first * 1e3:.0f} ms, p50 {middle * 1e3:.0f} ms, p95 {tail * 1e3:.0f} ms"
            )
            table.row(f"page {page} of {of}", measured, middle, "p95 100 ms")
