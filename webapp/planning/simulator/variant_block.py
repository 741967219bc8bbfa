"""The running state of a block of variants: what is free when, and who begins next."""

from dataclasses import replace

import numpy as np

from webapp.build.time.shop_calendar import NEVER, Seconds
from webapp.planning.simulator.outcome import Begins, Outcome
from webapp.planning.simulator.pools import Pool
from webapp.planning.simulator.readiness import Readiness
from webapp.planning.simulator.standing_by import ROUNDS_BETWEEN, stand_by_of_thread
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.windows import Windows
from webapp.planning.simulator.work_arrays import Flags, Indices, WorkArrays

IN_TURN = NEVER - 1
"""In place of when it can begin: behind all that fills gaps, and by rank alone."""


class VariantBlock:
    """v variants of n tasks, from nothing planned to everything that can be. Shop seconds."""

    def __init__(
        self,
        work: WorkArrays,
        variants: Variants,
        outcome: Outcome,
        sessions: Windows,
        helper: Windows,
    ) -> None:
        self.work, self.count, self.outcome = work, variants.count, outcome
        self.sessions, self.helper_stretches = sessions, helper
        own = work.work_seconds[:, np.newaxis]
        seconds = own if variants.work_seconds is None else variants.work_seconds
        self.seconds = np.broadcast_to(seconds, (len(work), variants.count))
        self.absent = None
        if variants.absent is not None:
            self.absent = np.ascontiguousarray(variants.absent)
        self.in_sequence = variants.in_sequence
        self.missed_helper = variants.missed_helper
        self._rank_rows(variants)
        self.readiness = Readiness(work, replace(variants, absent=self.absent))
        on_wall = work.wall_only if self.absent is None else np.ones(len(work), bool)
        follows_on_wall = (work.successors >= 0) & on_wall[work.successors]
        self.end_on_wall: Flags = np.any((work.waits > 0) | follows_on_wall, axis=1)
        self.hands = Pool(work.people_count, self.count)
        self.stations = [Pool(count, self.count) for count in work.station_counts]
        self.setup_out = np.full(self.count, work.setup_out, np.int64)
        self.setup_free = np.zeros((len(work.setup_seconds), self.count), np.int64)
        self.helper_free = np.zeros(self.count, np.int64)
        self.clock = np.zeros(self.count, np.int64)
        self.windowed = work.in_one_go | work.helper
        self.later = ~work.for_first_start & ~work.wall_only
        needs_setup = np.bincount(
            work.setup[work.for_first_start], minlength=len(work.setup_seconds)
        )
        self.setup_uses_left = np.repeat(needs_setup[:, np.newaxis], self.count, axis=1)

    def _rank_rows(self, variants: Variants) -> None:
        """Ranks of all rankings side by side, (n, q * (S + 1)), and which one is in use."""
        self.rank = np.ascontiguousarray(np.concatenate([r.rank for r in variants.rankings]).T)
        self.task_at = np.concatenate([r.task_at for r in variants.rankings])
        setups = len(self.work.setup_seconds)
        which = 0 if variants.ranking_of is None else variants.ranking_of * setups
        self.ranking_base = np.zeros(self.count, np.int64) + which
        self.rank_bits = int(2 * len(self.work)).bit_length()

    def run(self) -> None:
        """Begin one task a round in every variant, until nothing can begin any more."""
        all_columns = np.arange(self.count)
        stand_by = stand_by_of_thread()
        for turn in range(len(self.work)):
            if stand_by is not None and turn % ROUNDS_BETWEEN == 0:
                stand_by()
            tasks = self.readiness.looked_at.nonzero()[0]
            if not len(tasks):
                return
            keys = self._keys(tasks)
            best = keys.min(axis=0)
            at = best >> self.rank_bits
            if self.in_sequence is not None:
                soonest = self.soonest[keys.argmin(axis=0), all_columns]
                at = np.where(at == IN_TURN, soonest, at)
            place = best & ((1 << self.rank_bits) - 1)
            columns = all_columns
            if at.max() >= NEVER:
                columns = (at < NEVER).nonzero()[0]
                if not len(columns):
                    return
                at, place = at[columns], place[columns]
            chosen = self.task_at[self.ranking_base[columns] + self.setup_out[columns], place]
            self._begin(turn, columns, chosen, at)

    # --- which task, and when -------------------------------------------------------------

    def _keys(self, tasks: Indices) -> Seconds:
        """For each task looked at, (a, v): when it can begin, and behind it its rank."""
        work = self.work
        ready = self.readiness.at[tasks]
        earliest = np.maximum(ready, self.hands.from_when(work.people[tasks]))
        if work.people_count > 1:
            np.maximum(earliest, self.setup_free[work.setup[tasks]], out=earliest)
        if work.people_count > 1 or self.in_sequence is not None:
            np.maximum(
                earliest, self.clock, out=earliest, where=~work.wall_only[tasks][:, np.newaxis]
            )
        for needs, pool in zip(work.stations, self.stations, strict=True):
            some = needs[tasks].nonzero()[0]
            if len(some):
                free = pool.from_when(needs[tasks[some]])
                earliest[some] = np.maximum(earliest[some], free)
        some = self.windowed[tasks].nonzero()[0]
        if len(some):
            earliest[some] = self._fitted(tasks[some], earliest[some])
        if self.absent is not None:
            earliest = np.where(self.absent[tasks], ready, earliest)
        np.minimum(earliest, NEVER, out=earliest)
        some = self.later[tasks].nonzero()[0]
        if len(some):
            self._hold_later_work(tasks, some, earliest)
        rank = np.take(self.rank[tasks], self.ranking_base + self.setup_out, axis=1)
        if self.absent is not None:
            absent_first = self.absent[tasks] & (rank >= len(work))
            rank -= np.where(absent_first, len(work), 0)
        if self.in_sequence is not None:
            self._take_turns(self.in_sequence, tasks, rank, earliest)
        earliest <<= self.rank_bits
        earliest |= rank
        return earliest

    def _take_turns(
        self, in_sequence: Flags, tasks: Indices, rank: Seconds, earliest: Seconds
    ) -> None:
        """Let the hands-on work of first start begin by rank alone in the variants that ask so.

        When each could begin is kept in `soonest`.
        """
        self.soonest = earliest.copy()
        in_turn = in_sequence & (earliest < NEVER) & (rank >= len(self.work))
        in_turn &= ~self.later[tasks][:, np.newaxis]
        earliest[in_turn] = IN_TURN

    def _setup_seconds(self, tasks: Indices) -> Seconds:
        """Shop seconds each task would need now to get its setup out, (a, v)."""
        setup = self.work.setup[tasks][:, np.newaxis]
        return np.where(setup == self.setup_out, 0, self.work.setup_seconds[setup])

    def _fitted(self, tasks: Indices, earliest: Seconds) -> Seconds:
        """When work in one go or with the helper can begin: its work fits a stretch.

        Room is judged by the build's own hours: nobody knows a variant's beforehand.
        """
        setup = self._setup_seconds(tasks)
        work_from = earliest + setup
        seconds = self.work.work_seconds[tasks][:, np.newaxis]
        helped = self.work.helper[tasks]
        begin = np.empty_like(work_from)
        alone = ~helped
        if alone.any():
            begin[alone] = self.sessions.fit(work_from[alone], seconds[alone])
        if helped.any():
            from_helper = np.maximum(work_from[helped], self.helper_free)
            begin[helped] = self._with_helper(from_helper, seconds[helped])
        begin -= setup
        return np.where(earliest >= NEVER, NEVER, begin)

    def _with_helper(self, earliest: Seconds, needed: Seconds) -> Seconds:
        """When work with the helper can begin: in a stretch that the variant does not miss."""
        begin = self.helper_stretches.fit(earliest, needed)
        if self.missed_helper is None or not len(self.missed_helper):
            return begin
        needed = np.broadcast_to(needed, begin.shape)
        left = np.nonzero(begin < NEVER)
        while len(left[0]):
            at = self.helper_stretches.place_of(begin[left])
            missed = self.missed_helper[at, left[1]]
            left, at = (left[0][missed], left[1][missed]), at[missed]
            if not len(at):
                break
            after = self.helper_stretches.ends[at]
            begin[left] = self.helper_stretches.fit(after, needed[left])
            there = begin[left] < NEVER
            left = (left[0][there], left[1][there])
        return begin

    def _hold_later_work(self, tasks: Indices, later: Indices, earliest: Seconds) -> None:
        """Let work that first start does not need begin only where it delays nothing of it.

        It must end before anything for first start can begin, and leave the setup out that
        first start's tasks would find out. `later`: its places among `tasks`.
        """
        firsts = (~self.later[tasks] & self.work.for_first_start[tasks]).nonzero()[0]
        if not len(firsts):
            return
        until = (earliest[firsts] + self._hands_free_for(tasks[firsts])).min(axis=0)
        setup = self.work.setup[tasks[later]][:, np.newaxis]
        needed = self._setup_seconds(tasks[later]) + self.seconds[tasks[later]]
        columns = np.arange(self.count)
        unused = (self.setup_uses_left[self.setup_out, columns] == 0) | (self.setup_out == 0)
        harmless = (setup == 0) | (setup == self.setup_out)
        harmless |= unused & (self.setup_uses_left[setup, columns] == 0)
        fits: Flags = earliest[later] + needed <= until
        may_begin = (harmless & fits) | (until >= NEVER)
        earliest[later] = np.where(may_begin, earliest[later], NEVER)

    def _hands_free_for(self, tasks: Indices) -> Seconds:
        """Shop seconds after its begin before a task can lead to a need of hands or stations."""
        alone = (self.work.people[tasks] == 0) & ~self.work.stations[:, tasks].any(axis=0)
        return np.where(alone[:, np.newaxis], self.seconds[tasks], 0)

    # --- begin it -------------------------------------------------------------------------

    def _begin(self, turn: int, columns: Indices, chosen: Indices, at: Seconds) -> None:
        work, flat = self.work, chosen * self.count + columns
        silent: Flags = work.wall_only[chosen]
        if self.absent is not None:
            silent = silent | self.absent.ravel()[flat]
        setup = np.where(silent, 0, work.setup[chosen])
        changes = (setup > 0) & (setup != self.setup_out[columns])
        got_out = np.where(changes, work.setup_seconds[setup], 0)
        end = at + got_out + self.seconds[chosen, columns]
        on_wall = silent.nonzero()[0]
        wall_begin, wall_end = self._on_the_wall(chosen[on_wall], flat[on_wall])
        end_wall = np.zeros(len(chosen), np.int64)
        if len(on_wall):
            end_wall[on_wall], end[on_wall] = wall_end, work.calendar.shop_of(wall_end)
        asked = (self.end_on_wall[chosen] & ~silent).nonzero()[0]
        if len(asked):
            end_wall[asked] = work.calendar.end_wall(end[asked])
        self.outcome.keep(
            Begins(
                turn=turn,
                columns=columns,
                chosen=chosen,
                flat=flat,
                begin=at,
                end=end,
                got_out=got_out,
                on_wall=on_wall,
                wall_begin=wall_begin,
                wall_end=wall_end,
            )
        )
        self.clock[columns] = np.where(silent, self.clock[columns], at)
        self._hold(columns, chosen, silent, setup, end)
        self.readiness.begun(chosen, flat)
        self.readiness.release(columns, chosen, flat, end, end_wall)

    def _on_the_wall(self, tasks: Indices, flat: Indices) -> tuple[Seconds, Seconds]:
        """Wall seconds at which work on the wall clock begins and ends, and what is not there."""
        begin = self.readiness.wall.ravel()[flat]
        if not len(tasks):
            return begin, begin
        end = np.maximum(begin + self.work.outside_seconds[tasks], self.work.earliest_end[tasks])
        if self.absent is not None:
            end = np.where(self.absent.ravel()[flat], begin, end)
        return begin, end

    def _hold(
        self, columns: Indices, chosen: Indices, silent: Flags, setup: Indices, end: Seconds
    ) -> None:
        """Hands, stations, helper and setup are with the chosen task until it ends."""
        if silent.any():
            hands_on = (~silent).nonzero()[0]
            columns, chosen = columns[hands_on], chosen[hands_on]
            setup, end = setup[hands_on], end[hands_on]
        work = self.work
        self.hands.take(columns, work.people[chosen], end)
        for needs, pool in zip(work.stations, self.stations, strict=True):
            needed = needs[chosen]
            if needed.any():
                pool.take(columns, needed, end)
        helped = work.helper[chosen].nonzero()[0]
        self.helper_free[columns[helped]] = end[helped]
        with_setup = setup.nonzero()[0]
        some, which = columns[with_setup], setup[with_setup]
        self.setup_out[some] = which
        self.setup_free[which, some] = end[with_setup]
        for_first = work.for_first_start[chosen[with_setup]]
        self.setup_uses_left[which, some] -= for_first
