"""The other way round: how many more hours a week it takes to be firm by the wanted-by date."""

import math
from dataclasses import dataclass, replace

from webapp.build.build_input import BuildInput
from webapp.build.shop import WeekSession
from webapp.build.time.shop_weeks import shop_week_on, with_week_changed
from webapp.planning.chances.factors import Factors
from webapp.planning.chances.forecast import forecast_of
from webapp.planning.chances.levers import with_minutes
from webapp.planning.chances.luck import DRAWS, Luck

STEP_MINUTES = 30
MOST_HOURS = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class FirmBy:
    """`more_hours` a week make the date firm by when it is wanted: 0 where it is already.

    None: not even `MOST_HOURS` more, or all that the days of the shop week have room for, do.
    """

    more_hours: float | None


def firm_by(build: BuildInput, factors: Factors, *, draws: int = DRAWS) -> FirmBy | None:
    """Half hours more a week, spread over the sessions; None without a date or a wanted-by date.

    From the same draws as the firm date that is shown: it says the same of the week as it is.
    """
    if build.wanted_by is None:
        return None
    luck = Luck(draws)
    today = build.now.date()
    week = shop_week_on(build.shop, today)

    def is_firm(steps: int) -> bool | None:
        if with_more(week, steps) is None:
            return False
        shop = with_week_changed(build.shop, today, lambda one: with_more(one, steps))
        changed = replace(build, shop=shop)
        ends = forecast_of(changed, luck, factors=factors)
        if ends is None or build.wanted_by is None:
            return None
        return ends.at(build.confidence).date() <= build.wanted_by

    already = is_firm(0)
    if already is None:
        return None
    if already:
        return FirmBy(more_hours=0.0)
    low, high = 0, _most_steps(week)
    if not is_firm(high):
        return FirmBy(more_hours=None)
    while high - low > 1:
        middle = (low + high) // 2
        if is_firm(middle):
            high = middle
        else:
            low = middle
    return FirmBy(more_hours=high * STEP_MINUTES / 60)


def with_more(week: tuple[WeekSession, ...], steps: int) -> tuple[WeekSession, ...] | None:
    """The week with so many half hours more, one after the other at the ends of its sessions.

    None where its days have no room for them.
    """
    left = steps
    while left:
        took = False
        for place in range(len(week)):
            longer = with_minutes(week, place, STEP_MINUTES) if left else None
            if longer is not None:
                week = (*week[:place], longer, *week[place + 1 :])
                left, took = left - 1, True
        if not took:
            return None
    return week


def _most_steps(week: tuple[WeekSession, ...]) -> int:
    """As many half hours as are tried at most and as the week has room for."""
    low, high = 0, math.ceil(MOST_HOURS * 60 / STEP_MINUTES)
    while low < high:
        middle = (low + high + 1) // 2
        if with_more(week, middle) is None:
            high = middle - 1
        else:
            low = middle
    return low
