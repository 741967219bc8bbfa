"""What a plan puts into each session of some days: the tasks at work in it, with their hours."""

import datetime as dt
from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.build.moments import moment_at_start
from webapp.build.shop import DayHours
from webapp.build.time.shop_calendar import calendar_of, sessions_on
from webapp.build.time_units import DAY, DAY_MINUTES, seconds_of
from webapp.planning.order.plan import Plan
from webapp.planning.order.week_hours import TaskShare


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionWork:
    """One stretch of open hours, in minutes after midnight, and the hours of hands planned in it.

    `helper` in all of it or in none of it.
    """

    date: dt.date
    opens_minute: int
    closes_minute: int
    helper: bool
    shares: tuple[TaskShare, ...]


def session_work(
    build: BuildInput, plan: Plan, first: dt.date, last: dt.date
) -> tuple[SessionWork, ...]:
    """Every session of the dates from one to another that is not over at `now`, with its work.

    The hours are overlapped in shop seconds, as in `week_hours`: what is planned in a week is the
    sum of what is planned in its sessions. A share has begun before where its task began in an
    earlier session.
    """
    days = (first + DAY * i for i in range((last - first).days + 1))
    sessions = [(day, hours) for day in days for hours in sessions_on(build, day)]
    sessions = [(day, hours) for day, hours in sessions if _closes(day, hours) > build.now]
    if not sessions:
        return ()
    calendar = calendar_of(
        build,
        shop_hours=max((task.end_shop_hours for task in plan.tasks), default=0.0),
        until=moment_at_start(last) + 2 * DAY,
    )
    bounds = [
        calendar.wall_of(moment_at_start(day) + dt.timedelta(minutes=minute))
        for day, hours in sessions
        for minute in (hours.opens_minute, hours.closes_minute)
    ]
    seconds: list[int] = calendar.shop_of(bounds).tolist()
    people = {
        task.key: task.people for task in build.tasks if task.people and task.outside_days is None
    }
    found = []
    for (day, hours), opens, closes in zip(sessions, seconds[::2], seconds[1::2], strict=True):
        shares = []
        for task in plan.tasks:
            begin, end = seconds_of(task.begin_shop_hours), seconds_of(task.end_shop_hours)
            inside = min(end, closes) - max(begin, opens)
            if inside > 0 and task.key in people:
                hands = inside * people[task.key] / 3600
                shares.append(TaskShare(key=task.key, hours=hands, begun_before=begin < opens))
        found.append(
            SessionWork(
                date=day,
                opens_minute=hours.opens_minute,
                closes_minute=hours.closes_minute,
                helper=hours.helper,
                shares=tuple(shares),
            )
        )
    return tuple(found)


def _closes(day: dt.date, hours: DayHours) -> dt.datetime:
    minutes = min(hours.closes_minute, DAY_MINUTES)
    return moment_at_start(day) + dt.timedelta(minutes=minutes)
