"""When first start is: of a build by the house rules, without the rest of its plan."""

import datetime as dt

from webapp.build.build_input import BuildInput
from webapp.build.by_key import find_by_key
from webapp.build.time.shop_calendar import NEVER
from webapp.planning.network.outside_holds import finished_at
from webapp.planning.simulator.house_rules import HOUSE_RULES
from webapp.planning.simulator.simulate import first_starts
from webapp.planning.simulator.variants import as_it_is
from webapp.planning.simulator.work_arrays import for_first_start_only, lay_out


def first_start_at(build: BuildInput) -> dt.datetime | None:
    """When first start is, as planned by the house rules; when it was, once it is finished.

    To the minute; None where it has no date.
    """
    task = find_by_key(build.tasks, build.first_start)
    if task is not None and task.finished_on is not None:
        return finished_at(build, task)
    minutes = first_start_minutes(build)
    return None if minutes is None else build.now + dt.timedelta(minutes=minutes)


def first_start_minutes(build: BuildInput) -> int | None:
    """Whole minutes from `now` to the end of the task first start; None where it has no date."""
    work = for_first_start_only(lay_out(build))
    if work.first_start < 0:
        return None
    end = int(first_starts(work, as_it_is(work, HOUSE_RULES)).wall[0])
    return None if end >= NEVER else end // 60
