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

    def hold_back(self, earliest: Seconds, needed: Indices) -> None:
        """Move (a, v) moments on until as many units are free as each of (a,) tasks needs."""
        needing = np.count_nonzero(needed)
        if not needing:
            return
        free = self.free[1] if len(self.free) == 2 else self.free.take(needed, axis=0)
        if needing == len(needed):
            np.maximum(earliest, free, out=earliest)
        else:
            np.maximum(earliest, free, out=earliest, where=(needed > 0)[:, np.newaxis])

    def take(self, columns: Indices, needed: Indices, until: Seconds) -> None:
        """Hold `needed` (c,) units, the ones free longest, `until` (c,) in some variants."""
        if len(self.free) == 2:
            free = self.free[1]
            if len(columns) == len(free):  # they are in order, so it is all of them
                np.copyto(free, until, where=needed > 0)
            else:
                free[columns] = np.where(needed > 0, until, free[columns])
            return
        takes = needed.nonzero()[0]
        if not len(takes):
            return
        columns, needed, until = columns[takes], needed[takes], until[takes]
        units = self.free[1:, columns]
        place = np.arange(1, len(self.free))[:, np.newaxis]
        units = np.where(place <= needed, until, units)
        self.free[1:, columns] = np.sort(units, axis=0)
