"""Latest arrivals of parts: at once for a small build, beside the page for a large one."""

import datetime as dt
import math

from webapp.build.build_input import Part
from webapp.pages.frame.context import PageContext
from webapp.planning.chances.pace import paced_seconds
from webapp.planning.order.latest_arrivals import latest_arrivals
from webapp.services.background import Answer

MOST_AT_ONCE = 3_000
"""Open tasks times parts still to come that a page waits for: about a quarter of a second."""


def latest_arrivals_of(
    page: PageContext, *, wait_seconds: float = 0.0
) -> Answer[dict[str, dt.date]]:
    """By part, the latest arrival that does not move first start; empty while nothing is planned.

    At the pace and in the order of the date that is shown.

    Not ready while the dates of a large build are worked out; asking again finds them. With
    `wait_seconds` it is waited for so long.
    """
    planned = page.planned
    build, factors, factor = planned.planned_input, planned.factors, planned.factor
    if page.plan is None:
        return Answer(ready=True, value={})

    def worked_out() -> dict[str, dt.date]:
        return latest_arrivals(build, paced_seconds(build, factors, factor))

    still_open = sum(task.is_open for task in build.tasks)
    if still_open * sum(not part.arrived for part in build.parts) > MOST_AT_ONCE:
        asked = planned.version, factor
        key, background = (page.slug, "latest arrivals"), planned.background
        if not wait_seconds:
            return background.ask(key, asked, worked_out, now=page.now)
        return background.wait(key, asked, worked_out, now=page.now, seconds=wait_seconds)
    return Answer(ready=True, value=planned.arrivals.get_or_keep(factor, worked_out))


def order_by_of(part: Part, latest: dt.date | None) -> dt.date | None:
    """The last day to order on: the latest arrival less the lead time, in whole days."""
    if latest is None:
        return None
    return latest - dt.timedelta(days=math.ceil(part.lead_days or 0))
