"""What work took as the estimate of the same work next time, with the range it really has.

One task says what it took once. Next time it may take less or more, and how far hours of its kind
fall round their middle is what is known of that:

1. eight finished tasks of the kind (the setup, or none) or more: the 5th and the 95th percentile
   of actual over likely hours, each over the median (`assumed_range`);
2. else, where somebody typed the range of this task: that range, over its likely hours;
3. else 0.75 and 2 times (common practice, no source).

The three points lie in these proportions, and their mean (o + 4 m + p) / 6 is the hours taken: so
all estimates together are as long as all the work was, and no date is drawn later or earlier by
the range. Common practice, no source; a mean that is kept is what makes a sum come out.
"""

import datetime as dt
from dataclasses import dataclass

from webapp.build.assumed_range import RangeShares
from webapp.build.build_input import Task
from webapp.build.limits import MOST_HOURS
from webapp.build.moments import date_of
from webapp.build.three_point import ThreePoint
from webapp.build.time_units import DAY

DIGITS = 2
"""Hours of a list are held to a hundredth, which is less than a minute."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenHours:
    """An estimate; `spread_assumed` where nobody typed its range."""

    hours: ThreePoint
    spread_assumed: bool


def taken_hours(task: Task, taken: float, shares: RangeShares) -> TakenHours:
    """The estimate for next time of a task that took so many hours, above 0.

    `shares` is how far hours of its kind run, by the record or assumed.
    """
    said = task.hours
    is_typed = not task.spread_assumed and said.optimistic < said.pessimistic
    by_own_range = is_typed and said.most_likely > 0 and not shares.tasks
    low, high = shares.low, shares.high
    if by_own_range:
        low, high = said.optimistic / said.most_likely, said.pessimistic / said.most_likely
    likely = min(taken * 6 / (low + 4 + high), MOST_HOURS)
    return TakenHours(
        hours=ThreePoint(
            optimistic=round(likely * low, DIGITS),
            most_likely=round(likely, DIGITS),
            pessimistic=round(min(likely * high, MOST_HOURS), DIGITS),
        ),
        spread_assumed=not by_own_range,
    )


def days_taken(task: Task) -> float | None:
    """The days that outside work was away, to a tenth and at least one; None where not known.

    Of bare dates the days between them.
    """
    begun, finished = task.begun_on, task.finished_on
    if begun is None or finished is None:
        return None
    if isinstance(begun, dt.datetime) and isinstance(finished, dt.datetime):
        away = (finished - begun) / DAY
    else:
        away = float((date_of(finished) - date_of(begun)).days)
    return round(max(away, 1.0), 1)
