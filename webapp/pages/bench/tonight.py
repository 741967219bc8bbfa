"""The session that runs, or the next one that comes."""

import datetime as dt
from collections.abc import Collection, Mapping
from dataclasses import dataclass

from webapp.build.build_input import BuildInput, Task
from webapp.build.time.shop_calendar import sessions_on
from webapp.build.verbs.work import needs_hands
from webapp.pages.words import amounts as words
from webapp.planning.order.plan import Plan, PlannedTask

LOOK_AHEAD_DAYS = 120
EVENING_FROM_HOUR = 16


@dataclass(frozen=True, slots=True, kw_only=True)
class ShopSession:
    """One stretch of open hours; sessions of a day that touch count as one."""

    opens: dt.datetime
    closes: dt.datetime

    def title(self, now: dt.datetime) -> str:
        """ "Tonight, until 21:30", "Sat 14 Feb, 9:00 to 17:00"."""
        day = words.day(self.opens, today=now.date())
        if self.opens.date() == now.date():
            day = "Tonight" if self.opens.hour >= EVENING_FROM_HOUR else "Today"
        closes = words.time(self.closes) if self.closes.date() == self.opens.date() else "24:00"
        if self.opens <= now:
            return f"{day}, until {closes}"
        return f"{day}, {words.time(self.opens)} to {closes}"


def current_or_next_session(build: BuildInput, now: dt.datetime) -> ShopSession | None:
    """The session that is open at `now`, else the next; None when none comes for months."""
    first = now.date() if build.starts_on is None else max(now.date(), build.starts_on)
    for days in range(LOOK_AHEAD_DAYS):
        day = first + dt.timedelta(days=days)
        midnight = dt.datetime.combine(day, dt.time())
        for opens_minute, closes_minute in _merged(build, day):
            closes = midnight + dt.timedelta(minutes=closes_minute)
            if closes > now:
                opens = midnight + dt.timedelta(minutes=opens_minute)
                return ShopSession(opens=opens, closes=closes)
    return None


def of_session(
    plan: Plan, session: ShopSession, tasks: Mapping[str, Task], passed: Collection[str]
) -> tuple[PlannedTask, ...]:
    """What the job order puts into a session for hands, but what is passed over for tonight.

    The Bench and the printed cards both ask here.
    """
    return tuple(
        planned
        for planned in plan.tasks
        if planned.begins < session.closes
        and planned.ends > session.opens
        and planned.begins != planned.ends
        and planned.key not in passed
        and needs_hands(tasks[planned.key])
    )


def _merged(build: BuildInput, day: dt.date) -> list[tuple[int, int]]:
    stretches: list[tuple[int, int]] = []
    for hours in sessions_on(build, day):
        if stretches and stretches[-1][1] == hours.opens_minute:
            stretches[-1] = (stretches[-1][0], hours.closes_minute)
        else:
            stretches.append((hours.opens_minute, hours.closes_minute))
    return stretches
