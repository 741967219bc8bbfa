"""A second process for a search over the draws, where the machine has a second processor.

Begun with the search and ended with it; it goes by itself when the program goes, however that was,
for its input ends then. What passes between the two is pickled, over pipes that nobody else has.
"""

import os
import pickle
import queue
import subprocess
import sys
import threading
from collections.abc import Callable
from contextlib import suppress
from typing import IO, Any

from webapp.build.build_input import BuildInput
from webapp.planning.chances.factors import Factors
from webapp.planning.simulator.work_arrays import Indices
from webapp.planning.tighten.beside import RaceBeside

WORKER = "webapp.services.race_worker"
TWO_PROCESSORS = 2
SHARED_FROM_TASKS = 12
"""With fewer tasks there is little to search among."""
LOOKED_EVERY_SECONDS = 0.02
"""So often is looked whether the search is over while a race is waited for."""


class SecondProcess:
    """Runs races beside a search; see `planning.tighten.beside`. Where it fails it is not there."""

    def __init__(self, build: BuildInput, factors: Factors | None, *, seed: int = 0) -> None:
        self._answers: queue.SimpleQueue[Any] = queue.SimpleQueue()
        self._is_ready = self._is_gone = False
        self._process = subprocess.Popen(
            [sys.executable, "-m", WORKER],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            env=os.environ | {"PYTHONPATH": os.pathsep.join(filter(None, sys.path))},
            creationflags=_low_rank(),
            start_new_session=True,  # what is typed at the program's terminal is not for this one
        )
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._asking: IO[bytes] = self._process.stdin
        threading.Thread(target=self._listen, args=(self._process.stdout,), daemon=True).start()
        self._ask((build, factors, seed))

    @property
    def pid(self) -> int:
        """By which the system knows it."""
        return self._process.pid

    def is_ready(self) -> bool:
        """Whether it is loaded, and has the build; it takes about a second."""
        if not self._is_ready and not self._is_gone:
            try:
                self._is_ready = self._answers.get_nowait() is True
                self._is_gone = not self._is_ready
            except queue.Empty:
                return False
        return self._is_ready and not self._is_gone

    def begin(self, orders: Indices) -> None:
        """Begin a race of policies (q, n + 1)."""
        self._ask(orders)

    def ended(self, *, is_over: Callable[[], bool] | None) -> RaceBeside | None:
        """How the race that is on ended; with `is_over` it is waited for, until that says so."""
        while not self._is_gone:
            try:
                answer = self._answers.get(is_over is not None, LOOKED_EVERY_SECONDS)
            except queue.Empty:
                if is_over is None or is_over():
                    return None
                continue
            if isinstance(answer, RaceBeside):
                return answer
            self._is_gone = True
        return None

    def close(self) -> None:
        """End it, whatever it is at."""
        self._is_gone = True
        self._process.kill()
        self._process.wait()
        with suppress(OSError):  # what it was asked after it had gone is still to be sent
            self._asking.close()

    def _ask(self, what: object) -> None:
        try:
            pickle.dump(what, self._asking, pickle.HIGHEST_PROTOCOL)
            self._asking.flush()
        except OSError:
            self._is_gone = True

    def _listen(self, answering: IO[bytes]) -> None:
        """Take in what it answers; None once it is gone."""
        with answering:
            try:
                while True:
                    self._answers.put(pickle.load(answering))
            except (EOFError, OSError, pickle.UnpicklingError):
                self._answers.put(None)


def _low_rank() -> int:
    """On Windows without a window, and behind the pages; elsewhere it ranks itself."""
    if sys.platform == "win32":
        return subprocess.BELOW_NORMAL_PRIORITY_CLASS | subprocess.CREATE_NO_WINDOW
    return 0


def second_process(build: BuildInput, factors: Factors | None) -> SecondProcess | None:
    """A second process for a search, None where it has no work or no processor of its own."""
    few = sum(task.is_open for task in build.tasks) < SHARED_FROM_TASKS
    if few or (os.cpu_count() or 1) < TWO_PROCESSORS:
        return None
    try:
        return SecondProcess(build, factors)
    except OSError:
        return None
