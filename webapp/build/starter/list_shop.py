"""The shop of a starter list of one's own: its week, and work that has to fit into a session."""

from collections.abc import Iterable
from dataclasses import replace

from webapp.build.build_input import BuildInput, Task
from webapp.build.shop import Shop, WeekSession
from webapp.build.three_point import ThreePoint
from webapp.build.time.session_lengths import longest_session_minutes
from webapp.build.time.shop_weeks import shop_week_on

HOUR_MINUTES = 60


def listed_shop(build: BuildInput, tasks: Iterable[Task]) -> Shop:
    """Who works there, what can be got out, and the shop week that holds now: no days.

    Where the helper is needed and came on single days alone, the longest session of the week is
    taken to be with the helper.
    """
    week = shop_week_on(build.shop, build.now.date())
    if any(task.helper for task in tasks) and not any(one.hours.helper for one in week):
        week = _with_helper(week)
    return Shop(
        people=build.shop.people,
        week=week,
        setups=build.shop.setups,
        stations=build.shop.stations,
    )


def _with_helper(week: tuple[WeekSession, ...]) -> tuple[WeekSession, ...]:
    longest = max(week, key=_minutes, default=None)
    return tuple(
        replace(one, hours=replace(one.hours, helper=True)) if one is longest else one
        for one in week
    )


def _minutes(session: WeekSession) -> int:
    return session.hours.closes_minute - session.hours.opens_minute


def fitted(made: BuildInput) -> BuildInput:
    """The list with work in one go, or with the helper, cut to what its longest session holds.

    It took longer where it was split after all, or done on a day with longer hours.
    """
    longest = {
        helper: longest_session_minutes(made.shop, made.now, helper=helper) / HOUR_MINUTES
        for helper in (False, True)
    }

    def cut(task: Task) -> Task:
        if task.outside_days is not None or not (task.in_one_go or task.helper):
            return task
        room = longest[task.helper]
        if not room or task.hours.expected <= room:
            return task
        return replace(task, hours=_times(task.hours, room / task.hours.expected))

    return replace(made, tasks=tuple(cut(task) for task in made.tasks))


def _times(hours: ThreePoint, share: float) -> ThreePoint:
    return ThreePoint(
        optimistic=hours.optimistic * share,
        most_likely=hours.most_likely * share,
        pessimistic=hours.pessimistic * share,
    )
