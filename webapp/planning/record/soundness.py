"""Is the plan itself sound? The ten practices of GAO-16-89G as far as they fit one builder.

GAO-16-89G is the Schedule Assessment Guide of the US Government Accountability Office (read in a
summary): capture all activities; sequence them; assign resources; establish durations; traceable
horizontally and vertically; valid critical path; reasonable float; risk analysis; update with
actuals; keep a baseline. Hands are given out by the planner and the risk analysis is the
forecast, so that two of them need no finding here.
"""

import datetime as dt
from collections.abc import Iterable, Iterator

from webapp.build.build_input import BuildInput, Task
from webapp.build.due_days import due_of
from webapp.build.logged_hours import logged_hours
from webapp.build.moments import date_of, moment_at_start
from webapp.build.precedence import followers_of, needed_for, tasks_as_entered
from webapp.build.time.shop_weeks import shop_week_on, week_hours
from webapp.planning.order.plan import Plan
from webapp.planning.record.finding import Finding

LONG_TASK_WEEKS = 2
"""A task longer than two shop weeks goes through two week sheets without an end in sight. Common
practice, no source; US government schedule reviews say 44 working days (from memory), which is
far too long for one builder."""
FAR_FLOAT_DAYS = 44
"""Float over 44 working days is beyond sense in US government schedule reviews (from memory); a
working day is a day of the shop week here."""
MOST_SHARE = 0.05
"""In the same reviews 5% of the tasks may be loose, long or with far float (from memory)."""
OLD_BASELINE_DAYS = 91
"""A baseline older than a quarter of a year that the plan has left. Common practice, no source."""
SILENT_DAYS = 14
"""A begun task with nothing logged for so long. Common practice, no source."""


def findings_of(
    build: BuildInput, plan: Plan, baseline: BuildInput | None = None
) -> tuple[Finding, ...]:
    """Every weakness of a build's plan, in the order of the ten practices."""
    open_tasks = [task for task in build.tasks if task.is_open]
    return (
        *_captured(build),
        *_sequenced(build, open_tasks),
        *_estimated(build, open_tasks),
        *_driven(build, plan),
        *_floating(build, open_tasks, plan),
        *_updated(build),
        *_against_baseline(build, baseline),
    )


# --- capture all activities -----------------------------------------------------------------


def _captured(build: BuildInput) -> Iterator[Finding]:
    used = {task.subsystem for task in build.tasks}
    empty = [subsystem for subsystem in build.subsystems if subsystem.key not in used]
    if empty:
        yield Finding(
            kind="empty_subsystem",
            keys=tuple(subsystem.key for subsystem in empty),
        )
    known = {task.key: task for task in build.tasks}
    late = {
        entry.task: None
        for entry in build.log
        if entry.hours > 0 and _is_outside_the_plan(known.get(entry.task), entry.on)
    }
    if late:
        yield Finding(
            kind="unplanned_work",
            keys=tuple(late),
        )


def _is_outside_the_plan(task: Task | None, on: dt.date) -> bool:
    if task is None:
        return True
    closed = task.finished_on or task.set_aside_on
    if closed is None:
        return False
    return on > date_of(closed)


# --- sequence, durations --------------------------------------------------------------------


def _sequenced(build: BuildInput, open_tasks: list[Task]) -> Iterator[Finding]:
    """Tasks that nothing comes after, and tasks with no tie at all to what comes before."""
    has_after = {dependency.before for dependency in build.dependencies}
    has_before = {dependency.after for dependency in build.dependencies}
    has_part = {key for part in build.parts for key in part.serves}
    keys = {task.key for task in build.tasks}
    first_start = build.first_start if build.first_start in keys else None
    needed = needed_for(build, first_start) if first_start else frozenset[str]()
    # Work that comes after first start may well be the last of its line.
    has_place = needed | has_after | _after(build, first_start)
    nowhere = [t for t in open_tasks if t.key not in has_place]
    if nowhere:
        yield Finding(
            kind="leads_nowhere",
            keys=_keys(nowhere),
            within_limit=len(nowhere) <= MOST_SHARE * len(open_tasks),
        )
    loose = [
        t
        for t in open_tasks
        if t.key not in has_before and t.key not in has_part and t.begun_on is None
    ]
    # Some task has to be the first: one beginning of a plan is no weakness.
    if len(loose) > max(1.0, MOST_SHARE * len(open_tasks)):
        yield Finding(
            kind="follows_nothing",
            keys=_keys(loose),
        )


def _after(build: BuildInput, key: str | None) -> frozenset[str]:
    """The keys of all tasks that come after one, however far."""
    tasks = tasks_as_entered(build)
    after = followers_of(build)
    reached = {i for i, task in enumerate(tasks) if task.key == key}
    to_walk = list(reached)
    while to_walk:
        new = [j for j in after[to_walk.pop()] if j not in reached]
        reached.update(new)
        to_walk += new
    return frozenset(tasks[i].key for i in reached)


