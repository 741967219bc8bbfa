"""Earned value and earned schedule of a build against its baseline, in shop hours.

Planned value comes from the baseline's plan, earned value from what is finished and begun,
actual cost from the log. One hour of a task is worth one hour: there is no money in it.
"""

import datetime as dt
import itertools
from bisect import bisect_right
from collections import defaultdict
from dataclasses import dataclass

from webapp.build.build_input import BuildInput, Task
from webapp.build.hours_to_go import hours_left_after, planned_seconds
from webapp.build.moments import date_of, moment_at_start
from webapp.build.time.shop_calendar import last_closing
from webapp.build.time.shop_weeks import shop_week_on, week_hours
from webapp.build.time_units import DAY
from webapp.planning.order.plan import Plan
from webapp.planning.record.attendance import first_day
from webapp.planning.record.earned_figures import EarnedFigure, figures_of
from webapp.planning.record.planned_value import (
    PromisedHours,
    Steps,
    planned_value,
    value_steps,
)

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
    began = _beginning(baseline, build)
    planned_end = max((task.ends for task in baseline_plan.tasks), default=baseline.now)
    until = max(planned_end, build.now)
    promised = PromisedHours(baseline, began, until + WEEK)
    plan = planned_value(baseline, baseline_plan, worth, _shares_done(baseline), promised)
    ends = _week_ends(_monday(began), until)
    pv = plan.at([promised.by(end) for end in [*ends, build.now]])
    past = sum(end <= build.now for end in ends)
    last_days = [*((end - DAY).date() for end in ends[:past]), build.now.date()]
    ev = _summed(value_steps(worth, _shares_done(build)), last_days)
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
        plan=plan,
        pv=pv[-1],
        ev=ev[-1],
        ac=ac[-1],
        etc=etc,
        hours_gone=max(0.0, promised.by(_finish(worth, baseline, build) or build.now)),
        week_hours=_week_hours(baseline),
    )
    return Earned(weeks=tuple(weeks), figures=figures)


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


# --- what was earned ------------------------------------------------------------------------


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


def _summed(steps: Steps, last_days: list[dt.date]) -> list[float]:
    """The sum of all steps up to and with each of the days."""
    ordered = sorted(steps)
    sums = [0.0, *itertools.accumulate(amount for _, amount in ordered)]
    days = [day for day, _ in ordered]
    return [sums[bisect_right(days, last)] for last in last_days]


def _finish(worth: dict[str, float], baseline: BuildInput, build: BuildInput) -> dt.datetime | None:
    """When the last task of the baseline was finished; None while one is open.

    A date alone counts from the last closing of that day.
    """
    tasks = [task for task in build.tasks if task.key in worth]
    finished = [task.finished_on for task in tasks if task.finished_on is not None]
    if not finished or any(task.is_open for task in tasks):
        return None
    return max(
        at if isinstance(at, dt.datetime) else min(last_closing(baseline.shop, at), build.now)
        for at in finished
    )


# --- weeks ----------------------------------------------------------------------------------


def _beginning(baseline: BuildInput, build: BuildInput) -> dt.date:
    """The day the build began: that of its start, else of its first log entry, else today."""
    days = [first_day(build), first_day(baseline), baseline.now.date(), build.now.date()]
    return next(day for day in days if day is not None)


def _week_hours(build: BuildInput) -> float:
    """Hours that the shop week promises."""
    return week_hours(shop_week_on(build.shop, build.now.date()))


def _monday(day: dt.date) -> dt.datetime:
    return moment_at_start(day - dt.timedelta(days=day.weekday()))


def _week_ends(start: dt.datetime, until: dt.datetime) -> list[dt.datetime]:
    """Monday 00:00 after every week from `start` to the week that holds `until`."""
    count = max(0, (until - start) // WEEK) + 1
    return [start + WEEK * (i + 1) for i in range(count)]
