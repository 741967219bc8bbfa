"""Latest arrivals of parts: at once for a small build, beside the page for a large one."""

import datetime as dt
from threading import Lock
from weakref import WeakKeyDictionary

from webapp.pages.frame.context import PageContext
from webapp.planning.order.latest_arrivals import latest_arrivals
from webapp.services.background import Answer
from webapp.services.planned_build import PlannedBuild

MOST_AT_ONCE = 3_000
"""Open tasks times parts still to come that a page waits for: about a quarter of a second."""

_kept: WeakKeyDictionary[PlannedBuild, dict[str, dt.date]] = WeakKeyDictionary()
_lock = Lock()


def latest_arrivals_of(page: PageContext) -> Answer[dict[str, dt.date]]:
    """By part, the latest arrival that does not move first start; empty while nothing is planned.

    Not ready while the dates of a large build are worked out; asking again finds them.
    """
    planned = page.planned
    build = planned.planned_input
    if page.plan is None:
        return Answer(ready=True, value={})
    still_open = sum(task.is_open for task in build.tasks)
    if still_open * sum(not part.arrived for part in build.parts) > MOST_AT_ONCE:
        return planned.background.ask(
            (page.slug, "latest arrivals"),
            planned.version,
            lambda: latest_arrivals(build),
            now=page.now,
        )
    with _lock:
        if planned not in _kept:
            _kept[planned] = latest_arrivals(build)
        return Answer(ready=True, value=_kept[planned])
