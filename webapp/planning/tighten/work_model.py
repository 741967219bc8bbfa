"""The exact model of what first start needs, for OR-tools CP-SAT.

Shop time and wall time are whole ticks, the greatest common divisor of every length and moment
there is, so that nothing is rounded. Work lies on the shop clock; what waits for a wait, a part
or outside work is tied to the wall clock by the session it begins or ends in.
"""

from typing import TYPE_CHECKING, Any

import numpy as np

from webapp.build.time.shop_calendar import NEVER, Seconds
from webapp.planning.simulator.work_arrays import Indices, WorkArrays
from webapp.planning.tighten.bounds import EarliestDates

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

MOST_TASKS = 400
MOST_SETUP_STEPS = 6_000
"""Above this the sequence of setups makes the model too large to be of use."""


class WorkModel:
    """The constraints of the work up to a horizon in wall seconds."""

    def __init__(self, work: WorkArrays, dates: EarliestDates, horizon: int) -> None:
        from ortools.sat.python import cp_model

        self.cp = cp_model
        self.model = cp_model.CpModel()
        self.work, self.heads, self.before = work, dates.heads, dates.before
        self.horizon_wall, self.horizon_shop = horizon, int(work.calendar.shop_of(horizon))
        self.tick = _tick_of(work)
        self._lay_sessions()
        self.begin: list[Any] = []
        self.end: list[Any] = []
        self.fresh: dict[int, Any] = {}
        self.steps: dict[tuple[int, int], Any] = {}
        self._wall_of: dict[tuple[int, bool], Any] = {}
        self.hands_on: list[int] = np.flatnonzero(~work.wall_only).tolist()
        self.intervals: dict[int, Any] = {}
        for i in range(len(work)):
            self._add_task(i)
        self._add_dependencies()
        self._add_pools()
        self._add_setups()
        self._add_helper()

    # --- tasks -------------------------------------------------------------------------------

    def _ticks(self, seconds: int | np.integer[Any] | Seconds) -> int:
        return int(seconds) // self.tick

    def _lay_sessions(self) -> None:
        calendar = self.work.calendar
        reached = calendar.opens <= self.horizon_wall
        self.offsets = [self._ticks(x) for x in (calendar.opens - calendar.shop_at_open)[reached]]
        self.shop_from = [self._ticks(x) for x in calendar.shop_at_open[reached]]
        self.shop_to = [self._ticks(x) for x in calendar.shop_at_close[reached]]

    def _add_task(self, i: int) -> None:
        work, heads, model = self.work, self.heads, self.model
        if work.wall_only[i]:
            last = self._ticks(self.horizon_wall)
            begin = model.new_int_var(self._ticks(heads.begin_wall[i]), last, f"begin{i}")
            end = begin + self._ticks(work.outside_seconds[i])
            if work.earliest_end[i] > 0:
                end = model.new_int_var(self._ticks(heads.end_wall[i]), last, f"end{i}")
                model.add(end >= begin + self._ticks(work.outside_seconds[i]))
            self.begin.append(begin)
            self.end.append(end)
            return
        last, length = self._ticks(self.horizon_shop), self._ticks(work.work_seconds[i])
        begin = model.new_int_var(self._ticks(heads.begin_shop[i]), last, f"begin{i}")
        end = model.new_int_var_from_domain(self._ends_that_fit(i), f"end{i}")
        size: Any = length
        if work.setup[i]:
            self.fresh[i] = model.new_bool_var(f"fresh{i}")
            size = length + self._ticks(work.setup_seconds[work.setup[i]]) * self.fresh[i]
        self.intervals[i] = model.new_interval_var(begin, size, end, f"work{i}")
        self.begin.append(begin)
        self.end.append(end)

    def _ends_that_fit(self, i: int) -> "cp_model.Domain":
        """The ends at which work in one go, or with the helper, lies within one stretch."""
        work, calendar = self.work, self.work.calendar
        seconds = int(work.work_seconds[i])
        first, last = int(self.heads.end_shop[i]), self.horizon_shop
        if not (work.helper[i] or work.in_one_go[i]):
            return self.cp.Domain(self._ticks(first), self._ticks(last))
        begins, ends = calendar.shop_at_open, calendar.shop_at_close
        if work.helper[i]:
            begins, ends = calendar.helper_from, calendar.helper_to
        stretches = [
            [self._ticks(max(int(b) + seconds, first)), self._ticks(min(int(e), last))]
            for b, e in zip(begins, ends, strict=True)
            if int(b) + seconds <= int(e) and int(b) + seconds <= last and int(e) >= first
        ]
        return self.cp.Domain.from_intervals([s for s in stretches if s[0] <= s[1]])

    # --- what holds them ---------------------------------------------------------------------

    def _add_dependencies(self) -> None:
        work = self.work
        ready = np.maximum(work.arrival, work.wait_until)
        for i in np.flatnonzero(ready > 0).tolist():
            if work.wall_only[i]:
                self.model.add(self.begin[i] >= self._ticks(ready[i]))
            else:
                self.model.add(self.begin[i] >= self._ticks(work.calendar.shop_of(ready[i])))
        for i, d in zip(*np.nonzero(work.successors >= 0), strict=True):
            j, wait = int(work.successors[i, d]), self._ticks(work.waits[i, d])
            if not (wait or work.wall_only[i] or work.wall_only[j]):
                self.model.add(self.begin[j] >= self.end[i])
            else:
                self.model.add(
                    self._wall(j, begins=True) >= self._wall(int(i), begins=False) + wait
                )
                if not (work.wall_only[i] or work.wall_only[j]):
                    self.model.add(self.begin[j] >= self.end[i])

    def _wall(self, i: int, *, begins: bool) -> Any:
        """The wall tick of a begin (the next open moment) or of an end (at the closing)."""
        moment = self.begin[i] if begins else self.end[i]
        if self.work.wall_only[i]:
            return moment
        if (i, begins) not in self._wall_of:
            self._wall_of[i, begins] = self._tied_to_wall(moment, begins)
        return self._wall_of[i, begins]

    def _tied_to_wall(self, moment: Any, begins: bool) -> Any:
        limits = list(moment.proto.domain)
        first, last = limits[0], limits[-1]
        sessions = [
            (offset, low if begins else low + 1, high - 1 if begins else high)
            for offset, low, high in zip(self.offsets, self.shop_from, self.shop_to, strict=True)
        ]
        if begins and sessions:  # the begin that the horizon's closing moment stands for
            offset, low, high = sessions[-1]
            sessions[-1] = offset, low, high + 1
        sessions = [s for s in sessions if s[1] <= last and s[2] >= first]
        if len(sessions) == 1:
            return moment + sessions[0][0]
        model = self.model
        wall = model.new_int_var(0, self._ticks(self.horizon_wall) + 1, "")
        within = [model.new_bool_var("") for _ in sessions]
        model.add_exactly_one(within)
        for literal, (offset, low, high) in zip(within, sessions, strict=True):
            domain = self.cp.Domain(low, high)
            model.add_linear_expression_in_domain(moment, domain).only_enforce_if(literal)
            model.add(wall == moment + offset).only_enforce_if(literal)
        return wall

    def _add_pools(self) -> None:
        work = self.work
        pools = [(work.people, work.people_count)]
        pools += list(zip(work.stations, work.station_counts, strict=True))
        for needs, count in pools:
            users = [i for i in self.hands_on if needs[i]]
            if count == 1:
                self.model.add_no_overlap([self.intervals[i] for i in users])
            elif sum(int(needs[i]) for i in users) > count:
                demands = [int(needs[i]) for i in users]
                self.model.add_cumulative([self.intervals[i] for i in users], demands, count)
                self._keep_apart(users, needs, count)

    def _keep_apart(self, users: list[int], needs: Indices, count: int) -> None:
        """Tasks of which no two find room together take turns: an easier thing to reason on."""
        large = [i for i in users if 2 * needs[i] > count]
        if len(large) > 1:
            self.model.add_no_overlap([self.intervals[i] for i in large])

    def _add_helper(self) -> None:
        helped = []
        for i in self.hands_on:
            if self.work.helper[i]:
                length = self._ticks(self.work.work_seconds[i])
                helped.append(
                    self.model.new_interval_var(self.end[i] - length, length, self.end[i], "")
                )
        self.model.add_no_overlap(helped)

    def _add_setups(self) -> None:
        """Through all tasks with a setup a walk for each setup that can be out at once.

        A walk goes through the tasks at one place in the order in which they begin. Which setup
        is put away for another is free here, so that no plan is left out.
        """
        users, work = sorted(self.fresh), self.work
        if not users:
            return
        several = work.people_count > 1
        node = {i: k + 1 for k, i in enumerate(users)}
        arcs = []
        changes: dict[int, list[Any]] = {i: [] for i in users}
        found_out: dict[int, list[Any]] = {}
        for i in users:
            first, last = self.model.new_bool_var(""), self.model.new_bool_var("")
            arcs += [(0, node[i], first), (node[i], 0, last)]
            self.steps[-1, i], self.steps[i, -1] = first, last
            is_out = int(work.setup[i]) in work.setups_out
            if not is_out or several:
                changes[i].append(first)
            if is_out and several:
                as_it_is = self.model.new_bool_var("")
                self.model.add_implication(as_it_is, first)
                found_out.setdefault(int(work.setup[i]), []).append(as_it_is)
                changes[i].append(-as_it_is)
        for i, j in setup_steps(work, self.before):
            step = self.model.new_bool_var("")
            self.steps[i, j] = step
            arcs.append((node[i], node[j], step))
            self.model.add(self.begin[j] >= self.end[i]).only_enforce_if(step)
            if work.setup[i] != work.setup[j]:
                changes[j].append(step)
        for once in found_out.values():
            self.model.add_at_most_one(once)
        for i in users:
            self.model.add(sum(changes[i]) == self.fresh[i])
        if not several:
            self.model.add_circuit(arcs)
            return
        self.model.add_multiple_circuit(arcs)
        self.model.add(sum(self.steps[-1, i] for i in users) <= work.people_count)
        for which in range(1, len(work.setup_seconds)):
            self.model.add_no_overlap([self.intervals[i] for i in users if work.setup[i] == which])

    # --- asking -----------------------------------------------------------------------------

    def minimise(self, least: int) -> None:
        """Ask for the earliest first start, which no order brings before `least` seconds."""
        target = self.end[self.work.first_start]
        self.model.add(target >= -(-least // self.tick))
        self.model.minimize(target)

    def hint(self, begin: Seconds, begin_wall: Seconds, end: Seconds, got_out: Seconds) -> None:
        """Tell the solver of a plan it may begin from; arrays of (n,) seconds."""
        work, model = self.work, self.model
        for i in range(len(work)):
            seconds = begin_wall[i] if work.wall_only[i] else begin[i]
            model.add_hint(self.begin[i], self._ticks(seconds))
            if not work.wall_only[i]:
                model.add_hint(self.end[i], self._ticks(end[i]))
        for i, fresh in self.fresh.items():
            model.add_hint(fresh, int(work.setup[i] != 0 and got_out[i] > 0))
        if work.people_count > 1:
            return
        walk = sorted(self.fresh, key=lambda i: int(begin[i]))
        taken = set(zip([-1, *walk], [*walk, -1], strict=True))
        for step, literal in self.steps.items():
            model.add_hint(literal, int(step in taken))

    def order_found(self, solver: "cp_model.CpSolver") -> Indices:
        """The tasks by begin on the shop clock; one person's with setups as they were walked."""
        calendar = self.work.calendar
        moments = np.array([solver.value(begin) for begin in self.begin], np.int64) * self.tick
        moments = np.where(self.work.wall_only, calendar.shop_of(moments), moments)
        walk: dict[int, int] = {}
        at = -1
        one_walk = self.work.people_count == 1
        following = {i: j for (i, j), step in self.steps.items() if one_walk and solver.value(step)}
        while (at := following.get(at, -1)) >= 0:
            walk[at] = len(walk)
        turns = np.array([walk.get(i, 0) for i in range(len(self.work))])
        return np.lexsort((turns, moments)).astype(np.int64)


def setup_steps(work: WorkArrays, before: Any) -> list[tuple[int, int]]:
    """Which task with a setup may be the next one at the same place, by dependencies."""
    users = np.flatnonzero(work.setup)
    among = before[np.ix_(users, users)]
    between = (among.astype(np.int32) @ among.astype(np.int32)) > 0
    possible = ~among
    if work.people_count == 1:
        possible &= ~between.T
    return [
        (int(users[a]), int(users[b])) for a, b in zip(*np.nonzero(possible), strict=True) if a != b
    ]


def model_fits(work: WorkArrays, before: Any) -> bool:
    """Whether the whole work is small enough for one model."""
    if len(work) > MOST_TASKS or len(before) == 0:
        return False
    return len(setup_steps(work, before)) <= MOST_SETUP_STEPS


def _tick_of(work: WorkArrays) -> int:
    """Seconds of one tick: the greatest common divisor of all lengths and moments."""
    calendar = work.calendar
    columns = (
        *(work.work_seconds, work.setup_seconds, work.outside_seconds, work.earliest_end),
        *(work.arrival, work.wait_until, work.waits, calendar.opens, calendar.closes),
        *(calendar.shop_at_open, calendar.helper_from, calendar.helper_to),
    )
    whole = [np.abs(column[np.abs(column) < NEVER]).ravel() for column in columns]
    return int(np.gcd.reduce(np.concatenate(whole))) or 1
