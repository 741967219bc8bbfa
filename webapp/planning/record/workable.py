"""What could be worked on each date of the record, by the facts as they were lived.

*Workable* is the open shop time in which a task for hands that first start needs could be worked:
accepted, its before-tasks finished and their waits over, its parts here, the helper there, itself
not yet finished. Where less was worked than that, what the house rules would have worked that day
of the work that was there. Waiting is not absence: where nothing could be worked, nothing is lost.
Tasks after first start make no hour workable.

How the facts are read: see `as_lived`.
"""

import datetime as dt
from collections import defaultdict
from collections.abc import Collection, Iterable
from dataclasses import dataclass

from webapp.build.build_input import BuildInput, LogEntry
from webapp.build.logged_hours import worked_by_day
from webapp.build.time.promised_days import PromisedDays
from webapp.build.time_units import DAY
from webapp.planning.record.as_lived import AsLived


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkableDay:
    """One date: hours the shop week promised, could be worked, and were worked at the bench.

    Hours are those the shop was in use. `workable_hours` are never fewer than those worked. The
    session that is running is promised up to `now`, and not lost yet.
    """

    date: dt.date
    promised_hours: float
    workable_hours: float
    worked_hours: float

    @property
    def lost_hours(self) -> float:
        """Workable hours that were not worked."""
        return self.workable_hours - self.worked_hours


def workable_days(
    build: BuildInput, first: dt.date, last: dt.date, *, lived: AsLived | None = None
) -> tuple[WorkableDay, ...]:
    """Every date from one to another, cut at `now`; `lived` are its facts where at hand."""
    dates = [first + DAY * i for i in range((last - first).days + 1)]
    return workable_on(build, dates, lived=lived)


def workable_on(
    build: BuildInput, dates: Collection[dt.date], *, lived: AsLived | None = None
) -> tuple[WorkableDay, ...]:
    """The same of some dates."""
    if not dates:
        return ()
    lived = lived or AsLived(build)
    promised = PromisedDays(build)
    first, last = min(dates), max(dates)
    entries = [entry for entry in build.log if first <= entry.on <= last]
    worked, in_use = worked_by_day(build, entries), _one_after_the_other(entries)
    days = []
    for day in dates:
        hours = worked.get(day, 0.0)
        could = lived.hours(day) if in_use.get(day, 0.0) < promised.hours(day) else 0.0
        days.append(
            WorkableDay(
                date=day,
                promised_hours=promised.hours(day, until=build.now),
                workable_hours=hours + max(0.0, could - in_use.get(day, 0.0)),
                worked_hours=hours,
            )
        )
    return tuple(days)


def workable_tasks(lived: AsLived, dates: Iterable[dt.date]) -> dict[dt.date, tuple[str, ...]]:
    """By date the keys of the tasks for hands that were there to work on, in the order of entry."""
    return {day: tuple(lived.reached(day)) for day in dates}


def _one_after_the_other(entries: Iterable[LogEntry]) -> dict[dt.date, float]:
    """Hours of each date in which somebody was at the bench, at most.

    The log does not say whether two people worked side by side: what they did is taken to have
    been done one after the other, so that nothing counts as lost while somebody was there.
    """
    hours: dict[dt.date, float] = defaultdict(float)
    for entry in entries:
        hours[entry.on] += entry.bench_hours
    return hours
