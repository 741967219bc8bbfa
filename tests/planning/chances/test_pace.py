"""The pace: the plan that is shown ends on the likely day."""

import datetime as dt
from dataclasses import replace

import numpy as np
from hypothesis import given, settings

from tests.build.builds import EVENINGS, build_of, session, task
from tests.build.random_builds import builds
from tests.planning.chances.test_wish_prices import EXACT
from webapp.build.build_input import BuildInput
from webapp.build.shop import Setup
from webapp.planning.chances.factors import Attendance, Factors, KindFactor, Level
from webapp.planning.chances.forecast import forecast_of
from webapp.planning.chances.likely_day import LIKELY, at_pace, likely_at, pace_by
from webapp.planning.chances.luck import Luck
from webapp.planning.chances.pace import pace_of, paced_seconds
from webapp.planning.order.job_order import make_plan
from webapp.planning.order.kept_order import plan_that_holds

HALF_AGAIN = Factors(
    level=Level(log_mean=float(np.log(1.5)), log_sd=0.0, count=9),
    kinds=(KindFactor(kind="", log_mean=float(np.log(1.5)), weight=1.0, count=9),),
    attendance=Attendance(mean=0.75, sd=0.0, weeks=9),
)


def test_hours_are_paced_by_the_factor_of_their_kind_over_attendance() -> None:
    build = build_of([task("a", 2)], first_start="a", week=EVENINGS)
    # 2 h x 1.5 / 0.75 x 1.1 = 4.4 h
    assert paced_seconds(build, HALF_AGAIN, 1.1) == {"a": round(4.4 * 3600)}


def test_work_in_one_go_keeps_its_hours_up_to_the_longest_session_less_the_setup() -> None:
    tig = Setup(key="tig", name="TIG welder out", hours=0.5)
    week = (session(0, 18, 21), session(5, 9, 13, helper=True))
    tasks = [
        task("short", 2, in_one_go=True),
        task("long", 3, in_one_go=True, setup="tig"),
        task("helped", 2.4, helper=True),
    ]
    build = build_of(tasks, first_start="short", week=week, setups=(tig,))
    half_again = replace(
        HALF_AGAIN,
        kinds=(*HALF_AGAIN.kinds, KindFactor(kind="tig", log_mean=float(np.log(1.5)), weight=1.0)),
    )
    paced = paced_seconds(build, half_again, 1.2)
    # 3.0 h fit the Saturday's 4 h; 4.5 h are cut to 4 h less half an hour; 3.6 h with the helper.
    assert paced == {"short": 3 * 3600, "long": round(3.5 * 3600), "helped": round(3.6 * 3600)}


def test_where_nothing_is_off_the_pace_is_plain() -> None:
    build = build_of([task("a", 7), task("z", 1)], [("a", "z")], first_start="z", week=EVENINGS)
    at = make_plan(build).first_start_at
    assert at is not None
    assert pace_of(build, EXACT, at.date()) == 1.0


def test_the_last_factor_stays_while_its_day_is_still_right() -> None:
    build = build_of([task("a", 7), task("z", 1)], [("a", "z")], first_start="z", week=EVENINGS)
    at = make_plan(build).first_start_at
    assert at is not None
    # 8 h in evenings of 3 h end on the third; 8.4 h do too, 9.2 h do not.
    assert pace_of(build, EXACT, at.date(), last=1.05) == 1.05
    assert pace_of(build, EXACT, at.date(), last=1.15) == 1.0


def test_a_day_that_only_one_factor_reaches_is_found() -> None:
    # 30 h of work in evenings of 3 h from Monday: ten evenings, the tenth is Friday 16 January.
    tasks = [task("a", 29), task("z", 1)]
    build = build_of(tasks, [("a", "z")], first_start="z", week=EVENINGS)
    later = dt.date(2026, 1, 19)
    factor = pace_of(build, EXACT, later)
    plan = plan_that_holds(build, work=at_pace(build, EXACT, factor))
    assert plan.first_start_at is not None
    assert plan.first_start_at.date() == later
    assert 1.0 < factor <= 1.1


@settings(derandomize=True, max_examples=60, deadline=None)
@given(build=builds(max_tasks=12))
def test_the_plan_ends_on_the_likely_day_in_nearly_every_build(build: BuildInput) -> None:
    """Of random builds with few tasks; the share over many is a row of the benchmarks."""
    forecast = forecast_of(build, Luck(200))
    if forecast is None:
        return
    factor = pace_by(build, forecast, Factors())
    plan = plan_that_holds(build, work=at_pace(build, Factors(), factor))
    assert plan.first_start_at is not None
    assert plan.first_start_at == likely_at(build, forecast, Factors())
    # Never further off than the plain pace is.
    plain = plan_that_holds(build, work=at_pace(build, Factors(), 1.0)).first_start_at
    assert plain is not None
    likely = forecast.at(LIKELY).date()
    assert abs((plan.first_start_at.date() - likely).days) <= abs((plain.date() - likely).days)


def test_the_ranking_does_not_change_with_the_pace() -> None:
    tasks = [task("a", 4), task("b", 3), task("c", 1), task("z", 1)]
    build = build_of(
        tasks, [("a", "z"), ("b", "z"), ("c", "z", 30)], first_start="z", week=EVENINGS
    )
    plain, slow = (
        [one.key for one in plan_that_holds(build, work=at_pace(build, EXACT, factor)).tasks]
        for factor in (1.0, 1.3)
    )
    assert plain == slow
