"""The running state of a block of variants: what is free when, and who begins next."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from webapp.build.time.shop_calendar import NEVER, Seconds
from webapp.planning.simulator.openings import Openings
from webapp.planning.simulator.outcome import Begins, Outcome
from webapp.planning.simulator.pools import Pool
from webapp.planning.simulator.readiness import NOT_YET, Readiness
from webapp.planning.simulator.room import Room
from webapp.planning.simulator.standing_by import ROUNDS_BETWEEN, stand_by_of_thread
from webapp.planning.simulator.variants import Variants
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
        openings: Openings,
        *,
        all_on_wall: bool = False,
    ) -> None:
        """`all_on_wall`: variants of it without any task may branch off."""
        self.work, self.count, self.outcome = work, variants.count, outcome
        own = np.broadcast_to(work.work_seconds[:, np.newaxis], (len(work), variants.count))
        seconds = own if variants.work_seconds is None else variants.work_seconds
        self.seconds: Seconds = np.ascontiguousarray(seconds)
        self.absent = None
        if variants.absent is not None:
            self.absent = np.ascontiguousarray(variants.absent)
            self.not_there = self.absent.ravel().nonzero()[0]
        self.in_sequence = variants.in_sequence
        self._rank_rows(variants)
        self.readiness = Readiness(
            work, replace(variants, absent=self.absent), all_on_wall=all_on_wall
        )
        self.room = Room(work, openings, variants.missed_helper, self.count)
        self.hands = Pool(work.people_count, self.count)
        self.stations = [Pool(count, self.count) for count in work.station_counts]
        self.setup_out = np.full(self.count, work.setup_out, np.int64)
        self.getting_out = _getting_out(work.setup_seconds)
        self.clock = np.zeros(self.count, np.int64)
        self.several_hands = work.people_count > 1
        self.setup_free = np.zeros((len(work.setup_seconds), self.count), np.int64)
        self.windowed = work.in_one_go | work.helper
        self.some_helped = bool(work.helper.any())
        self.later = ~work.for_first_start & ~work.wall_only
        self.some_later = bool(self.later.any())
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
        self.rank_mask = (1 << self.rank_bits) - 1
        most_before = int(self.work.predecessor_counts.max(initial=0)) + 1
        self.not_yet_fits = most_before * NOT_YET << self.rank_bits < 1 << 62

    def branch_off(self, trunk: "VariantBlock", columns: Indices) -> None:
        """Go on from where some columns of another block are, in place of from the beginning.

        What is not there in this one must not be ready in those columns yet, unless from the
        beginning.
        """
        self.readiness.branch_off(trunk.readiness, columns)
        self.hands.free = trunk.hands.free.take(columns, axis=1)
        for pool, other in zip(self.stations, trunk.stations, strict=True):
            pool.free = other.free.take(columns, axis=1)
        self.setup_out = trunk.setup_out[columns]
        self.setup_free = trunk.setup_free.take(columns, axis=1)
        self.setup_uses_left = trunk.setup_uses_left.take(columns, axis=1)
        self.room.helper_free = trunk.room.helper_free[columns]
        self.clock = trunk.clock[columns]

    def run(self, first: int = 0) -> None:
        """Run it to its end, the rounds before `first` left out."""
        for _ in self.rounds(first):
            pass

    def rounds(self, first: int = 0) -> Iterator[int]:
        """Begin one task a round in every variant, until nothing can begin any more.

        Gives back before each round how many went before it.
        """
        all_columns = np.arange(self.count)
        stand_by = stand_by_of_thread()
        for turn in range(first, len(self.work)):
            yield turn
            if stand_by is not None and turn % ROUNDS_BETWEEN == 0:
                stand_by()
            tasks = self.readiness.looked_at.nonzero()[0]
            if not len(tasks):
                return
            at, place = self._next(tasks)
            columns = all_columns
            if at.max() >= NEVER:
                columns = (at < NEVER).nonzero()[0]
                if not len(columns):
                    return
                at, place = at[columns], place[columns]
            ranking = self.ranking_base.take(columns) + self.setup_out.take(columns)
            chosen = self.task_at.ravel().take(ranking * self.task_at.shape[1] + place)
            self._begin(turn, columns, chosen, at)

    # --- which task, and when -------------------------------------------------------------

    def _next(self, tasks: Indices) -> tuple[Seconds, Indices]:
        """Of the tasks looked at the one that begins next: when, and its rank, (v,)."""
        windowed = self.windowed[tasks]
        plain = len(tasks) - int(np.count_nonzero(windowed))
        if plain < len(tasks):
            tasks = np.concatenate([tasks[~windowed], tasks[windowed]])
        earliest = self._hands_free(tasks)
        rank = self.rank.take(tasks, axis=0).take(self.ranking_base + self.setup_out, axis=1)
        if self.absent is not None:
            self._let_pass(tasks, earliest, rank)
        every = self.some_later or self.in_sequence is not None
        if every or not self.not_yet_fits:
            np.minimum(earliest, NEVER, out=earliest)
        if every:
            return self._next_of_all(tasks, plain, earliest, rank)
        keys = earliest
        keys <<= self.rank_bits
        keys |= rank
        best = keys[:plain].min(axis=0, initial=NEVER << self.rank_bits)
        if plain < len(tasks):
            # Room is only looked for where it would let a task begin before all others.
            tasks, keys = tasks[plain:], keys[plain:]
            where = self._asking(tasks, keys < best)
            earliest = keys.ravel().take(where)
            begin = self._with_room(tasks, where, earliest >> self.rank_bits)
            keys.ravel()[where] = (begin << self.rank_bits) | (earliest & self.rank_mask)
            best = np.minimum(best, keys.min(axis=0))
        return best >> self.rank_bits, best & self.rank_mask

    def _next_of_all(
        self, tasks: Indices, plain: int, earliest: Seconds, rank: Seconds
    ) -> tuple[Seconds, Indices]:
        """The same where it takes to know when each of the tasks could begin."""
        self._hold_all(tasks, plain, earliest)
        if self.in_sequence is None:
            best = ((earliest << self.rank_bits) | rank).min(axis=0)
            return best >> self.rank_bits, best & self.rank_mask
        soonest = earliest.copy()
        # What first start needs of hands begins by rank alone.
        in_turn = self.in_sequence & (earliest < NEVER) & (rank >= len(self.work))
        in_turn &= ~self.later[tasks][:, np.newaxis]
        earliest[in_turn] = IN_TURN
        keys = (earliest << self.rank_bits) | rank
        which = keys.argmin(axis=0)
        columns = np.arange(self.count)
        best = keys[which, columns]
        at = best >> self.rank_bits
        return np.where(at == IN_TURN, soonest[which, columns], at), best & self.rank_mask

    def could_begin(self) -> tuple[Indices, Seconds]:
        """The tasks looked at before a round, and when each could begin at the soonest, (a, v)."""
        tasks = self.readiness.looked_at.nonzero()[0]
        windowed = self.windowed[tasks]
        tasks = np.concatenate([tasks[~windowed], tasks[windowed]])
        earliest = np.minimum(self._hands_free(tasks), NEVER)
        self._hold_all(tasks, len(tasks) - int(np.count_nonzero(windowed)), earliest)
        return tasks, earliest

    def _hold_all(self, tasks: Indices, plain: int, earliest: Seconds) -> None:
        """Hold back what finds no room yet, and later work; `plain` tasks ask for no room."""
        windowed = earliest[plain:].ravel()
        where = self._asking(tasks[plain:], earliest[plain:] < NEVER)
        windowed[where] = self._with_room(tasks[plain:], where, windowed[where])
        some = self.later[tasks].nonzero()[0]
        if len(some):
            self._hold_later_work(tasks, some, earliest)

    def _hands_free(self, tasks: Indices) -> Seconds:
        """From when the tasks looked at have hands, stations and setup, (a, v)."""
        work = self.work
        earliest = self.readiness.at.take(tasks, axis=0)
        self.hands.hold_back(earliest, work.people[tasks])
        if self.several_hands:
            np.maximum(earliest, self.setup_free[work.setup[tasks]], out=earliest)
        if self.several_hands or self.in_sequence is not None:
            np.maximum(
                earliest, self.clock, out=earliest, where=~work.wall_only[tasks][:, np.newaxis]
            )
        for needs, pool in zip(work.stations, self.stations, strict=True):
            pool.hold_back(earliest, needs[tasks])
        return earliest

    def _let_pass(self, tasks: Indices, earliest: Seconds, rank: Seconds) -> None:
        """What is not there takes no hands, and goes first of all that begin then."""
        ready = self.readiness.at.ravel()[self.not_there]
        some = (ready < NEVER).nonzero()[0]
        if not len(some):
            return
        row = np.empty(len(self.work), np.int64)
        row[tasks] = np.arange(len(tasks))
        which, columns = np.divmod(self.not_there[some], self.count)
        flat = row[which] * self.count + columns
        earliest.ravel()[flat] = ready[some]
        ranks = rank.ravel()[flat]
        rank.ravel()[flat] = np.where(ranks >= len(self.work), ranks - len(self.work), ranks)

    def _asking(self, tasks: Indices, asked: Flags) -> Indices:
        """The places in (a, v) of those tasks that ask for room and are there."""
        if self.absent is not None:
            asked &= ~self.absent[tasks]
        return asked.ravel().nonzero()[0]

    def _with_room(self, tasks: Indices, where: Indices, earliest: Seconds) -> Seconds:
        """When tasks that ask for room can begin; `where` their places in (a, v), (k,)."""
        if not len(where):
            return earliest
        which, columns = np.divmod(where, self.count)
        tasks = tasks.take(which)
        getting_out = self._getting_out(self.setup_out.take(columns), self.work.setup.take(tasks))
        begin = self.room.begins(tasks, columns, earliest, getting_out)
        return np.minimum(begin, NEVER)

    def _setup_seconds(self, tasks: Indices) -> Seconds:
        """Shop seconds each task would need now to get its setup out, (a, v)."""
        return self._getting_out(self.setup_out, self.work.setup[tasks][:, np.newaxis])

    def _getting_out(self, out: Indices, needed: Indices) -> Seconds:
        """Shop seconds of getting the setups that are needed out, by those that are out."""
        return self.getting_out.ravel().take(out * len(self.getting_out) + needed)

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
        silent: Flags = work.wall_only.take(chosen)
        setup = work.setup.take(chosen)
        if self.absent is not None:
            silent |= self.absent.ravel().take(flat)
            setup *= ~silent
        got_out = self._getting_out(self.setup_out.take(columns), setup)
        end = at + got_out
        end += self.seconds.ravel().take(flat)
        end_wall = None
        on_wall = silent.nonzero()[0]
        wall_begin, wall_end = self._on_the_wall(chosen[on_wall], flat[on_wall])
        if len(on_wall):
            end_wall = np.full(len(chosen), -1, np.int64)
            end_wall[on_wall], end[on_wall] = wall_end, work.calendar.shop_of(wall_end)
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
        if self.several_hands or self.in_sequence is not None:
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
        work, there = self.work, ~silent
        self.hands.take(columns, work.people.take(chosen) * there, end)
        for needs, pool in zip(work.stations, self.stations, strict=True):
            pool.take(columns, needs.take(chosen) * there, end)
        if self.some_helped:
            helped = (work.helper.take(chosen) & there).nonzero()[0]
            self.room.helper_free[columns.take(helped)] = end.take(helped)
        with_setup = setup.nonzero()[0]
        some, which = columns.take(with_setup), setup.take(with_setup)
        self.setup_out[some] = which
        if self.several_hands:
            self.setup_free[which, some] = end[with_setup]
        if self.some_later:
            self.setup_uses_left[which, some] -= work.for_first_start[chosen[with_setup]]


def _getting_out(setup_seconds: Seconds) -> Seconds:
    """Shop seconds that getting a setup out takes, (S + 1, S + 1): row the one that is out."""
    return setup_seconds * ~np.eye(len(setup_seconds), dtype=bool)
