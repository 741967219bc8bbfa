"""How sure the date is: first start over many draws of every task's hours.

Each draw is one variant of the simulator. A task's hours are its planned hours times how far off
its three points let it be, times the factor of its kind of work, over attendance; the factors are
drawn once a draw, the level of all work and then each kind round it, so that errors of one kind do
not cancel, and those of one builder not either.
"""

import datetime as dt
import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from webapp.build.build_input import BuildInput, Task, ThreePoint
from webapp.build.hours_to_go import planned_seconds
from webapp.build.time.shop_calendar import NEVER, Seconds, ShopCalendar
from webapp.planning.chances.criticality import times_on_path
from webapp.planning.chances.factors import LEAST_ATTENDANCE, NO_RECORD, NO_SETUP, Factors
from webapp.planning.chances.pert_beta import Floats, balanced_normals, even_shares, quantiles
from webapp.planning.order.kept_order import both_ways
from webapp.planning.simulator.house_rules import HOUSE_RULES, HouseRules, rank_tasks
from webapp.planning.simulator.simulate import FirstStarts, in_blocks
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import Indices, WorkArrays, for_first_start_only, lay_out

Distribution = Callable[[ThreePoint, Floats], Floats]
"""Hours below which each share of the outcomes of a three-point estimate lies."""

