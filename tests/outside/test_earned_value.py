"""Earned value and earned schedule against published worked examples."""

import datetime as dt
from dataclasses import replace
from itertools import pairwise

import pytest

from tests.build.builds import MONDAY, build_of, session, task
from webapp.build.build_input import BuildInput, LogEntry
from webapp.planning.order.job_order import make_plan
from webapp.planning.order.plan import Plan
from webapp.planning.record import earned_formulas as f
from webapp.planning.record.earned import earned_of

TWO_EXAMPLES = [
    # (PV, EV, AC, BAC), each read in the source's text.
    pytest.param((50, 40, 45, 100), id="worked example on EVM forecasting"),
    pytest.param((100, 90, 85, 200), id="worked example for students, 2007"),
]


def test_the_worked_example_on_forecasting() -> None:
    pv, ev, ac, bac = 50, 40, 45, 100
    eac = f.estimate_by_cost_index(bac, ev, ac)
    assert f.cost_index(ev, ac) == pytest.approx(0.889, abs=5e-4)
    assert f.schedule_index(ev, pv) == 0.80
    assert eac == pytest.approx(112.5)
    assert f.estimate_to_complete(eac, ac) == pytest.approx(67.5)
    assert f.variance_at_completion(bac, eac) == pytest.approx(-12.5)
    # Published as about 129; 45 + 60 / (0.8889 x 0.8) = 129.375.
    assert f.estimate_by_both_indices(bac, pv, ev, ac) == pytest.approx(129.375)
    assert f.to_complete_index(bac, ev, ac) == pytest.approx(1.09, abs=5e-3)


def test_the_worked_example_for_students() -> None:
    pv, ev, ac, bac = 100, 90, 85, 200
    eac = f.estimate_by_cost_index(bac, ev, ac)
    assert f.cost_index(ev, ac) == pytest.approx(1.06, abs=5e-3)
    assert f.schedule_index(ev, pv) == 0.90
    assert eac == pytest.approx(188.889, abs=5e-4)
    assert f.estimate_atypical(bac, ev, ac) == 195
    assert f.to_complete_index(bac, ev, ac) == pytest.approx(0.9565, abs=5e-5)
    assert f.variance_at_completion(bac, eac) == pytest.approx(11.111, abs=5e-4)


@pytest.mark.parametrize("numbers", TWO_EXAMPLES)
def test_the_variances_are_differences_of_the_same_numbers(
    numbers: tuple[int, int, int, int],
) -> None:
    pv, ev, ac, bac = numbers
    assert f.cost_variance(ev, ac) == ev - ac
    assert f.schedule_variance(ev, pv) == ev - pv
    assert f.estimate_bottom_up(ac, bac - ev) == f.estimate_atypical(bac, ev, ac)


# --- earned schedule, Vanhoucke's 11-week example -------------------------------------------
# PV, EV and ES of weeks 1 to 6 read, the rest recomputed. Planned 9 weeks, finished in 11.

PV = [5, 10, 25, 55, 85, 120, 130, 140, 150]
EV = [3.33, 6.67, 10, 22.5, 70, 82.5, 90, 120, 130, 140, 150]
ES = [0.67, 1.33, 2.00, 2.83, 4.50, 4.92, 5.143, 6, 7, 8, 9]


WEEKS, CURVE = [*range(10)], [0, *PV]
WEEK_HOURS = 14.0


@pytest.mark.parametrize(("week", "ev", "es"), [*zip(range(1, 12), EV, ES, strict=True)])
def test_earned_schedule_of_every_week(week: int, ev: float, es: float) -> None:
    assert f.earned_schedule(WEEKS, CURVE, ev, week) == pytest.approx(es, abs=5e-3), week


@pytest.mark.parametrize(
    ("week", "variance", "index"),
    [(4, -1.167, 0.708), (5, -0.5, 0.900), (7, -1.857, 0.735), (11, -2, 0.818)],
)
def test_variance_and_index_in_time(week: int, variance: float, index: float) -> None:
    es = f.earned_schedule(WEEKS, CURVE, EV[week - 1], week)
    assert f.time_variance(es, week) == pytest.approx(variance, abs=5e-4)
    assert f.time_index(es, week) == pytest.approx(index, abs=5e-4)


