"""What one thing costs in days of first start: a change, a task.

Each is the mean move over the same draws with and without it; see `moves`.
"""

from webapp.build.build_input import BuildInput
from webapp.build.time.shop_calendar import NEVER
from webapp.planning.chances.draws import drawn_of
from webapp.planning.chances.factors import Factors
from webapp.planning.chances.forecast import forecasts_of
from webapp.planning.chances.luck import DRAWS, Luck
from webapp.planning.chances.moves import NO_MOVE, Move, move_between
from webapp.planning.simulator.without_one import first_starts_without

FIRST_DRAWS = 200
"""So many draws where an answer is wanted at once; more follow."""


def move_from(
    before: BuildInput,
    factors_before: Factors,
    after: BuildInput,
    factors_after: Factors,
    *,
    draws: int = DRAWS,
) -> Move | None:
    """By how much first start moves from one build to another; None where one has no date."""
    asked = (before, factors_before), (after, factors_after)
    was, then = forecasts_of(asked, Luck(draws))
    if was is None or then is None:
        return None
    return move_between(was.draws.wall, then.draws.wall)


def task_costs(
    build: BuildInput, factors: Factors, *, draws: int = DRAWS, at_most: int | None = None
) -> dict[str, Move]:
    """By key of each open task: by how much first start is later than if it were not there.

    Without a task, order still passes through it and the waits into it stay; its own waits, hours
    and parts go. What first start does not need costs nothing. Empty where it has no date. Of
    more than `at_most` that first start needs, the others are left out.
    """
    drawn = drawn_of(build, Luck(draws), factors=factors)
    if drawn is None:
        return {}
    keys = drawn.work.keys[:at_most]
    ends, without = first_starts_without(drawn.work, drawn.variants, len(keys))
    if (ends >= NEVER).any():
        return {}
    costs = {task.key: NO_MOVE for task in build.tasks if task.is_open}
    for key in drawn.work.keys[len(keys) :]:
        del costs[key]
    for key, one in zip(keys, without, strict=True):
        costs[key] = move_between(one, ends)
    return costs
