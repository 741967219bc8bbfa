"""What the running clock stands for: getting the setup out first, then the work."""

import datetime as dt
from dataclasses import replace

from tests.build.builds import MONDAY, build_of, task
from webapp.build.bench_clock import ClockHours, clock_hours
from webapp.build.build_input import BuildInput, RunningClock
from webapp.build.shop import Setup
from webapp.build.verbs.work import Stop, begun_build, stopped_build

TIG = Setup(key="tig", name="TIG welder out", hours=0.75)


def shop(*setups_out: str) -> BuildInput:
    build = build_of([task("a", 5, setup="tig"), task("b", 1)], setups=(TIG,))
    return replace(build, shop=replace(build.shop, setups_out=setups_out))


def later(build: BuildInput, hours: float) -> BuildInput:
    return replace(build, now=MONDAY + dt.timedelta(hours=hours))


def test_where_the_setup_was_not_out_its_own_hours_come_first() -> None:
    begun = begun_build(shop(), "a", now=MONDAY)
    assert begun.on_bench == RunningClock(task="a", since=MONDAY, gets_out=True)
    assert clock_hours(later(begun, 0.5)) == ClockHours(setup_hours=0.5)
    assert clock_hours(later(begun, 3)) == ClockHours(setup_hours=0.75, worked_hours=2.25)


def test_where_it_was_out_all_of_the_clock_is_work() -> None:
    begun = begun_build(shop("tig"), "a", now=MONDAY)
    assert clock_hours(later(begun, 3)) == ClockHours(worked_hours=3.0)
    plain = begun_build(shop(), "b", now=MONDAY)
    assert clock_hours(later(plain, 1)) == ClockHours(worked_hours=1.0)
    assert clock_hours(shop()) == ClockHours()


def test_the_hours_of_getting_out_go_into_the_log_apart_from_the_work() -> None:
    begun = begun_build(shop(), "a", now=MONDAY)
    stop = Stop(outcome="stopped", worked_hours=0.0, left_hours=5.0, setup_hours=0.5)
    stopped = stopped_build(begun, "a", stop, on=MONDAY.date(), now=MONDAY)
    (entry,) = stopped.log
    assert (entry.hours, entry.setup_hours, entry.left) == (0.0, 0.5, 5.0)
    # Half out is out: what is left of it belongs to what is left.
    again = begun_build(stopped, "a", now=MONDAY)
    assert again.on_bench is not None
    assert not again.on_bench.gets_out
