"""Shop hours <-> wall clock, on whole arrays.

Two clocks, both in whole seconds from the build's `now` (0): *wall* seconds run always, *shop*
seconds only while the shop is open. A start maps to the next moment the shop is open, an end to
the closing moment. Sessions that touch (24:00 and 00:00, or where the helper comes in) count as
one.
"""

import datetime as dt
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike, NDArray

from webapp.build.build_input import BuildInput
from webapp.build.moments import moment_at_start
from webapp.build.shop import DayHours, Shop
from webapp.build.time.given_away import falls_on, own_hours, takes
from webapp.build.time.shop_weeks import last_change, lasting_week, week_on, week_spans
from webapp.build.time_units import DAY_MINUTES, DAY_SECONDS, seconds_of

Seconds = NDArray[np.int64]

NEVER = 1 << 40
"""Seconds of a moment that does not come: later than any calendar, small enough to add to."""
FARTHEST_WEEKS = 300 * 52
"""No calendar is laid out farther: work that is not done by then has no date."""


def sessions_on(build: BuildInput, day: dt.date) -> tuple[DayHours, ...]:
    """The sessions of one date, earliest first; none before the build starts."""
    if build.starts_on is not None and day < build.starts_on:
        return ()
    return _sessions_of_shop(build.shop, day)


def _sessions_of_shop(shop: Shop, day: dt.date) -> tuple[DayHours, ...]:
    """The sessions of one date, a day exception in place of the weekly ones, earliest first."""
    gone = [one for one in shop.given if falls_on(one, day) and not one.after_first_start]
    of_day = (hours for hours in _entered(shop, day) if not any(takes(one, hours) for one in gone))
    return tuple(sorted(of_day, key=lambda hours: hours.opens_minute))


def _entered(shop: Shop, day: dt.date) -> tuple[DayHours, ...]:
    """The same as they were entered, those that belong to another build among them."""
    for exception in shop.days:
        if exception.date == day:
            return exception.sessions
    return tuple(s.hours for s in week_on(shop, day) if s.weekday == day.weekday())


def entered_sessions_on(build: BuildInput, day: dt.date) -> tuple[DayHours, ...]:
    """The sessions of one date whichever build of the shop they belong to, earliest first."""
    if build.starts_on is not None and day < build.starts_on:
        return ()
    return tuple(sorted(_entered(build.shop, day), key=lambda hours: hours.opens_minute))


