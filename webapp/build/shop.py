"""The shop: when it is open, for whom, and what stands in it."""

import datetime as dt
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Setup:
    """A tool or station got ready for a kind of work; `hours` to get it out."""

    key: str
    name: str
    hours: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """Something there is a countable number of."""

    key: str
    name: str
    count: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class DayHours:
    """One stretch of open hours within a day, in minutes after midnight (1440 is 24:00)."""

    opens_minute: int
    closes_minute: int
    helper: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekSession:
    """A stretch of open hours that comes back every week. `weekday` 0 is Monday."""

    weekday: int
    hours: DayHours


@dataclass(frozen=True, slots=True, kw_only=True)
class DayException:
    """Replaces the sessions of one date; no sessions means closed."""

    date: dt.date
    sessions: tuple[DayHours, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class LaterWeek:
    """The shop week from the day `from_on` on, in place of the one before it."""

    from_on: dt.date
    week: tuple[WeekSession, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class DayRange:
    """Replaces the shop week from `first_on` to `last_on`, both included; a day exception goes
    before it. No sessions: closed all the while. `name` is what it is called: "holidays".
    """

    first_on: dt.date
    last_on: dt.date
    name: str = ""
    week: tuple[WeekSession, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class GivenAway:
    """Sessions that belong to another build of the shop, whole: they are no hours of this one.

    Those that overlap the stretch on `first_on` and every seventh day after it up to `last_on`;
    None: for ever. `belongs_to` is the name of the other build. `after_first_start`: only what is
    done after first start gives way to it, for what first start needs the session is there.
    """

    first_on: dt.date
    last_on: dt.date | None
    opens_minute: int
    closes_minute: int
    belongs_to: str
    after_first_start: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """When the shop is open, who works in it, and what can be got out.

    `week` holds from the beginning until the first day of the first of `later_weeks`. Of all these
    hours those `given` away are not the build's own: see `own_hours`.
    `setups_out` are the keys of those that are out, the one last used last: as many as there are
    people at the most.
    """

    people: int = 1
    setups_out: tuple[str, ...] = ()
    week: tuple[WeekSession, ...] = ()
    days: tuple[DayException, ...] = ()
    later_weeks: tuple[LaterWeek, ...] = ()
    ranges: tuple[DayRange, ...] = ()
    given: tuple[GivenAway, ...] = ()
    setups: tuple[Setup, ...] = ()
    stations: tuple[Station, ...] = ()


SHOP_WITHOUT_HOURS = Shop()
