"""First start of every variant without each of some tasks, one at a time.

Without a task a variant goes as it goes with it until the task is ready. So one block of variants,
the trunk, is run with all tasks, and what is without one branches off it in the round before.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from webapp.build.time.shop_calendar import Seconds
from webapp.planning.simulator.openings import Openings
from webapp.planning.simulator.outcome import Everything, FirstStartAlone
from webapp.planning.simulator.simulate import block_size, slices
from webapp.planning.simulator.variant_block import VariantBlock
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import Indices, WorkArrays


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Branches:
    """Variants that branch off in one round: of which column, without which task, (b,)."""

    turn: int
    columns: Indices
    places: Indices


def first_starts_without(
    work: WorkArrays, variants: Variants, count: int
) -> tuple[Seconds, Seconds]:
    """Wall seconds of first start of v variants with all tasks, (v,), and without each, (count, v).

    It is done for the first `count` of the tasks. The variants have all tasks; order passes
    through the one that is not there, the waits into it stay, its own waits, hours and parts go.
    """
    openings = Openings.of(work)
    ends = np.empty(variants.count, np.int64)
    without = np.empty((count, variants.count), np.int64)
    for columns in slices(variants.count, block_size(work, Everything)):
        trunk = variants.columns(columns)
        found = Everything(work, trunk.count)
        VariantBlock(work, trunk, found, openings).run()
        place = work.first_start
        ends[columns] = _wall(work, found.end[place], found.wall_end[place])
        without[:, columns] = ends[columns]
        _branch_off(work, trunk, _branches(work, found.turn, count), without[:, columns], openings)
    return ends, without


def _branches(work: WorkArrays, turn: Indices, count: int) -> Iterator[_Branches]:
    """When to branch off, the earliest first, in blocks; `turn` is when each task begins, (n, v).

    What never becomes ready does not branch off.
    """
    last_before = np.full((len(work), turn.shape[1]), 0, np.int64)
    for place, after in enumerate(work.successors):
        after = after[after >= 0]
        planned = np.where(turn[place] >= 0, turn[place], len(work))
        last_before[after] = np.maximum(last_before[after], planned)
    rounds = last_before[:count].ravel()
    order = rounds.argsort(kind="stable")
    order = order[: np.count_nonzero(rounds < len(work))]
    for some in slices(len(order), block_size(work, FirstStartAlone)):
        places, columns = np.divmod(order[some], turn.shape[1])
        yield _Branches(turn=int(rounds[order[some.start]]), columns=columns, places=places)


def _branch_off(
    work: WorkArrays,
    variants: Variants,
    branches: Iterator[_Branches],
    without: Seconds,
    openings: Openings,
) -> None:
    """Run the trunk once more and all that branches off it; writes into `without`, (count, v)."""
    outcome = FirstStartAlone(work, variants.count)
    trunk = VariantBlock(work, variants, outcome, openings, all_on_wall=True)
    due = next(branches, None)
    for turn in trunk.rounds():
        while due is not None and due.turn == turn:
            absent = np.zeros((len(work), len(due.columns)), bool)
            absent[due.places, np.arange(len(due.columns))] = True
            own = replace(variants.columns(due.columns), absent=absent)
            found = FirstStartAlone(work, own.count)
            block = VariantBlock(work, own, found, openings)
            block.branch_off(trunk, due.columns)
            block.run(turn)
            without[due.places, due.columns] = _wall(work, found.end, found.wall_end)
            due = next(branches, None)
        if due is None:
            return


def _wall(work: WorkArrays, end: Seconds, wall_end: Seconds) -> Seconds:
    return np.where(wall_end >= 0, wall_end, work.calendar.end_wall(end))
