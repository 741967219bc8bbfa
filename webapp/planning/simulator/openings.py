"""Where the work of each task that asks for room fits: one table for a whole build.

For each number of seconds that is asked for, the stretches that are long enough stand one after
the other, each number by itself in the table, far enough apart to be found by one search.
"""

from dataclasses import dataclass

import numpy as np

from webapp.build.time.shop_calendar import NEVER, Seconds, ShopCalendar
from webapp.planning.simulator.work_arrays import Indices, WorkArrays

APART = NEVER << 2
"""Between what two numbers of seconds have in the table; more than any moment."""
NO_STRETCH = -1


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Openings:
    """Long enough stretches of m in all, in order, for each number of seconds that is asked for.

    shift : (n,) by how much the part of the table for a task lies behind its beginning
    latest : (m,) shop seconds at which work must begin to end within the stretch, and the shift
    begins : (m,) shop seconds at which the stretch begins; twice `NEVER` behind the last of each
    stretch : (m,) its place among the stretches of its kind, `NO_STRETCH` behind the last
    """

    shift: Seconds
    latest: Seconds
    begins: Seconds
    stretch: Indices

    @classmethod
    def of(cls, work: WorkArrays) -> "Openings":
        """Sessions for work in one go, the helper's stretches for work with the helper.

        Work longer than every stretch takes one of the longest and runs over. It is judged by the
        build's own hours: nobody knows a variant's beforehand.
        """
        shift = np.zeros(len(work), np.int64)
        parts: list[tuple[Seconds, Seconds, Indices]] = []
        for helped in (False, True):
            begins, ends = _stretches(work.calendar, helped=helped)
            longest = int((ends - begins).max(initial=0))
            asking = ((work.in_one_go | work.helper) & (work.helper == helped)).nonzero()[0]
            needed = np.minimum(work.work_seconds[asking], longest)
            for seconds in np.unique(needed).tolist():
                shift[asking[needed == seconds]] = len(parts) * APART
                long_enough = (ends - begins >= seconds).nonzero()[0]
                latest = np.append(ends[long_enough] - seconds, APART - 1) + len(parts) * APART
                begin = np.append(begins[long_enough], 2 * NEVER)
                parts.append((latest, begin, np.append(long_enough, NO_STRETCH)))
        none = np.empty(0, np.int64)
        columns = zip(*parts, strict=True) if parts else ((none,),) * 3
        latest, begin, stretch = (np.concatenate(column) for column in columns)
        return cls(shift=shift, latest=latest, begins=begin, stretch=stretch)

    def places(self, tasks: Indices, earliest: Seconds) -> Indices:
        """The first places in the table at which tasks fit that begin no sooner; all (k,)."""
        return self.latest.searchsorted(earliest + self.shift[tasks])


def _stretches(calendar: ShopCalendar, *, helped: bool) -> tuple[Seconds, Seconds]:
    if helped:
        return calendar.helper_from, calendar.helper_to
    return calendar.shop_at_open, calendar.shop_at_close
