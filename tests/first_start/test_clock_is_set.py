"""A clock that is set back or forward makes no rest and no watch longer or shorter.

In Central Europe it is set back on 25 October 2026 at 03:00 (+02:00) to 02:00 (+01:00), and
forward on 28 March 2027 at 02:00 (+01:00) to 03:00 (+02:00); in both nights true time goes on.
"""

import datetime as dt
import os
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from tests.first_start.lists import ENGINE, start_build
from tests.first_start.walker import Walker, still, to_it_ran, to_priming, to_the_hot_stop
from webapp.build.first_start import EngineRun
from webapp.first_start.attempts import shut_by
from webapp.settings import Settings

SUMMER = dt.timezone(dt.timedelta(hours=2))
WINTER = dt.timezone(dt.timedelta(hours=1))
BACK = dt.datetime(2026, 10, 25, 3, tzinfo=SUMMER)
FORWARD = dt.datetime(2027, 3, 28, 2, tzinfo=WINTER)
NIGHTS = pytest.mark.parametrize(
    ("change", "after"), [(BACK, WINTER), (FORWARD, SUMMER)], ids=["set back", "set forward"]
)


class Clock(Walker):
    """A walker whose clock on the wall is set at a moment; the time he waits is true time."""

    def __init__(self, begins: dt.datetime, change: dt.datetime, after: dt.tzinfo) -> None:
        build = replace(start_build(ENGINE), now=begins.replace(tzinfo=None))
        super().__init__(build, ENGINE, begins)
        self.change, self.after = change, after

    def wait(self, **passed: float) -> None:
        super().wait(**passed)
        if self.at >= self.change:
            self.at = self.at.astimezone(self.after)


@NIGHTS
def test_a_crank_rests_sixty_seconds_over_the_change(change: dt.datetime, after: dt.tzinfo) -> None:
    one = Clock(change - dt.timedelta(hours=2), change, after)
    to_priming(one)
    one.wait(seconds=(change - dt.timedelta(seconds=40) - one.at).total_seconds())
    assert one.begin("prime"), one.last
    one.wait(seconds=10)
    assert one.end()
    one.wait(seconds=59)
    shut = one.standing.shut
    assert shut is not None
    assert shut.why == "rest"
    assert shut.until is not None
    # 30 s before the change and 60 s of rest: half a minute past, by the clock as it is now
    assert f"{shut.until:%H:%M:%S}" == ("02:00:30" if after is WINTER else "03:00:30")
    assert not one.begin("prime")
    one.wait(seconds=1)
    assert one.begin("prime"), one.last


@NIGHTS
def test_a_fire_watch_is_thirty_and_sixty_minutes_over_the_change(
    change: dt.datetime, after: dt.tzinfo
) -> None:
    one = Clock(change - dt.timedelta(hours=1), change, after)
    to_it_ran(one)
    to_the_hot_stop(one)
    one.sign_all("heat", only=lambda check: still(check) and check.key != "fire_watch")
    stopped = max(run.ended_at for run in one.build.start.runs if run.ended_at)
    assert stopped < change < stopped + dt.timedelta(minutes=60)
    one.wait(seconds=(stopped - one.at).total_seconds() + 30 * 60 - 1)
    assert not one.sign("fire_watch")
    one.wait(seconds=1)
    assert one.sign("fire_watch"), one.last
    one.wait(minutes=29, seconds=59)
    assert not one.figures("fire_watch")
    one.wait(seconds=1)
    assert one.figures("fire_watch"), one.last
    signature = one.build.start.signatures[-1]
    assert [reading.value for reading in signature.readings] == [30.0, 60.0]


def test_a_stop_before_the_clock_was_set_back_still_shuts_the_start() -> None:
    run = EngineRun(
        key="r1",
        kind="start",
        begun_at=BACK - dt.timedelta(seconds=20),
        ended_at=BACK - dt.timedelta(seconds=5),
        ending="aborted",
    )
    start = replace(start_build(ENGINE).start, runs=(run,))
    shut = shut_by(ENGINE, start, {}, BACK.astimezone(WINTER) + dt.timedelta(minutes=2))
    assert shut is not None
    assert shut.why == "abort to name"


@pytest.fixture
def central_europe() -> Iterator[None]:
    was = os.environ.get("TZ")
    os.environ["TZ"] = "CET-1CEST,M3.5.0,M10.5.0/3"
    time.tzset()
    yield
    os.environ.pop("TZ") if was is None else os.environ.update(TZ=was)
    time.tzset()


@pytest.mark.usefixtures("central_europe")
def test_the_moment_that_is_stored_says_which_of_two_equal_times_it_was() -> None:
    settings = Settings(data_file=Path("never.sqlite3"))
    first = replace(settings, frozen_now=dt.datetime(2026, 10, 25, 2, 30)).moment()
    second = replace(settings, frozen_now=dt.datetime(2026, 10, 25, 2, 30, fold=1)).moment()
    assert first.replace(tzinfo=None) == second.replace(tzinfo=None)
    assert second - first == dt.timedelta(hours=1)
    assert settings.moment().tzinfo is not None
