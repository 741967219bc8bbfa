"""How much can still be added before first start without passing the wanted-by date."""

import datetime as dt
import math

from webapp.build.build_input import BuildInput
from webapp.build.time.shop_calendar import calendar_of
from webapp.planning.chances.factors import NO_RECORD, Factors
from webapp.planning.chances.forecast import Forecast


def headroom_hours(
    build: BuildInput, forecast: Forecast, factors: Factors = NO_RECORD
) -> float | None:
    """Shop hours left at the build's confidence; negative when the date is already passed.

    (Shop hours until the end of the wanted-by date) less (shop hours first start needs at that
    confidence), times attendance. None without a wanted-by date.
    """
    if build.wanted_by is None:
        return None
    spare = hours_until_wanted(build, build.wanted_by) - forecast.shop_hours(build.confidence)
    return spare * factors.attendance.mean


def hours_until_wanted(build: BuildInput, wanted_by: dt.date) -> float:
    """Open shop hours from now to the end of a date; negative hours are not counted."""
    until = dt.datetime.combine(wanted_by, dt.time()) + dt.timedelta(days=1)
    calendar = calendar_of(build, shop_hours=0, until=until)
    return float(calendar.shop_of(max(calendar.wall_of(until), 0))) / 3600


def headroom_hours_a_day(
    build: BuildInput, wanted_by: dt.date, factors: Factors = NO_RECORD
) -> float:
    """Shop hours of headroom that a day is worth, the mean up to the end of the wanted-by date."""
    days = (wanted_by - build.now.date()).days + 1
    return hours_until_wanted(build, wanted_by) / max(1, days) * factors.attendance.mean


def proposed_date(build: BuildInput, forecast: Forecast) -> dt.date:
    """A wanted-by date to offer: the Saturday after the firm date with a tenth to spare."""
    firm = forecast.at(build.confidence)
    spare = math.ceil((firm - build.now).days / 10)
    day = firm.date() + dt.timedelta(days=spare)
    return day + dt.timedelta(days=(5 - day.weekday()) % 7)
