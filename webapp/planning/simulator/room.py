"""When work in one go, or with the helper, finds room: in a stretch that is long enough."""

import numpy as np

from webapp.build.time.shop_calendar import NEVER, Seconds
from webapp.planning.simulator.missed_helper import MissedHelper
from webapp.planning.simulator.windows import Windows
from webapp.planning.simulator.work_arrays import Indices, WorkArrays


class Room:
    """The sessions, and the helper's stretches with those that each of v variants misses.

    helper_free : (v,) shop second from which the helper is free
    """

    def __init__(
        self,
        work: WorkArrays,
        sessions: Windows,
        helper: Windows,
        missed_helper: MissedHelper | None,
        count: int,
    ) -> None:
        self.work, self.sessions, self.helper_stretches = work, sessions, helper
        self.missed_helper = missed_helper
        self.helper_free = np.zeros(count, np.int64)

    def begins(
        self, tasks: Indices, columns: Indices, earliest: Seconds, getting_out: Seconds
    ) -> Seconds:
        """When tasks, each of one variant, can begin: their work fits a stretch. All (k,).

        `getting_out` are the seconds before the work for its setup. Room is judged by the build's
        own hours: nobody knows a variant's beforehand.
        """
        begin = earliest + getting_out
        seconds, helped = self.work.work_seconds[tasks], self.work.helper[tasks]
        some = helped.nonzero()[0]
        if len(some) == len(tasks):
            begin = self._with_helper(columns, begin, seconds)
        elif not len(some):
            begin = self.sessions.fit(begin, seconds)
        else:
            alone = (~helped).nonzero()[0]
            begin[alone] = self.sessions.fit(begin[alone], seconds[alone])
            begin[some] = self._with_helper(columns[some], begin[some], seconds[some])
        return begin - getting_out

    def _with_helper(self, columns: Indices, earliest: Seconds, needed: Seconds) -> Seconds:
        """When work with the helper can begin: in a stretch that the variant does not miss."""
        begin = self.helper_stretches.fit(np.maximum(earliest, self.helper_free[columns]), needed)
        if self.missed_helper is None:
            return begin
        left = (begin < NEVER).nonzero()[0]
        while len(left):
            at = self.helper_stretches.place_of(begin[left])
            missed = self.missed_helper.at(at, columns[left]).nonzero()[0]
            left, at = left[missed], at[missed]
            after = self.helper_stretches.ends[at]
            begin[left] = self.helper_stretches.fit(after, needed[left])
            left = left[begin[left] < NEVER]
        return begin
