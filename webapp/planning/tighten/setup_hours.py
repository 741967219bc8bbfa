"""The least getting out of setups that any order of one person's work needs, by dependencies alone.

Which setup to get out next is a shortest path through what is done: with a setup out, everything
that it lets be done is done (that never costs anything later), so a state is what is done, and a
step is the getting out of the next setup. Searched best first (A*, Hart, Nilsson and Raphael
1968) with the number of times each setup must still be got out along one chain of tasks.
"""

import heapq
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np

from webapp.planning.simulator.work_arrays import Flags, WorkArrays, in_order

ANY_SETUP = -1


@dataclass(frozen=True, slots=True, kw_only=True)
class SetupHours:
    """What the search for the least getting out came to.

    seconds : no order gets by with less; exact where `sequence` is not empty or nothing is needed
    sequence : the setups in the order of getting out (as in `WorkArrays.setup`), () if not found
    """

    seconds: int
    exact: bool
    sequence: tuple[int, ...] = ()


class SetupNetwork:
    """The tasks of a build with the setups they need, ready to be asked for parts of them.

    One setup is out at a time: the least of one person, and no bound where several work.
    """

    def __init__(self, work: WorkArrays) -> None:
        count = len(work)
        self.costs: list[int] = work.setup_seconds.tolist()
        self.setup: list[int] = work.setup.tolist()
        self.out = next(iter(work.setups_out), 0)
        self.after = [[int(j) for j in row if j >= 0] for row in work.successors]
        self.before = [0] * count
        for i, after in enumerate(self.after):
            for j in after:
                self.before[j] |= 1 << i
        self.order = in_order(work)

    def least(
        self,
        among: Flags,
        *,
        from_now: bool,
        seconds: float = 1.0,
        stopped: Callable[[], bool] = lambda: False,
    ) -> SetupHours:
        """The least seconds of getting out that the tasks in `among` (n,) need.

        `from_now`: they are the first of all, with the build's own setup out; else the best
        setup may be out already. A bound all the same where the time is up.
        """
        setup = [s if among[i] else 0 for i, s in enumerate(self.setup)]
        if not any(setup):
            return SetupHours(seconds=0, exact=True)
        runs = self._runs(setup)
        sources = [i for i, before in enumerate(self.before) if not before]
        everything = (1 << len(setup)) - 1
        outs = [self.out] if from_now else sorted(set(setup))
        best: dict[int, int] = {}
        queue: list[tuple[int, int, int, tuple[int, ...], tuple[int, ...]]] = []

        def reach(
            cost: int, done: int, out: int, rest: Iterable[int], way: tuple[int, ...]
        ) -> None:
            done, left = self._carried_on(setup, done, out, list(rest))
            if cost < best.get(done, cost + 1):
                best[done] = cost
                heapq.heappush(queue, (cost + self._still(runs, left), -cost, done, left, way))

        for out in outs:
            reach(0, 0, out, sources, ())
        until, least = time.monotonic() + seconds, 0
        while queue:
            total, negative, done, left, way = heapq.heappop(queue)
            least = max(least, total)
            if done == everything:
                return SetupHours(seconds=least, exact=True, sequence=way)
            if time.monotonic() > until or stopped():
                return SetupHours(seconds=least, exact=False)
            if best[done] < -negative:
                continue
            for out in sorted({setup[i] for i in left}):
                reach(-negative + self.costs[out], done, out, left, (*way, out))
        raise AssertionError("tasks that no setup lets be done")

    def _carried_on(
        self, setup: list[int], done: int, out: int, rest: list[int]
    ) -> tuple[int, tuple[int, ...]]:
        """Everything done that one setup lets be done, and what could begin with another."""
        left = []
        while rest:
            i = rest.pop()
            if setup[i] not in (0, out):
                left.append(i)
                continue
            done |= 1 << i
            for j in self.after[i]:
                if not self.before[j] & ~done and not done >> j & 1:
                    rest.append(j)
        return done, tuple(sorted(set(left)))

    def _runs(self, setup: list[int]) -> list[list[int]]:
        """For each setup, how often at least it is got out from each task on, (S + 1, n)."""
        rows = [[0] * len(setup)]
        for which in range(1, len(self.costs)):
            another, same = [0] * len(setup), [0] * len(setup)
            for i in reversed(self.order):
                further = max((another[j] for j in self.after[i]), default=0)
                if setup[i] == which:
                    same[i] = max((same[j] for j in self.after[i]), default=0)
                    another[i] = 1 + same[i]
                else:
                    another[i] = further
                    kept = max((same[j] for j in self.after[i]), default=0)
                    same[i] = further if setup[i] else kept
            rows.append(another)
        return rows

    def _still(self, runs: list[list[int]], left: tuple[int, ...]) -> int:
        """Seconds of getting out that are needed at least when these tasks can begin next."""
        return sum(
            cost * max((row[i] for i in left), default=0)
            for cost, row in zip(self.costs, runs, strict=True)
        )


def everything(work: WorkArrays) -> Flags:
    """All tasks of a build, as `SetupNetwork.least` wants them."""
    return np.ones(len(work), bool)
