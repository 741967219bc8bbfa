"""The sessions of one shop that several builds have hours in: each belongs to one build, whole.

Sessions of builds that overlap in time are one shared session, and so are those of one build that
touch. What no other build has hours in is nobody else's. Builds are named as the caller names
them.
"""

import datetime as dt
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from webapp.build.build_input import BuildInput
from webapp.build.shop import DayHours, GivenAway
from webapp.build.time.given_away import WEEK, dates_of
from webapp.build.time.shop_calendar import entered_sessions_on

Stretch = tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedSession:
    """A stretch of a date, in minutes after midnight, and the builds that have hours in it."""

    date: dt.date
    opens_minute: int
    closes_minute: int
    builds: tuple[str, ...]

    @property
    def closes(self) -> dt.datetime:
        return _moment(self.date, self.closes_minute)

    @property
    def opens(self) -> dt.datetime:
        return _moment(self.date, self.opens_minute)

    def overlaps(self, opens_minute: int, closes_minute: int) -> bool:
        return opens_minute < self.closes_minute and self.opens_minute < closes_minute


OwnerOf = Callable[[SharedSession], str | None]
"""The build that a session belongs to; None: no build gives it away."""


def _moment(date: dt.date, minute: int) -> dt.datetime:
    return dt.datetime.combine(date, dt.time()) + dt.timedelta(minutes=minute)


def shared_sessions(date: dt.date, hours: Mapping[str, Iterable[DayHours]]) -> list[SharedSession]:
    """The sessions of a date of all builds, those that overlap joined, the earliest first."""
    stretches = sorted(
        (opens, closes, name)
        for name, sessions in hours.items()
        for opens, closes in _touching_joined(sessions)
    )
    found: list[SharedSession] = []
    for opens, closes, name in stretches:
        if found and opens < found[-1].closes_minute:
            last = found.pop()
            opens, closes = last.opens_minute, max(last.closes_minute, closes)
            builds = last.builds if name in last.builds else (*last.builds, name)
        else:
            builds = (name,)
        found.append(
            SharedSession(date=date, opens_minute=opens, closes_minute=closes, builds=builds)
        )
    return found


def shared_on(builds: Mapping[str, BuildInput], date: dt.date) -> list[SharedSession]:
    """The sessions of a date as all builds have entered them."""
    return shared_sessions(
        date, {name: entered_sessions_on(build, date) for name, build in builds.items()}
    )


def _touching_joined(sessions: Iterable[DayHours]) -> list[Stretch]:
    joined: list[Stretch] = []
    for one in sorted(sessions, key=lambda one: one.opens_minute):
        if joined and one.opens_minute <= joined[-1][1]:
            joined[-1] = joined[-1][0], max(joined[-1][1], one.closes_minute)
        else:
            joined.append((one.opens_minute, one.closes_minute))
    return joined


class GivenAwayByBuild:
    """What each build gives away, gathered session by session."""

    def __init__(self, names: Mapping[str, str]) -> None:
        self._names = names
        self._dates: dict[str, dict[tuple[int, Stretch, str, bool], set[dt.date]]] = defaultdict(
            lambda: defaultdict(set)
        )
        self._ever: dict[str, dict[tuple[int, Stretch, str, bool], dt.date]] = defaultdict(dict)

    def add(
        self,
        session: SharedSession,
        owner: str,
        *,
        for_ever: bool = False,
        givers: Iterable[str] | None = None,
        after_first_start: bool = False,
    ) -> None:
        """All builds of a session but its owner give it away; `for_ever` every week from then."""
        stretch = session.opens_minute, session.closes_minute
        key = session.date.weekday(), stretch, owner, after_first_start
        for name in session.builds if givers is None else givers:
            if name == owner:
                continue
            if for_ever:
                self._ever[name][key] = session.date
            else:
                self._dates[name][key].add(session.date)

    def add_given(self, name: str, given: GivenAway) -> None:
        """What a build gives away already."""
        stretch = given.opens_minute, given.closes_minute
        key = given.first_on.weekday(), stretch, given.belongs_to, given.after_first_start
        if given.last_on is not None:
            self._dates[name][key].update(dates_of(given))
            return
        first = self._ever[name].setdefault(key, given.first_on)
        self._ever[name][key] = min(first, given.first_on)

    def of(self, name: str) -> tuple[GivenAway, ...]:
        """What a build gives away, dates that are a week apart drawn together."""
        dates, ever = self._dates[name], self._ever[name]
        found = []
        for key in dict.fromkeys((*dates, *ever)):
            found += self._runs(key, sorted(dates.get(key, ())), ever.get(key))
        return tuple(
            sorted(
                found,
                key=lambda one: (
                    one.first_on,
                    one.opens_minute,
                    one.closes_minute,
                    one.belongs_to,
                    one.after_first_start,
                ),
            )
        )

    def _runs(
        self, key: tuple[int, Stretch, str, bool], dates: list[dt.date], ever: dt.date | None
    ) -> list[GivenAway]:
        runs: list[list[dt.date]] = []
        for date in dates:
            if runs and date == runs[-1][-1] + WEEK:
                runs[-1].append(date)
            else:
                runs.append([date])
        spans = [(run[0], run[-1]) for run in runs]
        if ever is not None:
            spans = [span for span in spans if span[0] < ever]
            ever = spans.pop()[0] if spans and spans[-1][1] >= ever - WEEK else ever
        ends: list[tuple[dt.date, dt.date | None]] = [*spans]
        if ever is not None:
            ends.append((ever, None))
        _, (opens, closes), owner, later = key
        return [
            GivenAway(
                first_on=first,
                last_on=last,
                opens_minute=opens,
                closes_minute=closes,
                belongs_to=self._names.get(owner, owner),
                after_first_start=later,
            )
            for first, last in ends
        ]


def drawn_together(given: Iterable[GivenAway]) -> tuple[GivenAway, ...]:
    """What is given away, each session once and dates that are a week apart drawn together.

    So whatever is given away is said in one way only, by a rule or as facts.
    """
    by_build = GivenAwayByBuild({})
    for one in given:
        by_build.add_given("", one)
    return by_build.of("")
