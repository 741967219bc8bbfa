"""When first start is at a pace: the date that each end of the bridge was shown with."""

import datetime as dt

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.build.time.shop_calendar import NEVER
from webapp.planning.chances.pace import AS_ESTIMATED, Pace, paced_seconds
from webapp.planning.network.outside_holds import finished_at
from webapp.planning.order.order_that_holds import ranking_that_holds
from webapp.planning.simulator.simulate import first_starts
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import for_first_start_only, lay_out


def first_start_at_pace(build: BuildInput, pace: Pace = AS_ESTIMATED) -> dt.datetime | None:
    """When the plan laid out at a pace reaches first start; when it was, once it is finished.

    To the minute; None where it has no date.
    """
    task = find_by_key(build.tasks, build.first_start)
    if task is not None and task.finished_on is not None:
        return finished_at(build, task)
    seconds = paced_seconds(build, pace.factors, pace.factor)
    work = for_first_start_only(lay_out(build, work_seconds=seconds))
    if work.first_start < 0:
        return None
    variants = Variants(count=1, rankings=(ranking_that_holds(build, work),))
    end = int(first_starts(work, variants).wall[0])
    return None if end >= NEVER else work.calendar.minute(end)
