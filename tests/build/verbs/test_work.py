"""Beginning, stopping and finishing work, and writing hours down."""

import datetime as dt
from dataclasses import replace

import pytest

from tests.build.builds import MONDAY, build_of, task
from webapp.build.build_input import BuildInput, LogEntry
from webapp.build.by_key import get_by_key
from webapp.build.shop import Setup
from webapp.build.verbs.log_entries import with_log_entry, without_log_entry
from webapp.build.verbs.work import Stop, begun_build, finished_build, stopped_build

TODAY = MONDAY.date()
DAY = dt.timedelta(days=1)


def bench(**facts: object) -> BuildInput:
    """One task with a setup, and one without."""
    build = build_of([task("weld", 4, setup="tig", **facts), task("z", 1)], [("weld", "z")])
    return replace(build, shop=replace(build.shop, setups=(Setup(key="tig", name="T", hours=1),)))


def test_beginning_a_task_gets_its_setup_out_and_takes_it_up_again() -> None:
    begun = begun_build(bench(set_aside_on=TODAY), "weld", now=MONDAY)
    weld = get_by_key(begun.tasks, "weld")
    assert (weld.begun_on, weld.set_aside_on, begun.shop.setups_out) == (MONDAY, None, ("tig",))
    # Without a setup of its own the one that is out stays out; begun stays begun.
    later = begun_build(begun, "z", now=MONDAY + DAY)
    assert later.shop.setups_out == ("tig",)
    assert get_by_key(begun_build(later, "z", now=MONDAY).tasks, "z").begun_on == MONDAY + DAY


def two_people(*out: str, **begun: object) -> BuildInput:
    """Work with the welder, which may be under way, the roller and the saw, by two people."""
    setups = tuple(Setup(key=key, name=key, hours=0.5) for key in ("tig", "roller", "saw"))
    tasks = [task("weld", 4, setup="tig", **begun), task("roll", 1, setup="roller")]
    tasks.append(task("cut", 1, setup="saw"))
    return build_of(tasks, people=2, setups=setups, setup_out=out)


def test_with_two_people_a_second_setup_is_got_out_beside_the_first() -> None:
    begun = begun_build(begun_build(two_people(), "weld", now=MONDAY), "roll", now=MONDAY)
    assert begun.shop.setups_out == ("tig", "roller")
    assert begun.on_bench is not None
    assert begun.on_bench.gets_out
    again = begun_build(begun, "weld", now=MONDAY)
    assert again.on_bench is not None
    assert not again.on_bench.gets_out


def test_a_third_takes_the_place_of_the_one_that_has_lain_unused_longest() -> None:
    cut = begun_build(two_people("tig", "roller"), "cut", now=MONDAY)
    assert cut.shop.setups_out == ("roller", "saw")
    # Welding is under way: the roller makes room, though it was used after the welder.
    cut = begun_build(two_people("tig", "roller", begun_on=MONDAY), "cut", now=MONDAY)
    assert cut.shop.setups_out == ("tig", "saw")


def test_what_work_was_stopped_with_was_used_last() -> None:
    build = two_people("tig", "roller", begun_on=MONDAY)
    stop = Stop(outcome="stopped", worked_hours=1, left_hours=3)
    stopped = stopped_build(build, "weld", stop, on=TODAY, now=MONDAY)
    assert stopped.shop.setups_out == ("roller", "tig")


def test_stopping_writes_the_hours_down_and_keeps_what_is_left() -> None:
    begun = begun_build(bench(), "weld", now=MONDAY)
    stop = Stop(outcome="stopped", worked_hours=1.5, left_hours=3)
    stopped = stopped_build(begun, "weld", stop, on=TODAY, now=MONDAY)
    assert get_by_key(stopped.tasks, "weld").hours_left == 3
    assert stopped.log == (LogEntry(task="weld", on=TODAY, hours=1.5, left=3),)


def test_stopping_after_no_hours_leaves_the_log_alone() -> None:
    stop = Stop(outcome="set_aside", worked_hours=0, left_hours=4)
    aside = stopped_build(bench(), "weld", stop, on=TODAY, now=MONDAY)
    assert aside.log == ()
    assert get_by_key(aside.tasks, "weld").set_aside_on == TODAY


def test_a_task_stopped_without_having_been_begun_was_begun_that_day() -> None:
    stop = Stop(outcome="finished", worked_hours=2, left_hours=0)
    done = stopped_build(bench(), "weld", stop, on=TODAY - DAY, now=MONDAY)
    weld = get_by_key(done.tasks, "weld")
    assert weld.begun_on == dt.datetime.combine(TODAY - DAY, dt.time())
    assert (weld.finished_on, weld.hours_left) == (MONDAY, None)


def test_finishing_what_needs_no_hands_leaves_nothing_to_go() -> None:
    done = finished_build(bench(begun_on=TODAY, hours_left=2.0), "weld", now=MONDAY)
    weld = get_by_key(done.tasks, "weld")
    assert (weld.finished_on, weld.hours_left) == (MONDAY, None)


def test_there_is_no_work_on_a_task_that_is_not_there() -> None:
    with pytest.raises(KeyError, match="gone"):
        begun_build(bench(), "gone", now=MONDAY)


def test_hours_logged_without_a_word_on_the_rest_are_taken_off_what_was_left() -> None:
    build = bench(begun_on=TODAY - DAY, hours_left=2.0)
    entry = LogEntry(task="weld", on=TODAY, hours=0.5)
    assert get_by_key(with_log_entry(build, entry).tasks, "weld").hours_left == 1.5
    # At least a quarter of an hour is left of what is not finished.
    entry = replace(entry, hours=5)
    assert get_by_key(with_log_entry(build, entry).tasks, "weld").hours_left == 0.25


def test_what_was_said_of_the_rest_on_a_later_day_stays() -> None:
    build = bench(begun_on=TODAY, hours_left=1.0)
    build = replace(build, log=(LogEntry(task="weld", on=TODAY, hours=1, left=1.0),))
    earlier = LogEntry(task="weld", on=TODAY - DAY, hours=2, left=3.0)
    weld = get_by_key(with_log_entry(build, earlier).tasks, "weld")
    assert (weld.hours_left, weld.begun_on) == (1.0, TODAY - DAY)


def test_hours_on_a_finished_task_open_it_again_only_where_that_is_meant() -> None:
    build = bench(begun_on=TODAY, finished_on=TODAY)
    entry = LogEntry(task="weld", on=TODAY, hours=1, left=2)
    assert get_by_key(with_log_entry(build, entry).tasks, "weld").finished_on == TODAY
    weld = get_by_key(with_log_entry(build, entry, opens_again=True).tasks, "weld")
    assert (weld.finished_on, weld.hours_left) == (None, 2)


def test_an_entry_is_corrected_in_its_place_and_taken_out() -> None:
    entries = tuple(LogEntry(task="weld", on=TODAY, hours=hours) for hours in (1, 2, 3))
    build = replace(bench(begun_on=TODAY), log=entries)
    corrected = with_log_entry(build, replace(entries[1], hours=2.5), place=1)
    assert [entry.hours for entry in corrected.log] == [1, 2.5, 3]
    assert [entry.hours for entry in without_log_entry(corrected, 1).log] == [1, 3]