SEED = 1
DRAWS = 2000
"""So many draws where nobody asks for another number."""
WALKED_DRAWS = 2000
"""Draws whose path is walked for the criticality index: its error is below 0.012 then."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Forecast:
    """First start over all draws.

    end_wall, end_shop : (draws,) wall and shop seconds from `now`, each in ascending order
    criticality : share of the draws in which each task first start needs is on its path
    """

    calendar: ShopCalendar
    end_wall: Seconds
    end_shop: Seconds
    criticality: dict[str, float]

    def at(self, share: float) -> dt.datetime:
        """The moment by which first start has come in that share of the draws."""
        return self.calendar.minute(int(self.end_wall[self._place(share)]))

    def shop_hours(self, share: float) -> float:
        """The shop hours from now that suffice in that share of the draws."""
        return float(self.end_shop[self._place(share)]) / 3600

    def _place(self, share: float) -> int:
        """The smallest draw that at least that share of all draws does not pass."""
        return min(max(math.ceil(share * len(self.end_wall)), 1), len(self.end_wall)) - 1


def always() -> bool:
    """Whatever is worked out is wanted to its end."""
    return True


def forecast_of(
    build: BuildInput,
    *,
    draws: int = DRAWS,
    factors: Factors | None = NO_RECORD,
    rules: HouseRules = HOUSE_RULES,
    order: tuple[str, ...] = (),
    seed: int = SEED,
    distribution: Distribution = quantiles,
    is_wanted: Callable[[], bool] = always,
) -> Forecast | None:
    """Forecast first start of a faultless build; None where it has no date.

    `is_wanted` is asked from time to time: once it says no, the rest is left off, with None.

    `factors` None draws from the three-point estimates alone. A kept `order` of task keys is
    followed instead of the rules; it does not change from draw to draw.
    """
    ratios = drawn_ratios(build, draws, factors, seed, distribution)
    work, seconds = drawn_work(build, ratios, draws)
    if work.first_start < 0:
        return None
    drawn = Variants(count=draws, rankings=(rank_tasks(work, rules),), work_seconds=seconds)
    ways = both_ways(work, order, drawn, rules) if order else (drawn,)
    # A kept order is followed in the way that is likely earlier, the same one in every draw.
    runs = [_run(work, way, is_wanted) for way in ways]
    if not is_wanted():
        return None
    ends, on_path = min(runs, key=_median)
    if (ends.wall >= NEVER).any():
        return None
    return Forecast(
        calendar=work.calendar,
        end_wall=np.sort(ends.wall),
        end_shop=np.sort(ends.shop),
        criticality=dict(
            zip(work.keys, (on_path / min(draws, WALKED_DRAWS)).tolist(), strict=True)
        ),
    )


def _run(
    work: WorkArrays, drawn: Variants, is_wanted: Callable[[], bool]
) -> tuple[FirstStarts, Indices]:
    """First start of every draw, and in how many of the walked ones each task is on the path."""
    wall, shop = (np.full(drawn.count, NEVER) for _ in range(2))
    on_path = np.zeros(len(work), np.int64)
    for columns, schedule in in_blocks(work, drawn):
        if not is_wanted():
            break
        wall[columns] = schedule.end_wall(work.first_start)
        shop[columns] = schedule.end[work.first_start]
        walked = WALKED_DRAWS - columns.start
        if walked > 0 and wall[columns].max() < NEVER:
            on_path += times_on_path(work, schedule, slice(walked))
    return FirstStarts(wall=wall, shop=shop), on_path


def _median(run: tuple[FirstStarts, Indices]) -> float:
    return float(np.median(run[0].wall))


def drawn_work(
    build: BuildInput, ratios: dict[str, Floats], draws: int
) -> tuple[WorkArrays, Seconds]:
    """What first start needs, and the drawn seconds of each of its tasks, (n, draws)."""
    # Lay the calendar out for the draw that takes longest.
    shop_seconds = np.zeros(draws)
    for key, planned in planned_seconds(build).items():
        if key in ratios:
            shop_seconds += planned * ratios[key]
    spare = float(shop_seconds.max(initial=0.0)) / 3600
    work = for_first_start_only(lay_out(build, spare_hours=spare))
    drawn = np.empty((len(work), draws), np.int64)
    for i, key in enumerate(work.keys):
        seconds = np.rint(work.work_seconds[i] * ratios.get(key, 1.0)).astype(np.int64)
        drawn[i] = np.maximum(seconds, min(1, work.work_seconds[i]))
    return work, drawn


def drawn_ratios(
    build: BuildInput,
    draws: int,
    factors: Factors | None = NO_RECORD,
    seed: int = SEED,
    distribution: Distribution = quantiles,
    known: Mapping[str, Floats] | None = None,
) -> dict[str, Floats]:
    """Drawn over planned hours of every open task that takes hands-on hours.

    `known` are ratios of the same draws that need not be drawn again.
    """
    tasks = [t for t in build.tasks if t.is_open and t.outside_days is None]
    attendance = np.ones(draws)
    kinds: dict[str, Floats] = {}
    if factors is not None:
        attendance = _drawn_attendance(tasks, draws, factors, seed)
        kinds = _drawn_kinds(tasks, draws, factors, seed)
    ratios = dict(known or {})
    for task in tasks:
        expected = task.hours.expected
        if expected <= 0 or task.key in ratios:
            continue
        luck = even_shares(draws, seed, f"task {task.key}")
        ratio = distribution(task.hours, luck) / expected if _has_spread(task) else np.ones(draws)
        if factors is not None and not _taken_at_its_word(task, factors):
            ratio = ratio * kinds[task.setup or NO_SETUP]
        ratios[task.key] = ratio / attendance
    return ratios


def _drawn_kinds(tasks: list[Task], draws: int, factors: Factors, seed: int) -> dict[str, Floats]:
    """The factor of every kind of work in each draw: first the level is drawn, then the kinds."""
    level_off = factors.level.log_sd * balanced_normals(draws, seed, "level")
    drawn = {}
    for kind in sorted({task.setup or NO_SETUP for task in tasks}):
        of_kind = factors.of_kind(kind)
        own_off = of_kind.own_log_sd * balanced_normals(draws, seed, f"kind {kind}")
        drawn[kind] = np.exp(of_kind.log_mean + (1 - of_kind.weight) * level_off + own_off)
    return drawn


def _drawn_attendance(tasks: list[Task], draws: int, factors: Factors, seed: int) -> Floats:
    """Attendance of each draw. Where nothing uncertain was said, nothing is drawn."""
    if not factors.attendance.weeks and not any(_has_spread(task) for task in tasks):
        return np.ones(draws)
    normals = balanced_normals(draws, seed, "attendance")
    drawn = factors.attendance.mean + factors.attendance.sd * normals
    return np.maximum(drawn, LEAST_ATTENDANCE)


def _has_spread(task: Task) -> bool:
    return task.hours.pessimistic > task.hours.optimistic


def _taken_at_its_word(task: Task, factors: Factors) -> bool:
    """A certain estimate is believed as long as no record, of any kind, says otherwise."""
    return not _has_spread(task) and not factors.level.count
