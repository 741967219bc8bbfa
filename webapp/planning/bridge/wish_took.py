"""What an accepted wish really takes of first start: with and without it, asked today.

It is the question that was asked before it was decided: the mean, over the same draws, of first
start with the wish and without it. On the day it is accepted all of its work lies ahead, and the
answer is the move of what is left. Once it is partly worked, part of the answer lies behind: so
both builds begin on the morning it was accepted. From then until now they are replayed as they
were lived, with the hours that were worked in the sessions that were worked, parts and outside
work when they came: facts, the same in every draw. From now on they are drawn as the forecast
draws them. In the one without the wish its hours are free for what followed, so it took nothing
where the build was waiting anyway, and its own time where hands were all that was short. What it
took so far and what is left of it are one run: nothing jumps where work goes from one to the other.
"""

import datetime as dt
import math
from dataclasses import dataclass, replace

import numpy as np

from webapp.build.build_input import BuildInput
from webapp.build.precedence import loops_of, needed_for
from webapp.build.time.shop_calendar import NEVER, Seconds
from webapp.build.verbs.wish_decisions import is_begun
from webapp.planning.bridge.replay import Replay
from webapp.planning.bridge.rolled_back import ended_where_it_was_left, rolled_back
from webapp.planning.chances.draws import (
    SESSIONS_A_TASK,
    drawn_attendance,
    drawn_ratios,
    missed_helper,
)
from webapp.planning.chances.factors import LEAST_ATTENDANCE, Factors
from webapp.planning.chances.forecast import forecast_of
from webapp.planning.chances.luck import DRAWS, Luck
from webapp.planning.chances.moves import Move, move_between
from webapp.planning.chances.wish_prices import move_without, without_tasks
from webapp.planning.order.order_that_holds import ranking_that_holds
from webapp.planning.simulator.simulate import first_starts
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import WorkArrays, for_first_start_only, lay_out


@dataclass(frozen=True, slots=True, kw_only=True)
class TookDays:
    """What a wish really takes of first start, with the standard error of it."""

    days: float
    error_days: float


def real_days(build: BuildInput, factors: Factors, *, draws: int = DRAWS) -> dict[str, TookDays]:
    """Wish key -> days of first start that its work before first start took and still takes.

    Work after first start takes none. A wish whose build has no date either way is left out.
    """
    first = build.first_start
    if first is None or all(task.key != first for task in build.tasks):
        return {}
    needed = needed_for(build, first)
    decided_on = {w.key: w.decision.decided_on for w in build.wishes if w.decision is not None}
    luck = Luck(draws)
    present = forecast_of(build, luck, factors=factors)
    since: dict[dt.date, LivedSince] = {}
    days: dict[str, TookDays] = {}
    for wish in dict.fromkeys(task.wish for task in build.tasks if task.wish is not None):
        own = {task.key for task in build.tasks if task.wish == wish and task.key in needed}
        day, move = decided_on.get(wish), None
        if day is not None and day <= build.now.date() and any(is_begun(build, k) for k in own):
            if day not in since:
                since[day] = LivedSince(build, day, factors, luck)
            move = since[day].move_of(own)
        elif present is not None:
            move = move_without(build, present, wish, factors, luck)
        elif not own:
            days[wish] = TookDays(days=0.0, error_days=0.0)
        if move is not None:
            days[wish] = TookDays(days=move.added_days, error_days=move.error_days)
    return days


class LivedSince:
    """A build replayed as it was lived since the morning of a date, and drawn from now on.

    `luck` and `factors` are those of the forecast.
    """

    def __init__(self, build: BuildInput, day: dt.date, factors: Factors, luck: Luck) -> None:
        self._later = ended_where_it_was_left(build)
        self._earlier = rolled_back(self._later, day)
        self._replay = Replay(self._earlier, self._later)
        self._as_lived = self._replay.build(self._replay.all_changes)
        self._arrivals = self._replay.arrivals(self._replay.all_changes)
        self._luck = luck
        self._attendance = drawn_attendance(luck, factors)
        self._ratios = drawn_ratios(self._later, luck, factors)
        self._seconds = {t.key: self._drawn(t.key) for t in self._as_lived.tasks if t.is_open}
        self._with: Seconds | None = self._ends(self._as_lived)

    def move_of(self, keys: set[str]) -> Move | None:
        """By how much first start is later for some tasks; None where it has no date."""
        without = self._ends(without_tasks(self._as_lived, keys))
        if self._with is None or without is None:
            return None
        return move_between(without, self._with)

    def _drawn(self, key: str) -> Seconds:
        """Shop seconds of a task in each draw: those worked, and those left as they are drawn."""
        between = self._replay.tasks_between
        left = between.seconds_left(key)
        worked = between.seconds_on(key) - left
        drawn = worked + left * self._ratios.get(key, np.ones(self._luck.draws))
        return np.maximum(np.rint(drawn).astype(np.int64), 0)

    def _ends(self, build: BuildInput) -> Seconds | None:
        """First start in each draw, in wall seconds; None where it never comes in one."""
        if loops_of(build):
            return None
        ends = self._run(build)
        if ends is None or (ends >= NEVER).any():
            # Work that must fit a session may find none among those that were lived.
            loose = tuple(replace(t, in_one_go=False, helper=False) for t in build.tasks)
            ends = self._run(replace(build, tasks=loose))
        return None if ends is None or (ends >= NEVER).any() else ends

    def _run(self, build: BuildInput) -> Seconds | None:
        work = self._laid_out(build)
        if work.first_start < 0:
            return None
        draws = self._luck.draws
        arrivals = [self._arrivals.get(key, 0) for key in work.keys]
        variants = Variants(
            count=draws,
            rankings=(ranking_that_holds(self._earlier, work),),
            work_seconds=np.stack(
                [
                    np.zeros(draws, np.int64) if wall_only else self._seconds[key]
                    for key, wall_only in zip(work.keys, work.wall_only, strict=True)
                ]
            ),
            arrival=np.repeat(np.array(arrivals, np.int64)[:, np.newaxis], draws, axis=1),
            missed_helper=missed_helper(
                work, self._attendance, self._luck, since=work.calendar.wall_of(self._later.now)
            ),
        )
        return first_starts(work, variants).wall

    def _laid_out(self, build: BuildInput) -> WorkArrays:
        """By the hours that are likely; the calendar reaches to the draw that takes longest."""
        open_tasks = [task for task in build.tasks if task.is_open]
        on = {task.key: self._replay.tasks_between.seconds_on(task.key) for task in open_tasks}
        longest = max(sum((self._seconds[key] for key in on), start=np.zeros(1, np.int64))) / 3600
        helped = sum(task.helper for task in open_tasks)
        least = max(float(self._attendance.min(initial=1.0)), LEAST_ATTENDANCE)
        weeks = math.ceil(helped * SESSIONS_A_TASK / least) if least < 1 else 0
        work = lay_out(build, spare_hours=float(longest), spare_weeks=weeks, work_seconds=on)
        return for_first_start_only(work)
