"""What there is a countable number of: hands, lifts, ovens. When each unit is free again."""

import numpy as np

from webapp.build.time.shop_calendar import Seconds
from webapp.planning.simulator.work_arrays import Indices


class Pool:
    """Units of one kind in v variants.

    free : (count + 1, v) row k the shop second from which k units are free; row 0 always
    """

    __slots__ = ("free",)

    def __init__(self, count: int, variants: int) -> None:
        self.free = np.zeros((count + 1, variants), np.int64)

    def from_when(self, needed: Indices) -> Seconds:
        """Shop seconds from which so many units are free: (a,) needs to (a, v)."""
        if len(self.free) == 2 and needed.all():
            return self.free[1:2]
        return self.free[needed]

    def take(self, columns: Indices, needed: Indices, until: Seconds) -> None:
        """Hold `needed` (c,) units, the ones free longest, `until` (c,) in some variants."""
        if len(self.free) == 2:
            takes = needed > 0
            self.free[1, columns[takes]] = until[takes]
            return
        units = self.free[1:, columns]
        place = np.arange(1, len(self.free))[:, np.newaxis]
        units = np.where(place <= needed, until, units)
        self.free[1:, columns] = np.sort(units, axis=0)
