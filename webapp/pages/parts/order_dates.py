"""The latest arrivals of a build's parts, kept as long as its plan is."""

import datetime as dt
from threading import Lock
from weakref import WeakKeyDictionary

from webapp.pages.frame.context import PageContext
from webapp.pages.frame.plan_cache import PlannedBuild
from webapp.planning.latest_arrivals import latest_arrivals

_kept: WeakKeyDictionary[PlannedBuild, dict[str, dt.date]] = WeakKeyDictionary()
_lock = Lock()


def latest_arrivals_of(page: PageContext) -> dict[str, dt.date]:
    """By part, the latest arrival that does not move first start; empty while nothing is planned.

    Worked out once for each plan that is kept: it takes some hundred runs of the simulator.
    """
    if page.faults:
        return {}
    with _lock:
        if page.planned not in _kept:
            _kept[page.planned] = latest_arrivals(page.build)
        return _kept[page.planned]
