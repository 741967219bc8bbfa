"""Taking times and printing them."""

import time
from collections.abc import Callable
from statistics import median, quantiles


def best_of(runs: int, work: Callable[[], object]) -> float:
    """The shortest of some runs, in seconds: the one least disturbed by the machine."""
    return min(_seconds(work) for _ in range(runs))


def spread_of(runs: int, work: Callable[[], object]) -> tuple[float, float]:
    """Median and 95th percentile of some runs, in seconds."""
    times = [_seconds(work) for _ in range(runs)]
    return median(times), quantiles(times, n=20)[-1]


def _seconds(work: Callable[[], object]) -> float:
    began = time.perf_counter()
    work()
    return time.perf_counter() - began


def row(what: str, measured: str, to_reach: str = "") -> None:
    """One line of the table."""
    print(f"{what:<52} {measured:>26}  {to_reach}", flush=True)
