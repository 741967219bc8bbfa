"""The place of each task in the order of preference of each variant, by the setups that are out."""

import numpy as np

from webapp.build.time.shop_calendar import Seconds
from webapp.planning.simulator.setups_out import OneOut, SetupsOut
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import Indices, WorkArrays


class Ranks:
    """All rankings of a block side by side, and which one each of its v variants uses.

    hands_from : places from here on are of tasks that take hands
    bits, mask : of a number that holds a place
    """

    def __init__(self, work: WorkArrays, variants: Variants, setups: SetupsOut) -> None:
        rankings = variants.rankings
        self.setups, self.count, self.of_variant = setups, variants.count, variants.ranking_of
        self.hands_from = 2 * len(work)
        self.bits = (2 * self.hands_from).bit_length()
        self.mask = (1 << self.bits) - 1
        self._task_at = np.concatenate([r.task_at for r in rankings]).ravel()
        self._rank = np.ascontiguousarray(np.concatenate([r.rank for r in rankings]).T)
        self._rank_out, self._one_out = None, None
        if any(ranking.looks_at_setups for ranking in rankings):
            rank_out = np.ascontiguousarray(np.concatenate([r.rank_out for r in rankings]).T)
            if isinstance(setups, OneOut):
                self._one_out, self._rank = setups, setups.rows(self._rank, rank_out)
            else:
                self._rank_out = rank_out

    def of(self, tasks: Indices) -> Seconds:
        """The places of (a,) tasks, (a, v)."""
        which = self.of_variant
        if self._one_out is not None:
            which = self._one_out.row(which)
        rank = self._taken(self._rank, tasks, which)
        if self._rank_out is None:
            return rank
        return np.where(self.setups.are_out(tasks), self._taken(self._rank_out, tasks, which), rank)

    def _taken(self, rank: Seconds, tasks: Indices, which: Indices | None) -> Seconds:
        rows = rank.take(tasks, axis=0)
        return rows.repeat(self.count, axis=1) if which is None else rows.take(which, axis=1)

    def tasks_at(self, place: Indices, columns: Indices) -> Indices:
        """The tasks at places in the orders of some variants, all (c,)."""
        if self.of_variant is not None:
            place = place + self.of_variant.take(columns) * (2 * self.hands_from)
        return self._task_at.take(place)
