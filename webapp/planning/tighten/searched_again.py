"""Whether a kept order has aged: what another order would win on the build as it is now.

Measured and not guessed: a short search begins from the kept order, with the rules in every order
beside it, and what it found is told from draws that it has not seen. It is bounded by schedules,
so the same build comes to the same answer however busy the machine is.
"""

import time
from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.planning.chances.factors import Factors
from webapp.planning.chances.move_costs import move_from
from webapp.planning.chances.moves import Move
from webapp.planning.order.order_that_holds import KeptOrder
from webapp.planning.tighten.draw_search import search_over_draws

TASKS_LAID_OUT = 400_000
"""Tasks times schedules of the search: one to two seconds of a processor."""
LEAST_SCHEDULES, MOST_SCHEDULES = 1_000, 8_000
AT_MOST_SECONDS = 8.0
"""Of the processor, for builds of many hundred tasks."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SearchedAgain:
    """The order that a short search found from the kept one, and by how much it would move first
    start against it, over fresh draws."""

    order: KeptOrder
    move: Move


def searched_again(build: BuildInput, factors: Factors) -> SearchedAgain | None:
    """Of a faultless build with a kept order; None where it has none, or no date."""
    if not build.kept_order:
        return None
    count = max(1, sum(task.is_open for task in build.tasks))
    found = search_over_draws(
        build,
        seconds=AT_MOST_SECONDS,
        schedules=min(max(TASKS_LAID_OUT // count, LEAST_SCHEDULES), MOST_SCHEDULES),
        factors=factors,
        starts=[KeptOrder.of(build)],
        clock=time.thread_time,
    )
    if found is None:
        return None
    move = move_from(build, factors, found.order.kept_in(build), factors)
    return None if move is None else SearchedAgain(order=found.order, move=move)
