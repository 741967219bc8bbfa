"""What a wish does, each way, before it is decided; see design 4.7.

A greedy order can make an added task look as if it gained time (Graham 1966). So the build with
the wish is also run with today's order kept and the new tasks set in where they first can start;
of the two runs the earlier date counts, draw by draw, but never one earlier than without the
wish: whatever order made it earlier was there to be had without it.
"""

from dataclasses import dataclass, replace

import numpy as np

from webapp.build.build_input import (
    WISH_WAYS,
    BuildInput,
    WayFigures,
    Wish,
    WishWay,
)
from webapp.build.time.shop_calendar import NEVER, Seconds
from webapp.build.time_units import DAY_SECONDS
from webapp.build.verbs.wish_tasks import SizedWish, sized, with_wish
from webapp.planning.chances.factors import NO_RECORD, Factors
from webapp.planning.chances.forecast import DRAWS, Forecast, drawn_ratios, drawn_work
from webapp.planning.chances.headroom import headroom_hours
from webapp.planning.chances.pert_beta import Floats
from webapp.planning.order.job_order import make_plan
from webapp.planning.simulator.house_rules import HOUSE_RULES, Ranking, rank_tasks, ranking_of_order
from webapp.planning.simulator.simulate import first_starts
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import WorkArrays

LIKELY = 0.5
BEFORE_FIRST_START: tuple[WishWay, ...] = ("fit now", "rough in")


@dataclass(frozen=True, slots=True, kw_only=True)
class PricedWish:
    """A wish four ways, in the order fit now, rough in, fit later, let go."""

    sized: SizedWish
    ways: tuple[WayFigures, ...]

    def way(self, way: WishWay) -> WayFigures:
        """The figures of one way."""
        return next(figures for figures in self.ways if figures.way == way)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Ends:
    """First start of every draw, in the order of the draws."""

    work: WorkArrays
    ratios: dict[str, Floats]
    wall: Seconds
    shop: Seconds

    def forecast(self) -> Forecast:
        return Forecast(
            calendar=self.work.calendar,
            end_wall=np.sort(self.wall),
            end_shop=np.sort(self.shop),
            criticality={},
        )


def price_wish(
    build: BuildInput, wish: Wish, *, draws: int = DRAWS, factors: Factors | None = NO_RECORD
) -> PricedWish:
    """Run a wish four ways against the present build, with the same luck for every task.

    The build must be faultless with the wish in it; `factors` as in `forecast_of`. Fitting
    later and letting go leave first start where it is: work that it does not need never delays
    it.
    """
    of = sized(build, wish)
    order = tuple(task.key for task in make_plan(build).tasks)
    today = _present(build, draws, factors)
    figures = []
    for way in WISH_WAYS:
        ends = today
        if today is not None and way in BEFORE_FIRST_START:
            ends = _ends_with(build, wish, way, order, today, factors)
        figures.append(_figures(build, of, way, today, ends, factors))
    return PricedWish(sized=of, ways=tuple(figures))


def _present(build: BuildInput, draws: int, factors: Factors | None) -> _Ends | None:
    """First start of the build as it is; None where it has none."""
    ratios = drawn_ratios(build, draws, factors)
    work, seconds = drawn_work(build, ratios, draws)
    if work.first_start < 0:
        return None
    ends = _run(work, ratios, seconds, rank_tasks(work, HOUSE_RULES))
    return None if (ends.wall >= NEVER).any() else ends


def _ends_with(
    build: BuildInput,
    wish: Wish,
    way: WishWay,
    order: tuple[str, ...],
    today: _Ends,
    factors: Factors | None,
) -> _Ends | None:
    """First start of every draw with the wish, never before that without it."""
    changed = with_wish(build, wish, way)
    draws = len(today.wall)
    ratios = drawn_ratios(changed, draws, factors, known=today.ratios)
    work, seconds = drawn_work(changed, ratios, draws)
    if work.first_start < 0:
        return None
    by_rules = _run(work, ratios, seconds, rank_tasks(work, HOUSE_RULES))
    kept = _run(work, ratios, seconds, _kept_ranking(work, order))
    wall = np.maximum(np.minimum(by_rules.wall, kept.wall), today.wall)
    shop = np.maximum(np.minimum(by_rules.shop, kept.shop), today.shop)
    return None if (wall >= NEVER).any() else replace(by_rules, wall=wall, shop=shop)


def _run(work: WorkArrays, ratios: dict[str, Floats], seconds: Seconds, ranking: Ranking) -> _Ends:
    drawn = Variants(count=seconds.shape[1], rankings=(ranking,), work_seconds=seconds)
    ends = first_starts(work, drawn)
    return _Ends(work=work, ratios=ratios, wall=ends.wall, shop=ends.shop)


def _kept_ranking(work: WorkArrays, order: tuple[str, ...]) -> Ranking:
    """Today's order as a ranking, each new task behind the last of the tasks before it."""
    place = {key: float(n) for n, key in enumerate(order)}
    position = [place.get(key, -1.0) for key in work.keys]
    new = [i for i, at in enumerate(position) if at < 0]
    for i in new:
        before = [position[j] for j in range(len(work)) if i in work.successors[j]]
        position[i] = max(before, default=-1.0) + 0.5
    queue = np.argsort(position, kind="stable")
    return ranking_of_order(work, queue)


def _figures(
    build: BuildInput,
    of: SizedWish,
    way: WishWay,
    today: _Ends | None,
    ends: _Ends | None,
    factors: Factors | None,
) -> WayFigures:
    hours, cost = of.hours_of(way), 0.0 if way == "let go" else of.cost
    if today is None or ends is None:
        return WayFigures(
            way=way,
            likely=None,
            firm=None,
            likely_days=None,
            firm_days=None,
            headroom_hours=None,
            hours=hours,
            cost=cost,
        )
    now, then = today.forecast(), ends.forecast()
    return WayFigures(
        way=way,
        likely=then.at(LIKELY),
        firm=then.at(build.confidence),
        likely_days=_days(now, then, LIKELY),
        firm_days=_days(now, then, build.confidence),
        headroom_hours=headroom_hours(build, then, factors or NO_RECORD),
        hours=hours,
        cost=cost,
    )


def _days(now: Forecast, then: Forecast, share: float) -> float:
    """The move of the first start of a share of the draws, in wall-clock days."""
    return (then.at(share) - now.at(share)).total_seconds() / DAY_SECONDS
