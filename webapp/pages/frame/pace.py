"""How hours at the person's own pace came about, with the longest task still to do as example."""

from webapp.build.by_key import get_by_key
from webapp.build.hours_to_go import planned_seconds
from webapp.pages.frame.context import PageContext
from webapp.pages.words.how import How, pace_hours_how
from webapp.planning.chances.factors import kind_of
from webapp.planning.chances.pace import keeps_its_hours, paced_seconds


def pace_how(page: PageContext) -> How | None:
    """None where no task has hours to go."""
    planned = page.planned
    if page.plan is None or not page.plan.tasks:
        return None
    build = planned.planned_input
    expected = planned_seconds(build)
    paced = paced_seconds(build, planned.factors, planned.factor)
    key = max(paced, key=lambda key: paced[key], default=None)
    if key is None or not paced[key]:
        return None
    task = get_by_key(build.tasks, key)
    return pace_hours_how(
        task.name,
        expected=expected[key] / 3600,
        paced=paced[key] / 3600,
        of_kind=planned.factors.of_kind(kind_of(task)).factor,
        attendance=planned.factors.attendance.mean,
        last=planned.factor,
        is_stretched=not keeps_its_hours(task),
    )
