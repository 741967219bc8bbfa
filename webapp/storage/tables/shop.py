"""The tables of the shop: its hours, what can be got out, what there is a countable number of."""

import datetime as dt
from operator import attrgetter
from typing import ClassVar

from sqlalchemy import ForeignKeyConstraint, Index, UniqueConstraint
from sqlmodel import Field

from webapp.build.shop import (
    DayException,
    DayHours,
    DayRange,
    GivenAway,
    LaterWeek,
    Setup,
    Station,
    WeekSession,
)
from webapp.storage.tables.column_types import StoredText
from webapp.storage.tables.noun import Columns, Fields, Noun, Owner
from webapp.storage.tables.row import OwnedRow, owned


class SetupRow(OwnedRow, table=True):
    """A setup and the hours to get it out."""

    __tablename__ = "setups"
    __table_args__ = owned("setups", UniqueConstraint("build_id", "key"))
    key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    hours: float


class StationRow(OwnedRow, table=True):
    """A station and how many of it there are."""

    __tablename__ = "stations"
    __table_args__ = owned("stations", UniqueConstraint("build_id", "key"))
    key: str = Field(sa_type=StoredText)
    name: str = Field(sa_type=StoredText)
    count: int


class WeekSessionRow(OwnedRow, table=True):
    """A stretch of open hours that comes back every week."""

    __tablename__ = "week_sessions"
    __table_args__ = owned("week_sessions")
    REPEATS: ClassVar[bool] = True
    IDENTITY: ClassVar[tuple[str, ...]] = ("weekday", "opens_minute")
    weekday: int
    opens_minute: int
    closes_minute: int
    helper: bool


class DayExceptionRow(OwnedRow, table=True):
    """A date whose sessions replace those of the week."""

    __tablename__ = "day_exceptions"
    __table_args__ = owned("day_exceptions", UniqueConstraint("build_id", "date"))
    IDENTITY: ClassVar[tuple[str, ...]] = ("date",)
    date: dt.date


class DaySessionRow(OwnedRow, table=True):
    """A stretch of open hours on a date with an exception."""

    __tablename__ = "day_sessions"
    __table_args__ = owned(
        "day_sessions",
        ForeignKeyConstraint(
            ["build_id", "date"], ["day_exceptions.build_id", "day_exceptions.date"]
        ),
        Index(None, "build_id", "date"),
    )
    REPEATS: ClassVar[bool] = True
    IDENTITY: ClassVar[tuple[str, ...]] = ("date", "opens_minute")
    GROUP: ClassVar[tuple[str, ...]] = ("date",)
    date: dt.date
    opens_minute: int
    closes_minute: int
    helper: bool


class LaterWeekRow(OwnedRow, table=True):
    """The first day of a shop week that takes the place of the one before."""

    __tablename__ = "later_weeks"
    __table_args__ = owned("later_weeks", UniqueConstraint("build_id", "from_on"))
    IDENTITY: ClassVar[tuple[str, ...]] = ("from_on",)
    from_on: dt.date


class LaterWeekSessionRow(OwnedRow, table=True):
    """A session of a shop week with a first day."""

    __tablename__ = "later_week_sessions"
    __table_args__ = owned(
        "later_week_sessions",
        ForeignKeyConstraint(
            ["build_id", "from_on"], ["later_weeks.build_id", "later_weeks.from_on"]
        ),
        Index(None, "build_id", "from_on"),
    )
    REPEATS: ClassVar[bool] = True
    IDENTITY: ClassVar[tuple[str, ...]] = ("from_on", "weekday", "opens_minute")
    GROUP: ClassVar[tuple[str, ...]] = ("from_on",)
    from_on: dt.date
    weekday: int
    opens_minute: int
    closes_minute: int
    helper: bool


class DayRangeRow(OwnedRow, table=True):
    """Days from one to another that have weekly hours of their own, or none."""

    __tablename__ = "day_ranges"
    __table_args__ = owned("day_ranges", UniqueConstraint("build_id", "first_on"))
    IDENTITY: ClassVar[tuple[str, ...]] = ("first_on",)
    first_on: dt.date
    last_on: dt.date
    name: str = Field(sa_type=StoredText)


class DayRangeSessionRow(OwnedRow, table=True):
    """A session that comes back every week within a range of days."""

    __tablename__ = "day_range_sessions"
    __table_args__ = owned(
        "day_range_sessions",
        ForeignKeyConstraint(
            ["build_id", "first_on"], ["day_ranges.build_id", "day_ranges.first_on"]
        ),
        Index(None, "build_id", "first_on"),
    )
    REPEATS: ClassVar[bool] = True
    IDENTITY: ClassVar[tuple[str, ...]] = ("first_on", "weekday", "opens_minute")
    GROUP: ClassVar[tuple[str, ...]] = ("first_on",)
    first_on: dt.date
    weekday: int
    opens_minute: int
    closes_minute: int
    helper: bool


class GivenAwayRow(OwnedRow, table=True):
    """Sessions that belonged to another build of the shop: facts, gone by or as they came in.

    What the rule between builds gives away from now on is worked out, never stored here.
    """

    __tablename__ = "given_away"
    __table_args__ = owned("given_away")
    REPEATS: ClassVar[bool] = True
    IDENTITY: ClassVar[tuple[str, ...]] = ("first_on", "opens_minute")
    first_on: dt.date
    last_on: dt.date | None = None
    opens_minute: int
    closes_minute: int
    belongs_to: str = Field(sa_type=StoredText)
    after_first_start: bool


def _day_hours() -> Columns:
    names = ("opens_minute", "closes_minute", "helper")
    return Columns(
        field="hours",
        columns=names,
        into=lambda opens, closes, helper: DayHours(
            opens_minute=opens, closes_minute=closes, helper=helper
        ),
        out_of=attrgetter(*names),
    )


SETUPS = Noun(SetupRow, Fields(SetupRow, Setup), at="shop.setups")
STATIONS = Noun(StationRow, Fields(StationRow, Station), at="shop.stations")
WEEK_SESSIONS = Noun(
    WeekSessionRow, Fields(WeekSessionRow, WeekSession, _day_hours()), at="shop.week"
)
DAY_SESSIONS = Noun(
    DaySessionRow,
    Fields(DaySessionRow, DayHours),
    at="shop.days",
    owner=Owner(column="date", field="date", holds="sessions"),
)
DAY_EXCEPTIONS = Noun(
    DayExceptionRow,
    Fields(DayExceptionRow, DayException),
    at="shop.days",
    owns=(DAY_SESSIONS,),
)
LATER_WEEK_SESSIONS = Noun(
    LaterWeekSessionRow,
    Fields(LaterWeekSessionRow, WeekSession, _day_hours()),
    at="shop.later_weeks",
    owner=Owner(column="from_on", field="from_on", holds="week"),
)
LATER_WEEKS = Noun(
    LaterWeekRow,
    Fields(LaterWeekRow, LaterWeek),
    at="shop.later_weeks",
    owns=(LATER_WEEK_SESSIONS,),
)
DAY_RANGE_SESSIONS = Noun(
    DayRangeSessionRow,
    Fields(DayRangeSessionRow, WeekSession, _day_hours()),
    at="shop.ranges",
    owner=Owner(column="first_on", field="first_on", holds="week"),
)
DAY_RANGES = Noun(
    DayRangeRow,
    Fields(DayRangeRow, DayRange),
    at="shop.ranges",
    owns=(DAY_RANGE_SESSIONS,),
)
GIVEN_AWAY = Noun(GivenAwayRow, Fields(GivenAwayRow, GivenAway), at="shop.given")
