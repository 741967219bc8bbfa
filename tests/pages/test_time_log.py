"""The time log: hours written down afterwards, corrected, taken out; what is asked about."""

import datetime as dt
import re
import sqlite3
import threading
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from dataclasses import replace

import pytest

from tests.pages.conftest import NOW, Shop
from webapp.build.build_input import LogEntry, RunningClock, Task

BRACKET = "Radiator lower bracket"


def task_of(shop: Shop, key: str) -> Task:
    return next(task for task in shop.stored().tasks if task.key == key)


def last_entry_address(shop: Shop, name: str) -> str:
    """The address of the newest entry of a task, from its link in the log."""
    page = shop.page("log?all=1").replace("&amp;", "&")
    found = re.search(rf'{re.escape(name)}[^<]*</a>.*?href="/builds/the-heron/([^"]+)"', page, re.S)
    assert found
    return found[1]


def journal(shop: Shop) -> str:
    with closing(sqlite3.connect(shop.data_file)) as connection:
        return repr(connection.execute("SELECT * FROM journal").fetchall())


def test_a_long_log_is_turned_over_and_each_week_says_all_its_hours(shop: Shop) -> None:
    """70 entries of half an hour, one a day back from Monday: 30, 30 and 10 on three pages."""
    entries = tuple(
        LogEntry(task="rad_bracket", on=dt.date(2026, 2, 9) - dt.timedelta(days=day), hours=0.5)
        for day in range(70)
    )
    shop.become(replace(shop.stored(), log=entries))
    pages = [shop.page("log"), shop.page("log?page=2"), shop.page("log?page=3")]
    days = [re.findall(r'<td class="nowrap">([^<]+)</td>', page) for page in pages]
    assert [len(each) for each in days] == [30, 30, 10]
    assert len({day for each in days for day in each}) == 70
    # Day 29 back is Sunday 11 January, so the edge of page 1 cuts week 2: 7 days of 0:30 on both.
    head = r">(Week [^<]*)</a><span class=\"aside\">([^<]*)<"
    sums = [dict(re.findall(head, page))["Week 2, 5 to 11 January"] for page in pages[:2]]
    assert sums == ["3 h 30 min", "3 h 30 min"]
    assert ("Earlier entries" in pages[0], "Later entries" in pages[0]) == (True, False)
    assert ("Earlier entries" in pages[1], "Later entries" in pages[1]) == (True, True)
    assert ("Earlier entries" in pages[2], "Later entries" in pages[2]) == (False, True)
    assert len(re.findall(r'<td class="nowrap">', shop.page("log?all=1"))) == 70


def test_hours_can_be_written_down_afterwards(shop: Shop) -> None:
    before = shop.stored()
    status, text = shop.post("log", task=BRACKET, on="2026-02-09", hours="1:30", left="2")
    assert status == 200
    assert "First start" in text
    assert shop.stored().log == (
        *before.log,
        LogEntry(task="rad_bracket", on=dt.date(2026, 2, 9), hours=1.5, left=2),
    )
    assert task_of(shop, "rad_bracket").hours_left == 2


def test_hours_before_the_build_starts_are_refused_and_the_log_says_what_to_do(
    shop: Shop,
) -> None:
    # It starts on Wednesday 11 February; today is Tuesday the 10th.
    before = shop.stored()
    shop.become(replace(before, starts_on=dt.date(2026, 2, 11)))
    status, text = shop.post("log", task=BRACKET, on="2026-02-09", hours="1:30", left="2")
    assert status == 422
    assert "The build starts Wed 11 February; Mon 9 February lies before." in text
    assert "move the start of the build in the Shop" in text
    assert shop.stored().log == before.log


def test_without_hours_left_those_worked_go_off_what_was_left(shop: Shop) -> None:
    assert task_of(shop, "rad_bracket").hours_left == 2.5
    shop.post("log", task=BRACKET, on="2026-02-10", hours="1")
    assert task_of(shop, "rad_bracket").hours_left == 1.5


def test_hours_on_a_task_that_was_not_begun_begin_it_that_day(shop: Shop) -> None:
    key = next(t.key for t in shop.stored().tasks if t.begun_on is None and t.outside_days is None)
    name = task_of(shop, key).name
    status, _ = shop.post("log", task=name, on="2026-02-07", hours="1")
    assert status == 200
    assert task_of(shop, key).begun_on == dt.date(2026, 2, 7)


def test_an_entry_is_corrected_and_the_journal_keeps_what_it_said(shop: Shop) -> None:
    address = last_entry_address(shop, BRACKET)
    assert 'value="2:15"' in shop.page(address)
    status, _ = shop.post(address, task=BRACKET, on="2026-02-07", hours="1.5", left="2.5")
    assert status == 200
    entries = [entry for entry in shop.stored().log if entry.task == "rad_bracket"]
    assert [entry.hours for entry in entries] == [1.5]
    assert '"hours": 2.25' in journal(shop)


