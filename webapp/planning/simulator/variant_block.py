"""The running state of a block of variants: what is free when, and who begins next."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from webapp.build.time.shop_calendar import NEVER, Seconds
from webapp.planning.simulator.openings import Openings
from webapp.planning.simulator.outcome import Begins, Outcome
from webapp.planning.simulator.pools import Pool
from webapp.planning.simulator.ranks import Ranks
from webapp.planning.simulator.readiness import NOT_YET, Readiness
from webapp.planning.simulator.room import Room
from webapp.planning.simulator.setups_out import setups_out
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
        self.readiness = Readiness(
            work, replace(variants, absent=self.absent), all_on_wall=all_on_wall
        )
        self.room = Room(work, openings, variants.missed_helper, self.count)
        self.hands = Pool(work.people_count, self.count)
        self.stations = [Pool(count, self.count) for count in work.station_counts]
        self.setups = setups_out(work, self.count)
        self.ranks = Ranks(work, variants, self.setups)
        most_before = int(work.predecessor_counts.max(initial=0)) + 1
        self.not_yet_fits = most_before * NOT_YET << self.ranks.bits < 1 << 62
        self.clock = np.zeros(self.count, np.int64)
        self.several_hands = work.people_count > 1
        self.windowed = work.in_one_go | work.helper
        self.some_helped = bool(work.helper.any())
        self.later = ~work.for_first_start & ~work.wall_only
        self.some_later = bool(self.later.any())
        needs_setup = np.bincount(
            work.setup[work.for_first_start], minlength=len(work.setup_seconds)
        )
        self.setup_uses_left = np.repeat(needs_setup[:, np.newaxis], self.count, axis=1)

    def branch_off(self, trunk: "VariantBlock", columns: Indices) -> None:
        """Go on from where some columns of another block are, in place of from the beginning.

        What is not there in this one must not be ready in those columns yet, unless from the
        beginning.
        """
        self.readiness.branch_off(trunk.readiness, columns)
        self.hands.free = trunk.hands.free.take(columns, axis=1)
        for pool, other in zip(self.stations, trunk.stations, strict=True):
            pool.free = other.free.take(columns, axis=1)
        self.setups.branch_off(trunk.setups, columns)
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
            self._begin(turn, columns, self.ranks.tasks_at(place, columns), at)

    # --- which task, and when -------------------------------------------------------------

    def _next(self, tasks: Indices) -> tuple[Seconds, Indices]:
        """Of the tasks looked at the one that begins next: when, and its rank, (v,)."""
        windowed = self.windowed[tasks]
        plain = len(tasks) - int(np.count_nonzero(windowed))
        if plain < len(tasks):
            tasks = np.concatenate([tasks[~windowed], tasks[windowed]])
        earliest = self._hands_free(tasks)
        rank = self.ranks.of(tasks)
        if self.absent is not None:
            self._let_pass(tasks, earliest, rank)
        every = self.some_later or self.in_sequence is not None
        if every or not self.not_yet_fits:
            np.minimum(earliest, NEVER, out=earliest)
        if every:
            return self._next_of_all(tasks, plain, earliest, rank)
        keys = earliest
        keys <<= self.ranks.bits
        keys |= rank
        best = keys[:plain].min(axis=0, initial=NEVER << self.ranks.bits)
        if plain < len(tasks):
            # Room is only looked for where it would let a task begin before all others.
            tasks, keys = tasks[plain:], keys[plain:]
            where = self._asking(tasks, keys < best)
            earliest = keys.ravel().take(where)
            begin = self._with_room(tasks, where, earliest >> self.ranks.bits)
            keys.ravel()[where] = (begin << self.ranks.bits) | (earliest & self.ranks.mask)
            best = np.minimum(best, keys.min(axis=0))
        return best >> self.ranks.bits, best & self.ranks.mask

    def _next_of_all(
        self, tasks: Indices, plain: int, earliest: Seconds, rank: Seconds
    ) -> tuple[Seconds, Indices]:
        """The same where it takes to know when each of the tasks could begin."""
        self._hold_all(tasks, plain, earliest)
        if self.in_sequence is None:
            best = ((earliest << self.ranks.bits) | rank).min(axis=0)
            return best >> self.ranks.bits, best & self.ranks.mask
        soonest = earliest.copy()
        # What first start needs of hands begins by rank alone.
        in_turn = self.in_sequence & (earliest < NEVER) & (rank >= self.ranks.hands_from)
        in_turn &= ~self.later[tasks][:, np.newaxis]
        earliest[in_turn] = IN_TURN
        keys = (earliest << self.ranks.bits) | rank
        which = keys.argmin(axis=0)
        columns = np.arange(self.count)
        best = keys[which, columns]
        at = best >> self.ranks.bits
        return np.where(at == IN_TURN, soonest[which, columns], at), best & self.ranks.mask

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
        self.setups.hold_back(earliest, tasks)
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
        rank.ravel()[flat] = np.where(
            ranks >= self.ranks.hands_from, ranks - self.ranks.hands_from, ranks
        )

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
        getting_out = self.setups.getting_out(columns, self.work.setup.take(tasks))
        begin = self.room.begins(tasks, columns, earliest, getting_out)
        return np.minimum(begin, NEVER)

    def _hold_later_work(self, tasks: Indices, later: Indices, earliest: Seconds) -> None:
        """Let work that first start does not need begin only where it delays nothing of it.

        It must end before anything for first start can begin, and leave the setups out that
        first start's tasks would find out. `later`: its places among `tasks`.
        """
        firsts = (~self.later[tasks] & self.work.for_first_start[tasks]).nonzero()[0]
        if not len(firsts):
            return
        until = (earliest[firsts] + self._hands_free_for(tasks[firsts])).min(axis=0)
        setup = self.work.setup[tasks[later]][:, np.newaxis]
        needed = self.setups.getting_out_for(tasks[later]) + self.seconds[tasks[later]]
        harmless = (setup == 0) | self.setups.unchanged_by(tasks[later])
        unused = self.setups.none_of(self.setup_uses_left)
        harmless |= unused & (self.setup_uses_left[setup, np.arange(self.count)] == 0)
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
        got_out = self.setups.getting_out(columns, setup)
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
        self.setups.take(some, which, end.take(with_setup))
        if self.some_later:
            self.setup_uses_left[which, some] -= work.for_first_start[chosen[with_setup]]
