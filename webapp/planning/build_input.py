"""What a plan is made from: one build, frozen, with everything the planner may know.

Wall-clock moments are naive local `datetime`s to the minute. Hours are shop hours unless the
name says otherwise. Every thing is named by its `key`, the person's own short name.
"""

import datetime as dt
from dataclasses import dataclass
from typing import Literal

Medium = Literal["air", "water", "fuel", "oil", "gas", "vacuum", "electrical", "none"]
MEDIA: tuple[Medium, ...] = (
    "air",
    "water",
    "fuel",
    "oil",
    "gas",
    "vacuum",
    "electrical",
    "none",
)
DAY_MINUTES = 24 * 60

Moment = dt.date | dt.datetime
"""A date, or a date with a time. `datetime` is a subclass of `date`: test for it first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ThreePoint:
    """Hours of a task: if all goes well, likely, if it fights you."""

    optimistic: float
    most_likely: float
    pessimistic: float

    @property
    def expected(self) -> float:
        """Mean of the PERT-beta distribution, (o + 4m + p) / 6, in hours."""
        return (self.optimistic + 4 * self.most_likely + self.pessimistic) / 6

    @classmethod
    def certain(cls, hours: float) -> "ThreePoint":
        """All three points equal."""
        return cls(optimistic=hours, most_likely=hours, pessimistic=hours)


@dataclass(frozen=True, slots=True, kw_only=True)
class Subsystem:
    """Air, coolant, fuel, ...: `order` is its rank in the working order."""

    key: str
    name: str
    medium: Medium = "none"
    order: int = 0


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
class Shop:
    """When the shop is open, who works in it, and what can be got out."""

    people: int = 1
    setup_out: str | None = None
    week: tuple[WeekSession, ...] = ()
    days: tuple[DayException, ...] = ()
    setups: tuple[Setup, ...] = ()
    stations: tuple[Station, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class StationNeed:
    """So many of one station, from the start of a task to its end."""

    station: str
    count: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """A piece of work. Facts only; whether it can start is worked out, never stored."""

    key: str
    name: str
    hours: ThreePoint
    subsystem: str | None = None
    setup: str | None = None
    people: int = 1
    helper: bool = False
    in_one_go: bool = False
    stations: tuple[StationNeed, ...] = ()
    outside_days: float | None = None
    space_litres: float = 0.0
    begun_on: Moment | None = None
    finished_on: Moment | None = None
    set_aside_on: dt.date | None = None
    hours_left: float | None = None
    caution: str = ""
    notes: str = ""

    @property
    def is_open(self) -> bool:
        """Neither finished nor set aside: still to be planned."""
        return self.finished_on is None and self.set_aside_on is None


@dataclass(frozen=True, slots=True, kw_only=True)
class Dependency:
    """`after` may not begin before `before` has ended and `wait_hours` have gone by."""

    before: str
    after: str
    wait_hours: float = 0.0
    why: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A thing to buy or make. The tasks it `serves` can not begin without it."""

    key: str
    name: str
    serves: tuple[str, ...] = ()
    arrives_on: Moment | None = None
    arrived: bool = False
    promised_on: dt.date | None = None
    ordered_on: dt.date | None = None
    lead_days: float | None = None
    cost: float | None = None
    supplier: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LogEntry:
    """Hours worked on a task on one date, and how many were thought to be left."""

    task: str
    on: dt.date
    hours: float
    left: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """An idea not yet in the plan."""

    key: str
    text: str
    logged_on: dt.date


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildInput:
    """One build as the planner sees it at the moment `now`."""

    name: str
    now: dt.datetime
    first_start: str | None
    starts_on: dt.date | None = None
    wanted_by: dt.date | None = None
    vehicle: str = ""
    shop: Shop = Shop()
    subsystems: tuple[Subsystem, ...] = ()
    tasks: tuple[Task, ...] = ()
    dependencies: tuple[Dependency, ...] = ()
    parts: tuple[Part, ...] = ()
    wishes: tuple[Wish, ...] = ()
    log: tuple[LogEntry, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """A mistake in a build, answered with the thing's own name and the remedy.

    `kind` and `key` say which thing it is about (kind one of build, shop, subsystem, setup,
    station, task, dependency, part, wish, log), `field` which of its fields, "" for the whole.
    `text` is a whole sentence or two for the screen: what is wrong and how to mend it.
    """

    kind: str
    key: str
    field: str
    text: str
