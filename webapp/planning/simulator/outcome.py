"""What is kept of the tasks of a block of variants as they begin: all of them, or first start."""

from typing import NamedTuple, Protocol

import numpy as np

from webapp.build.time.shop_calendar import NEVER, Seconds
from webapp.planning.simulator.work_arrays import Indices, WorkArrays


class Begins(NamedTuple):
    """The tasks that begin in one round, one in each of c variants.

    columns, chosen, flat : (c,) the variants, the task of each, its places in (n, v) arrays
    begin, end, got_out : (c,) shop seconds; of those got_out for the setup
    on_wall : (k,) those of the c that run on the wall clock; wall_begin, wall_end : (k,) when

    A tuple, for one is made every round: a frozen dataclass takes ten times as long to make.
    """

    turn: int
    columns: Indices
    chosen: Indices
    flat: Indices
    begin: Seconds
    end: Seconds
    got_out: Seconds
    on_wall: Indices
    wall_begin: Seconds
    wall_end: Seconds


class Outcome(Protocol):
    """Told of every begin."""

    def keep(self, begins: Begins) -> None: ...


class Everything:
    """All that a `Schedule` holds, (n, v)."""

    BYTES_A_TASK = 48

    def __init__(self, work: WorkArrays, count: int) -> None:
        shape = (len(work), count)
        self.begin, self.end = np.full(shape, NEVER, np.int64), np.full(shape, NEVER, np.int64)
        self.got_out, self.turn = np.zeros(shape, np.int64), np.full(shape, -1, np.int64)
        self.wall_begin, self.wall_end = (np.full(shape, -1, np.int64) for _ in range(2))

    def keep(self, begins: Begins) -> None:
        flat = begins.flat
        self.begin.ravel()[flat], self.end.ravel()[flat] = begins.begin, begins.end
        self.got_out.ravel()[flat], self.turn.ravel()[flat] = begins.got_out, begins.turn
        if len(begins.on_wall):
            flat = flat[begins.on_wall]
            self.wall_begin.ravel()[flat] = begins.wall_begin
            self.wall_end.ravel()[flat] = begins.wall_end


class FirstStartAlone:
    """When first start ends, (v,): in shop seconds, and in wall seconds if it runs on the wall."""

    BYTES_A_TASK = 0

    def __init__(self, work: WorkArrays, count: int) -> None:
        self.place = work.first_start
        self.end = np.full(count, NEVER, np.int64)
        self.wall_end = np.full(count, -1, np.int64)

    def keep(self, begins: Begins) -> None:
        own = begins.chosen == self.place
        if own.any():
            self.end[begins.columns[own]] = begins.end[own]
            on_wall = own[begins.on_wall]
            columns = begins.columns[begins.on_wall[on_wall]]
            self.wall_end[columns] = begins.wall_end[on_wall]
