"""One simulator for everything: many variants of one build, side by side.

Each round, every variant starts one task: of all tasks whose predecessors are in the plan, those
that can begin soonest, and of these the one the house rules put first (a parallel schedule
generation scheme, Kelley 1963). What a task waits for (predecessors, waits, parts, hands,
stations, setups, helper, room in the session) is known as a moment, so no clock has to be stepped.
Arrays are task-major, (n, v), worked through in blocks of variants that fit the cache.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np

from webapp.build.time.shop_calendar import Seconds, ShopCalendar
from webapp.planning.simulator.openings import Openings
from webapp.planning.simulator.outcome import Everything, FirstStartAlone
from webapp.planning.simulator.variant_block import VariantBlock
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import Indices, WorkArrays

BLOCK_VARIANTS = 4096
"""So many variants worked through together: their columns of the tasks looked at stay in the
cache."""
BLOCK_BYTES = 64 * 2**20
"""What a block of variants may take of memory, so that a large build runs in smaller blocks."""
BYTES_A_TASK = 40
"""What one task of one variant takes while its block runs, apart from what is kept of it."""

Kept = TypeVar("Kept", Everything, FirstStartAlone)


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


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FirstStarts:
    """When first start is reached in every variant, (v,); `NEVER` where it is not.

    wall, shop : wall and shop seconds at which the task first start ends
    """

    wall: Seconds
    shop: Seconds


def first_starts(work: WorkArrays, variants: Variants) -> FirstStarts:
    """Run all variants of a build for the sake of first start alone, which it must have."""
    shop, on_wall = (np.empty(variants.count, np.int64) for _ in range(2))
    for columns, found in _run_blocks(work, variants, FirstStartAlone):
        shop[columns], on_wall[columns] = found.end, found.wall_end
    wall = np.where(on_wall >= 0, on_wall, work.calendar.end_wall(shop))
    return FirstStarts(wall=wall, shop=shop)


def simulate(work: WorkArrays, variants: Variants) -> Schedule:
    """Run all variants of a build and give back when everything begins and ends.

    That takes 48 bytes a task and variant; `in_blocks` holds one block of variants at a time.
    """
    return joined([schedule for _, schedule in in_blocks(work, variants)])


def joined(schedules: Sequence[Schedule]) -> Schedule:
    """One schedule with the variants of all of them, in order."""
    if len(schedules) == 1:
        return schedules[0]
    columns = ("begin", "end", "setup_seconds", "turn", "wall_begin", "wall_end")
    return Schedule(
        calendar=schedules[0].calendar,
        **{name: np.concatenate([getattr(s, name) for s in schedules], axis=1) for name in columns},
    )


def in_blocks(work: WorkArrays, variants: Variants) -> Iterator[tuple[slice, Schedule]]:
    """Run the variants block by block: which of them, and their schedule."""
    for columns, found in _run_blocks(work, variants, Everything):
        yield (
            columns,
            Schedule(
                calendar=work.calendar,
                begin=found.begin,
                end=found.end,
                setup_seconds=found.got_out,
                turn=found.turn,
                wall_begin=found.wall_begin,
                wall_end=found.wall_end,
            ),
        )


def _run_blocks(
    work: WorkArrays, variants: Variants, kept: type[Kept]
) -> Iterator[tuple[slice, Kept]]:
    """Run the variants in blocks that fit the memory, with what is kept of each."""
    openings = Openings.of(work)
    for columns in slices(variants.count, block_size(work, kept)):
        outcome = kept(work, columns.stop - columns.start)
        VariantBlock(work, variants.columns(columns), outcome, openings).run()
        yield columns, outcome


def block_size(work: WorkArrays, kept: type[Everything] | type[FirstStartAlone]) -> int:
    """How many variants run as one block."""
    of_variant = (BYTES_A_TASK + kept.BYTES_A_TASK) * max(len(work), 1)
    return max(1, min(BLOCK_VARIANTS, BLOCK_BYTES // of_variant))


def slices(count: int, size: int) -> Iterator[slice]:
    """From 0 to a count, so many at a time."""
    for first in range(0, count, size):
        yield slice(first, min(first + size, count))
