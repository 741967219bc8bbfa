"""Whether a plan says anything about first start: not where nothing was entered to plan from.

A plan without work ends at once; that is no date, it is not known. Work that is finished counts:
a build that is nearly finished has its date.
"""

from dataclasses import replace
from typing import Literal

from webapp.build.build_input import BuildInput, Task
from webapp.build.by_key import find_by_key
from webapp.build.precedence import needed_for
from webapp.planning.order.plan import Plan

Missing = Literal["tasks", "hours"]


def what_is_missing(build: BuildInput) -> Missing | None:
    """What has to be entered before first start can have a date; None where nothing is.

    No task before first start, or none of them (nor first start itself) with hours or days.
    """
    first = find_by_key(build.tasks, build.first_start)
    if first is None or first.finished_on is not None:
        return None
    needed = needed_for(build, first.key)
    work = [task for task in build.tasks if task.key in needed and _is_there(task)]
    if any(task.hours.pessimistic > 0 or task.outside_days for task in work):
        return None
    return "hours" if any(task.key != first.key for task in work) else "tasks"


def with_known_date(build: BuildInput, plan: Plan) -> Plan:
    """The plan, without a date of first start where there is nothing to tell it from."""
    if plan.first_start_at is None or what_is_missing(build) is None:
        return plan
    return replace(plan, first_start_at=None, first_start_shop_hours=None, path=())


def _is_there(task: Task) -> bool:
    """Whether a task is done or to be done: not set aside."""
    return task.set_aside_on is None or task.finished_on is not None
