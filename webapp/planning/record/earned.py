"""Earned value and earned schedule of a build against its baseline, in shop hours.

Planned value comes from the baseline's plan, earned value from what is finished and begun,
actual cost from the log. One hour of a task is worth one hour: there is no money in it.
"""

import datetime as dt
import itertools
from bisect import bisect_right
from collections import defaultdict
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from webapp.build.build_input import BuildInput, Task
from webapp.build.hours_to_go import hours_left_after, planned_seconds
from webapp.build.moments import date_of, moment_at_start
from webapp.build.time.shop_calendar import ShopCalendar
from webapp.build.time_units import DAY
from webapp.planning.order.plan import Plan
from webapp.planning.record import earned_formulas as formulas
from webapp.planning.record.attendance import first_day

Unit = Literal["hours", "weeks", "ratio"]
WEEK = dt.timedelta(weeks=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class EarnedWeek:
    """PV, EV and AC, summed up to the end of an ISO week, in shop hours.

    `ends` is Monday 00:00 after it. EV and AC are None for weeks to come; those of the running
    week are as of `now`.
    """

    iso_year: int
    iso_week: int
    ends: dt.datetime
    pv: float
    ev: float | None
    ac: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class EarnedFigure:
    """One figure by its standard name; None: no answer yet."""

    name: str
    unit: Unit
    value: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Earned:
    """The weekly curves of a build against its baseline, and every figure as of `now`."""

    weeks: tuple[EarnedWeek, ...]
    figures: tuple[EarnedFigure, ...]

    def figure(self, name: str) -> EarnedFigure:
        """The figure of a standard name; raises KeyError where there is none."""
        for figure in self.figures:
            if figure.name == name:
                return figure
        raise KeyError(name)


def earned_of(baseline: BuildInput, baseline_plan: Plan, build: BuildInput) -> Earned:
    """Hold a build against its baseline, the frozen build input and plan it was promised by.

    A task is worth its expected hours in the baseline. Left out: outside work, work that runs
    by itself, and what was set aside or could not be planned in the baseline. A task not in the
    baseline earns nothing. A begun task earns 1 - left / (logged + left) of its worth.
    """
    worth = _worth_of(baseline, baseline_plan)
    start = _monday(_beginning(baseline, build))
    planned_end = max((task.ends for task in baseline_plan.tasks), default=baseline.now)
    ends = _week_ends(start, max(planned_end, build.now))
    pv = _planned_value(baseline, baseline_plan, worth, [*ends, build.now])
    past = sum(end <= build.now for end in ends)
    last_days = [*((end - DAY).date() for end in ends[:past]), build.now.date()]
    ev = _summed(_value_steps(worth, _shares_done(build)), last_days)
    ac = _summed([(entry.on, entry.hours) for entry in build.log], last_days)
    weeks = []
    for i, end in enumerate(ends):
        year, week, _ = (end - WEEK).isocalendar()
        begun = i <= past
        weeks.append(
            EarnedWeek(
                iso_year=year,
                iso_week=week,
                ends=end,
                pv=pv[i],
                ev=ev[i] if begun else None,
                ac=ac[i] if begun else None,
            )
        )
    left = planned_seconds(build)
    etc = sum(left[t.key] for t in build.tasks if t.is_open and _takes_hands(t)) / 3600
    figures = figures_of(
        pv_by_week=pv[:-1],
        pv=pv[-1],
        ev=ev[-1],
        ac=ac[-1],
        etc=etc,
        weeks_gone=(build.now - start) / WEEK,
    )
    return Earned(weeks=tuple(weeks), figures=figures)


def figures_of(
    *, pv_by_week: list[float], pv: float, ev: float, ac: float, etc: float, weeks_gone: float
) -> tuple[EarnedFigure, ...]:
    """Every figure. `pv_by_week` is cumulative."""
    bac = pv_by_week[-1] if pv_by_week else 0.0
    eac = formulas.estimate_by_cost_index(bac, ev, ac)
    bottom_up = formulas.estimate_bottom_up(ac, etc)
    es = formulas.earned_schedule(pv_by_week, ev)
    spi_t = formulas.time_index(es, weeks_gone)
    pd = float(formulas.planned_periods(pv_by_week)) if pv_by_week else 0.0
    values: dict[str, float | None] = {
        "PV": pv,
        "EV": ev,
        "AC": ac,
        "BAC": bac,
        "CV": formulas.cost_variance(ev, ac),
        "SV": formulas.schedule_variance(ev, pv),
        "CPI": formulas.cost_index(ev, ac),
        "SPI": formulas.schedule_index(ev, pv),
        "EAC": eac,
        "EAC (bottom-up)": bottom_up,
        "EAC (atypical)": formulas.estimate_atypical(bac, ev, ac),
        "EAC (CPI x SPI)": formulas.estimate_by_both_indices(bac, pv, ev, ac),
        "ETC": formulas.estimate_to_complete(eac, ac),
        "VAC": formulas.variance_at_completion(bac, eac),
        "VAC (bottom-up)": formulas.variance_at_completion(bac, bottom_up),
        "TCPI": formulas.to_complete_index(bac, ev, ac),
        "AT": weeks_gone,
        "ES": es,
        "SV(t)": formulas.time_variance(es, weeks_gone),
        "SPI(t)": spi_t,
        "PD": pd,
        "IEAC(t)": formulas.estimate_of_duration(pd, spi_t),
    }
    return tuple(
        EarnedFigure(name=name, unit=unit, value=values[name]) for name, unit in UNITS.items()
    )


UNITS: dict[str, Unit] = {
    "PV": "hours",
    "EV": "hours",
    "AC": "hours",
    "BAC": "hours",
    "CV": "hours",
    "SV": "hours",
    "CPI": "ratio",
    "SPI": "ratio",
    "EAC": "hours",
    "EAC (bottom-up)": "hours",
    "EAC (atypical)": "hours",
    "EAC (CPI x SPI)": "hours",
    "ETC": "hours",
    "VAC": "hours",
    "VAC (bottom-up)": "hours",
    "TCPI": "ratio",
    "AT": "weeks",
    "ES": "weeks",
    "SV(t)": "weeks",
    "SPI(t)": "ratio",
    "PD": "weeks",
    "IEAC(t)": "weeks",
}
"""What each figure is counted in, by its standard name, in the order they are told."""


# --- what was planned -----------------------------------------------------------------------


def _takes_hands(task: Task) -> bool:
    return task.outside_days is None and task.people > 0


def _worth_of(baseline: BuildInput, plan: Plan) -> dict[str, float]:
    """What each task of the baseline is worth, in hours, by key."""
    planned = {task.key for task in plan.tasks}
    return {
        task.key: task.hours.expected
        for task in baseline.tasks
        if _takes_hands(task)
        and task.hours.expected > 0
        and (task.finished_on is not None or task.key in planned)
    }


def _planned_value(
    baseline: BuildInput, plan: Plan, worth: dict[str, float], moments: list[dt.datetime]
) -> list[float]:
    """PV at each moment: done before the baseline was laid down, and planned by it since.

    What a planned task is still worth runs up evenly over its hands-on shop hours.
    """
    until = max([*moments, *(task.ends for task in plan.tasks)])
    calendar = ShopCalendar.of(baseline.shop, baseline.now, shop_hours=0, until=until)
    wall = np.array([calendar.wall_of(moment) for moment in moments], np.int64)
    # A moment past the last closing has seen all shop hours.
    last = int(calendar.closes[-1]) if len(calendar.closes) else 0
    shop_hours: NDArray[np.float64] = calendar.shop_of(np.clip(wall, 0, last)) / 3600
    shares = _shares_done(baseline)
    last_days = [moment.date() for moment in moments]
    total = np.array(_summed(_value_steps(worth, shares), last_days))
    for task in plan.tasks:
        if task.key not in worth:
            continue
        begin = task.begin_shop_hours + task.setup_hours
        hours = max(task.end_shop_hours - begin, 1e-9)
        steps = shares.get(task.key)
        to_come = worth[task.key] * (1 - (steps[-1][1] if steps else 0.0))
        total += to_come * np.clip((shop_hours - begin) / hours, 0, 1)
    return [float(value) for value in total]


# --- what was earned ------------------------------------------------------------------------

Steps = list[tuple[dt.date, float]]


def _shares_done(build: BuildInput) -> dict[str, Steps]:
    """For each task worked on, the share that was done of it from each date on.

    A log entry without a word on what is left leaves the expected hours less those logged; the
    last step of a begun task is what the planner sees today.
    """
    shares: dict[str, Steps] = defaultdict(list)
    logged: dict[str, float] = defaultdict(float)
    task_of = {task.key: task for task in build.tasks}
    for entry in sorted(build.log, key=lambda entry: entry.on):
        logged[entry.task] += entry.hours
        task = task_of.get(entry.task)
        if task is not None:
            to_go = hours_left_after(task.hours.expected, logged[task.key])
            left = to_go if entry.left is None else entry.left
            shares[task.key].append((entry.on, _share(logged[task.key], left)))
    left_now = planned_seconds(build)
    for task in build.tasks:
        if task.finished_on is not None:
            day = date_of(task.finished_on)
            earlier = [step for step in shares[task.key] if step[0] < day]
            shares[task.key] = [*earlier, (day, 1.0)]
        elif task.begun_on is not None and task.is_open:
            share = _share(logged[task.key], left_now[task.key] / 3600)
            shares[task.key].append((build.now.date(), share))
    return shares


def _share(logged: float, left: float) -> float:
    return 1 - left / (logged + left) if logged > 0 else 0.0


def _value_steps(worth: dict[str, float], shares: dict[str, Steps]) -> Steps:
    """By how many hours of worth the earned value rises, or falls, on each date."""
    rises: Steps = []
    for key, steps in shares.items():
        done = 0.0
        for day, share in steps if key in worth else ():
            rises.append((day, worth[key] * (share - done)))
            done = share
    return rises


def _summed(steps: Steps, last_days: list[dt.date]) -> list[float]:
    """The sum of all steps up to and with each of the days."""
    ordered = sorted(steps)
    sums = [0.0, *itertools.accumulate(amount for _, amount in ordered)]
    days = [day for day, _ in ordered]
    return [sums[bisect_right(days, last)] for last in last_days]


# --- weeks ----------------------------------------------------------------------------------


def _beginning(baseline: BuildInput, build: BuildInput) -> dt.date:
    """The day the build began: that of its start, else of its first log entry, else today."""
    days = [first_day(build), first_day(baseline), baseline.now.date(), build.now.date()]
    return next(day for day in days if day is not None)


def _monday(day: dt.date) -> dt.datetime:
    return moment_at_start(day - dt.timedelta(days=day.weekday()))


def _week_ends(start: dt.datetime, until: dt.datetime) -> list[dt.datetime]:
    """Monday 00:00 after every week from `start` to the week that holds `until`."""
    count = max(0, (until - start) // WEEK) + 1
    return [start + WEEK * (i + 1) for i in range(count)]
