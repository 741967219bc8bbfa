"""Why no order reaches first start: the things that together make it so, each by its name."""

from dataclasses import replace

import numpy as np

from webapp.build.build_input import BuildInput
from webapp.build.time.shop_calendar import NEVER
from webapp.planning.network.network import needed_for, standing_in_the_way
from webapp.planning.simulator.work_arrays import Indices, WorkArrays
from webapp.planning.tighten.bounds import EarliestDates
from webapp.planning.tighten.work_model import WorkModel, model_fits

PROOF_SECONDS = 1.0
"""For each question whether first start could be reached without one of the things."""


def what_stands_in_the_way(build: BuildInput) -> tuple[str, ...]:
    """A sentence for each thing that first start waits for in vain, whatever the order."""
    needed = needed_for(build, build.first_start) if build.first_start else frozenset()
    why = {key: words for key, words in standing_in_the_way(build).items() if key in needed}
    passed_on = {d.after for d in build.dependencies if d.before in why}
    return tuple(words for key, words in why.items() if key not in passed_on)


def what_finds_no_room(build: BuildInput, work: WorkArrays) -> tuple[str, ...]:
    """A sentence for each task that, alone or together with the others, finds no session.

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
    names = {task.key: task.name for task in build.tasks}
    with_what = {
        i: "a session with the helper" if work.helper[i] else "a session" for i in together
    }
    others = "" if len(together) == 1 else " with the others named here"
    return tuple(
        f"“{names[work.keys[i]]}” finds no room{others}: it needs {with_what[i]} of "
        f"{work.work_seconds[i] / 3600:g} hours, and not enough of them are left."
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
    answer = model.solve(
        seconds=PROOF_SECONDS, workers=2, seed=0, stop=None, progress=lambda _: None
    )
    return answer.impossible
