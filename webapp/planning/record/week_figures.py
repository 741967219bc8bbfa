"""The week sheet: hours against estimates for one ISO week.

What was worked, finished and decided is that of the week; what is left is as of the build's
`now`. A closed week is a frozen build, so its sheet shows what was left then.
"""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from webapp.build.build_input import BuildInput, Task
from webapp.build.hours_to_go import planned_seconds
from webapp.build.logged_hours import logged_hours
from webapp.build.moments import date_of
from webapp.build.time_units import DAY
from webapp.build.wish import Wish
from webapp.planning.order.plan import Plan
from webapp.planning.record.as_lived import AsLived
from webapp.planning.record.attendance import WeekHours, weeks_of_record
from webapp.planning.record.earned import Earned, earned_of
from webapp.planning.record.workable import workable_days

IsoWeek = tuple[int, int]
"""ISO year and week number."""

NO_SUBSYSTEM = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskWeek:
    """One task on the week sheet. Hours of shop work.

    `left_hours` is 0 for finished tasks; `estimate_error` is the actual over the expected hours
    less 1 (0.25: a quarter over), only for finished tasks with a record.
    """

    key: str
    name: str
    expected_hours: float
    worked_hours: float
    worked_in_all_hours: float
    left_hours: float
    finished_this_week: bool
    estimate_error: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SubsystemWeek:
    """One subsystem: sums over all its tasks, and the tasks that were worked on or finished.

    `key` is "" for tasks without a subsystem. Tasks set aside count for their worked hours alone.
    """

    key: str
    name: str
    expected_hours: float
    worked_hours: float
    worked_in_all_hours: float
    left_hours: float
    tasks: tuple[TaskWeek, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WeekSheet:
    """One ISO week of a build.

    `lost_by_day` lists the dates on which fewer hours were worked than could be, with the hours;
    `added_tasks` are the keys of tasks that are not in the baseline, whenever they were added.
    """

    iso_year: int
    iso_week: int
    monday: dt.date
    promised_hours: float
    workable_hours: float
    worked_hours: float
    lost_hours: float
    lost_by_day: tuple[tuple[dt.date, float], ...]
    subsystems: tuple[SubsystemWeek, ...]
    finished: tuple[TaskWeek, ...]
    wishes_added: tuple[Wish, ...]
    wishes_decided: tuple[Wish, ...]
    added_tasks: tuple[str, ...]
    earned: Earned | None
    record: tuple[WeekHours, ...]


def week_of(moment: dt.date) -> IsoWeek:
    """The ISO week of a date or moment."""
    year, week, _ = moment.isocalendar()
    return year, week


def week_sheet(
    build: BuildInput,
    week: IsoWeek,
    *,
    baseline: BuildInput | None = None,
    baseline_plan: Plan | None = None,
    lived: AsLived | None = None,
) -> WeekSheet:
    """Lay out one week. Earned figures need the baseline and its plan.

    `lived` are the facts of the build where they are at hand.

    Raises ValueError for a week that the ISO calendar has not.
    """
    monday = dt.date.fromisocalendar(*week, 1)
    days = [monday + DAY * i for i in range(7)]
    lived = lived or AsLived(build)
    until = min(days[-1], max(days[0], build.now.date()))
    hours = workable_days(build, days[0], until, lived=lived)
    tasks = _task_weeks(build, week)
    known = {task.key for task in baseline.tasks} if baseline is not None else set()
    earned = None
    if baseline is not None and baseline_plan is not None:
        earned = earned_of(baseline, baseline_plan, build)
    return WeekSheet(
        iso_year=week[0],
        iso_week=week[1],
        monday=monday,
        promised_hours=sum(day.promised_hours for day in hours),
        workable_hours=sum(day.workable_hours for day in hours),
        worked_hours=sum(day.worked_hours for day in hours),
        lost_hours=sum(day.lost_hours for day in hours),
        lost_by_day=tuple((day.date, day.lost_hours) for day in hours if day.lost_hours > 0),
        subsystems=_subsystem_weeks(build, tasks),
        finished=tuple(line for line in tasks.values() if line.finished_this_week),
        wishes_added=tuple(wish for wish in build.wishes if days[0] <= wish.logged_on <= days[-1]),
        wishes_decided=tuple(
            wish
            for wish in build.wishes
            if wish.decision is not None and days[0] <= wish.decision.decided_on <= days[-1]
        ),
        added_tasks=tuple(
            task.key for task in build.tasks if baseline is not None and task.key not in known
        ),
        earned=earned,
        record=weeks_of_record(build, lived=lived),
    )


def _task_weeks(build: BuildInput, week: IsoWeek) -> dict[str, TaskWeek]:
    """Every task with its hours, by key, in the order of entry."""
    monday = dt.date.fromisocalendar(*week, 1)
    sunday = monday + 6 * DAY
    in_all = logged_hours(build.log)
    in_week = logged_hours(entry for entry in build.log if monday <= entry.on <= sunday)
    left = planned_seconds(build)
    lines = {}
    for task in build.tasks:
        done = task.finished_on
        lines[task.key] = TaskWeek(
            key=task.key,
            name=task.name,
            expected_hours=_expected_hours(task),
            worked_hours=in_week.get(task.key, 0.0),
            worked_in_all_hours=in_all.get(task.key, 0.0),
            left_hours=left.get(task.key, 0) / 3600 if task.outside_days is None else 0.0,
            finished_this_week=done is not None and monday <= date_of(done) <= sunday,
            estimate_error=_error(task, in_all.get(task.key, 0.0)),
        )
    return lines


def _expected_hours(task: Task) -> float:
    set_aside = task.set_aside_on is not None and task.finished_on is None
    return 0.0 if set_aside or task.outside_days is not None else task.hours.expected


def _error(task: Task, worked: float) -> float | None:
    """Actual over expected hours less 1, of a finished task with a record."""
    if task.finished_on is None or task.outside_days is not None:
        return None
    if worked <= 0 or task.hours.expected <= 0:
        return None
    return worked / task.hours.expected - 1


def _subsystem_weeks(build: BuildInput, lines: dict[str, TaskWeek]) -> tuple[SubsystemWeek, ...]:
    """Subsystems that have tasks, in working order, those without one last."""
    of_subsystem: dict[str, list[TaskWeek]] = defaultdict(list)
    for task in build.tasks:
        of_subsystem[task.subsystem or NO_SUBSYSTEM].append(lines[task.key])
    names = {s.key: s.name for s in sorted(build.subsystems, key=lambda s: s.order)}
    names |= {key: "" for key in of_subsystem if key not in names}
    return tuple(
        _subsystem_week(key, name, of_subsystem[key])
        for key, name in names.items()
        if key in of_subsystem
    )


def _subsystem_week(key: str, name: str, lines: Iterable[TaskWeek]) -> SubsystemWeek:
    all_lines = list(lines)
    return SubsystemWeek(
        key=key,
        name=name,
        expected_hours=sum(line.expected_hours for line in all_lines),
        worked_hours=sum(line.worked_hours for line in all_lines),
        worked_in_all_hours=sum(line.worked_in_all_hours for line in all_lines),
        left_hours=sum(line.left_hours for line in all_lines),
        tasks=tuple(line for line in all_lines if line.worked_hours > 0 or line.finished_this_week),
    )
