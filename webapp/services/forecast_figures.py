"""A forecast with the figures that every page reads from it."""

import datetime as dt
from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.planning.chances.factors import Factors
from webapp.planning.chances.forecast import Forecast, forecast_of
from webapp.planning.chances.headroom import headroom_hours, hours_until_wanted
from webapp.planning.chances.likely_day import likely_at, pace_by
from webapp.planning.chances.luck import Luck
from webapp.planning.chances.pace import PLAIN, Pace
from webapp.planning.record.calibration import factors_of


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ForecastFigures:
    """A forecast and what is read from it.

    `factors` are those it was drawn with; `factor` is the last one of the pace, at which the plan
    ends on its likely day; `headroom_hours` is None where no date is wanted, as is `open_hours`,
    the shop hours until the end of that date.
    """

    forecast: Forecast
    factors: Factors
    factor: float
    headroom_hours: float | None
    open_hours: float | None


def forecast_figures(
    build: BuildInput,
    *,
    factors: Factors | None = None,
    last: float = PLAIN,
    luck: Luck | None = None,
) -> ForecastFigures | None:
    """Forecast a faultless build from its record, as far as that counts in it.

    In the order that holds. `factors` are those of the record where they are at hand, `last` is
    the factor of the pace of before, `luck` what was drawn of the usual one.
    """
    factors = factors or record_factors(build)
    forecast = forecast_of(build, luck, factors=factors)
    if forecast is None:
        return None
    return ForecastFigures(
        forecast=forecast,
        factors=factors,
        factor=pace_by(build, forecast, factors, last=last),
        headroom_hours=headroom_hours(build, forecast, factors),
        open_hours=hours_until_wanted(build, build.wanted_by) if build.wanted_by else None,
    )


def pace_shown(build: BuildInput, *, last: float = PLAIN) -> Pace:
    """The pace at which a faultless build's date is shown; its record alone where it has none."""
    figures = forecast_figures(build, last=last)
    if figures is None:
        return Pace(factors=record_factors(build))
    return Pace(factors=figures.factors, factor=figures.factor)


def record_factors(build: BuildInput) -> Factors:
    """What the record says of estimates and attendance, as far as it counts in this build."""
    return factors_of(build, calibrated=build.calibrated, attended=build.attended)


def likely_by_record(build: BuildInput, *, last: float) -> dt.datetime | None:
    """The likely day of a faultless build by its record, as a page shows it."""
    factors = record_factors(build)
    forecast = forecast_of(build, factors=factors)
    return None if forecast is None else likely_at(build, forecast, factors, last=last)
