"""How often each task is on the path to first start, over many variants at once.

The same walk as in `path`, on whole columns: from first start back along what cleared last, the
task before it (with its wait) rather than the hands, until today, a part or the helper.
"""

import numpy as np

from webapp.build.build_input import BuildInput
from webapp.build.time.shop_calendar import NEVER, Seconds
from webapp.planning.chances.draws import drawn_of
from webapp.planning.chances.factors import NO_RECORD, Factors
from webapp.planning.chances.forecast import Forecast, forecast_from
from webapp.planning.chances.luck import Luck
from webapp.planning.simulator.simulate import FirstStarts, Schedule, in_blocks
from webapp.planning.simulator.work_arrays import Flags, Indices, WorkArrays, predecessors

NONE = -1


def walked(
    build: BuildInput, luck: Luck | None = None, *, factors: Factors | None = NO_RECORD
) -> tuple[Forecast | None, dict[str, float]]:
    """The forecast of a faultless build, and the criticality by key: of the same draws, run once.

    That is the share of the draws in which each task first start needs is on its path. None and {}
    where first start has no date.
    """
    drawn = drawn_of(build, luck or Luck(), factors=factors)
    if drawn is None:
        return None, {}
    work, count = drawn.work, drawn.variants.count
    wall, shop = (np.full(count, NEVER) for _ in range(2))
    on_path: Indices = np.zeros(len(work), np.int64)
    for columns, schedule in in_blocks(work, drawn.variants):
        wall[columns] = schedule.end_wall(work.first_start)
        shop[columns] = schedule.end[work.first_start]
        if wall[columns].max() >= NEVER:
            return None, {}
        on_path += times_on_path(work, schedule, slice(None))
    shares = dict(zip(work.keys, (on_path / count).tolist(), strict=True))
    return forecast_from(drawn, FirstStarts(wall=wall, shop=shop)), shares


def criticality_of(
    build: BuildInput, luck: Luck | None = None, *, factors: Factors | None = NO_RECORD
) -> dict[str, float]:
    """The criticality by key alone; see `walked`."""
    return walked(build, luck, factors=factors)[1]


def times_on_path(work: WorkArrays, schedule: Schedule, columns: slice) -> Indices:
    """In how many of some variants each of the n tasks is on the path, (n,)."""
    return _Walk(work, schedule, columns).on_path().sum(axis=1)  # type: ignore[no-any-return]