def test_five_minutes_are_corrected_as_five_minutes_and_said_so(shop: Shop) -> None:
    """5 / 60 h has no end of digits: a clock shows it as 0:05, and unchanged it stays as it is."""
    shop.post("log", task=BRACKET, on="2026-02-09", hours="0:05")
    shop.post("log", task="Shorten and crimp the engine loom", on="2026-02-09", hours="1:05")
    address = last_entry_address(shop, BRACKET)
    text = shop.page(address)
    assert 'value="0:05"' in text
    assert "0.083" not in text
    assert "5 min on Radiator lower bracket" in text
    assert "1 h 5 min" in shop.page("log")
    assert shop.stored().log[-2].hours == 5 / 60


def test_hours_left_far_above_the_estimate_are_asked_about_in_the_log_too(shop: Shop) -> None:
    entry = {"task": BRACKET, "on": "2026-02-09", "hours": "1", "left": "90"}
    status, text = shop.post("log", **entry)
    assert status == 422
    assert "90 h left is far more than the" in text
    assert shop.post("log", **entry, sure="on")[0] == 200


def test_an_entry_is_taken_out_and_the_journal_keeps_it(shop: Shop) -> None:
    before = shop.stored().log
    address = last_entry_address(shop, BRACKET).replace("log-entry", "remove-log-entry")
    assert shop.post(address)[0] == 200
    after = shop.stored().log
    assert len(after) == len(before) - 1
    assert not [entry for entry in after if entry.task == "rad_bracket"]
    assert '"hours": 2.25' in journal(shop)
    # A second press, or a reload, finds it gone and says so.
    status, text = shop.post(address)
    assert status == 404
    assert "corrected or taken out since" in text


def test_an_address_never_means_another_entry(shop: Shop) -> None:
    shop.post("log", task=BRACKET, on="2026-02-09", hours="1")
    first = last_entry_address(shop, "Strip the used engine")
    second = last_entry_address(shop, BRACKET)
    shop.post(first.replace("log-entry", "remove-log-entry"))
    assert 'value="1:00"' in shop.page(second)


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"on": "2026-02-11"}, "is still to come"),
        ({"on": "2025-11-14"}, "The build began Sat 15 November 2025"),
        ({"on": "yesterday"}, "is no date"),
        ({"hours": "a few"}, "can not be read"),
        ({"hours": "-2"}, "less than nothing"),
        ({"hours": "0"}, "No hours"),
        ({"task": "No such task"}, "There is no task"),
        ({"task": ""}, "Task is missing"),
        ({"left": "some"}, "can not be read"),
    ],
)
def test_a_mistake_is_a_sentence_and_what_was_typed_stays(
    shop: Shop, fields: dict[str, str], said: str
) -> None:
    before = shop.stored()
    typed = {"task": BRACKET, "on": "2026-02-09", "hours": "1.25", "left": "7.5"} | fields
    status, text = shop.post("log", **typed)
    assert status == 422
    assert said in text
    for value in filter(None, typed.values()):
        assert f'value="{value}"' in text
    assert shop.stored() == before


@pytest.mark.parametrize(
    ("on", "hours", "said"),
    [
        ("2026-02-09", "25", "a day has 24"),
        # Tuesday 10 February: 3 h of session; 8 h is more than twice and 4 h over it.
        ("2026-02-10", "8", "when the shop was open for 3 h"),
        ("2026-02-09", "6", "when the shop was closed"),
    ],
)
def test_hours_that_are_hardly_right_are_asked_about_and_not_refused(
    shop: Shop, on: str, hours: str, said: str
) -> None:
    before = shop.stored()
    status, text = shop.post("log", task=BRACKET, on=on, hours=hours)
    assert status == 422
    assert said in text
    assert "Yes, it is right" in text
    assert shop.stored() == before
    status, _ = shop.post("log", task=BRACKET, on=on, hours=hours, sure="on")
    assert status == 200
    assert shop.stored().log[-1].hours == float(hours)


def test_hours_of_one_day_are_counted_together(shop: Shop) -> None:
    assert shop.post("log", task=BRACKET, on="2026-02-10", hours="5")[0] == 200
    # 5 + 3 h on one evening of 3 h.
    assert shop.post("log", task=BRACKET, on="2026-02-10", hours="3")[0] == 422


