"""When first start is at a pace: the date that each end of the bridge was shown with."""

import datetime as dt

from webapp.build.build_input import BuildInput
from webapp.planning.chances.likely_day import at_pace
from webapp.planning.chances.pace import AS_ESTIMATED, Pace
from webapp.planning.order.first_start import first_start_at


def first_start_at_pace(build: BuildInput, pace: Pace = AS_ESTIMATED) -> dt.datetime | None:
    """When the plan laid out at a pace reaches first start; when it was, once it is finished.

    To the minute; None where it has no date.
    """
    return first_start_at(build, work=at_pace(build, pace.factors, pace.factor))
