"""The work run backward, from first start to now, for builds on which closed hours do not bear.

Laying a plan out from its end and then again from its beginning, each time by the dates of the
last one, packs it closer (forward-backward improvement, Li and Willis 1992; double justification,
Valls, Ballestin and Quintanilla 2005).
"""

from dataclasses import replace

import numpy as np

from webapp.planning.order.run_orders import run_orders
from webapp.planning.simulator.work_arrays import Indices, WorkArrays, padded_edges


def mirrored(work: WorkArrays) -> WorkArrays | None:
    """The work with every dependency turned round; None where time does not run backward.

    It does not where sessions, setups, the helper, outside work or arrivals come in.
    """
    plain = not (
        work.setup.any() or work.helper.any() or work.in_one_go.any() or work.outside_seconds.any()
    )
    at_once = not (work.arrival.any() or work.wait_until.any() or work.earliest_end.any())
    if not (plain and at_once) or len(work.calendar.opens) != 1 or work.calendar.opens[0]:
        return None
    links = [
        (int(work.successors[i, d]), int(i), int(work.waits[i, d]))
        for i, d in zip(*np.nonzero(work.successors >= 0), strict=True)
    ]
    after: list[list[tuple[int, int]]] = [[] for _ in range(len(work))]
    for i, j, wait in links:
        after[i].append((j, wait))
    successors, waits = padded_edges(after)
    counts = (work.successors >= 0).sum(axis=1).astype(np.int64)
    return replace(work, successors=successors, waits=waits, predecessor_counts=counts)


def packed(work: WorkArrays, mirror: WorkArrays, ends: Indices, rounds: int) -> Indices:
    """Orders (v, n) after so many rounds backward and forward, from ends in shop seconds (n, v)."""
    orders = _latest_first(ends)
    for _ in range(rounds):
        backward = run_orders(mirror, orders, in_sequence=False)
        forward = run_orders(work, _latest_first(backward.end), in_sequence=False)
        orders = _latest_first(forward.end)
    return np.argsort(forward.begin.T, axis=1, kind="stable").astype(np.int64)


def _latest_first(ends: Indices) -> Indices:
    return np.argsort(-ends.T, axis=1, kind="stable").astype(np.int64)
