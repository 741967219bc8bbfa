"""Dates that no order can beat: how early each task can begin at best, and so first start.

Every task is held by its chains of dependencies (waits, parts and sessions exactly as in the
plan), and by the hands and stations that what comes before it needs: whatever of that cannot
begin before a moment takes its hours after it, the pairs of hands and units shared out evenly,
with each setup got out at least as often as its dependencies ask for. The one-machine bound with
heads (Carlier 1982), carried through the network task by task.
"""

import time
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from webapp.build.time.shop_calendar import NEVER, Seconds
from webapp.planning.simulator.openings import Openings
from webapp.planning.simulator.work_arrays import Flags, Indices, WorkArrays, in_order
from webapp.planning.tighten.setup_hours import SetupNetwork

MOST_TASKS_WITH_HANDS = 1_000
"""Above this only the chains count: the hands take n x n of memory and time."""
PASSES = 4
MOMENTS_TRIED = 4


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Heads:
    """The earliest each task can begin and end, (n,); `NEVER` where it never can.

    begin_shop, end_shop : shop seconds; begin_wall, end_wall : wall seconds
    """

    begin_shop: Seconds
    end_shop: Seconds
    begin_wall: Seconds
    end_wall: Seconds


class EarliestDates:
    """Heads of the tasks of a build, made tighter pass by pass."""

    def __init__(self, work: WorkArrays) -> None:
        self.work = work
        self.order = in_order(work)
        self.before = _all_before(work, self.order)
        self.openings = Openings.of(work)
        self.ready_wall: list[int] = np.maximum(work.arrival, work.wait_until).tolist()
        self.pools = _pools(work)
        self.floor = np.zeros(len(work), np.int64)
        self.heads = self._along_chains(np.zeros(len(work), np.int64))

    def tightened(self, *, seconds: float, stopped: Callable[[], bool] = lambda: False) -> Heads:
        """The heads with hands, stations and setups counted in, as far as the time allows."""
        until = time.monotonic() + seconds
        if len(self.before) == 0:
            return self.heads
        for _ in range(PASSES):
            if time.monotonic() > until or stopped():
                return self.heads
            last = self.heads
            self.heads = self._along_chains(self._after_the_hands())
            if (last.begin_wall == self.heads.begin_wall).all():
                break
        self._count_setups(until, stopped)
        while True:
            last = self.heads
            self.heads = self._along_chains(self._after_the_hands())
            still = bool((last.begin_wall == self.heads.begin_wall).all())
            if still or time.monotonic() > until or stopped():
                return self.heads

    def _count_setups(self, until: float, stopped: Callable[[], bool]) -> None:
        """Count the getting out exactly before each task of the chain that leads to first start.

        Only there, and from the moments on that hold such a task most, is it worth the search;
        elsewhere one getting out of each setup counts, and so it does where several people work.
        """
        if self.work.people_count > 1:
            return
        network = SetupNetwork(self.work)
        if not any(network.setup):
            return
        begin = self.heads.begin_shop
        hands = self.work.people * self.work.work_seconds
        for i in self._leading_to(self.work.first_start):
            moments = {0}
            for moment in np.unique(begin[self.before[i]]).tolist():
                moments.add(moment)
            promising = []
            for moment in moments:
                among = self.before[i] & (begin >= moment)
                busy = int(hands[among].sum())
                promising.append((moment + busy / self.work.people_count, busy, moment, among))
            promising.sort(key=lambda found: -found[0])
            for _, busy, moment, among in promising[:MOMENTS_TRIED]:
                left = until - time.monotonic()
                if left <= 0 or stopped():
                    return
                least = network.least(
                    among, from_now=not moment, seconds=min(left / 2, 1.5), stopped=stopped
                )
                ends = moment - (-(busy + least.seconds) // self.work.people_count)
                self.floor[i] = max(self.floor[i], ends)

    def _leading_to(self, place: int) -> list[int]:
        """The tasks that decide how early a task can begin, and those of much work before them."""
        work, heads = self.work, self.heads
        chain, at = [place], place
        while True:
            before = [
                (int(heads.end_wall[i]) + int(work.waits[i, d]), int(i))
                for i, d in zip(*np.nonzero(work.successors == at), strict=True)
            ]
            if not before:
                return chain
            at = max(before)[1]
            chain.append(at)

    # --- what each head must wait for ------------------------------------------------------

    def _along_chains(self, not_before: Seconds) -> Heads:
        """Earliest dates along the dependencies, none before its shop second in `not_before`."""
        work, calendar = self.work, self.work.calendar
        wall, shop = list(self.ready_wall), calendar.shop_of(self.ready_wall).tolist()
        columns: list[list[int]] = [[0] * len(work) for _ in range(4)]
        for i in self.order:
            floor = int(not_before[i])
            if work.wall_only[i]:
                begin_wall = max(wall[i], int(calendar.end_wall(floor)))
                end_wall = max(begin_wall + int(work.outside_seconds[i]), int(work.earliest_end[i]))
                begin, end = int(calendar.shop_of(begin_wall)), int(calendar.shop_of(end_wall))
            else:
                begin = max(shop[i], floor)
                work_begin = self._fitted(i, begin)
                # Getting the setup out may lie before the session that the work must fit.
                begin = max(begin, work_begin - int(work.setup_seconds[work.setup[i]]))
                end = min(work_begin + int(work.work_seconds[i]), NEVER)
                begin_wall = int(calendar.start_wall(begin))
                end_wall = int(calendar.end_wall(end))
            for column, value in zip(columns, (begin, end, begin_wall, end_wall), strict=True):
                column[i] = min(value, NEVER)
            for d, j in enumerate(work.successors[i].tolist()):
                if j < 0:
                    break
                wait = int(work.waits[i, d])
                wall[j] = max(wall[j], end_wall + wait)
                shop[j] = max(shop[j], int(calendar.shop_of(end_wall + wait)) if wait else end)
        arrays = [np.array(column, np.int64) for column in columns]
        return Heads(
            begin_shop=arrays[0], end_shop=arrays[1], begin_wall=arrays[2], end_wall=arrays[3]
        )

    def _fitted(self, place: int, begin: int) -> int:
        """The first begin at which the work, setup apart, fits a session or the helper."""
        work = self.work
        if begin >= NEVER or not (work.helper[place] or work.in_one_go[place]):
            return begin
        (at,) = self.openings.places(np.array([place]), np.array([begin])).tolist()
        return min(max(begin, int(self.openings.begins[at])), NEVER)

    def _after_the_hands(self) -> Seconds:
        """For each task the shop second before which what precedes it cannot be done, (n,)."""
        order = np.argsort(self.heads.begin_shop, kind="stable")
        begins = self.heads.begin_shop[order]
        before = self.before[:, order]
        floor = self.floor
        for needs, count in self.pools:
            hours = before * (needs * self.work.work_seconds)[order]
            still = np.cumsum(hours[:, ::-1], axis=1)[:, ::-1]
            if needs is self.work.people:
                still = still + self._getting_out(order, begins)
            ends = np.where(before, begins - (-still // count), 0)
            floor = np.maximum(floor, ends.max(axis=1, initial=0))
        return np.minimum(floor, NEVER)

    def _getting_out(self, order: Indices, begins: Seconds) -> Seconds:
        """Least seconds of getting out among what precedes each task, from each begin on, (n, n).

        From `now` on every setup that is not out counts; later on the dearest may be out already,
        as many as there are people.
        """
        work, setup = self.work, self.work.setup[order]
        total = np.zeros(self.before.shape, np.int64)
        out = np.zeros_like(total)
        at_once = min(work.people_count, len(work.setup_seconds) - 1)
        dearest = [np.zeros_like(total) for _ in range(at_once)]
        for which in range(1, len(work.setup_seconds)):
            uses = self.before[:, order] & (setup == which)
            still = np.maximum.accumulate(uses[:, ::-1], axis=1)[:, ::-1]
            cost = still * work.setup_seconds[which]
            total += cost
            if which in work.setups_out:
                out += cost
            for place, dear in enumerate(dearest):
                dearest[place], cost = np.maximum(dear, cost), np.minimum(dear, cost)
        return np.where(begins == 0, total - out, total - sum(dearest))


def _pools(work: WorkArrays) -> list[tuple[Indices, int]]:
    """Everything there is a countable number of: needs of each task, and the number there is."""
    pools = [(work.people, work.people_count)]
    pools += list(zip(work.stations, work.station_counts, strict=True))
    return [(needs, count) for needs, count in pools if count and needs.any()]


def _all_before(work: WorkArrays, order: list[int]) -> Flags:
    """Whether each task needs each other one before it, (n, n); (0, 0) for too many tasks."""
    if len(work) > MOST_TASKS_WITH_HANDS:
        return np.zeros((0, 0), bool)
    before = np.zeros((len(work), len(work)), bool)
    for i in order:
        for j in work.successors[i].tolist():
            if j < 0:
                break
            before[j] |= before[i]
            before[j, i] = True
    return before
