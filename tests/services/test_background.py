"""Work beside the pages: asked for, never waited for, kept until its inputs change."""

import datetime as dt
import threading
import time

import pytest

from tests.build.builds import build_of, task
from webapp.planning.order.job_order import make_plan
from webapp.planning.simulator.standing_by import (
    ROUNDS_BETWEEN,
    stand_by_of_thread,
    standing_by,
)
from webapp.services.background import (
    AT_LEISURE,
    FRESH_FOR,
    MOST_STOOD_BY_SECONDS,
    PRESSING,
    SHOWN_FOR,
    USUAL,
    Answer,
    Background,
)

NOW = dt.datetime(2026, 2, 9, 18, 0)


def settled(background: Background, version: int, value: str, now: dt.datetime = NOW) -> str | None:
    answer = background.wait("k", version, lambda: value, now=now, seconds=5)
    assert answer.ready
    return answer.value


def test_a_page_that_asks_is_not_kept_waiting() -> None:
    background, gate = Background(), threading.Event()
    assert not background.ask("k", 1, lambda: gate.wait(5), now=NOW).ready
    gate.set()


def test_an_answer_is_worked_out_once_and_kept() -> None:
    background, calls = Background(), []

    def work() -> str:
        calls.append(1)
        return "done"

    assert background.wait("k", 1, work, now=NOW, seconds=5) == Answer(ready=True, value="done")
    assert background.ask("k", 1, work, now=NOW) == Answer(ready=True, value="done")
    assert len(calls) == 1


def test_a_changed_input_is_worked_out_anew() -> None:
    background = Background()
    assert settled(background, 1, "old") == "old"
    assert not background.ask("k", 2, lambda: "new", now=NOW).ready
    assert settled(background, 2, "new") == "new"


def test_an_older_answer_is_shown_while_a_fresh_one_is_worked_out() -> None:
    background = Background()
    settled(background, 1, "old")
    later = NOW + FRESH_FOR
    assert background.ask("k", 1, lambda: "fresh", now=later).value == "old"
    for _ in range(100):
        if background.ask("k", 1, lambda: "fresh", now=later).value == "fresh":
            break
        time.sleep(0.02)
    else:
        raise AssertionError("the fresh answer never came")
    assert not background.ask("k", 1, lambda: "next", now=later + SHOWN_FOR).ready


def test_a_failure_is_an_answer_and_the_next_question_is_still_taken() -> None:
    background = Background()

    def fails() -> str:
        raise ValueError("no")

    assert background.wait("k", 1, fails, now=NOW, seconds=5) == Answer(ready=True, failed=True)
    assert settled(background, 2, "good") == "good"


def test_what_is_pressing_goes_before_what_was_asked_earlier() -> None:
    background, gate, order = Background(), threading.Event(), []
    background.ask("busy", 1, lambda: gate.wait(5), now=NOW)
    time.sleep(0.05)
    background.ask("price", 1, lambda: order.append("price"), now=NOW)
    background.ask("forecast", 1, lambda: order.append("forecast"), now=NOW, rank=PRESSING)
    gate.set()
    background.wait("last", 1, lambda: None, now=NOW, seconds=5)
    background.wait("price", 1, lambda: None, now=NOW, seconds=5)
    assert order == ["forecast", "price"]


def test_what_nobody_waits_for_any_more_is_not_begun() -> None:
    background, begun = Background(patience_seconds=0.05), []
    busy, gate = threading.Event(), threading.Event()

    def work() -> None:
        busy.set()
        gate.wait(5)

    until = time.monotonic() + 5
    while not busy.is_set() and time.monotonic() < until:  # a busy machine may begin it too late
        background.ask("busy", 1, work, now=NOW)
        time.sleep(0.01)
    background.ask("price", 1, lambda: begun.append("price"), now=NOW)
    time.sleep(0.1)
    gate.set()
    assert background.wait("last", 1, lambda: "done", now=NOW, seconds=5).ready
    assert begun == []
    background.wait("price", 1, lambda: begun.append("price"), now=NOW, seconds=5)
    assert begun == ["price"]


def test_what_nobody_waits_for_any_more_is_left_off_and_begun_anew_when_asked() -> None:
    background, runs = Background(patience_seconds=0.05), []

    def work() -> str:
        runs.append(1)
        while len(runs) == 1 and background.is_wanted():
            time.sleep(0.01)
        return "whole" if len(runs) > 1 else "half"

    until = time.monotonic() + 5
    while not runs and time.monotonic() < until:  # a busy machine may begin it too late
        background.ask("k", 1, work, now=NOW)
        time.sleep(0.01)
    assert background.wait("next", 1, lambda: "done", now=NOW, seconds=5).ready
    assert background.wait("k", 1, work, now=NOW, seconds=5) == Answer(ready=True, value="whole")


def test_a_simulation_that_nobody_waits_for_ends_between_its_rounds() -> None:
    background, ended = Background(patience_seconds=0.05), threading.Event()
    begun = threading.Event()

    def work() -> str:
        begun.set()
        try:
            for _ in range(10_000):
                time.sleep(0.001)
                make_plan(build_of([task("a", 1)], first_start="a"))
        finally:
            ended.set()
        return "all of it"

    until = time.monotonic() + 5
    while not begun.is_set() and time.monotonic() < until:  # a busy machine may begin it too late
        background.ask("k", 1, work, now=NOW)
        time.sleep(0.01)
    assert ended.wait(5)
    assert settled(background, 1, "anew") == "anew"


