"""The likely first start: where the plan at the person's own pace ends."""

import datetime as dt

from webapp.build.build_input import BuildInput
from webapp.planning.chances.factors import Factors
from webapp.planning.chances.forecast import Forecast
from webapp.planning.chances.pace import PLAIN, pace_of, paced_seconds
from webapp.planning.order.first_start import first_start_at
from webapp.planning.simulator.work_arrays import WorkArrays, lay_out

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
    at = first_start_at(build, work=at_pace(build, factors, factor))
    return forecast.at(LIKELY) if at is None else at
