"""When first start is, in the order that holds, without the rest of its plan."""

import datetime as dt

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.build.time.shop_calendar import NEVER
from webapp.planning.network.outside_holds import finished_at
from webapp.planning.order.order_that_holds import ranking_that_holds
from webapp.planning.simulator.simulate import first_starts
from webapp.planning.simulator.variants import Variants
from webapp.planning.simulator.work_arrays import WorkArrays, for_first_start_only, lay_out


def first_start_at(build: BuildInput, *, work: WorkArrays | None = None) -> dt.datetime | None:
    """When the plan reaches first start; when it was, once it is finished.

    To the minute; None where it has no date. `work` is the build where it is laid out already, at
    whatever pace.
    """
    task = find_by_key(build.tasks, build.first_start)
    if task is not None and task.finished_on is not None:
        return finished_at(build, task)
    work = for_first_start_only(work or lay_out(build))
    if work.first_start < 0:
        return None
    variants = Variants(count=1, rankings=(ranking_that_holds(build, work),))
    end = int(first_starts(work, variants).wall[0])
    return None if end >= NEVER else work.calendar.minute(end)