def test_hours_on_a_finished_task_ask_whether_to_open_it_again(shop: Shop) -> None:
    name = task_of(shop, "meter_weld").name
    status, text = shop.post("log", task=name, on="2026-02-09", hours="1")
    assert status == 422
    assert "is finished. Is it to be opened again" in text
    status, text = shop.post("log", task=name, on="2026-02-09", hours="1", finished="open")
    assert status == 422
    assert "say how many hours are left" in text
    status, _ = shop.post("log", task=name, on="2026-02-09", hours="1", finished="open", left="1.5")
    assert status == 200
    opened = task_of(shop, "meter_weld")
    assert (opened.finished_on, opened.hours_left) == (None, 1.5)


def test_hours_can_belong_to_work_that_stays_finished(shop: Shop) -> None:
    finished = task_of(shop, "meter_weld").finished_on
    name = task_of(shop, "meter_weld").name
    status, _ = shop.post("log", task=name, on="2026-02-05", hours="0.5", finished="stays")
    assert status == 200
    assert task_of(shop, "meter_weld").finished_on == finished
    assert shop.stored().log[-1].hours == 0.5


def test_an_entry_that_is_not_there_is_a_404(shop: Shop) -> None:
    for address in ("log-entry?at=0&key=no", "log-entry", "log-entry?at=9999999999999&key="):
        assert shop.client.get(f"/builds/the-heron/{address}").status_code == 404
    assert shop.client.get("/builds/the-heron/remove-log-entry").status_code == 200


# --- the running clock ----------------------------------------------------------------------


def begun_at(shop: Shop, since: dt.datetime) -> None:
    """A clock that runs since then, as the program left it."""
    shop.post("bench/begin", task="rad_bracket")
    clock = RunningClock(task="rad_bracket", since=since)
    shop.become(replace(shop.stored(), on_bench=clock))


def test_a_clock_over_midnight_counts_to_the_day_it_began_and_says_so(shop: Shop) -> None:
    begun_at(shop, NOW - dt.timedelta(hours=22))
    text = shop.page("bench?stop=1")
    assert "The clock ran over midnight: the hours go to Mon 9 February" in text
    assert 'value="22:00"' in text
    status, _ = shop.post("bench/stop", task="rad_bracket", worked="2", left="1", outcome="stopped")
    assert status == 200
    assert shop.stored().log[-1].on == dt.date(2026, 2, 9)


def test_the_clock_asks_about_hours_that_are_hardly_right(shop: Shop) -> None:
    begun_at(shop, NOW - dt.timedelta(hours=22))
    fields = {"task": "rad_bracket", "worked": "22:00", "left": "1", "outcome": "stopped"}
    status, text = shop.post("bench/stop", **fields)
    assert status == 422
    assert "when the shop was closed" in text
    assert 'value="22:00"' in text
    assert shop.post("bench/stop", **fields, sure="on")[0] == 200
    assert shop.stored().log[-1].hours == 22


def test_a_second_device_is_asked_what_became_of_the_first_task(shop: Shop) -> None:
    # Both have the Bench open with nothing on it; each presses Begin on another task.
    assert shop.post("bench/begin", task="rad_bracket")[0] == 200
    status, text = shop.post("bench/begin", task="loom_crimp")
    assert status == 200
    assert "What became of it?" in text
    assert "is on the bench. Say what became of it" in text
    clock = shop.stored().on_bench
    assert clock is not None
    assert clock.task == "rad_bracket"


def test_of_two_that_stop_at_once_one_logs_the_hours(shop: Shop) -> None:
    for _ in range(4):
        shop.post("bench/begin", task="rad_bracket")
        before = len(shop.stored().log)
        fields = {
            "task": "rad_bracket",
            "worked": "1",
            "left": "1",
            "outcome": "stopped",
            "sure": "on",
        }
        assert _at_once(shop, "bench/stop", fields, fields) in ([303, 409], [409, 303])
        assert len(shop.stored().log) == before + 1


def test_of_two_that_begin_at_once_one_is_asked(shop: Shop) -> None:
    before = {task.key: task for task in shop.stored().tasks}
    _at_once(shop, "bench/begin", {"task": "rad_bracket"}, {"task": "loom_crimp"})
    clock = shop.stored().on_bench
    assert clock is not None
    (other,) = {"rad_bracket", "loom_crimp"} - {clock.task}
    assert task_of(shop, other) == before[other]


def _at_once(shop: Shop, address: str, *posts: dict[str, str]) -> list[int]:
    """Send forms from as many threads in the same moment; their status codes."""
    gate = threading.Barrier(len(posts))

    def send(fields: dict[str, str]) -> int:
        gate.wait()
        answer = shop.client.post(
            f"/builds/the-heron/{address}", data=fields, follow_redirects=False
        )
        return int(answer.status_code)

    with ThreadPoolExecutor(len(posts)) as pool:
        return list(pool.map(send, posts))
