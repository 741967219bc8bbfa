"""What a wish does, each way, before it is decided; see design 4.7.

The build with the wish and the one without are run through the same draws, in the order that
holds: the house rules on both sides, or the kept order with the new tasks set in. What a wish
really takes is the same question, asked on another day.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from webapp.build.build_input import BuildInput
from webapp.build.verbs.wish_tasks import SizedWish, sized, with_wish
from webapp.build.wish import WISH_WAYS, WayFigures, Wish, WishWay
from webapp.planning.chances.factors import NO_RECORD, Factors
from webapp.planning.chances.forecast import Forecast, forecast_of
from webapp.planning.chances.headroom import headroom_hours
from webapp.planning.chances.likely_day import likely_at
from webapp.planning.chances.luck import Luck
from webapp.planning.chances.moves import NO_MOVE, Move, move_between
from webapp.planning.order.known_date import what_is_missing

BEFORE_FIRST_START: tuple[WishWay, ...] = ("fit now", "rough in")


@dataclass(frozen=True, slots=True, kw_only=True)
class PricedWish:
    """A wish four ways, in the order fit now, rough in, fit later, let go."""

    sized: SizedWish
    ways: tuple[WayFigures, ...]

    def way(self, way: WishWay) -> WayFigures:
        """The figures of one way."""
        return next(figures for figures in self.ways if figures.way == way)


def price_wish(
    build: BuildInput,
    wish: Wish,
    luck: Luck | None = None,
    *,
    factors: Factors = NO_RECORD,
    factor: float = 1.0,
    present: Forecast | None = None,
) -> PricedWish:
    """Run a wish four ways against the present build, with the same luck for every task.

    The build must be faultless with the wish in it; `factor` is the last of its pace, and
    `present` its forecast where that is at hand, of the same `luck`, which is the usual one unless
    another is given. Fitting later and letting go leave first start where it is: work that it
    does not need never delays it. A build that has nothing to tell a date from has no moves either.
    """
    of = sized(build, wish)
    today, luck = present, luck or Luck()
    if today is None and what_is_missing(build) is None:
        today = forecast_of(build, luck, factors=factors)
    figures = []
    for way in WISH_WAYS:
        changed, ends = build, today
        if today is not None and way in BEFORE_FIRST_START:
            changed = with_wish(build, wish, way)
            ends = forecast_of(changed, luck, factors=factors)
        figures.append(_figures(changed, of, way, today, ends, factors, factor))
    return PricedWish(sized=of, ways=tuple(figures))


def move_without(
    build: BuildInput, present: Forecast, wish: str, factors: Factors, luck: Luck
) -> Move | None:
    """By how much first start is later for what is left of a wish; None where it has no date.

    `luck` is that of the present forecast.
    """
    own = {task.key for task in build.tasks if task.wish == wish and task.is_open}
    if not own:
        return NO_MOVE
    without = forecast_of(without_tasks(build, own), luck, factors=factors)
    if without is None:
        return None
    return move_between(without.draws.wall, present.draws.wall)


def without_tasks(build: BuildInput, keys: Iterable[str]) -> BuildInput:
    """The build without some of its tasks, with what hangs on them alone: as before a wish."""
    gone = frozenset(keys)
    return replace(
        build,
        tasks=tuple(task for task in build.tasks if task.key not in gone),
        dependencies=tuple(
            link for link in build.dependencies if not {link.before, link.after} & gone
        ),
        parts=tuple(
            replace(part, serves=tuple(key for key in part.serves if key not in gone))
            for part in build.parts
        ),
        log=tuple(entry for entry in build.log if entry.task not in gone),
    )


def _figures(
    changed: BuildInput,
    of: SizedWish,
    way: WishWay,
    today: Forecast | None,
    ends: Forecast | None,
    factors: Factors,
    factor: float,
) -> WayFigures:
    hours, cost = of.hours_of(way), 0.0 if way == "let go" else of.cost
    if today is None or ends is None:
        return WayFigures(
            way=way,
            likely=None,
            firm=None,
            move_days=None,
            move_error_days=None,
            moved_share=None,
            headroom_hours=None,
            hours=hours,
            cost=cost,
        )
    move = NO_MOVE if ends is today else move_between(today.draws.wall, ends.draws.wall)
    return WayFigures(
        way=way,
        likely=likely_at(changed, ends, factors, last=factor),
        firm=ends.at(changed.confidence),
        move_days=move.days,
        move_error_days=move.error_days,
        moved_share=move.later_share,
        headroom_hours=headroom_hours(changed, ends, factors),
        hours=hours,
        cost=cost,
    )
