"""Headroom: what a day of it is worth."""

import datetime as dt
from dataclasses import replace

import pytest

from tests.build.builds import build_of, session, task
from webapp.planning.chances.factors import Attendance, Factors
from webapp.planning.chances.headroom import headroom_hours_a_day


def test_a_day_is_worth_the_mean_of_the_promised_hours_times_attendance() -> None:
    # Every Saturday 4 h: 7 days hold one of them, whatever the day they begin on.
    build = build_of([task("a", 2)], first_start="a", week=(session(5, 9, 13),))
    now = build.now.replace(hour=0, minute=0)
    build = replace(build, now=now)
    wanted, factors = now.date() + dt.timedelta(days=6), Factors(attendance=Attendance(mean=0.8))
    assert headroom_hours_a_day(build, wanted) == pytest.approx(4 / 7)
    assert headroom_hours_a_day(build, wanted, factors) == pytest.approx(0.8 * 4 / 7)


def test_a_date_that_has_passed_has_no_hours_and_no_fault() -> None:
    build = build_of([task("a", 2)], first_start="a", week=(session(5, 9, 13),))
    assert headroom_hours_a_day(build, build.now.date() - dt.timedelta(days=9)) == 0.0
