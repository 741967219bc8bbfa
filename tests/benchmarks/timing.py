"""Taking times and printing them, in seconds and in yardsticks of the same machine."""

import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from statistics import median, quantiles

import numpy as np

LOOP_ROUNDS = 200_000
ARRAY_ROUNDS = 200


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


def from_own_process(module: str, work: str, *given: int) -> tuple[float, float]:
    """The seconds that a function returns in a process of its own, and its most memory in MB."""
    code = (
        f"import resource; from {module} import {work}; seconds = {work}{given!r}\n"
        "print(seconds, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e3)"
    )
    ran = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True)
    seconds, megabytes = ran.stdout.split()
    return float(seconds), float(megabytes)


def loop_of_python() -> int:
    """A fixed piece of work for plain Python: numbers, a dictionary, branches."""
    total, last_seen = 1, dict.fromkeys(range(1024), 0)
    for i in range(LOOP_ROUNDS):
        total = (total * 31 + i) % 1_000_003
        if last_seen[total & 1023] < total:
            last_seen[total & 1023] = total
    return sum(last_seen.values())


def loop_of_numpy() -> float:
    """A fixed piece of work for numpy: passes over arrays that fit the cache."""
    levels = np.linspace(0.0, 1.0, 40_000)
    for i in range(ARRAY_ROUNDS):
        rolled = np.roll(levels, i)
        levels = np.where(rolled > 0.5, np.minimum(levels + 0.1, 1.0), rolled * 0.9)
    return float(levels.sum())


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """The table of one run: its yardsticks at the head, in seconds, then row by row."""

    python_seconds: float
    numpy_seconds: float

    @classmethod
    def begun(cls) -> "Table":
        """Take the yardsticks and print the head."""
        table = cls(
            python_seconds=best_of(9, loop_of_python), numpy_seconds=best_of(9, loop_of_numpy)
        )
        _print("what", "measured", "in Python", "in numpy", "to reach")
        for name, seconds in (("Python", table.python_seconds), ("numpy", table.numpy_seconds)):
            table.row(f"yardstick: a fixed loop of {name}", f"{seconds * 1e3:.1f} ms", seconds)
        return table

    def row(self, what: str, measured: str, seconds: float | None, to_reach: str = "") -> None:
        """One line. `seconds` is the time in `measured` that is compared with the yardsticks."""
        sticks = (self.python_seconds, self.numpy_seconds)
        python, numpy = ("" if seconds is None else f"{seconds / stick:.3g} x" for stick in sticks)
        _print(what, measured, python, numpy, to_reach)


def _print(what: str, measured: str, in_python: str, in_numpy: str, to_reach: str) -> None:
    print(f"{what:<54} {measured:>30} {in_python:>9} {in_numpy:>9}  {to_reach}", flush=True)
