"""Shop hours <-> wall clock, on whole arrays.

Two clocks, both in whole seconds from the build's `now` (0): *wall* seconds run always, *shop*
seconds only while the shop is open. A start maps to the next moment the shop is open, an end to
the closing moment. Sessions that touch (24:00 and 00:00, or where the helper comes in) count as
one.
"""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from webapp.build.build_input import BuildInput
from webapp.build.moments import moment_at_start
from webapp.build.shop import DayHours, Shop
from webapp.build.time.given_away import falls_on, own_hours, takes
from webapp.build.time.shop_weeks import last_change, lasting_week, week_on, week_spans
from webapp.build.time_units import DAY_MINUTES, DAY_SECONDS, seconds_of

Seconds = NDArray[np.int64]
Flags = NDArray[np.bool_]

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
    _to_shop: "_ToShop" = field(repr=False)
    _to_wall: Seconds = field(init=False, repr=False)

    def __post_init__(self) -> None:
        ahead = np.append(self.opens - self.shop_at_open, NEVER)
        object.__setattr__(self, "_to_wall", ahead)

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
        return _laid_out(shop, now, starts_on, first, weeks)

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
    def of(cls, opens: Seconds, closes: Seconds, at_open: Seconds, at_close: Seconds) -> "_ToShop":
        beyond = int(closes[-1]) + 1 if len(closes) else 1
        return cls(
            froms=np.append(opens, beyond),
            less=np.concatenate([[NEVER], at_open - opens, [NEVER]]),
            most=np.concatenate([[0], at_close, [NEVER]]),
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


@lru_cache(maxsize=32)
def _laid_out(
    shop: Shop, now: dt.datetime, starts_on: dt.date | None, first: dt.datetime, weeks: int
) -> ShopCalendar:
    """The calendar of so many weeks; kept, for the same build is planned over and over."""
    opens, closes, helped = _sessions(shop, now, weeks)
    cut = round((first - now).total_seconds())
    helper_opens, helper_closes = _merged(opens[helped], closes[helped], cut)
    opens, closes = _merged(opens, closes, cut)
    at_close = np.cumsum(closes - opens, dtype=np.int64)
    at_open = at_close - (closes - opens)
    to_shop = _ToShop.of(opens, closes, at_open, at_close)
    calendar = ShopCalendar(
        now=now,
        starts_on=starts_on,
        opens=opens,
        closes=closes,
        shop_at_open=at_open,
        shop_at_close=at_close,
        helper_from=to_shop(helper_opens),
        helper_to=to_shop(helper_closes),
        _to_shop=to_shop,
    )
    for column in (opens, closes, at_open, at_close, calendar.helper_from, calendar.helper_to):
        column.flags.writeable = False  # they are shared
    return calendar


def _sessions(shop: Shop, now: dt.datetime, weeks: int) -> tuple[Seconds, Seconds, Flags]:
    """Every session of today and so many weeks, in no order: wall seconds from `now` of opening
    and closing, and whether the helper is there."""
    today = now.date().toordinal()
    pieces: list[Seconds] = []
    for span in week_spans(shop):
        begins, ends = span.first_day - today, span.last_day - today
        week_starts = np.arange(max(0, begins // 7), min(weeks, ends // 7) + 1, dtype=np.int64) * 7
        of_week = _rows(((s.weekday - now.weekday()) % 7, s.hours) for s in span.week)
        rows = np.tile(of_week, (len(week_starts), 1))
        rows[:, 0] += np.repeat(week_starts, len(of_week))
        pieces.append(rows[(rows[:, 0] >= begins) & (rows[:, 0] <= ends)])
    weekly = np.concatenate(pieces)
    replaced = {day.date.toordinal() - today: day.sessions for day in shop.days}
    if replaced:
        weekly = weekly[~np.isin(weekly[:, 0], list(replaced))]
    special = _rows((day, hours) for day, sessions in replaced.items() for hours in sessions)
    days, opens, closes, helped = np.concatenate([weekly, special]).T
    since_midnight = round((now - moment_at_start(now.date())).total_seconds())
    midnights = days * DAY_SECONDS - since_midnight
    return midnights + opens * 60, midnights + closes * 60, helped > 0


def _rows(sessions: Iterable[tuple[int, DayHours]]) -> Seconds:
    """Sessions as rows of day, opening and closing minute, and 1 where the helper is there."""
    rows = [(day, h.opens_minute, h.closes_minute, h.helper) for day, h in sessions]
    return np.array(rows, dtype=np.int64).reshape(-1, 4)


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
