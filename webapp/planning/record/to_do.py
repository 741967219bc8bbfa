"""What there is to do in the Sunday half hour: what the build does not know yet, and asks for.

Every list is made of facts alone, so that a line goes by itself once it is done, wherever it was
done. What was looked at and left as it is (`BuildInput.looked_at`) is left out.
"""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from webapp.build.build_input import BuildInput, Moment, Part, Task
from webapp.build.due_days import said_day
from webapp.build.hours_to_go import LEAST_HOURS_LEFT
from webapp.build.logged_hours import logged_hours
from webapp.build.moments import date_of, moment_at_start
from webapp.build.time.shop_calendar import sessions_on
from webapp.build.time_units import DAY
from webapp.build.verbs.work import needs_hands
from webapp.build.wish import Wish
from webapp.planning.network.held_now import back_at
from webapp.planning.record.as_lived import AsLived
from webapp.planning.record.attendance import first_day
from webapp.planning.record.workable import workable_on

SUNDAY = 6
LEAST_DAYS_OFF = 2
"""Who looks on a Saturday puts off to the Sunday after the next day's."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Evening:
    """A date on which hours were promised and could have been worked, and nothing is known.

    `hours` are those that could have been worked.
    """

    date: dt.date
    hours: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LatePart:
    """A part that is not here, and the day that was said for it."""

    part: Part
    said: Moment


@dataclass(frozen=True, slots=True, kw_only=True)
class OutsideDue:
    """Work that someone else does, and when it was due back."""

    task: Task
    due: dt.datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Outrun:
    """A begun task on which all the hours it was expected to take are worked."""

    task: Task
    worked_hours: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ToDo:
    """Everything there is to do, in the order in which it is gone through."""

    evenings: tuple[Evening, ...] = ()
    parts: tuple[LatePart, ...] = ()
    outside: tuple[OutsideDue, ...] = ()
    wishes: tuple[Wish, ...] = ()
    outrun: tuple[Outrun, ...] = ()


def to_do(build: BuildInput, since: dt.date | None = None, *, lived: AsLived | None = None) -> ToDo:
    """What there is to do at the build's `now`.

    Evenings are asked about from `since` on, the day on which the last week was closed; without
    one from the first day of the record on. `lived` are its facts where they are at hand.
    """
    return ToDo(
        evenings=evenings_without_hours(build, since, lived=lived),
        parts=late_parts(build),
        outside=outside_due(build),
        wishes=open_wishes(build),
        outrun=outrun_tasks(build),
    )


def next_sunday(day: dt.date) -> dt.date:
    """The Sunday on which is asked again what was put off on a day: at least two days on."""
    later = day + LEAST_DAYS_OFF * DAY
    return later + (SUNDAY - later.weekday()) * DAY


def evenings_without_hours(
    build: BuildInput, since: dt.date | None = None, *, lived: AsLived | None = None
) -> tuple[Evening, ...]:
    """Dates whose sessions are over, with hours that could be worked and nothing logged.

    Waiting is no absence: a date on which there was nothing to work on is not among them, nor one
    of which was said that nobody was in the shop, nor one on which the running clock was on.
    """
    first = first_day(build)
    if first is None:
        return ()
    first = max(first, since or first)
    days = [first + DAY * i for i in range((build.now.date() - first).days + 1)]
    return evenings_among(build, days, lived=lived)


def evenings_among(
    build: BuildInput, days: Iterable[dt.date], *, lived: AsLived | None = None
) -> tuple[Evening, ...]:
    """Those of some dates that are evenings without hours."""
    known = {entry.on for entry in build.log}
    known |= {one.evening for one in build.looked_at if one.evening is not None}
    until = build.on_bench.since.date() if build.on_bench is not None else dt.date.max
    asked = [day for day in days if day < until and day not in known and is_over(build, day)]
    return tuple(
        Evening(date=day.date, hours=day.workable_hours)
        for day in workable_on(build, asked, lived=lived)
        if day.workable_hours > 0
    )


def is_over(build: BuildInput, day: dt.date) -> bool:
    """Whether a date has sessions, and the last of them has closed."""
    sessions = sessions_on(build, day)
    if not sessions:
        return False
    closes = max(session.closes_minute for session in sessions)
    return moment_at_start(day) + dt.timedelta(minutes=closes) <= build.now


def late_parts(build: BuildInput) -> tuple[LatePart, ...]:
    """Parts that are not here though the day that was said for them has gone by, longest first."""
    found = [
        LatePart(part=part, said=said)
        for part in build.parts
        if not part.arrived
        and (said := said_day(part)) is not None
        and date_of(said) < build.now.date()
    ]
    return tuple(sorted(found, key=lambda late: date_of(late.said)))


def outside_due(build: BuildInput) -> tuple[OutsideDue, ...]:
    """Work sent out that was due back by now, longest first."""
    found = [
        OutsideDue(task=task, due=due)
        for task in build.tasks
        if task.is_open
        and task.begun_on is not None
        and task.outside_days is not None
        and (due := back_at(task.begun_on, task.outside_days)) <= build.now
    ]
    return tuple(sorted(found, key=lambda out: out.due))


def open_wishes(build: BuildInput) -> tuple[Wish, ...]:
    """Undecided wishes in the order they were logged, but for those put off to a Sunday to come."""
    off = {
        one.wish
        for one in build.looked_at
        if one.wish is not None and build.now.date() < next_sunday(one.on)
    }
    return tuple(wish for wish in build.wishes if wish.decision is None and wish.key not in off)


def outrun_tasks(build: BuildInput) -> tuple[Outrun, ...]:
    """Begun tasks that took all they were expected to, and of which nobody says what is left.

    No more than the quarter of an hour is left of them that is reckoned with where nothing is
    known. Who has said that it is so is asked again on the Sunday after. What is on the bench is
    asked about when it is stopped.
    """
    worked = logged_hours(build.log)
    on_bench = build.on_bench.task if build.on_bench is not None else None
    said = {
        one.task
        for one in build.looked_at
        if one.task is not None and build.now.date() < next_sunday(one.on)
    }
    return tuple(
        Outrun(task=task, worked_hours=worked[task.key])
        for task in build.tasks
        if task.is_open
        and task.begun_on is not None
        and needs_hands(task)
        and task.key not in said
        and task.key != on_bench
        and worked.get(task.key, 0.0) > 0
        and worked[task.key] >= task.hours.expected
        and (task.hours_left is None or task.hours_left <= LEAST_HOURS_LEFT)
    )
