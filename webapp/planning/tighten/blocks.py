"""Why no order reaches first start: the tasks that together make it so."""

from dataclasses import dataclass, replace

import numpy as np

from webapp.build.build_input import BuildInput
from webapp.build.precedence import needed_for
from webapp.build.time.shop_calendar import NEVER
from webapp.planning.network.obstacles import Standing
from webapp.planning.network.standing import standing_in_the_way
from webapp.planning.simulator.work_arrays import Indices, WorkArrays
from webapp.planning.tighten.bounds import EarliestDates
from webapp.planning.tighten.model_solver import solve
from webapp.planning.tighten.work_model import WorkModel, model_fits

PROOF_SECONDS = 1.0
"""For each question whether first start could be reached without one of the things."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """One task that first start waits for in vain, whatever the order.

    `standing` says what holds it for ever. Where that is None it finds no room: it needs a
    session of so many `hours`, with the `helper` or not; `together`: it would find one, were it
    not for the other tasks named with it.
    """

    key: str
    standing: Standing | None = None
    hours: float = 0.0
    helper: bool = False
    together: bool = False


def what_stands_in_the_way(build: BuildInput) -> tuple[Block, ...]:
    """What first start waits for in vain, whatever the order."""
    needed = needed_for(build, build.first_start) if build.first_start else frozenset()
    standing = {key: why for key, why in standing_in_the_way(build).items() if key in needed}
    passed_on = {d.after for d in build.dependencies if d.before in standing}
    return tuple(
        Block(key=key, standing=why) for key, why in standing.items() if key not in passed_on
    )


def what_finds_no_room(work: WorkArrays) -> tuple[Block, ...]:
    """Each task that, alone or together with the others, finds no session.

    `work` is what first start needs. Of several tasks that do not fit together none can be left
    out: with any one of them free of its session the others would fit. () where that could not
    be shown in time.
    """
    dates = EarliestDates(work)
    ends, bound = dates.heads.end_wall, work.in_one_go | work.helper
    held = np.zeros(len(work), bool)
    for i, _ in zip(*np.nonzero(work.successors >= 0), strict=True):
        if ends[i] >= NEVER:
            held[work.successors[i][work.successors[i] >= 0]] = True
    alone = np.flatnonzero((ends >= NEVER) & ~held)
    together = alone if len(alone) else _least_together(work, np.flatnonzero(bound))
    return tuple(
        Block(
            key=work.keys[i],
            hours=int(work.work_seconds[i]) / 3600,
            helper=bool(work.helper[i]),
            together=len(together) > 1,
        )
        for i in together.tolist()
    )


def _least_together(work: WorkArrays, bound: Indices) -> Indices:
    """The fewest of the tasks that must fit a session that cannot all do so, found one by one."""
    together = set(bound.tolist())
    if not model_fits(work, EarliestDates(work).before) or not _impossible(work, together):
        return np.array([], np.int64)
    for i in sorted(together):
        if _impossible(work, together - {i}):
            together.remove(i)
    return np.array(sorted(together), np.int64)


def _impossible(work: WorkArrays, bound: set[int]) -> bool:
    """Whether first start is proved out of reach with only these tasks bound to a session."""
    kept = np.isin(np.arange(len(work)), list(bound))
    freer = replace(work, in_one_go=work.in_one_go & kept, helper=work.helper & kept)
    model = WorkModel(freer, EarliestDates(freer), int(work.calendar.closes[-1]))
    answer = solve(
        model, seconds=PROOF_SECONDS, workers=2, seed=0, stop=None, progress=lambda _: None
    )
    return answer.impossible
