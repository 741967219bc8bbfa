"""One simulator for everything: many variants of one build, side by side.

Each round, every variant starts one task: of all tasks whose predecessors are in the plan, those
that can begin soonest, and of these the one the house rules put first (a parallel schedule
generation scheme, Kelley 1963). What a task waits for (predecessors, waits, parts, hands,
stations, setups, helper, room in the session) is known as a moment, so no clock has to be stepped.
Arrays are task-major, (n, v), worked through in blocks of variants that fit the cache.
"""

from dataclasses import dataclass

import numpy as np

from webapp.build.time.shop_calendar import NEVER, Seconds, ShopCalendar
from webapp.planning.simulator.variant_block import VariantBlock
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.windows import Windows
from webapp.planning.simulator.work_arrays import Indices, WorkArrays

BLOCK_VARIANTS = 2048
"""Variants worked through together: their columns of the tasks looked at stay in the cache."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Schedule:
    """When every task of every variant begins and ends, (n, v); `NEVER` where it never does.

    begin, end : shop seconds
    setup_seconds : shop seconds from `begin` that go into getting the setup out
    turn : the round in which the task was picked
    wall_begin, wall_end : wall seconds of what runs on the wall clock, -1 for shop work
    """

    calendar: ShopCalendar
    begin: Seconds
    end: Seconds
    setup_seconds: Seconds
    turn: Indices
    wall_begin: Seconds
    wall_end: Seconds

    def begin_wall(self, place: int) -> Seconds:
        """Wall seconds at which the task at a place begins, (v,)."""
        on_wall = self.wall_begin[place]
        return np.where(on_wall >= 0, on_wall, self.calendar.start_wall(self.begin[place]))

    def end_wall(self, place: int) -> Seconds:
        """Wall seconds at which the task at a place ends, (v,)."""
        on_wall = self.wall_end[place]
        return np.where(on_wall >= 0, on_wall, self.calendar.end_wall(self.end[place]))


def simulate(work: WorkArrays, variants: Variants) -> Schedule:
    """Run all variants of a build and give back when everything begins and ends."""
    shape = (len(work), variants.count)
    schedule = Schedule(
        calendar=work.calendar,
        begin=np.full(shape, NEVER, np.int64),
        end=np.full(shape, NEVER, np.int64),
        setup_seconds=np.zeros(shape, np.int64),
        turn=np.full(shape, -1, np.int64),
        wall_begin=np.full(shape, -1, np.int64),
        wall_end=np.full(shape, -1, np.int64),
    )
    windows = Windows.of_sessions(work.calendar), Windows.of_helper(work.calendar)
    for first in range(0, variants.count, BLOCK_VARIANTS):
        columns = slice(first, first + BLOCK_VARIANTS)
        block = VariantBlock(work, variants.columns(columns), *windows)
        block.run()
        schedule.begin[:, columns] = block.begin
        schedule.end[:, columns] = block.end
        schedule.setup_seconds[:, columns] = block.got_out
        schedule.turn[:, columns] = block.turn
        schedule.wall_begin[:, columns] = block.wall_begin
        schedule.wall_end[:, columns] = block.wall_end
    return schedule
