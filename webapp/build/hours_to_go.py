"""How many hours of work an open task still takes: worked out here and nowhere else."""

from webapp.build.build_input import BuildInput, Task
from webapp.build.logged_hours import logged_hours
from webapp.build.time_units import seconds_of

LEAST_HOURS_LEFT = 0.25
"""A begun task without a word on what is left has at least this long to go."""


def hours_to_go(task: Task, logged: float) -> float:
    """Hours of work left of an open task on which `logged` hours were worked.

    The expected hours; of a begun task its hours left, else the expected ones less those
    logged, at least a quarter of an hour. Outside work takes its days instead.
    """
    if task.begun_on is None:
        return task.hours.expected
    if task.hours_left is not None:
        return task.hours_left
    return hours_left_after(task.hours.expected, logged)


def hours_left_after(hours: float, worked: float) -> float:
    """What is left of some hours after work that did not finish them."""
    return max(LEAST_HOURS_LEFT, hours - worked)


def hours_to_go_of(build: BuildInput, task: Task) -> float:
    """Hours of work left of one open task of a build."""
    own = logged_hours(entry for entry in build.log if entry.task == task.key)
    return hours_to_go(task, own.get(task.key, 0.0))


def planned_seconds(build: BuildInput) -> dict[str, int]:
    """Whole seconds of work still to do of every open task, by key: what the planner plans."""
    logged = logged_hours(build.log)
    return {
        task.key: seconds_of(hours_to_go(task, logged.get(task.key, 0.0)))
        for task in build.tasks
        if task.is_open
    }
