"""By how much first start moved from one state of a build to another, told at once."""

from dataclasses import dataclass

from webapp.planning.chances.luck import DRAWS
from webapp.planning.chances.move_costs import FIRST_DRAWS
from webapp.planning.chances.moves import Move
from webapp.services.planned_build import PlannedBuild

REFINED_AT_ONCE = 60
"""Up to so many open tasks a page works a move out with all draws."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MoveSince:
    """A move of first start; None where one side has no date. Not `is_refined`: of few draws."""

    move: Move | None
    is_refined: bool


def move_since(earlier: PlannedBuild, later: PlannedBuild) -> MoveSince:
    """By how much first start moved since `earlier`, a state of the same build `as_it_was`.

    At once: with few draws where many tasks are open and all draws are not at hand, refined in
    the background.
    """
    if later.faults or earlier.faults:
        return MoveSince(move=None, is_refined=True)
    was, now, draws = earlier.state, later.state, later.draws
    few_open = later.open_count <= REFINED_AT_ONCE
    if few_open or all(draws.at_hand(each, DRAWS) is not None for each in (was, now)):
        return MoveSince(move=draws.move(was, now, DRAWS), is_refined=True)
    refined = later.background.ask(
        (later.slug, "move", was.version, now.version),
        now.version,
        lambda: draws.move(was, now, DRAWS),
        now=later.build.now,
    )
    if refined.ready:
        return MoveSince(move=refined.value, is_refined=True)
    return MoveSince(move=draws.move(was, now, FIRST_DRAWS), is_refined=False)
