"""What the tasks of a block of variants wait for among each other, and when that is over."""

import numpy as np

from webapp.build.time.shop_calendar import NEVER, Seconds
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import Flags, Indices, WorkArrays

MOST_AT_ONCE = 1 << 16
"""Links followed at once: what that takes of memory stays small."""


class Readiness:
    """When each of n tasks is ready in each of v variants, hands and all that apart.

    at : (n, v) shop seconds; `NEVER` until all its predecessors are in the plan, and again once
        the task is itself
    wall : (n, v) wall seconds, of those ready
    looked_at : (n,) whether a task is ready in any variant
    """

    def __init__(self, work: WorkArrays, variants: Variants) -> None:
        self.work, self.count, self.absent = work, variants.count, variants.absent
        shape = (len(work), self.count)
        arrival = work.arrival[:, np.newaxis] if variants.arrival is None else variants.arrival
        if self.absent is not None:
            arrival = np.where(self.absent, 0, arrival)
        at_first = np.maximum(arrival, work.wait_until[:, np.newaxis])
        self.wall: Seconds = np.array(np.broadcast_to(at_first, shape))
        self._shop: Seconds = work.calendar.shop_of(self.wall)
        self._left = np.repeat(
            work.predecessor_counts.astype(np.int32)[:, np.newaxis], self.count, axis=1
        )
        free = work.predecessor_counts == 0
        self.at: Seconds = np.where(free[:, np.newaxis], self._shop, NEVER)
        self.looked_at: Flags = free.copy()
        self._unplanned = np.full(len(work), self.count, np.int64)
        self._followers = (work.successors >= 0).sum(axis=1)

    def begun(self, chosen: Indices, flat: Indices) -> None:
        """Some variants have begun a task: (c,) which, and its places in the (n, v) arrays."""
        self.at.ravel()[flat] = NEVER
        self._unplanned -= np.bincount(chosen, minlength=len(self.work))
        self.looked_at[self._unplanned == 0] = False

    def release(
        self, columns: Indices, chosen: Indices, flat: Indices, end: Seconds, end_wall: Seconds
    ) -> None:
        """Tell the tasks after; those with no predecessor left to plan may be looked at."""
        widest = int(self._followers[chosen].max(initial=0))
        step = max(1, MOST_AT_ONCE // len(chosen))
        for first in range(0, widest, step):
            links = slice(first, min(first + step, widest))
            after = self.work.successors[chosen, links]
            which, link = np.nonzero(after >= 0)
            wait = self.work.waits[chosen, links][which, link]
            if self.absent is not None:
                # The waits into a task that is not there stay, its own go.
                wait = wait * ~self.absent.ravel()[flat[which]]
            self._tell(after[which, link], columns[which], wait, end[which], end_wall[which])

    def _tell(
        self, after: Indices, columns: Indices, wait: Seconds, end: Seconds, end_wall: Seconds
    ) -> None:
        """One task before is over for each of these tasks, all of them different ones."""
        from_wall = end_wall + wait
        waited = wait.nonzero()[0]
        if len(waited):
            end[waited] = self.work.calendar.shop_of(from_wall[waited])
        where = after * self.count + columns
        shop, wall, left = self._shop.ravel(), self.wall.ravel(), self._left.ravel()
        shop[where] = np.maximum(shop[where], end)
        wall[where] = np.maximum(wall[where], from_wall)
        still = left[where] - 1
        left[where] = still
        freed = (still == 0).nonzero()[0]
        if len(freed):
            self.at.ravel()[where[freed]] = shop[where[freed]]
            self.looked_at[after[freed]] = True
