"""The likely first start: where the plan at the person's own pace ends."""

import datetime as dt

from webapp.build.build_input import BuildInput
from webapp.build.time.shop_calendar import NEVER
from webapp.planning.chances.factors import Factors
from webapp.planning.chances.forecast import Forecast
from webapp.planning.chances.pace import PLAIN, pace_of, paced_seconds
from webapp.planning.order.order_that_holds import ranking_that_holds
from webapp.planning.simulator.simulate import first_starts
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import WorkArrays, for_first_start_only, lay_out

LIKELY = 0.5


def at_pace(build: BuildInput, factors: Factors, factor: float) -> WorkArrays:
    """The build laid out at the person's own pace."""
    return lay_out(build, work_seconds=paced_seconds(build, factors, factor))


def pace_by(
    build: BuildInput, forecast: Forecast, factors: Factors, *, last: float = PLAIN
) -> float:
    """The factor of the pace at which the plan ends on the likely day of a forecast."""
    return pace_of(build, factors, forecast.at(LIKELY).date(), last=last)


def likely_at(
    build: BuildInput, forecast: Forecast, factors: Factors, *, last: float = PLAIN
) -> dt.datetime:
    """First start as the plan at the person's pace has it: the one date that is shown."""
    factor = pace_by(build, forecast, factors, last=last)
    work = for_first_start_only(at_pace(build, factors, factor))
    variants = Variants(count=1, rankings=(ranking_that_holds(build, work),))
    end = int(first_starts(work, variants).wall[0]) if work.first_start >= 0 else NEVER
    return forecast.at(LIKELY) if end >= NEVER else work.calendar.minute(end)