def _estimated(build: BuildInput, open_tasks: list[Task]) -> Iterator[Finding]:
    in_shop = [t for t in open_tasks if t.outside_days is None]
    nothing = [t for t in in_shop if t.hours.expected == 0]
    if nothing:
        yield Finding(
            kind="no_estimate",
            keys=_keys(nothing),
        )
    certain = [t for t in in_shop if 0 < t.hours.optimistic == t.hours.pessimistic]
    if certain:
        yield Finding(
            kind="no_spread",
            keys=_keys(certain),
        )
    limit = LONG_TASK_WEEKS * _week_hours(build)
    long = [t for t in in_shop if t.hours.expected > limit > 0]
    if long:
        yield Finding(
            kind="long_task",
            keys=_keys(long),
            limit_hours=limit,
            within_limit=len(long) <= MOST_SHARE * len(open_tasks),
        )


# --- critical path, float -------------------------------------------------------------------


def _driven(build: BuildInput, plan: Plan) -> Iterator[Finding]:
    """Dates that the plan can not work out, for want of something to work them out from."""
    open_keys = {task.key for task in build.tasks if task.is_open}
    undated = [
        part
        for part in build.parts
        if not part.arrived
        and due_of(part, build.now.date()) is None
        and open_keys & {*part.serves}
    ]
    if undated:
        yield Finding(
            kind="undated_part",
            keys=tuple(part.key for part in undated),
        )
    overdue = [
        part
        for part in build.parts
        if not part.arrived
        and (due := due_of(part, build.now.date())) is not None
        and moment_at_start(due.said) + dt.timedelta(days=1) <= build.now
        and open_keys & {*part.serves}
    ]
    if overdue:
        yield Finding(
            kind="overdue_part",
            keys=tuple(part.key for part in overdue),
        )
    if plan.first_start_at is None or not plan.path:
        return
    drivers = [step for step in plan.path if step.kind in ("task", "wait")]
    if len(drivers) <= 1 < len(open_keys):
        yield Finding(
            kind="no_driver",
            keys=tuple(step.what for step in drivers),
            first_start_on=plan.path[-1].ends.date(),
        )


def _floating(build: BuildInput, open_tasks: list[Task], plan: Plan) -> Iterator[Finding]:
    open_days = len({s.weekday for s in shop_week_on(build.shop, build.now.date())})
    limit = FAR_FLOAT_DAYS * _week_hours(build) / max(1, open_days)
    names = {task.key: task for task in open_tasks}
    far = [
        names[planned.key]
        for planned in plan.tasks
        if planned.for_first_start
        and planned.total_float_hours > limit > 0
        and planned.key in names
    ]
    if far:
        yield Finding(
            kind="far_float",
            keys=_keys(far),
            limit_hours=limit,
            within_limit=len(far) <= MOST_SHARE * len(open_tasks),
        )


# --- update with actuals, keep a baseline ---------------------------------------------------


def _updated(build: BuildInput) -> Iterator[Finding]:
    last_logged: dict[str, dt.date] = {}
    for entry in build.log:
        last_logged[entry.task] = max(entry.on, last_logged.get(entry.task, entry.on))
    silent = [
        task
        for task in build.tasks
        if task.is_open
        and task.outside_days is None
        and task.begun_on is not None
        and (build.now.date() - _last_sign(task, last_logged)).days > SILENT_DAYS
    ]
    if silent:
        yield Finding(
            kind="silent_work",
            keys=_keys(silent),
        )
    logged = logged_hours(build.log)
    unlogged = [
        task
        for task in build.tasks
        if task.finished_on is not None
        and task.outside_days is None
        and task.hours.expected > 0
        and not logged.get(task.key)
    ]
    if unlogged and build.log:
        yield Finding(
            kind="unlogged_work",
            keys=_keys(unlogged),
        )


def _last_sign(task: Task, last_logged: dict[str, dt.date]) -> dt.date:
    begun = task.begun_on
    assert begun is not None
    day = date_of(begun)
    return max(day, last_logged.get(task.key, day))


def _against_baseline(build: BuildInput, baseline: BuildInput | None) -> Iterator[Finding]:
    if baseline is None:
        if build.log:
            yield Finding(
                kind="no_baseline",
                keys=(),
            )
        return
    planned = {task.key for task in baseline.tasks}
    added = [task for task in build.tasks if task.key not in planned and task.is_open]
    days = (build.now - baseline.now).days
    share = len(added) / max(1, sum(task.is_open for task in build.tasks))
    if days > OLD_BASELINE_DAYS and share > MOST_SHARE:
        yield Finding(
            kind="old_baseline",
            keys=_keys(added),
            days_old=days,
        )


def _week_hours(build: BuildInput) -> float:
    return week_hours(shop_week_on(build.shop, build.now.date()))


def _keys(tasks: Iterable[Task]) -> tuple[str, ...]:
    return tuple(task.key for task in tasks)
