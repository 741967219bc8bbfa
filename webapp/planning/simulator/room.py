"""When work in one go, or with the helper, finds room: in a stretch that is long enough."""

import numpy as np

from webapp.build.time.shop_calendar import Seconds
from webapp.planning.simulator.missed_helper import MissedHelper
from webapp.planning.simulator.openings import NO_STRETCH, Openings
from webapp.planning.simulator.work_arrays import Indices, WorkArrays


class Room:
    """The sessions, and the helper's stretches with those that each of v variants misses.

    helper_free : (v,) shop second from which the helper is free
    """

    def __init__(
        self,
        work: WorkArrays,
        openings: Openings,
        missed_helper: MissedHelper | None,
        count: int,
    ) -> None:
        self.work, self.openings = work, openings
        self.missed_helper = missed_helper
        self.helper_free = np.zeros(count, np.int64)
        self._some_helped = bool(work.helper.any())

    def begins(
        self, tasks: Indices, columns: Indices, earliest: Seconds, getting_out: Seconds
    ) -> Seconds:
        """When tasks, each of one variant, can begin: their work fits a stretch. All (k,).

        `getting_out` are the seconds before the work for its setup.
        """
        begin = earliest + getting_out
        helped = self.work.helper[tasks].nonzero()[0] if self._some_helped else ()
        if len(helped):
            begin[helped] = np.maximum(begin[helped], self.helper_free[columns[helped]])
        places = self.openings.places(tasks, begin)
        if len(helped) and self.missed_helper is not None:
            places[helped] = self._not_missed(self.missed_helper, places[helped], columns[helped])
        np.maximum(begin, self.openings.begins[places], out=begin)
        begin -= getting_out
        return begin

    def _not_missed(self, missed: MissedHelper, places: Indices, columns: Indices) -> Indices:
        """The first places from some on whose stretches the variants do not miss."""
        left = np.arange(len(places))
        while len(left):
            stretches = self.openings.stretch[places[left]]
            some = (stretches != NO_STRETCH).nonzero()[0]
            left = left[some]
            left = left[missed.at(stretches[some], columns[left])]
            places[left] += 1
        return places
