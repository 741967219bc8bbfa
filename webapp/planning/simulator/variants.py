"""What may differ between the variants of a build that are simulated side by side."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from webapp.build.time.shop_calendar import Seconds
from webapp.planning.simulator.house_rules import HouseRules, Ranking, rank_tasks
from webapp.planning.simulator.missed_helper import MissedHelper
from webapp.planning.simulator.work_arrays import Flags, Indices, WorkArrays


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Variants:
    """What differs from the build in each of `count` variants; None: nothing does.

    work_seconds : (n, count) shop seconds of work
    arrival : (n, count) wall second at which all parts of a task are there
    absent : (n, count) tasks that are not there: order passes through them, the waits into them
        stay, their own waits, hours and parts go
    rankings : the orders of preference in use; ranking_of : (count,) which one each variant uses
    missed_helper : the stretches with the helper that each variant misses
    in_sequence : (count,) variants in which what first start needs begins in the very order of the
        ranking, none before the one ahead of it; in the others who can begin soonest goes first
    """

    count: int
    rankings: tuple[Ranking, ...]
    ranking_of: Indices | None = None
    work_seconds: Seconds | None = None
    arrival: Seconds | None = None
    absent: Flags | None = None
    missed_helper: MissedHelper | None = None
    in_sequence: Flags | None = None

    def columns(self, columns: slice | Indices) -> "Variants":
        """Some of the variants; the same one may be there more than once."""

        def cut(array: NDArray[np.generic] | None) -> NDArray[np.generic] | None:
            if array is None or isinstance(columns, slice):
                return None if array is None else array[..., columns]
            return np.take(array, columns, axis=-1)

        return Variants(
            count=len(np.arange(self.count)[columns]),
            rankings=self.rankings,
            ranking_of=cut(self.ranking_of),  # type: ignore[arg-type]
            work_seconds=cut(self.work_seconds),  # type: ignore[arg-type]
            arrival=cut(self.arrival),  # type: ignore[arg-type]
            absent=cut(self.absent),  # type: ignore[arg-type]
            missed_helper=self.missed_helper and self.missed_helper.columns(columns),
            in_sequence=cut(self.in_sequence),  # type: ignore[arg-type]
        )


def as_it_is(work: WorkArrays, rules: HouseRules | None = None) -> Variants:
    """The one variant that is the build itself, by its own house rules or by others."""
    return Variants(count=1, rankings=(rank_tasks(work, rules),))