def test_once_it_is_closed_what_runs_is_left_off_and_nothing_is_begun() -> None:
    background, begun, ended = Background(), threading.Event(), threading.Event()

    def work() -> None:
        begun.set()
        try:
            while True:
                make_plan(build_of([task("a", 1)], first_start="a"))
        finally:
            ended.set()

    later: list[int] = []
    background.ask("k", 1, work, now=NOW)
    background.ask("later", 1, lambda: later.append(1), now=NOW)
    assert begun.wait(5)
    background.close()
    assert ended.wait(5)
    background.ask("later", 2, lambda: later.append(2), now=NOW)
    time.sleep(0.05)
    assert later == []


def test_what_is_asked_for_again_and_again_goes_on() -> None:
    background, until = Background(patience_seconds=0.2), time.monotonic() + 0.5

    def work() -> str:
        while time.monotonic() < until:
            if not background.is_wanted():
                return "half"
            time.sleep(0.01)
        return "whole"

    while not (answer := background.ask("k", 1, work, now=NOW)).ready:
        time.sleep(0.02)
    assert answer.value == "whole"


def test_the_thread_stands_by_while_a_page_is_answered() -> None:
    background, begun = Background(), threading.Event()
    with background.answering():
        background.ask("k", 1, begun.set, now=NOW)
        assert not begun.wait(0.2)
    assert begun.wait(5)


def test_a_simulation_stands_by_between_its_rounds() -> None:
    background, first = Background(), threading.Event()
    rounds: list[int] = []

    def work() -> None:
        # Asks between two rounds as the simulator does, and notes that it went on.
        stand_by = stand_by_of_thread()
        assert stand_by is not None
        while len(rounds) < 500:
            first.set()
            stand_by()
            rounds.append(1)
            time.sleep(0.001)

    background.ask("k", 1, work, now=NOW)
    assert first.wait(5)
    with background.answering():
        time.sleep(0.05)
        done = len(rounds)
        time.sleep(0.2)
        assert len(rounds) == done
    assert background.wait("k", 1, work, now=NOW, seconds=5).ready


def test_the_simulator_calls_what_its_thread_says_between_its_rounds() -> None:
    build = build_of(task(f"t{i}", 1) for i in range(2 * ROUNDS_BETWEEN + 1))
    calls: list[int] = []
    with standing_by(lambda: calls.append(1)):
        make_plan(build)
    assert len(calls) == 3  # before rounds 0, 8 and 16
    make_plan(build)
    assert len(calls) == 3


def test_a_page_that_waits_for_the_thread_does_not_hold_it_up() -> None:
    background = Background()
    with background.answering():
        began = time.monotonic()
        assert background.wait("k", 1, lambda: "done", now=NOW, seconds=5).ready
        assert time.monotonic() - began < MOST_STOOD_BY_SECONDS / 2


def test_the_thread_gets_done_however_many_pages_are_asked_for() -> None:
    background, done = Background(), threading.Event()
    with background.answering():
        background.ask("k", 1, done.set, now=NOW)
        assert done.wait(MOST_STOOD_BY_SECONDS + 5)


@pytest.mark.parametrize(
    ("rank", "other", "makes_way"),
    [
        (AT_LEISURE, USUAL, True),
        (USUAL, PRESSING, True),
        (USUAL, USUAL, False),
        (USUAL, AT_LEISURE, False),
    ],
)
def test_a_question_makes_way_for_a_more_pressing_one_and_is_worked_out_in_the_end(
    rank: int, other: int, makes_way: bool
) -> None:
    """It is broken off between two rounds of the simulator as soon as the other waits."""
    background, order = Background(), []
    begun, may_go_on = threading.Event(), threading.Event()

    def measured() -> str:
        order.append("begun")
        begun.set()
        may_go_on.wait(5)
        stand_by = stand_by_of_thread()
        assert stand_by is not None
        stand_by()
        order.append("measured")
        return "measured"

    background.ask("aged", 1, measured, now=NOW, rank=rank)
    assert begun.wait(5)
    background.ask("date", 1, lambda: order.append("date"), now=NOW, rank=other)
    may_go_on.set()
    assert background.wait("aged", 1, measured, now=NOW, seconds=5).value == "measured"
    assert background.wait("date", 1, lambda: order.append("date"), now=NOW, seconds=5).ready
    told = ["begun", "date", "begun", "measured"] if makes_way else ["begun", "measured", "date"]
    assert order == told


def test_an_answer_lasts_as_long_as_was_asked() -> None:
    background = Background()
    settled(background, 1, "measured")
    later, calls = NOW + 3 * FRESH_FOR, []
    lasts = dt.timedelta(hours=20)
    answer = background.ask("k", 1, lambda: calls.append(1), now=later, lasts=lasts)
    assert answer.value == "measured"
    assert background.ask("other", 1, lambda: None, now=NOW).ready is False
    assert not calls