class _Walk:
    def __init__(self, work: WorkArrays, schedule: Schedule, columns: slice) -> None:
        self.work, self.calendar = work, work.calendar
        self.begin, self.end = schedule.begin[:, columns], schedule.end[:, columns]
        self.wall_begin = schedule.wall_begin[:, columns]
        self.wall_end = schedule.wall_end[:, columns]
        self.count = self.begin.shape[1]
        self.before, self.waits = predecessors(work)
        self.fixed = np.maximum(work.arrival, work.wait_until)
        self.fixed_shop = work.calendar.shop_of(self.fixed)
        self.hands_on = ~work.wall_only & (work.people > 0)
        self.in_turn = schedule.turn[:, columns].argsort(axis=0, kind="stable")
        self.had_hands = self._had_hands_before() if work.people_count == 1 else None

    def on_path(self) -> Flags:
        """Walk all variants back from first start together, (n, v)."""
        on_path = np.zeros(self.begin.shape, bool)
        columns = np.arange(self.count)
        task = np.full(self.count, self.work.first_start)
        for _ in range(len(self.work)):
            on_path[task, columns] = True
            before = self._step(task, columns)
            going_on = before != NONE
            task, columns = before[going_on], columns[going_on]
            if not len(columns):
                break
        return on_path

    def _step(self, task: Indices, columns: Indices) -> Indices:
        """The task each variant's path comes from, `NONE` where it begins here."""
        begin = self.begin[task, columns]
        found, last, last_shop = self._dependency(task, columns, begin)
        silent = self.work.wall_only[task]
        open_now = bool(len(self.calendar.opens)) and int(self.calendar.opens[0]) == 0
        at_once = np.where(silent, self.wall_begin[task, columns] <= 0, (begin <= 0) & open_now)
        fixed = (self.fixed[task] > 0) & np.where(
            silent,
            self.fixed[task] == self.wall_begin[task, columns],
            self.fixed_shop[task] == begin,
        )
        ask_hands = np.flatnonzero((found == NONE) & ~at_once & ~fixed & ~silent)
        if len(ask_hands):
            some = task[ask_hands], columns[ask_hands], begin[ask_hands]
            found[ask_hands] = self._hands(*some, last[ask_hands], last_shop[ask_hands])
        found[at_once] = NONE
        return found

    def _dependency(
        self, task: Indices, columns: Indices, begin: Seconds
    ) -> tuple[Indices, Indices, Seconds]:
        """A task before whose end (and wait) falls on the begin; one without a wait first.

        Beside it the one that cleared last of all, and its shop second.
        """
        found, last, last_shop = (np.full(len(task), NONE) for _ in range(3))
        for d in range(self.before.shape[1]):
            before, wait = self.before[task, d], self.waits[task, d]
            there = np.flatnonzero(before != NONE)
            if not len(there):
                break
            before, wait, column = before[there], wait[there], columns[there]
            shop = self.end[before, column]
            silent = self.work.wall_only[task[there]]
            on_wall = np.flatnonzero((wait > 0) | silent | (begin[there] == 0))
            wall = np.full(len(there), NONE)
            if len(on_wall):
                wall[on_wall] = self._end_wall(before[on_wall], column[on_wall]) + wait[on_wall]
                shop[on_wall] = self.calendar.shop_of(wall[on_wall])
            on_begin = self.wall_begin[task[there], column] == wall
            # What has cleared by now holds nothing back until the shop opens.
            binds = np.where(silent, on_begin, (shop == begin[there]) & (wall != 0))
            found[there] = np.where(binds & (found[there] == NONE), before, found[there])
            later = shop > last_shop[there]
            last[there] = np.where(later, before, last[there])
            last_shop[there] = np.where(later, shop, last_shop[there])
        return found, last, last_shop

    def _end_wall(self, task: Indices, columns: Indices) -> Seconds:
        on_wall = self.wall_end[task, columns]
        return np.where(on_wall >= 0, on_wall, self.calendar.end_wall(self.end[task, columns]))

    def _had_hands_before(self) -> Indices:
        """With one pair of hands: the task that had them before each task, (n, v)."""
        columns = np.arange(self.count)
        before = np.full(self.begin.shape, NONE)
        last = np.full(self.count, NONE)
        for task in self.in_turn:
            before[task, columns] = last
            last = np.where(self.hands_on[task], task, last)
        return before

    def _hands(
        self,
        task: Indices,
        columns: Indices,
        begin: Seconds,
        before: Indices,
        before_shop: Seconds,
    ) -> Indices:
        """The task that had the hands until then.

        Work that only its session or the helper held: what cleared last, hands or a task `before`.
        """
        if self.had_hands is not None:
            last = self.had_hands[task, columns]
        else:
            ends = np.where(self.hands_on[:, np.newaxis], self.end[:, columns], NEVER)
            ends[task, np.arange(len(task))] = NEVER
            last = np.where(ends <= begin, ends, NONE).argmax(axis=0)
        latest = np.where(last == NONE, NONE, self.end[last, columns])
        needs_hands = self.work.people[task] > 0
        follows_hands = (latest == begin) & needs_hands
        windowed = self.work.in_one_go[task] | self.work.helper[task]
        for_session = windowed & ~follows_hands
        hands_last = (latest > before_shop) & needs_hands & (self.had_hands is not None)
        fixed_last = self.fixed_shop[task] > np.where(hands_last, latest, before_shop)
        cleared_last = np.where(hands_last, last, np.where(before_shop > 0, before, NONE))
        cleared_last = np.where(fixed_last & (self.fixed[task] > 0), NONE, cleared_last)
        return np.where(follows_hands, last, np.where(for_session, cleared_last, NONE))
