"""Earned value and earned schedule against published worked examples."""

import pytest

from webapp.planning.record import earned_formulas as f

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


@pytest.mark.parametrize(("week", "ev", "es"), [*zip(range(1, 12), EV, ES, strict=True)])
def test_earned_schedule_of_every_week(week: int, ev: float, es: float) -> None:
    assert f.earned_schedule(PV, ev) == pytest.approx(es, abs=5e-3), week


@pytest.mark.parametrize(
    ("week", "variance", "index"),
    [(4, -1.167, 0.708), (5, -0.5, 0.900), (7, -1.857, 0.735), (11, -2, 0.818)],
)
def test_variance_and_index_in_time(week: int, variance: float, index: float) -> None:
    es = f.earned_schedule(PV, EV[week - 1])
    assert f.time_variance(es, week) == pytest.approx(variance, abs=5e-4)
    assert f.time_index(es, week) == pytest.approx(index, abs=5e-4)


def test_the_schedule_index_by_cost_forgets_that_the_end_was_late() -> None:
    assert f.schedule_index(EV[-1], PV[-1]) == 1
    assert f.time_index(f.earned_schedule(PV, EV[-1]), 11) == pytest.approx(9 / 11)


def test_the_duration_forecast_ends_at_the_real_duration() -> None:
    # IEAC(t) = PD / SPI(t): 9 / (9 / 11) = 11 weeks.
    index = f.time_index(f.earned_schedule(PV, EV[-1]), 11)
    assert f.planned_periods(PV) == 9
    assert f.estimate_of_duration(9, index) == pytest.approx(11)
