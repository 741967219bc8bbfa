"""The longest way still to go from each task: work, waits and outside days along dependencies.

What the house rules rank by where all else is equal. Unlike float it does not flip as days pass:
a build lived as planned keeps its order.
"""

from collections.abc import Mapping

from webapp.build.build_input import BuildInput
from webapp.build.precedence import needed_for, topological_order
from webapp.build.shop import Shop
from webapp.build.time.shop_weeks import lasting_week
from webapp.build.time_units import DAY_SECONDS, WEEK_SECONDS, seconds_of


def longest_ways(
    build: BuildInput, work_seconds: Mapping[str, int], needed: frozenset[str] | None = None
) -> dict[str, int]:
    """Wall seconds from the beginning of each open task to first start, the longest way.

    Work counts as long as it takes of the calendar on average: times the week over the week's
    shop hours. Of a task that first start does not need it is the longest way to any last task.
    `work_seconds` are shop seconds of work by key, `needed` what first start needs where it is
    known already.
    """
    stretch = _wall_of_shop(build.shop)
    if needed is None:
        needed = needed_for(build, build.first_start) if build.first_start else frozenset()
    after: dict[str, list[tuple[str, int]]] = {}
    for dependency in build.dependencies:
        if dependency.before not in needed or dependency.after in needed:
            wait = seconds_of(dependency.wait_hours)
            after.setdefault(dependency.before, []).append((dependency.after, wait))
    tasks = {task.key: task for task in build.tasks if task.is_open}
    ways: dict[str, int] = {}
    for key in reversed(topological_order(build)):
        if key in tasks:
            days = tasks[key].outside_days
            own = round(work_seconds.get(key, 0) * stretch if days is None else days * DAY_SECONDS)
            follows = (ways[to] + wait for to, wait in after.get(key, ()) if to in ways)
            ways[key] = own + max(follows, default=0)
    return ways


def _wall_of_shop(shop: Shop) -> float:
    """Wall time that goes by for each shop second, on average; 1 where the week has no session.

    Of the week that holds in the end: the order must not turn over on the first day of another.
    """
    hours = [session.hours for session in lasting_week(shop)]
    minutes = sum(one.closes_minute - one.opens_minute for one in hours)
    return WEEK_SECONDS / (minutes * 60) if minutes > 0 else 1.0
