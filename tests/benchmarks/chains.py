"""Chains of pieces from one end to another, over the random shelves of the tests."""

import time
from random import Random
from statistics import median, quantiles

from tests.benchmarks.timing import Table
from tests.plumbing.small import circuit
from tests.plumbing.test_proposals import SIZES, random_shelf
from webapp.build.plumbing import End
from webapp.plumbing.chains import Chains
from webapp.plumbing.ends import Joining
from webapp.plumbing.names import piece_name

SHELVES = 500


def chains_from_a_shelf(table: Table) -> None:
    """The shelf looked up and the shortest chain found, each shelf for the first time."""
    oil, times = circuit("a.p", "b.p"), []
    for luck in map(Random, range(SHELVES)):
        shelf = {piece_name(one): one for one in random_shelf(luck) if one.count}
        one, other = luck.sample(SIZES, 2)
        start = Joining(end=End(kind=luck.choice(["bead", "hose"]), size=one), of="rubber")
        goal = Joining(end=End(kind=luck.choice(["bead", "hose"]), size=other), of="rubber")
        began = time.perf_counter()
        Chains(shelf, oil).shortest(start, goal, lambda _: True)
        times.append(time.perf_counter() - began)
    middle, late = median(times), quantiles(times, n=20)[-1]
    measured = f"{middle * 1e3:.2f} ms, p95 {late * 1e3:.2f} ms"
    table.row(f"shortest chain, {SHELVES} random shelves", measured, middle, "1 ms")
