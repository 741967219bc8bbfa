"""Sums of the log: hours by task, and hours that the shop was in use on each date."""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable

from webapp.build.build_input import BuildInput, LogEntry


def logged_hours(entries: Iterable[LogEntry]) -> dict[str, float]:
    """All hours of work logged on each task, by key; getting setups out is not among them."""
    logged: dict[str, float] = defaultdict(float)
    for entry in entries:
        logged[entry.task] += entry.hours
    return dict(logged)


def worked_by_day(build: BuildInput, entries: Iterable[LogEntry]) -> dict[dt.date, float]:
    """Hours the shop was in use on each date, by some entries of the log.

    Hours at the bench, getting out among them, times the hands a task takes, over the people
    there are, at least the longest task of that day. With one person that is the sum of the hours
    logged.
    """
    hands = {t.key: 1 if t.outside_days is not None else t.people for t in build.tasks}
    hand_hours: dict[dt.date, float] = defaultdict(float)
    by_task: dict[tuple[dt.date, str], float] = defaultdict(float)
    for entry in entries:
        hand_hours[entry.on] += entry.bench_hours * hands.get(entry.task, 1)
        by_task[entry.on, entry.task] += entry.bench_hours
    worked = {day: hours / max(1, build.shop.people) for day, hours in hand_hours.items()}
    for (day, _), hours in by_task.items():
        worked[day] = max(worked[day], hours)
    return worked
