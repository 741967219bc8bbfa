"""What the tasks of a block of variants wait for among each other, and when that is over."""

import numpy as np

from webapp.build.time.shop_calendar import NEVER, Seconds
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import Flags, Indices, WorkArrays

NOT_YET = NEVER << 1
"""Added to when a task is ready for each predecessor that is not in the plan yet; more than any
moment, so that both can be read from one number."""
COUNT_OF_THEM = -NOT_YET
"""The bits of such a number that count the predecessors."""
MOST_AT_ONCE = 1 << 16
"""Links followed at once: what that takes of memory stays small."""


class Readiness:
    """When each of n tasks is ready in each of v variants, hands and all that apart.

    at : (n, v) shop seconds, and `NOT_YET` for each predecessor that is not in the plan; `NEVER`
        once the task is in the plan itself. Parts count from the moment the last predecessor is in
    wall : (n, v) wall seconds of those ready that run on the wall clock
    looked_at : (n,) whether a task is ready in any variant
    """

    def __init__(self, work: WorkArrays, variants: Variants, *, all_on_wall: bool = False) -> None:
        """`all_on_wall`: any task may have to run on the wall clock later."""
        self.work, self.count, self.absent = work, variants.count, variants.absent
        on_wall: Flags = np.logical_or(work.wall_only, all_on_wall)
        self._arrival = work.arrival if variants.arrival is None else variants.arrival
        self._arrival_shop = work.calendar.shop_of(self._arrival)
        self._awaits_part: Flags = self._arrival > 0
        self._some_arrive = bool(self._awaits_part.any())
        self.wall: Seconds = np.repeat(work.wait_until[:, np.newaxis], self.count, axis=1)
        at_first = work.calendar.shop_of(work.wait_until) + NOT_YET * work.predecessor_counts
        self.at: Seconds = np.repeat(at_first[:, np.newaxis], self.count, axis=1)
        self.looked_at: Flags = ~work.predecessor_counts.astype(bool)
        free = self.looked_at.nonzero()[0]
        columns = np.arange(self.count)
        flat = (free[:, np.newaxis] * self.count + columns).ravel()
        self._await_parts(np.repeat(free, self.count), flat)
        self._unplanned = np.full(len(work), self.count, np.int64)
        linked = work.successors >= 0
        self._after, self._wait = work.successors[linked], work.waits[linked]
        self._asks_wall = on_wall[self._after] | (self._wait > 0)
        self._columns = columns
        self._followers = linked.sum(axis=1)
        self._first_link = self._followers.cumsum() - self._followers

    def branch_off(self, trunk: "Readiness", columns: Indices) -> None:
        """Go on from where some columns of another are."""
        at, wall = trunk.at.take(columns, axis=1), trunk.wall.take(columns, axis=1)
        if self.absent is not None:
            # From the beginning on a task that is not there awaits no part.
            ready = (self.absent & (self.work.predecessor_counts == 0)[:, np.newaxis]).nonzero()
            at[ready], wall[ready] = self.at[ready], self.wall[ready]
        self.at, self.wall = at, wall
        self._unplanned = (at != NEVER).sum(axis=1)
        self.looked_at = np.any(at < NEVER, axis=1)

    def begun(self, chosen: Indices, flat: Indices) -> None:
        """Some variants have begun a task: (c,) which, and its places in the (n, v) arrays."""
        self.at.ravel()[flat] = NEVER
        self._unplanned -= np.bincount(chosen, minlength=len(self.work))
        self.looked_at[self._unplanned == 0] = False

    def release(
        self,
        columns: Indices,
        chosen: Indices,
        flat: Indices,
        end: Seconds,
        end_wall: Seconds | None,
    ) -> None:
        """Tell the tasks after; those with no predecessor left to plan may be looked at.

        `end_wall` is -1 for what runs in shop hours, None where all does.
        """
        followers = self._followers[chosen]
        links = followers.cumsum()
        if links[-1] > MOST_AT_ONCE and len(chosen) > 1:
            half = len(chosen) // 2
            for some in (slice(half), slice(half, None)):
                wall = None if end_wall is None else end_wall[some]
                self.release(columns[some], chosen[some], flat[some], end[some], wall)
            return
        before = self._columns[: len(chosen)].repeat(followers)
        if not len(before):
            return
        link = (self._first_link.take(chosen) - links + followers).take(before)
        link += np.arange(len(before))
        where = self._after.take(link)
        where *= self.count
        where += columns.take(before)
        end = end.take(before)
        self._tell_wall(link, before, where, flat, end, end_wall)
        at = self.at.ravel()
        then = at.take(where)
        then -= NOT_YET
        still = then & COUNT_OF_THEM
        end += still
        at[where] = np.maximum(then, end)
        freed = (still == 0).nonzero()[0]
        if len(freed):
            after = self._after.take(link.take(freed))
            self.looked_at[after] = True
            self._await_parts(after, where.take(freed))

    def _tell_wall(
        self,
        link: Indices,
        before: Indices,
        where: Indices,
        flat: Indices,
        end: Seconds,
        end_wall: Seconds | None,
    ) -> None:
        """Where a wait or work on the wall clock comes after: count on the wall clock.

        Writes into `end` when the wait is over, in shop seconds.
        """
        asked = self._asks_wall.take(link)
        if self.absent is not None:
            asked |= self.absent.ravel().take(where)
        some = asked.nonzero()[0]
        if not len(some):
            return
        wait, where = self._wait.take(link.take(some)), where.take(some)
        from_wall = self.work.calendar.end_wall(end.take(some))
        if end_wall is not None:
            known = end_wall.take(before.take(some))
            np.copyto(from_wall, known, where=known >= 0)
        if self.absent is not None:
            # The waits into a task that is not there stay, its own go.
            wait[self.absent.ravel().take(flat.take(before.take(some)))] = 0
        from_wall += wait
        wall = self.wall.ravel()
        wall[where] = np.maximum(wall.take(where), from_wall)
        waited = wait.nonzero()[0]
        if len(waited):
            end[some.take(waited)] = self.work.calendar.shop_of(from_wall.take(waited))

    def _await_parts(self, tasks: Indices, flat: Indices) -> None:
        """Tasks with every predecessor in the plan are not ready before their parts are here."""
        if not self._some_arrive:
            return
        which = tasks if self._arrival.ndim == 1 else flat
        awaited = self._awaits_part.ravel().take(which)
        if self.absent is not None:
            awaited &= ~self.absent.ravel().take(flat)
        some = awaited.nonzero()[0]
        if len(some):
            at, wall, flat = self.at.ravel(), self.wall.ravel(), flat[some]
            which = which[some]
            at[flat] = np.maximum(at[flat], self._arrival_shop.ravel()[which])
            wall[flat] = np.maximum(wall[flat], self._arrival.ravel()[which])
