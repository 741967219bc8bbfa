"""A second process beside a search: what it answers, and that nothing of it stays."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pytest

from tests.benchmarks.workshop_builds import workshop_build
from webapp.build.build_input import BuildInput
from webapp.planning.chances.factors import NO_RECORD, Factors
from webapp.planning.tighten.beside import Racer
from webapp.planning.tighten.draw_search import search_over_draws
from webapp.planning.tighten.drawn_orders import drawn_orders
from webapp.planning.tighten.order_moves import first_orders
from webapp.planning.tighten.tighten import tighten
from webapp.services.second_process import SecondProcess, second_process
from webapp.services.tightenings import Tightenings

BUILD = workshop_build(20)
TRUNK = Path(__file__).parents[2]


def until(holds: Callable[[], bool], seconds: float = 60) -> None:
    end = time.monotonic() + seconds
    while not holds():
        assert time.monotonic() < end
        time.sleep(0.02)


@pytest.fixture
def second() -> Iterator[SecondProcess]:
    made = SecondProcess(BUILD, NO_RECORD, seed=3)
    until(made.is_ready)
    yield made
    made.close()


def is_there(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    return True


def test_a_race_comes_to_what_it_comes_to_here(second: SecondProcess) -> None:
    drawn = drawn_orders(BUILD)
    racer = Racer.of(BUILD, NO_RECORD, 3)
    assert drawn is not None
    assert racer is not None
    orders = first_orders(drawn.work)
    for _ in range(2):
        second.begin(orders)
        assert second.ended(is_over=lambda: False) == racer.run(orders)


def test_a_race_that_is_not_over_is_not_waited_for_once_the_search_is(
    second: SecondProcess,
) -> None:
    second.begin(np.tile(np.append(np.arange(20), 0), (3_000, 1)))
    assert second.ended(is_over=None) is None
    assert second.ended(is_over=lambda: True) is None


def test_closed_it_is_gone_at_once_and_leaves_nothing(second: SecondProcess) -> None:
    second.begin(np.tile(np.append(np.arange(20), 0), (3_000, 1)))
    began = time.monotonic()
    second.close()
    assert time.monotonic() - began < 5
    assert not is_there(second.pid)
    assert not second.is_ready()


@pytest.mark.skipif(sys.platform == "win32", reason="kills by a signal")
def test_killed_in_the_middle_the_search_goes_on_alone(second: SecondProcess) -> None:
    os.kill(second.pid, signal.SIGKILL)
    second.begin(np.tile(np.append(np.arange(20), 0), (2, 1)))
    assert second.ended(is_over=lambda: False) is None
    found = search_over_draws(BUILD, seconds=1_000, schedules=3_000, beside=second)
    assert found is not None
    assert sorted(found.order.keys) == sorted(one.key for one in BUILD.tasks)


@pytest.mark.skipif(sys.platform == "win32", reason="kills by a signal")
def test_asked_when_it_is_gone_it_is_closed_like_any_other(second: SecondProcess) -> None:
    os.kill(second.pid, signal.SIGKILL)
    assert second.ended(is_over=lambda: False) is None
    second.begin(np.tile(np.append(np.arange(20), 0), (2, 1)))  # stays in the pipe's buffer
    second.close()
    assert not is_there(second.pid)


@pytest.mark.skipif(sys.platform == "win32", reason="kills by a signal")
def test_killed_the_program_takes_it_along() -> None:
    """The program is killed without a chance to end anything."""
    program = subprocess.Popen(
        [
            sys.executable,
            "-c",
            "import time\n"
            "from tests.services.test_second_process import BUILD, NO_RECORD, SecondProcess\n"
            "second = SecondProcess(BUILD, NO_RECORD)\n"
            "while not second.is_ready(): time.sleep(0.02)\n"
            "print(second.pid, flush=True)\n"
            "time.sleep(600)",
        ],
        stdout=subprocess.PIPE,
        cwd=TRUNK,
        text=True,
    )
    assert program.stdout is not None
    with program.stdout as said:
        pid = int(said.readline())
    assert is_there(pid)
    program.kill()
    program.wait()
    until(lambda: not is_there(pid) or _is_zombie(pid))


def _is_zombie(pid: int) -> bool:
    """Gone, and not yet taken note of by what adopts it: in a container nobody may."""
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0] == "Z"
    except OSError:
        return True


def test_on_a_machine_of_one_processor_there_is_none(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "cpu_count", lambda: 1)
    assert second_process(BUILD, NO_RECORD) is None


def test_a_run_of_tightening_ends_the_one_that_it_began() -> None:
    made: list[SecondProcess | None] = []

    def watched(build: BuildInput, factors: Factors | None) -> SecondProcess | None:
        made.append(second_process(build, factors))
        return made[-1]

    proved = tighten(BUILD, seconds=1)
    runs = Tightenings(lambda *_, **__: proved, second=watched)
    runs.begin("x", BUILD, 1, 120)
    until(lambda: bool(made))
    runs.stop("x", cancel=False)
    run = runs.of("x")
    assert run is not None
    assert run.ended.wait(60)
    assert not run.failed
    assert run.found is not None
    (second,) = made
    assert (second is None) == ((os.cpu_count() or 1) < 2)
    assert second is None or not is_there(second.pid)
