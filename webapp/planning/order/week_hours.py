"""The hours of hands that a plan puts into each week: those that fall into it, to the second.

A task that spans two weeks counts in each with its shop hours there, one that takes two people
counts for both. So no week has more than its promised hours times the people.
"""

import datetime as dt
from dataclasses import dataclass
from itertools import pairwise

from webapp.build.build_input import BuildInput
from webapp.build.time.shop_calendar import ShopCalendar, calendar_of
from webapp.build.time_units import seconds_of
from webapp.planning.order.plan import Plan, PlannedTask

WEEK = dt.timedelta(weeks=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskShare:
    """What one task takes of a week: hours of hands, getting its setup out among them."""

    key: str
    hours: float
    begun_before: bool
    """It began in an earlier week and goes on in this one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekHours:
    """The work of one ISO week (ISO 8601), by task in job order; it begins on `monday`."""

    monday: dt.date
    shares: tuple[TaskShare, ...]

    @property
    def hours(self) -> float:
        """Hours of hands in this week, each person's counted."""
        return sum(share.hours for share in self.shares)


def week_hours(build: BuildInput, plan: Plan) -> tuple[WeekHours, ...]:
    """The hours of hands of a plan by week, in order; weeks without any are left out.

    Outside work and what runs by itself take none. The helper's own hours are not counted.
    Shop seconds of a task's begin to end overlapped with those of each week: as the shop is
    closed between, that is the open time of the task in the week.
    """
    people = {
        task.key: task.people for task in build.tasks if task.people and task.outside_days is None
    }
    worked = [task for task in plan.tasks if task.key in people and _length(task)]
    if not worked:
        return ()
    mondays = _mondays(build.now.date(), max(task.ends for task in worked).date())
    bounds = _shop_seconds_at(mondays, _calendar(build, worked))
    shares: list[list[TaskShare]] = [[] for _ in mondays[1:]]
    week = 0
    for task in worked:
        begin, end = seconds_of(task.begin_shop_hours), seconds_of(task.end_shop_hours)
        while bounds[week + 1] <= begin and week + 2 < len(bounds):
            week += 1
        for at in range(week, len(shares)):
            if bounds[at] >= end:
                break
            inside = min(end, bounds[at + 1]) - max(begin, bounds[at])
            if inside > 0:
                share = TaskShare(
                    key=task.key,
                    hours=inside * people[task.key] / 3600,
                    begun_before=begin < bounds[at],
                )
                shares[at].append(share)
    return tuple(
        WeekHours(monday=monday, shares=tuple(own))
        for monday, own in zip(mondays[:-1], shares, strict=True)
        if own
    )


def _length(task: PlannedTask) -> int:
    return seconds_of(task.end_shop_hours) - seconds_of(task.begin_shop_hours)


def _mondays(first: dt.date, last: dt.date) -> list[dt.date]:
    """The Mondays from that of `first` to the one after `last`."""
    monday = first - dt.timedelta(days=first.weekday())
    weeks = (last - monday).days // 7 + 2
    return [monday + i * WEEK for i in range(weeks)]


def _calendar(build: BuildInput, worked: list[PlannedTask]) -> ShopCalendar:
    return calendar_of(
        build,
        shop_hours=max(task.end_shop_hours for task in worked),
        until=max(task.ends for task in worked) + 2 * WEEK,
    )


def _shop_seconds_at(mondays: list[dt.date], calendar: ShopCalendar) -> list[int]:
    """Shop seconds gone by at the midnight each of the days begins with."""
    walls = [calendar.wall_of(dt.datetime.combine(day, dt.time())) for day in mondays]
    seconds: list[int] = calendar.shop_of(walls).tolist()
    assert all(a <= b for a, b in pairwise(seconds))
    return seconds