def last_closing(shop: Shop, day: dt.date) -> dt.datetime:
    """That day's last closing; the end of the day where the shop was closed all day."""
    closings = [hours.closes_minute for hours in _sessions_of_shop(shop, day)]
    minutes = max(closings, default=DAY_MINUTES)
    return dt.datetime.combine(day, dt.time()) + dt.timedelta(minutes=minutes)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ShopCalendar:
    """Open stretches from `now` on, none before `starts_on`, as sorted arrays of seconds.

    opens, closes : wall seconds of each merged session, the first one cut at `now`
    shop_at_open, shop_at_close : shop seconds gone by at those moments
    helper_from, helper_to : shop seconds of each stretch with the helper there
    """

    now: dt.datetime
    starts_on: dt.date | None
    opens: Seconds
    closes: Seconds
    shop_at_open: Seconds
    shop_at_close: Seconds
    helper_from: Seconds
    helper_to: Seconds
    _to_wall: Seconds = field(init=False, repr=False)
    _to_shop: "_ToShop" = field(init=False, repr=False)

    def __post_init__(self) -> None:
        ahead = np.append(self.opens - self.shop_at_open, NEVER)
        object.__setattr__(self, "_to_wall", ahead)
        object.__setattr__(self, "_to_shop", _ToShop.of(self))

    @classmethod
    def of(
        cls,
        shop: Shop,
        now: dt.datetime,
        *,
        starts_on: dt.date | None,
        shop_hours: float,
        until: dt.datetime,
    ) -> "ShopCalendar":
        """Lay the calendar out from `now`, at least to `until` and for `shop_hours` open hours.

        Sessions that are given away to another build are none. Before `starts_on` the shop is not
        open at all. Stops after 300 years, or after the last
        day of other hours where the lasting week has none. Of a build: `calendar_of`.
        """
        shop = own_hours(shop)
        first = now if starts_on is None else max(now, moment_at_start(starts_on))
        week = lasting_week(shop)
        weekly = sum(s.hours.closes_minute - s.hours.opens_minute for s in week) * 60
        changes = [*(day.date for day in shop.days), last_change(shop) or first]
        reach = max([until, first, *map(moment_at_start, changes)])
        weeks = (reach - now) // dt.timedelta(weeks=1) + 2
        if weekly > 0:
            weeks += seconds_of(shop_hours) // weekly + 2
        weeks = min(int(weeks), FARTHEST_WEEKS)
        opens, closes = _stretches(shop, now, first, weeks, helper_only=False)
        helper_opens, helper_closes = _stretches(shop, now, first, weeks, helper_only=True)
        at_close = np.cumsum(closes - opens, dtype=np.int64)
        at_open = at_close - (closes - opens)
        bare = cls(
            now=now,
            starts_on=starts_on,
            opens=opens,
            closes=closes,
            shop_at_open=at_open,
            shop_at_close=at_close,
            helper_from=helper_opens,
            helper_to=helper_closes,
        )
        return cls(
            now=now,
            starts_on=starts_on,
            opens=opens,
            closes=closes,
            shop_at_open=at_open,
            shop_at_close=at_close,
            helper_from=bare.shop_of(helper_opens),
            helper_to=bare.shop_of(helper_closes),
        )

    def drawn_out(self, shop: Shop, *, until: dt.datetime) -> "ShopCalendar":
        """The calendar of the same shop, with as much after `until` as this one has in all."""
        if not len(self.closes):
            return self
        hours = int(self.shop_at_close[-1]) / 3600
        beyond = until + (self.moment(int(self.closes[-1])) - self.now)
        return ShopCalendar.of(
            shop, self.now, starts_on=self.starts_on, shop_hours=hours, until=beyond
        )

    def shop_of(self, wall: ArrayLike) -> Seconds:
        """Shop seconds gone by at each wall second; beyond the calendar, `NEVER`."""
        return self._to_shop(np.asarray(wall, dtype=np.int64))

    def start_wall(self, shop: ArrayLike) -> Seconds:
        """The wall second at which work begins that may begin at each shop second."""
        moments = np.asarray(shop, dtype=np.int64)
        at = self.shop_at_close.searchsorted(moments, side="right")
        wall: Seconds = np.minimum(moments + self._to_wall[at], NEVER)
        return wall

    def end_wall(self, shop: ArrayLike) -> Seconds:
        """The wall second at which work ends that ends at each shop second (0: `now`)."""
        moments = np.asarray(shop, dtype=np.int64)
        at = self.shop_at_close.searchsorted(moments, side="left")
        wall: Seconds = np.minimum(moments + self._to_wall[at], NEVER) * (moments > 0)
        return wall

    def moment(self, wall: int) -> dt.datetime:
        """The naive local moment of a wall second."""
        return self.now + dt.timedelta(seconds=int(wall))

    def minute(self, wall: int) -> dt.datetime:
        """The moment of a wall second as the shop clock shows it, to the minute."""
        return self.moment(wall).replace(second=0, microsecond=0)

    def wall_of(self, moment: dt.datetime) -> int:
        """Whole wall seconds from `now` to a moment; negative before it."""
        return round((moment - self.now).total_seconds())


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _ToShop:
    """What leads from wall seconds to shop seconds: of k sessions k + 2 places between them.

    At a place a wall second and `less` are shop seconds, at most `most`: nothing before the first
    opening, `NEVER` from `froms[-1]` on, which lies beyond the last closing.
    """

    froms: Seconds
    less: Seconds
    most: Seconds

    @classmethod
    def of(cls, calendar: ShopCalendar) -> "_ToShop":
        beyond = int(calendar.closes[-1]) + 1 if len(calendar.closes) else 1
        return cls(
            froms=np.append(calendar.opens, beyond),
            less=np.concatenate([[NEVER], calendar.shop_at_open - calendar.opens, [NEVER]]),
            most=np.concatenate([[0], calendar.shop_at_close, [NEVER]]),
        )

    def __call__(self, wall: Seconds) -> Seconds:
        at = self.froms.searchsorted(wall, side="right")
        gone: Seconds = np.minimum(wall + self.less[at], self.most[at])
        return gone


