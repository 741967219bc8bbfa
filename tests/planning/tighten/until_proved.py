"""Tightening that ends with its proof: what it does behind that is for the rest of the work."""

import threading

from webapp.build.build_input import BuildInput
from webapp.planning.tighten.tighten import Progress, Tightened, tighten


def tightened_until_proved(
    build: BuildInput,
    *,
    seconds: float,
    kept_order: tuple[str, ...] | None = None,
    seed: int = 0,
) -> Tightened:
    """The answer of `tighten`, called off once first start stands at the bound.

    So a proof takes what it takes, whatever the limit: a share of that goes into orders with an
    earlier end of all tasks otherwise, also where there are three.
    """
    stop = threading.Event()

    def look(progress: Progress) -> None:
        if progress.first_start_shop_hours == progress.bound_shop_hours is not None:
            stop.set()

    answer = tighten(
        build, seconds=seconds, kept_order=kept_order, seed=seed, progress=look, stop=stop
    )
    if answer.proved_best or not stop.is_set():
        return answer
    # Work outside ends by the clock: the same shop hour is not yet the same moment.
    return tighten(build, seconds=seconds, kept_order=kept_order, seed=seed)