def test_the_schedule_index_by_cost_forgets_that_the_end_was_late() -> None:
    assert f.schedule_index(EV[-1], PV[-1]) == 1
    assert f.time_index(f.earned_schedule(WEEKS, CURVE, EV[-1], 11), 11) == pytest.approx(9 / 11)


def test_the_duration_forecast_ends_at_the_real_duration() -> None:
    # IEAC(t) = PD / SPI(t): 9 / (9 / 11) = 11 weeks.
    index = f.time_index(f.earned_schedule(WEEKS, CURVE, EV[-1], 11), 11)
    assert f.planned_duration(WEEKS, CURVE) == 9
    assert f.estimate_of_duration(9, index) == pytest.approx(11)


# --- the same table, of a build -------------------------------------------------------------
# One task a week, worth what the week's PV rises by; two sessions of 7 h a week, on Wednesday
# and on Saturday, so that Thursday noon is the middle of a week of 14 shop hours.

RISES = [after - before for before, after in pairwise(CURVE)]
KEYS = [f"week{week}" for week in WEEKS[1:]]
SHOP_WEEK = (session(2, 14, 21), session(5, 8, 15))


def vanhoucke() -> tuple[BuildInput, Plan]:
    """The baseline, and its plan as the published table has it: each task all of its week."""
    base = build_of(
        [task(key, hours) for key, hours in zip(KEYS, RISES, strict=True)],
        first_start=KEYS[-1],
        week=SHOP_WEEK,
        starts_on=MONDAY.date(),
    )
    plan = make_plan(base)
    at = {each.key: each for each in plan.tasks}
    planned = tuple(
        replace(
            at[key],
            begins=MONDAY + dt.timedelta(weeks=week, days=2, hours=14),
            ends=MONDAY + dt.timedelta(weeks=week, days=5, hours=15),
            begin_shop_hours=week * WEEK_HOURS,
            end_shop_hours=(week + 1) * WEEK_HOURS,
        )
        for week, key in enumerate(KEYS)
    )
    return base, replace(plan, tasks=planned)


def with_earned(base: BuildInput, ev: float, now: dt.datetime) -> BuildInput:
    """The build with that much earned, task after task, by logging what each is worth."""
    tasks, log = [], []
    for each in base.tasks:
        worked = min(ev, each.hours.expected)
        ev -= worked
        if worked <= 0:
            tasks.append(each)
            continue
        log.append(LogEntry(task=each.key, on=MONDAY.date(), hours=worked))
        left = each.hours.expected - worked
        facts = {"hours_left": left} if left > 1e-9 else {"finished_on": now}
        tasks.append(replace(each, begun_on=MONDAY.date(), **facts))
    return replace(base, tasks=tuple(tasks), log=tuple(log), now=now)


@pytest.mark.parametrize(("week", "ev", "es"), [*zip(range(1, 12), EV, ES, strict=True)])
def test_the_table_comes_out_of_a_build_at_the_end_of_each_week(
    week: int, ev: float, es: float
) -> None:
    base, plan = vanhoucke()
    now = MONDAY + dt.timedelta(weeks=week)
    earned = earned_of(base, plan, with_earned(base, ev, now))
    assert [each.pv for each in earned.weeks][:9] == pytest.approx(PV)
    assert earned.figure("EV").value == pytest.approx(ev)
    assert earned.figure("ES").value == pytest.approx(es, abs=5e-3)
    assert earned.figure("AT").value == pytest.approx(week)
    assert earned.figure("SPI(t)").value == pytest.approx(es / week, abs=5e-3)
    assert earned.figure("PD").value == pytest.approx(9)


def test_the_table_comes_out_of_a_build_in_the_middle_of_a_week() -> None:
    # Thursday noon of week 4: half of its 14 hours are over, 25 + 30 / 2 = 40 was planned. With
    # the 22.5 of the table earned ES is its 2.83 weeks, of 3.5.
    base, plan = vanhoucke()
    now = MONDAY + dt.timedelta(weeks=3, days=3, hours=12)
    earned = earned_of(base, plan, with_earned(base, 22.5, now))
    assert earned.figure("PV").value == pytest.approx(40)
    assert earned.figure("AT").value == pytest.approx(3.5)
    assert earned.figure("ES").value == pytest.approx(2.83, abs=5e-3)
    on_plan = earned_of(base, plan, with_earned(base, 40, now))
    assert on_plan.figure("SPI(t)").value == pytest.approx(1)
    assert on_plan.figure("IEAC(t)").value == pytest.approx(9)