def calendar_of(
    build: BuildInput,
    *,
    shop_hours: float,
    until: dt.datetime,
    since: dt.datetime | None = None,
) -> ShopCalendar:
    """The calendar of a build from its `now` on, or from `since`: none of its hours lies before
    the day it starts on. The one way from a build to its hours."""
    now = build.now if since is None else since
    return ShopCalendar.of(
        build.shop, now, starts_on=build.starts_on, shop_hours=shop_hours, until=until
    )


def _stretches(
    shop: Shop, now: dt.datetime, first: dt.datetime, weeks: int, *, helper_only: bool
) -> tuple[Seconds, Seconds]:
    """Wall seconds from `now` of opening and closing of every merged stretch from `first` on."""
    midnight = dt.datetime.combine(now.date(), dt.time())
    replaced = {(day.date - now.date()).days: day.sessions for day in shop.days}
    week_starts = np.arange(weeks + 1, dtype=np.int64) * 7
    days_of: list[Seconds] = []
    minutes_of: list[tuple[int, int]] = []
    closed_days = np.array(sorted(replaced), dtype=np.int64)
    today = now.date().toordinal()
    for span in week_spans(shop):
        for session in span.week:
            if helper_only and not session.hours.helper:
                continue
            days = week_starts + (session.weekday - now.weekday()) % 7
            within = slice(*days.searchsorted([span.first_day - today, span.last_day - today + 1]))
            days = days[within]
            days_of.append(days[~np.isin(days, closed_days)])
            minutes_of.append((session.hours.opens_minute, session.hours.closes_minute))
    for day, sessions in replaced.items():
        for hours in sessions:
            if helper_only and not hours.helper:
                continue
            days_of.append(np.array([day], dtype=np.int64))
            minutes_of.append((hours.opens_minute, hours.closes_minute))
    if not days_of:
        return np.empty(0, dtype=np.int64), np.empty(0, dtype=np.int64)
    since_midnight = round((now - midnight).total_seconds())
    opens = np.concatenate(
        [d * DAY_SECONDS + m[0] * 60 for d, m in zip(days_of, minutes_of, strict=True)]
    )
    closes = np.concatenate(
        [d * DAY_SECONDS + m[1] * 60 for d, m in zip(days_of, minutes_of, strict=True)]
    )
    cut = round((first - now).total_seconds())
    return _merged(opens - since_midnight, closes - since_midnight, cut)


def _merged(opens: Seconds, closes: Seconds, cut: int) -> tuple[Seconds, Seconds]:
    """Stretches in order, touching ones joined, what lies before second `cut` cut off."""
    order = np.argsort(opens, kind="stable")
    opens, closes = np.maximum(opens[order], cut), closes[order]
    ahead = closes > cut
    opens, closes = opens[ahead], np.maximum.accumulate(closes[ahead])
    if not len(opens):
        return opens, closes
    begins_new = np.concatenate([[True], opens[1:] > closes[:-1]])
    firsts = np.flatnonzero(begins_new)
    lasts = np.concatenate([firsts[1:] - 1, [len(opens) - 1]])
    return opens[firsts], closes[lasts]
