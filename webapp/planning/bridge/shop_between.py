"""The shop between two builds: what was promised, and what was lived."""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import replace

from webapp.build.build_input import BuildInput
from webapp.build.shop import DayException, DayHours, Shop
from webapp.build.time.promised_days import minute_of_day
from webapp.build.time.shop_calendar import sessions_on
from webapp.build.time.shop_weeks import spans_after
from webapp.build.time_units import DAY
from webapp.planning.bridge.replay_changes import Change, Changes


class ShopBetween:
    """The shop of any replay between two builds (see `replay`)."""

    def __init__(
        self,
        earlier: BuildInput,
        later: BuildInput,
        lived: Mapping[dt.date, tuple[DayHours, ...]],
    ) -> None:
        self._earlier, self._later = earlier, later
        self._lived = {d: DayException(date=d, sessions=hours) for d, hours in lived.items()}

    def changes(self) -> Iterable[Change]:
        """What of the shop differs between the two builds."""
        old_setups = {setup.key: setup.hours for setup in self._earlier.shop.setups}
        for setup in self._later.shop.setups:
            if old_setups.get(setup.key, setup.hours) != setup.hours:
                yield "setup", setup.key
        for day, lived in self._lived.items():
            if _stretches(lived.sessions) != _stretches(self.promised(day)):
                yield "day", day.isoformat()
        if self._ahead(self._earlier) != self._ahead(self._later):
            yield "shop", ""

    def hours_lost(self, date: str) -> float:
        """Hours promised on a date (YYYY-MM-DD) and not worked; below zero: more was worked."""
        day = dt.date.fromisoformat(date)
        promised = sum(s.closes_minute - s.opens_minute for s in self.promised(day))
        lived = sum(s.closes_minute - s.opens_minute for s in self._lived[day].sessions)
        return (promised - lived) / 60

    def promised(self, day: dt.date) -> tuple[DayHours, ...]:
        """What the earlier build promised on a date, from its `now` on."""
        first = minute_of_day(self._earlier.now, day)
        return tuple(
            replace(s, opens_minute=max(s.opens_minute, first))
            for s in sessions_on(self._earlier, day)
            if s.closes_minute > first
        )

    def _ahead(self, build: BuildInput) -> tuple[object, ...]:
        """All of a shop that counts for work from the later `now` on, and when it first opens."""
        shop = build.shop
        last = max(self._lived, default=self._later.now.date() - DAY)
        days = sorted((d for d in shop.days if d.date > last), key=lambda d: d.date)
        weeks = spans_after(shop, last)
        return weeks, tuple(days), shop.people, shop.stations, build.starts_on

    def shop(self, on: Changes) -> Shop:
        """The replay's shop. Setups and stations that only the later build knows are there."""
        as_later = ("shop", "") in on
        shop = self._later.shop if as_later else self._earlier.shop
        days = {day.date: day for day in reversed(shop.days)}
        for day, lived in self._lived.items():
            if ("day", day.isoformat()) in on:
                days[day] = lived
            elif as_later:
                days[day] = DayException(date=day, sessions=sessions_on(self._earlier, day))
        shop = replace(shop, days=tuple(days.values()))
        later = {setup.key: setup for setup in self._later.shop.setups}
        setups = {
            s.key: later[s.key] if ("setup", s.key) in on else s for s in self._earlier.shop.setups
        }
        stations = {
            s.key: s
            for s in (*self._later.shop.stations, *self._earlier.shop.stations, *shop.stations)
        }
        setups |= {key: setup for key, setup in later.items() if key not in setups}
        return replace(
            shop,
            setups=tuple(setups.values()),
            stations=tuple(stations.values()),
            setups_out=self._earlier.shop.setups_out,
        )


def _stretches(sessions: Iterable[DayHours]) -> list[list[int | bool]]:
    """Sessions of one date as stretches, touching ones joined where the helper is the same."""
    joined: list[list[int | bool]] = []
    for session in sorted(sessions, key=lambda s: s.opens_minute):
        if joined and joined[-1][1:] == [session.opens_minute, session.helper]:
            joined[-1][1] = session.closes_minute
        else:
            joined.append([session.opens_minute, session.closes_minute, session.helper])
    return joined
