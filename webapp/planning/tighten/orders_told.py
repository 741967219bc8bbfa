"""What orders come to, asked of draws that no search has seen."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.planning.chances.factors import Factors
from webapp.planning.chances.forecast import Forecast, forecasts_of
from webapp.planning.chances.likely_day import likely_at
from webapp.planning.chances.luck import Luck
from webapp.planning.chances.moves import NO_MOVE, Move, move_between
from webapp.planning.order.first_start import first_start_at
from webapp.planning.order.order_that_holds import KeptOrder


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderTold:
    """One order, followed as priorities.

    order : as it is kept; without keys the house rules hold
    plan_at : first start if every estimate holds
    likely_at, firm_at, mean_at : first start at the person's pace, at the confidence asked for, and
        the mean of the draws
    move : by how much it moves first start against the order that holds; nothing where that is
        within twice its standard error
    """

    order: KeptOrder
    plan_at: dt.datetime
    likely_at: dt.datetime
    firm_at: dt.datetime
    mean_at: dt.datetime
    move: Move


def orders_told(
    build: BuildInput, orders: Sequence[KeptOrder], *, factors: Factors, luck: Luck | None = None
) -> tuple[OrderTold, ...]:
    """The order that holds, then each of the orders; () where first start has no date.

    By the draws that every page is told from, which a search leaves alone.
    """
    builds = [build, *(order.kept_in(build) for order in orders)]
    found = forecasts_of([(one, factors) for one in builds], luck or Luck())
    held = found[0]
    if held is None:
        return ()
    told = (
        _told(one, forecast, held, factors) for one, forecast in zip(builds, found, strict=True)
    )
    return tuple(one for one in told if one is not None)


def _told(
    build: BuildInput, forecast: Forecast | None, held: Forecast, factors: Factors
) -> OrderTold | None:
    plan_at = first_start_at(build)
    if forecast is None or plan_at is None:
        return None
    is_held = forecast is held
    return OrderTold(
        order=KeptOrder.of(build),
        plan_at=plan_at,
        likely_at=likely_at(build, forecast, factors),
        firm_at=forecast.at(build.confidence),
        mean_at=forecast.calendar.minute(round(float(forecast.end_wall.mean()))),
        move=NO_MOVE if is_held else move_between(held.draws.wall, forecast.draws.wall),
    )
