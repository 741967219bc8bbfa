"""Plans laid out on a grid of ticks, forward and backward, for work on which no closed hours bear.

Each task of an order takes the first room there is for it, also ahead of tasks that are laid out
already (a serial schedule generation scheme, Kelley 1963): what begins soonest otherwise goes
first, which leaves good plans out. Laid out from the end and from the beginning again, each time
by the dates of the last one, a plan packs closer (forward-backward improvement, Li and Willis
1992; double justification, Valls, Ballestin and Quintanilla 2005).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from webapp.build.time.shop_calendar import NEVER
from webapp.planning.simulator.work_arrays import Indices, WorkArrays, in_order, predecessors

Ticks = NDArray[np.int64]

MOST_TICKS, LEAST_TICKS = 2_000, 200
"""A grid is no longer than the one, whatever the least common tick is; below the other it is too
coarse to tell which order is better."""
MOST_CELLS = 4_000_000
"""Tasks times kinds of room times ticks: of so many ten orders are packed in half a second."""
FAR_AWAY = 1.25
"""A grid is as long as so many times a plan that is at hand, and the longest task."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class TimeGrid:
    """n tasks in ticks; what holds people and stations is room of k kinds.

    lengths : (n,) ticks, rounded up; needs : (k, n) and room : (k,) of each kind
    before, waits_before : (n, d) what each task comes after, -1 where there is none, and ticks
        between; after, waits_after : the same with time turned round
    turn : (n,) the place of each task in an order that every dependency allows
    last : the last tick of the grid. What finds no room before it is put there or later, room or
        not: such a plan is only there to be sorted out
    tick : seconds of one
    """

    lengths: Ticks
    needs: NDArray[np.int8]
    room: tuple[int, ...]
    before: Indices
    waits_before: Ticks
    after: Indices
    waits_after: Ticks
    turn: Indices
    last: int
    tick: int

    @classmethod
    def of(cls, work: WorkArrays, ends: int) -> "TimeGrid | None":
        """Of the work and the wall second at which first start comes in some plan of it.

        None where time does not run backward, for sessions, setups, the helper, outside work,
        waits from outside or arrivals come in, or where the grid would be large.
        """
        if ends >= NEVER or not _runs_backward(work):
            return None
        kinds = 1 + len(work.station_counts)
        most = min(MOST_TICKS, MOST_CELLS // (len(work) * kinds))
        if most < LEAST_TICKS:
            return None
        span = int(FAR_AWAY * ends) + int(work.work_seconds.max())
        least = int(np.gcd.reduce(np.concatenate([work.work_seconds, work.waits.ravel()]))) or 1
        tick = least * max(1, -(-span // (most * least)))
        before, waits = predecessors(work)
        return cls(
            lengths=-(-work.work_seconds // tick),
            needs=np.vstack([work.people, work.stations]).astype(np.int8),
            room=(work.people_count, *work.station_counts),
            before=before,
            waits_before=-(-waits // tick),
            after=work.successors,
            waits_after=-(-work.waits // tick),
            turn=np.argsort(in_order(work)),
            last=span // tick + 1,
            tick=tick,
        )

    def __len__(self) -> int:
        return len(self.lengths)

    def packed(self, orders: Indices) -> tuple[Indices, Ticks]:
        """The orders (v, n) laid out forward, backward and forward again.

        Gives them by begin, and when each task ends, (v, n).
        """
        forward = self.laid_out(orders)
        backward = self.laid_out(self._sorted(-forward, -self.turn), backward=True)
        ends = self.laid_out(self._sorted(-backward, self.turn))
        return self._sorted(ends - self.lengths, self.turn), ends

    def laid_out(self, orders: Indices, *, backward: bool = False) -> Ticks:
        """When each task ends, (v, n), of orders (v, n) that the dependencies allow.

        `backward` lays out from the end, in ticks from there.
        """
        links, waits = self.before, self.waits_before
        if backward:
            links, waits = self.after, self.waits_after
        room = _Room(self, len(orders))
        rows = np.arange(len(orders))
        # The last column is of what stands for no task.
        ends = np.zeros((len(orders), len(self) + 1), np.int64)
        for tasks in orders.T:
            ahead = ends[rows[:, np.newaxis], links[tasks]]
            ready = (ahead + waits[tasks]).max(axis=1, initial=0)
            ends[rows, tasks] = room.taken(tasks, ready)
        return ends[:, :-1]

    def allowed(self, keys: NDArray[np.float64]) -> Indices:
        """Orders by the keys (v, n), smallest first, but no task before one that it needs."""
        held = np.concatenate([keys, np.full((len(keys), 1), -np.inf)], axis=1)
        for task in np.argsort(self.turn):
            ahead = held[:, self.before[task]].max(axis=1, initial=-np.inf)
            held[:, task] = np.maximum(held[:, task], np.nextafter(ahead, np.inf))
        return np.argsort(held[:, :-1], axis=1, kind="stable")

    def _sorted(self, ticks: Ticks, turn: Indices) -> Indices:
        """Orders by ticks (v, n), those at the same tick by turn."""
        return np.argsort(ticks * len(self) + turn, axis=1, kind="stable")


class _Room:
    """What is free of each kind at each tick, of v plans at once; of no kind there are over 100."""

    def __init__(self, grid: TimeGrid, count: int) -> None:
        self.lengths, self.needs, self.last = grid.lengths, grid.needs, grid.last
        self.free = [np.full((count, grid.last + 1), each, np.int8) for each in grid.room]
        self.ticks = np.arange(grid.last + 1, dtype=np.int16)
        self.beyond = np.int16(grid.last + 1)

    def taken(self, tasks: Indices, ready: Ticks) -> Ticks:
        """Let a task of each plan (v,) take the first room from when it is ready; when it ends."""
        lengths = self.lengths[tasks]
        used = [(free, need) for free, need in zip(self.free, self.needs[:, tasks], strict=True)]
        used = [(free, need[:, np.newaxis]) for free, need in used if need.any()]
        if not used:
            return ready + lengths
        first = min(int(ready.min()), self.last)
        ticks = self.ticks[first:]
        has_room = np.logical_and.reduce([free[:, first:] >= need for free, need in used])
        # The next tick without room, seen from each.
        full = np.where(has_room, self.beyond, ticks)
        full = np.minimum.accumulate(full[:, ::-1], axis=1)[:, ::-1]
        fits = (full - ticks >= self._column(lengths)) & (ticks >= self._column(ready))
        fits[:, -1] = True
        begins = np.maximum(fits.argmax(axis=1) + first, ready)
        ends: Ticks = begins + lengths
        holds = (ticks >= self._column(begins)) & (ticks < self._column(ends))
        for free, need in used:
            free[:, first:] -= holds * need
        return ends

    def _column(self, ticks: Ticks) -> NDArray[np.int16]:
        return np.minimum(ticks, self.beyond).astype(np.int16)[:, np.newaxis]


def _runs_backward(work: WorkArrays) -> bool:
    plain = not (
        work.setup.any() or work.helper.any() or work.in_one_go.any() or work.outside_seconds.any()
    )
    at_once = not (work.arrival.any() or work.wait_until.any() or work.earliest_end.any())
    return plain and at_once and len(work.calendar.opens) == 1 and not work.calendar.opens[0]
