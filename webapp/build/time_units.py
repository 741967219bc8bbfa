"""Units of time, and the tick of the planner."""

import datetime as dt

DAY = dt.timedelta(days=1)
DAY_MINUTES = 24 * 60
DAY_SECONDS = DAY_MINUTES * 60
WEEK_SECONDS = 7 * DAY_SECONDS


def seconds_of(hours: float) -> int:
    """Whole seconds of `hours`: the tick of the planner (a minute and finer estimates fit)."""
    return round(hours * 3600)
