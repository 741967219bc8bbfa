"""Sessions by a share of every week: so many for one build, so many for another.

The sessions of a week that more than one build has hours in are dealt out in their order, each to
the build that is owed most by then: of shares 2 and 1 the first, second and third session go to
the first, the second and the first build. They are dealt as the weekly hours have them, so a
single date that is closed or moved does not turn the rest of the week round: a session that its
build is closed on is another's that is open. A week with a range of days in it is dealt by the
sessions that it has. The same week gives the same answer on any day.
"""

import datetime as dt
from collections.abc import Collection, Mapping, Sequence

from webapp.build.build_input import BuildInput
from webapp.build.shop import DayHours
from webapp.build.time.shared_sessions import SharedSession, shared_sessions
from webapp.build.time.shop_weeks import last_change, week_on
from webapp.build.time_units import DAY

DAYS_OF_A_WEEK = 7


def dealt(sessions: Sequence[Collection[str]], shares: Mapping[str, int]) -> list[str]:
    """Of sessions in turn, each with the builds that have hours in it, the build that has each."""
    got = dict.fromkeys(shares, 0)
    whole, found = sum(shares.values()), []
    for number, builds in enumerate(sessions, 1):

        def owed(name: str, number: int = number) -> float:
            return number * shares[name] / whole - got[name]

        # max takes the first of equals, in the order of the shares.
        to = max((name for name in shares if name in builds), key=lambda name: round(owed(name), 9))
        got[to] += 1
        found.append(to)
    return found


class WeekShares:
    """Who has which session of a date, by shares of the week. Builds by their slugs."""

    def __init__(self, builds: Mapping[str, BuildInput], shares: Mapping[str, int]) -> None:
        self._builds, self._shares = builds, shares
        self._weeks: dict[dt.date, list[tuple[SharedSession, str]]] = {}

    def owner(self, session: SharedSession) -> str | None:
        """The build that a session belongs to; None where one build alone has hours in it."""
        if len(session.builds) < 2:
            return None
        for weekly, owner in self._week(session.date - session.date.weekday() * DAY):
            is_it = weekly.date == session.date and session.overlaps(
                weekly.opens_minute, weekly.closes_minute
            )
            if is_it and owner in session.builds:
                return owner
        return next(slug for slug in self._shares if slug in session.builds)

    def of_week(self, monday: dt.date) -> list[tuple[SharedSession, str]]:
        """The sessions of a week as its weekly hours have them, with the build that has each."""
        return list(self._week(monday))

    def _week(self, monday: dt.date) -> list[tuple[SharedSession, str]]:
        if monday not in self._weeks:
            days = (monday + DAY * i for i in range(DAYS_OF_A_WEEK))
            sessions = [
                session
                for day in days
                for session in shared_sessions(day, self._weekly(day))
                if len(session.builds) > 1
            ]
            owners = dealt([session.builds for session in sessions], self._shares)
            self._weeks[monday] = list(zip(sessions, owners, strict=True))
        return self._weeks[monday]

    def _weekly(self, day: dt.date) -> dict[str, list[DayHours]]:
        """The weekly hours of a day of the builds that have begun by then."""
        return {
            slug: [s.hours for s in week_on(build.shop, day) if s.weekday == day.weekday()]
            for slug, build in self._builds.items()
            if build.starts_on is None or build.starts_on <= day
        }


def last_special_day(builds: Mapping[str, BuildInput], since: dt.date) -> dt.date:
    """From the Monday after this day on every week of all builds is like the one before."""
    days = [since]
    for build in builds.values():
        days += [day.date for day in build.shop.days]
        days += [day for day in (last_change(build.shop), build.starts_on) if day is not None]
    return max(days)
