"""An order that a moment's search finds: what tightening is likely to win, unasked."""

import time

from webapp.build.build_input import BuildInput
from webapp.build.time.shop_calendar import NEVER
from webapp.planning.simulator.work_arrays import for_first_start_only, lay_out
from webapp.planning.tighten.order_search import OrderSearch

SECONDS = 1.0


def quick_order(build: BuildInput, *, seconds: float = SECONDS) -> tuple[str, ...]:
    """The best order of the work before first start that is found in so many seconds.

    () where none beats the house rules, or first start can not be reached. Without the exact
    model: nothing is proved of it.
    """
    work = for_first_start_only(lay_out(build))
    if work.first_start < 0:
        return ()
    search = OrderSearch(work, seed=0, stopped=lambda: False, improved=lambda: None)
    before = search.best.ends
    search.sweep(time.monotonic() + seconds, -1)
    if search.best.ends >= min(before, NEVER):
        return ()
    return tuple(work.keys[i] for i in search.best.order.tolist())
