"""Which setups are out in each variant, and what that asks of the next task.

As many are out at once as there are people: those last in use, so with one person the one last got
out. A setup that is out stays where it is and whoever is free works with it; it is used by one
task at a time. Where another is got out and there are as many as people already, the one that has
lain unused longest is put away: it is never one in use, for whoever gets one out is not at work.
"""

from typing import Protocol

import numpy as np

from webapp.build.time.shop_calendar import NEVER, Seconds
from webapp.planning.simulator.work_arrays import Flags, Indices, WorkArrays

NOT_OUT = -NEVER


class SetupsOut(Protocol):
    """The setups of a block of v variants."""

    def are_out(self, tasks: Indices) -> Flags:
        """Whether the setup of each of (a,) tasks is out, (a, v); of a task without one it is
        not."""

    def getting_out(self, columns: Indices, setup: Indices) -> Seconds:
        """Shop seconds of getting a setup out in a variant each, both (k,)."""

    def getting_out_for(self, tasks: Indices) -> Seconds:
        """Shop seconds each of (a,) tasks would need now to get its setup out, (a, v)."""

    def hold_back(self, earliest: Seconds, tasks: Indices) -> None:
        """Move (a, v) moments on until nobody uses the setup of each of (a,) tasks."""

    def take(self, columns: Indices, setup: Indices, until: Seconds, /) -> None:
        """Setups are in use in a variant each, until a shop second, all (k,)."""

    def unchanged_by(self, tasks: Indices) -> Flags:
        """Whether the same setups would be out after each of (a,) tasks, and the same put away
        next, (a, v)."""

    def none_of(self, uses_left: Indices) -> Flags:
        """Whether none of those that are out has uses left, (S + 1, v), by variant, (v,)."""

    def branch_off(self, trunk: "SetupsOut", columns: Indices) -> None:
        """Go on from where some columns of another block are."""


def setups_out(work: WorkArrays, count: int) -> SetupsOut:
    """The setups of so many variants as they are at the beginning."""
    return OneOut(work, count) if work.people_count == 1 else SeveralOut(work, count)


class OneOut:
    """One pair of hands: one setup is out, and free whenever the hands are.

    out : (v,) which, 0 for none
    """

    def __init__(self, work: WorkArrays, count: int) -> None:
        self.setup, self.out = work.setup, np.full(count, next(iter(work.setups_out), 0), np.int64)
        self._needed = np.where(work.setup > 0, work.setup, -1)[:, np.newaxis]
        self._count = len(work.setup_seconds)
        others = ~np.eye(self._count, dtype=bool)
        self._seconds = (work.setup_seconds * others).ravel()

    def rows(self, rank: Seconds, rank_out: Seconds) -> Seconds:
        """Places of the tasks in q orders, both (n, q), for each setup that may be out,
        (n, q * (S + 1))."""
        is_out = (self._needed == np.arange(self._count))[:, np.newaxis]
        both = np.where(is_out, rank_out[:, :, np.newaxis], rank[:, :, np.newaxis])
        return both.reshape(len(rank), -1)

    def row(self, ranking_of: Indices | None) -> Indices:
        """Which of these rows each variant uses, (v,), by the order that it uses."""
        return self.out if ranking_of is None else ranking_of * self._count + self.out

    def are_out(self, tasks: Indices) -> Flags:
        flags: Flags = self._needed[tasks] == self.out
        return flags

    def getting_out(self, columns: Indices, setup: Indices) -> Seconds:
        return self._seconds.take(self.out.take(columns) * self._count + setup)

    def getting_out_for(self, tasks: Indices) -> Seconds:
        return self._seconds.take(self.out * self._count + self.setup[tasks][:, np.newaxis])

    def hold_back(self, earliest: Seconds, tasks: Indices) -> None:
        pass

    def take(self, columns: Indices, setup: Indices, _until: Seconds, /) -> None:
        self.out[columns] = setup

    def unchanged_by(self, tasks: Indices) -> Flags:
        return self.are_out(tasks)

    def none_of(self, uses_left: Indices) -> Flags:
        flags: Flags = uses_left[self.out, np.arange(len(self.out))] == 0
        flags |= self.out == 0
        return flags

    def branch_off(self, trunk: SetupsOut, columns: Indices) -> None:
        assert isinstance(trunk, OneOut)
        self.out = trunk.out[columns]


class SeveralOut:
    """Several pairs of hands: as many setups are out as there are people.

    until : (S + 1, v) shop second until which each that is out is or was in use, else `NOT_OUT`;
        of those that lie there from the beginning the one last used lies at -1
    """

    def __init__(self, work: WorkArrays, count: int) -> None:
        self.setup, self.seconds, self.most = work.setup, work.setup_seconds, work.people_count
        self.until: Seconds = np.full((len(work.setup_seconds), count), NOT_OUT, np.int64)
        for place, setup in enumerate(work.setups_out):
            self.until[setup] = place - len(work.setups_out)

    def are_out(self, tasks: Indices) -> Flags:
        flags: Flags = self.until[self.setup[tasks]] != NOT_OUT
        return flags

    def getting_out(self, columns: Indices, setup: Indices) -> Seconds:
        return np.where(self.until[setup, columns] == NOT_OUT, self.seconds.take(setup), 0)

    def getting_out_for(self, tasks: Indices) -> Seconds:
        return np.where(
            self.are_out(tasks), np.int64(0), self.seconds[self.setup[tasks]][:, np.newaxis]
        )

    def hold_back(self, earliest: Seconds, tasks: Indices) -> None:
        np.maximum(earliest, self.until[self.setup[tasks]], out=earliest)

    def take(self, columns: Indices, setup: Indices, until: Seconds, /) -> None:
        got_out = (self.until[setup, columns] == NOT_OUT).nonzero()[0]
        self.until[setup, columns] = until
        if len(got_out):
            self._put_away(columns.take(got_out))

    def _put_away(self, columns: Indices) -> None:
        """In some variants one more was got out: where that is too many, one goes."""
        until = self.until.take(columns, axis=1)
        out = until != NOT_OUT
        over = (out.sum(axis=0) > self.most).nonzero()[0]
        longest_unused = np.where(out, until, NEVER)[:, over].argmin(axis=0)
        self.until[longest_unused, columns.take(over)] = NOT_OUT

    def unchanged_by(self, tasks: Indices) -> Flags:
        last = len(self.until) - 1 - self.until[::-1].argmax(axis=0)
        flags: Flags = (self.setup[tasks][:, np.newaxis] == last) & self.are_out(tasks)
        return flags

    def none_of(self, uses_left: Indices) -> Flags:
        flags: Flags = ((self.until == NOT_OUT) | (uses_left == 0)).all(axis=0)
        return flags

    def branch_off(self, trunk: SetupsOut, columns: Indices) -> None:
        assert isinstance(trunk, SeveralOut)
        self.until = trunk.until.take(columns, axis=1)
