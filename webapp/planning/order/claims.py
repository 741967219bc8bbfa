"""The sessions that a build claims where builds go in an order: those its plan has work in.

Until its first start: what is begun by then counts to its end, work that first start does not need
among it. Work without hands counts too, for it runs while somebody is there; outside work does not.
"""

import datetime as dt
from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.build.time.shop_calendar import calendar_of, sessions_on
from webapp.build.time.stretches import joined
from webapp.build.time_units import DAY, seconds_of
from webapp.planning.order.plan import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Claim:
    """A session of a date, from minute to minute after midnight."""

    date: dt.date
    opens_minute: int
    closes_minute: int


def claims_of(build: BuildInput, plan: Plan, *, of_later_work: bool = False) -> tuple[Claim, ...]:
    """The sessions from `now` on in which the plan has work, up to first start.

    `build` is what the plan was made of; with `of_later_work` all of them.
    """
    first = find_by_key(build.tasks, build.first_start) if build.first_start else None
    is_over = first is not None and first.finished_on is not None
    if is_over and not of_later_work:
        return ()
    until = None if of_later_work else plan.first_start_shop_hours
    outside = {task.key for task in build.tasks if task.outside_days is not None}
    at_work = [
        (seconds_of(task.begin_shop_hours), seconds_of(task.end_shop_hours), task.ends)
        for task in plan.tasks
        if task.key not in outside
        and task.end_shop_hours > task.begin_shop_hours
        and (until is None or task.begin_shop_hours < until)
    ]
    if not at_work:
        return ()
    last = max(ends for _, _, ends in at_work).date()
    busy = joined([(begin, end) for begin, end, _ in at_work])
    days = (build.now.date() + DAY * i for i in range((last - build.now.date()).days + 1))
    sessions = [(day, hours) for day in days for hours in sessions_on(build, day)]
    calendar = calendar_of(
        build,
        shop_hours=max(end for _, end, _ in at_work) / 3600,
        until=dt.datetime.combine(last, dt.time()) + 2 * DAY,
    )
    bounds = [
        calendar.wall_of(dt.datetime.combine(day, dt.time()) + dt.timedelta(minutes=minute))
        for day, hours in sessions
        for minute in (hours.opens_minute, hours.closes_minute)
    ]
    seconds: list[int] = calendar.shop_of(bounds).tolist() if bounds else []
    return tuple(
        Claim(date=day, opens_minute=hours.opens_minute, closes_minute=hours.closes_minute)
        for (day, hours), opens, closes in zip(sessions, seconds[::2], seconds[1::2], strict=True)
        if any(begin < closes and opens < end for begin, end in busy)
    )
