"""How sure the date is: first start over many draws, each one variant of the simulator."""

import datetime as dt
import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from webapp.build.build_input import BuildInput
from webapp.build.time.shop_calendar import NEVER, Seconds, ShopCalendar
from webapp.planning.chances.draws import Drawn, drawn_of
from webapp.planning.chances.factors import NO_RECORD, Factors
from webapp.planning.chances.luck import Luck
from webapp.planning.simulator.alike import Run, first_starts_of
from webapp.planning.simulator.house_rules import HouseRules
from webapp.planning.simulator.simulate import FirstStarts, first_starts


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Forecast:
    """First start over all draws.

    draws : when first start is in each draw, in the order of the draws
    end_wall, end_shop : (draws,) wall and shop seconds from `now`, each in ascending order
    """

    calendar: ShopCalendar
    draws: FirstStarts
    end_wall: Seconds
    end_shop: Seconds

    def at(self, share: float) -> dt.datetime:
        """The moment by which first start has come in that share of the draws."""
        return self.calendar.minute(int(self.end_wall[self._place(share)]))

    def shop_hours(self, share: float) -> float:
        """The shop hours from now that suffice in that share of the draws."""
        return float(self.end_shop[self._place(share)]) / 3600

    def draws_by(self, day: dt.date) -> int:
        """How many draws have reached first start by the end of a day."""
        midnight = dt.datetime.combine(day + dt.timedelta(days=1), dt.time())
        until = (midnight - self.calendar.now).total_seconds()
        return int(np.searchsorted(self.end_wall, until, side="left"))

    def _place(self, share: float) -> int:
        return place_of(share, len(self.end_wall))


def place_of(share: float, draws: int) -> int:
    """Of draws in ascending order the smallest that at least that share of all does not pass."""
    return min(max(math.ceil(share * draws), 1), draws) - 1


def forecast_of(
    build: BuildInput,
    luck: Luck | None = None,
    *,
    factors: Factors | None = NO_RECORD,
    rules: HouseRules | None = None,
) -> Forecast | None:
    """Forecast first start of a faultless build; None where it has no date.

    `luck` is the usual one unless another is given. `factors` None draws from the three-point
    estimates alone. It follows the order that holds: the kept one, else the house rules; with
    `rules` the order is theirs.
    """
    drawn = drawn_of(build, luck or Luck(), factors=factors, rules=rules)
    return None if drawn is None else forecast_from(drawn, first_starts(drawn.work, drawn.variants))


def forecasts_of(asked: Iterable[tuple[BuildInput, Factors]], luck: Luck) -> list[Forecast | None]:
    """Of several builds that are to be held against each other, each with its factors."""
    drawn = [drawn_of(build, luck, factors=factors) for build, factors in asked]
    runs = [Run(work=one.work, variants=one.variants) for one in drawn if one is not None]
    ends = iter(first_starts_of(runs))
    return [None if one is None else forecast_from(one, next(ends)) for one in drawn]


def forecast_from(drawn: Drawn, ends: FirstStarts) -> Forecast | None:
    """The forecast of draws that were run; None where one of them never gets there."""
    if (ends.wall >= NEVER).any():
        return None
    return Forecast(
        calendar=drawn.work.calendar,
        draws=ends,
        end_wall=np.sort(ends.wall),
        end_shop=np.sort(ends.shop),
    )
