"""What keeps a task from beginning, or ends it, apart from the open tasks before it.

Parts on their way, waits that still run after finished work, and work done by someone else.
"""

import datetime as dt

from webapp.build.build_input import BuildInput, Part, Task
from webapp.build.due_days import due_of
from webapp.build.moments import moment_at_start
from webapp.build.time.shop_calendar import ShopCalendar, last_closing
from webapp.build.time_units import DAY_SECONDS, seconds_of


def holding_parts(build: BuildInput) -> tuple[tuple[Part, str], ...]:
    """Each part that has not arrived with each task that it keeps from beginning."""
    begun = {task.key for task in build.tasks if task.begun_on is not None}
    return tuple(
        (part, key)
        for part in build.parts
        if not part.arrived
        for key in part.serves
        if key not in begun
    )


def finished_waits(build: BuildInput) -> tuple[tuple[str, str, dt.datetime], ...]:
    """Waits that still run after finished work: task before, task after, end of the wait.

    A finish given as a date counts from that day's last closing. Finished work without a wait
    holds nothing.
    """
    finished = {task.key: task for task in build.tasks if task.finished_on is not None}
    waits = []
    for dependency in build.dependencies if finished else ():
        before = finished.get(dependency.before)
        wait = seconds_of(dependency.wait_hours)
        if before is not None and wait:
            until = finished_at(build, before) + dt.timedelta(seconds=wait)
            waits.append((before.key, dependency.after, until))
    return tuple(waits)


def arrivals(build: BuildInput) -> tuple[tuple[str, dt.datetime], ...]:
    """Each task with the arrival of each part that keeps it from beginning and has a day."""
    return tuple(
        (key, moment_at_start(due.on))
        for part, key in holding_parts(build)
        if (due := due_of(part, build.now.date())) is not None
    )


def waits_over(build: BuildInput) -> tuple[tuple[str, dt.datetime], ...]:
    """Each task with the end of each wait that still runs before it after finished work."""
    return tuple((after, until) for _, after, until in finished_waits(build))


def finished_at(build: BuildInput, task: Task) -> dt.datetime:
    """The moment from which waits after a finished task count.

    A finish given as a date counts from that day's last closing. Raises ValueError for a task
    that is not finished.
    """
    if task.finished_on is None:
        raise ValueError(f"“{task.name}” is not finished.")
    if isinstance(task.finished_on, dt.datetime):
        return task.finished_on
    return last_closing(build.shop, task.finished_on)


def outside_seconds(task: Task) -> int:
    """Wall seconds of outside work not yet begun."""
    if task.outside_days is None or task.begun_on is not None:
        return 0
    return round(task.outside_days * DAY_SECONDS)


def back_at(task: Task, calendar: ShopCalendar) -> int:
    """The wall second at which begun outside work comes back, 0 (`now`) for all other work."""
    if task.outside_days is None or task.begun_on is None:
        return 0
    begun = calendar.wall_of(moment_at_start(task.begun_on))
    return begun + round(task.outside_days * DAY_SECONDS)
