"""Where a plan departs from the working order of the subsystems, and what put it so.

The build is run as for its plan, by the same ranking. Wherever a task begins while one of an
earlier subsystem could have begun at that moment and had to wait, the first thing in which the
ranking tells the two apart is the reason.
"""

from dataclasses import dataclass

import numpy as np

from webapp.build.build_input import BuildInput
from webapp.planning.order.order_that_holds import ranking_that_holds
from webapp.planning.simulator.house_rules import HouseRules, deciding_columns
from webapp.planning.simulator.openings import Openings
from webapp.planning.simulator.outcome import Everything
from webapp.planning.simulator.variant_block import VariantBlock
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import Indices, WorkArrays

KEPT_ORDER = "kept_order"
AHEAD_OF_IT = ("for_first_start", "setup_out")
"""What decides before a kept order that asks which setup is out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Departure:
    """A task that goes first, the one of the earliest subsystem that could have begun then, and
    why: `KEPT_ORDER`, or a column of `deciding_columns` by its name.
    """

    key: str
    before: str
    why: str


def departures_of(
    build: BuildInput, work: WorkArrays, *, rules: HouseRules | None = None
) -> tuple[Departure, ...]:
    """Every departure of the plan of a faultless build, in the order in which tasks are picked.

    `work` is the build laid out as for its plan; it follows its kept order where there is one,
    with `rules` them.
    """
    is_kept = bool(build.kept_order) and rules is None
    ahead_of_it = AHEAD_OF_IT if build.kept_setup_first else ()
    ranking = ranking_that_holds(build, work, rules=rules)
    outcome = Everything(work, 1)
    block = VariantBlock(work, Variants(count=1, rankings=(ranking,)), outcome, Openings.of(work))
    every, rounds = np.arange(len(work)), []
    for _ in block.rounds():
        tasks, earliest = block.could_begin()
        rounds.append((tasks, earliest[:, 0], block.setups.are_out(every)[:, 0]))
    picked = np.argsort(outcome.turn[:, 0], kind="stable")
    picked = picked[outcome.turn[picked, 0] >= 0]
    found = []
    for chosen, (tasks, earliest, is_out) in zip(picked.tolist(), rounds, strict=False):
        at = int(outcome.begin[chosen, 0])
        could = tasks[earliest <= at]
        held = could[outcome.begin[could, 0] > at]
        other = _earliest_subsystem(work, chosen, held)
        if other is None:
            continue
        columns = deciding_columns(work, is_out, rules)
        if is_kept:
            columns = [one for one in columns if one[0] in ahead_of_it]
        told_apart = (name for name, column in columns if column[chosen] != column[other])
        why = next(told_apart, KEPT_ORDER)
        found.append(Departure(key=work.keys[chosen], before=work.keys[other], why=why))
    return tuple(found)


def _earliest_subsystem(work: WorkArrays, chosen: int, held: Indices) -> int | None:
    """Of the tasks that had to wait for the chosen one that of the earliest subsystem."""
    if not work.people[chosen] and not work.stations[:, chosen].any():
        return None  # it takes nothing that another could wait for
    earlier = held[(work.working_order[held] < work.working_order[chosen]) & ~work.wall_only[held]]
    if not len(earlier):
        return None
    return int(min(earlier.tolist(), key=lambda i: (work.working_order[i], i)))
