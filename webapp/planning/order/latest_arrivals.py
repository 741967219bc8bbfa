"""The latest arrival of each part that does not move first start: what order-by dates rest on."""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import replace

import numpy as np

from webapp.build.build_input import BuildInput, Part
from webapp.build.due_days import due_of
from webapp.build.moments import moment_at_start
from webapp.build.time.shop_calendar import NEVER, Seconds
from webapp.planning.network.outside_holds import holding_parts
from webapp.planning.order.order_that_holds import ranking_that_holds
from webapp.planning.simulator.house_rules import Ranking
from webapp.planning.simulator.simulate import first_starts
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import (
    WorkArrays,
    for_first_start_only,
    lay_out,
)

VARIANTS_A_ROUND = 100
MOST_DATES_A_ROUND = 15
TRIES_AT_ONCE = 500
"""Of a build with more parts than that, so many arrivals are tried side by side."""


def latest_arrivals(
    build: BuildInput, work_seconds: Mapping[str, int] | None = None
) -> dict[str, dt.date]:
    """By key of each part that first start waits for: the latest date it may arrive on.

    In the order that holds; `work_seconds` are those of a pace (see `lay_out`), so that the
    dates belong to the first start that this pace leads to, else those of the estimates.

    Each part is moved by itself, everything else as planned; a part without a date counts as
    here until it is moved. A part is there from 00:00 of its day. Parts are left out that have
    arrived or that first start does not need. Empty where first start has no date. The search
    takes it that a still later arrival is no better; the plan at the date given, and at the
    day after, has been run. The build must have no faults.
    """
    work = _laid_out(build, work_seconds)
    if work is None:
        return {}
    tasks_of = _tasks_of(build, work)
    if not tasks_of:
        return {}
    parts = {part.key: part for part in build.parts}
    ranking = ranking_that_holds(build, work)
    search = _Search(work, ranking, tasks_of, parts, build.now.date())
    return search.run()


def _laid_out(build: BuildInput, work_seconds: Mapping[str, int] | None) -> WorkArrays | None:
    """The work for first start, on a calendar that still reaches when all parts come late."""
    parts = tuple(
        replace(part, arrived=True) if due_of(part, build.now.date()) is None else part
        for part in build.parts
    )
    here = replace(build, parts=parts)
    work = for_first_start_only(lay_out(here, work_seconds=work_seconds))
    if work.first_start < 0:
        return None
    as_it_is = Variants(count=1, rankings=(ranking_that_holds(here, work),))
    end = first_starts(work, as_it_is).wall[0]
    if end >= NEVER:
        return None
    last = work.calendar.moment(int(end)) + dt.timedelta(days=2)
    return replace(work, calendar=work.calendar.drawn_out(build.shop, until=last))


def _tasks_of(build: BuildInput, work: WorkArrays) -> dict[str, list[int]]:
    """The places of the tasks that each part keeps from beginning."""
    place = {key: i for i, key in enumerate(work.keys)}
    tasks_of: defaultdict[str, list[int]] = defaultdict(list)
    for part, key in holding_parts(build):
        if key in place:
            tasks_of[part.key].append(place[key])
    return dict(tasks_of)


class _Search:
    """Narrows, for all parts side by side, the days between an arrival in time and one too late."""

    def __init__(
        self,
        work: WorkArrays,
        ranking: Ranking,
        tasks_of: dict[str, list[int]],
        parts: dict[str, Part],
        today: dt.date,
    ) -> None:
        self.work = work
        self.ranking = ranking
        self.tasks_of = tasks_of
        self.today = today
        self.without = {key: self._arrival_without(key, parts) for key in tasks_of}
        self.first_start = int(self._first_starts([])[0])
        too_late = work.calendar.moment(self.first_start).date() + dt.timedelta(days=1)
        self.in_time = {key: self._earliest(parts[key]) for key in tasks_of}
        self.late = {key: max(too_late, self._next_day(self.in_time[key])) for key in tasks_of}

    def run(self) -> dict[str, dt.date]:
        """The latest arrival in time of each part."""
        while True:
            unsure = [key for key in self.tasks_of if self._days_between(key) > 1]
            if not unsure:
                return self.in_time
            dates = max(1, min(MOST_DATES_A_ROUND, VARIANTS_A_ROUND // len(unsure)))
            tries = [(key, date) for key in unsure for date in self._dates(key, dates)]
            for (key, date), end in zip(tries, self._ends(tries), strict=True):
                if date >= self.late[key]:
                    continue  # a day before it is too late already
                if end > self.first_start:
                    self.late[key] = date
                else:
                    self.in_time[key] = date

    def _ends(self, tries: list[tuple[str, dt.date]]) -> Iterator[int]:
        """First start for each try, so many at once as fit the memory."""
        for first in range(0, len(tries), TRIES_AT_ONCE):
            yield from self._first_starts(tries[first : first + TRIES_AT_ONCE])[1:].tolist()

    def _earliest(self, part: Part) -> dt.date:
        due = due_of(part, self.today)
        return self.today if due is None else moment_at_start(due.on).date()

    @staticmethod
    def _next_day(date: dt.date) -> dt.date:
        return date + dt.timedelta(days=1)

    def _days_between(self, key: str) -> int:
        return (self.late[key] - self.in_time[key]).days

    def _dates(self, key: str, count: int) -> list[dt.date]:
        """Dates spread evenly between the one in time and the one too late, ascending."""
        days = self._days_between(key)
        steps = {round(days * (i + 1) / (count + 1)) for i in range(count)} - {0, days}
        return [self.in_time[key] + dt.timedelta(days=step) for step in sorted(steps or {1})]

    def _arrival_without(self, key: str, parts: dict[str, Part]) -> Seconds:
        """When the parts of each task are there, this part left out."""
        arrival = np.zeros(len(self.work), np.int64)
        for other, places in self.tasks_of.items():
            due = due_of(parts[other], self.today)
            if other == key or due is None:
                continue
            wall = self.work.calendar.wall_of(moment_at_start(due.on))
            arrival[places] = np.maximum(arrival[places], wall)
        return arrival

    def _first_starts(self, tries: list[tuple[str, dt.date]]) -> Seconds:
        """First start as it is, then with each part arriving on each date, in wall seconds."""
        arrival = np.repeat(self.work.arrival[:, None], len(tries) + 1, axis=1)
        for column, (key, date) in enumerate(tries, start=1):
            arrival[:, column] = self.without[key]
            places = self.tasks_of[key]
            wall = self.work.calendar.wall_of(moment_at_start(date))
            arrival[places, column] = np.maximum(arrival[places, column], wall)
        variants = Variants(
            count=len(tries) + 1, rankings=(self.ranking,), arrival=np.maximum(arrival, 0)
        )
        return first_starts(self.work, variants).wall
