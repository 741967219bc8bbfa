"""The forecast: draws, common random numbers, factors and the criticality index."""

import datetime as dt

import numpy as np
from hypothesis import given, settings

from tests.build.builds import ALWAYS, EVENINGS, MONDAY, build_of, session, task
from tests.build.random_builds import builds
from webapp.build.build_input import BuildInput
from webapp.build.shop import DayException, Setup
from webapp.build.three_point import ThreePoint
from webapp.planning.chances.criticality import criticality_of, times_on_path, walked
from webapp.planning.chances.draws import drawn_of, drawn_ratios
from webapp.planning.chances.factors import Attendance, Factors, KindFactor, Level
from webapp.planning.chances.forecast import Forecast, forecast_of
from webapp.planning.chances.luck import SEED, Luck, balanced_normals, even_shares
from webapp.planning.chances.pert_beta import quantiles
from webapp.planning.order.job_order import make_plan
from webapp.planning.simulator.house_rules import HouseRules
from webapp.planning.simulator.simulate import simulate
from webapp.planning.simulator.variants import as_it_is
from webapp.planning.simulator.work_arrays import for_first_start_only, lay_out

CHAIN = [("a", "b"), ("b", "z")]
UNSURE = [task("a", (1, 2, 6)), task("b", (2, 3, 8)), task("z", 1)]


def forecast(
    build: BuildInput, *, draws: int = 1000, seed: int = SEED, factors: Factors | None = None
) -> Forecast:
    found = forecast_of(build, Luck(draws, seed), factors=factors)
    assert found is not None
    return found


def test_the_forecast_of_certain_work_is_the_plan() -> None:
    tasks = [task("a", 2), task("b", 3.5), task("z", 1)]
    build = build_of(tasks, CHAIN, first_start="z", week=EVENINGS)
    plan = make_plan(build)
    certain = forecast(build)
    assert {certain.at(share) for share in (0.1, 0.5, 0.8, 0.9)} == {plan.first_start_at}
    assert certain.shop_hours(0.8) == plan.first_start_shop_hours


def test_the_same_seed_gives_the_same_dates_and_another_one_others() -> None:
    build = build_of(UNSURE, CHAIN, first_start="z")
    first, again = forecast(build), forecast(build)
    assert (first.end_wall == again.end_wall).all()
    assert (forecast(build, seed=2).end_wall != first.end_wall).any()


def test_a_task_keeps_its_luck_when_another_one_is_added() -> None:
    build = build_of(UNSURE, CHAIN, first_start="z")
    more = build_of([*UNSURE, task("new", (1, 2, 3))], CHAIN, first_start="z")
    before, after = drawn_ratios(build, Luck(200)), drawn_ratios(more, Luck(200))
    assert all((before[key] == after[key]).all() for key in before)


def test_work_off_the_path_within_its_float_moves_no_draw() -> None:
    tasks = [task("seal", (1, 2, 3)), task("z", 1)]
    alone = build_of(tasks, [("seal", "z", 24)], first_start="z")
    side = [*tasks, task("side", (1, 2, 4))]
    beside = build_of(side, [("seal", "z", 24), ("seal", "side"), ("side", "z")], first_start="z")
    assert (forecast(alone).end_wall == forecast(beside).end_wall).all()


def test_shares_are_one_in_each_slice() -> None:
    shares = even_shares(500, 1, "task a")
    assert (np.sort((shares * 500).astype(int)) == np.arange(500)).all()


def test_normals_come_in_pairs_of_opposite_sign() -> None:
    assert abs(balanced_normals(1000, 1, "kind tig").sum()) < 1e-9
    assert len(balanced_normals(7, 1, "kind tig")) == 7


def test_an_estimate_without_spread_has_one_outcome() -> None:
    shares = np.array([0.0, 0.3, 1.0])
    assert quantiles(ThreePoint.certain(2.5), shares).tolist() == [2.5, 2.5, 2.5]


def test_outcomes_stay_between_the_best_and_the_worst() -> None:
    points = ThreePoint(optimistic=2, most_likely=2, pessimistic=9)
    drawn = quantiles(points, np.linspace(0, 1, 101))
    assert drawn[0] == 2
    assert drawn[-1] == 9
    assert (np.diff(drawn) > 0).all()


def test_a_kind_of_work_that_took_longer_pushes_the_date_by_its_factor() -> None:
    tig = Setup(key="tig", name="TIG welder out", hours=0)
    tasks = [task("a", (1, 2, 3), setup="tig"), task("z", 0)]
    build = build_of(tasks, [("a", "z")], first_start="z", setups=(tig,))
    sure = KindFactor(kind="tig", log_mean=float(np.log(1.5)), weight=1.0, count=9)
    factors = Factors(kinds=(sure,), attendance=Attendance(sd=0.0, weeks=9))
    ratio = forecast(build, factors=factors).end_shop / forecast(build).end_shop
    assert np.allclose(ratio, 1.5, atol=1e-3)


def test_half_the_attendance_takes_twice_the_shop_hours() -> None:
    build = build_of(UNSURE, CHAIN, first_start="z")
    half = Factors(
        kinds=(KindFactor(kind="", weight=1.0, count=9),),
        attendance=Attendance(mean=0.5, sd=0.0, weeks=9),
    )
    ratio = forecast(build, factors=half).end_shop / forecast(build).end_shop
    assert np.allclose(ratio, 2, atol=1e-3)


def test_errors_of_one_kind_do_not_cancel() -> None:
    tasks = [*(task(f"t{i}", (0.9, 1, 1.1)) for i in range(30)), task("z", 0)]
    links = [(f"t{i}", "z") for i in range(30)]
    build = build_of(tasks, links, first_start="z")
    alone, shared = forecast(build), forecast(build, factors=Factors())
    spread = [f.shop_hours(0.9) - f.shop_hours(0.1) for f in (alone, shared)]
    assert spread[1] > 5 * spread[0]


def test_errors_of_two_kinds_do_not_cancel_either() -> None:
    # 30 tasks of 30 kinds: each kind has its own spread, 0.15, and all of them share the level's.
    setups = tuple(Setup(key=f"s{i}", name=f"Setup {i}", hours=0) for i in range(30))
    tasks = [task(f"t{i}", (0.9, 1, 1.1), setup=f"s{i}") for i in range(30)]
    build = build_of(tasks, setups=setups)
    ratios = np.log(
        list(drawn_ratios(build, Luck(4000), Factors(attendance=Attendance(sd=0))).values())
    )
    # Spread of one 0.3354, of the mean of all hypot(0.30, 0.15 / sqrt(30)) = 0.3012; 4,000 draws
    # tell them to 0.004.
    assert abs(ratios.std(axis=1).mean() - 0.338) < 0.01
    assert abs(ratios.mean(axis=0).std() - 0.3012) < 0.01


def test_a_kind_that_is_known_follows_the_level_by_what_its_own_record_leaves() -> None:
    tasks = [task("known", (1, 2, 3), setup="tig"), task("unseen", (1, 2, 3))]
    build = build_of(tasks, setups=(Setup(key="tig", name="TIG welder out", hours=0),))
    factors = Factors(
        level=Level(log_mean=0.2, log_sd=0.1, count=20),
        kinds=(KindFactor(kind="tig", log_mean=0.35, weight=0.75, count=20),),
        attendance=Attendance(sd=0),
    )
    drawn = drawn_ratios(build, Luck(4000), factors)
    plain = drawn_ratios(build, Luck(4000), None)
    known, unseen = (np.log(drawn[key] / plain[key]) for key in ("known", "unseen"))
    # Known: variance 0.0225 x 0.25 + 0.25^2 x 0.01 = 0.00625; unseen: 0.0225 + 0.01. In common
    # they have 0.25 of the level's: covariance 0.0025.
    assert abs(known.mean() - 0.35) < 1e-9
    assert abs(unseen.mean() - 0.2) < 1e-9
    assert abs(known.var() - 0.00625) < 0.0005
    assert abs(unseen.var() - 0.0325) < 0.002
    assert abs(np.cov(known, unseen)[0, 1] - 0.0025) < 0.0008


def test_what_a_builder_may_be_off_by_is_drawn_for_certain_estimates_too() -> None:
    # Level 0.30, kind 0.15: together 0.335 in the log; attendance apart.
    build = build_of([task("a", 2)])
    ratios = drawn_ratios(build, Luck(4000), Factors(attendance=Attendance(sd=0)))["a"]
    assert abs(np.log(ratios).std() - 0.335) < 0.01
    assert (drawn_ratios(build, Luck(100), None)["a"] == 1).all()


def test_attendance_does_not_stretch_work_with_the_helper_but_misses_its_sessions() -> None:
    # The helper comes every Saturday for 8 h; the task takes 1 h. At an attendance of 0.6 four
    # in ten Saturdays are missed: the k-th comes with 0.6 x 0.4^k, 0.667 weeks late on average.
    weekly = (session(5, 9, 17, helper=True),)
    build = build_of([task("a", 1, helper=True)], first_start="a", week=weekly)
    factors = Factors(
        level=Level(log_sd=0.0),
        kinds=(KindFactor(kind="", weight=1.0, count=9),),
        attendance=Attendance(mean=0.6, sd=0.0, weeks=9),
    )
    found = forecast(build, factors=factors, draws=4000)
    weeks = (found.draws.wall - found.draws.wall.min()) / (7 * 86400)
    assert set(np.unique(weeks)) <= set(range(40))
    assert abs((weeks == 0).mean() - 0.6) < 0.001
    assert abs(weeks.mean() - 0.4 / 0.6) < 0.06
    assert (drawn_ratios(build, Luck(50), factors)["a"] == 1).all()


def test_a_helper_session_has_the_same_luck_in_two_builds() -> None:
    weekly = (session(5, 9, 17, helper=True),)
    more = (*weekly, session(2, 18, 21, helper=True))
    lucks = []
    for week in (weekly, more):
        build = build_of([task("a", 1, helper=True)], first_start="a", week=week)
        drawn = drawn_of(build, Luck(100), factors=Factors(attendance=Attendance(mean=0.5, sd=0)))
        assert drawn is not None
        assert drawn.variants.missed_helper is not None
        lucks.append(drawn.variants.missed_helper)
    # Every other stretch of the second week is its Saturday, after the Wednesday.
    for i in range(5):
        assert (lucks[0].row(i) == lucks[1].row(1 + 2 * i)).all()


def test_begun_work_draws_only_what_is_left() -> None:
    begun = task("a", (4, 8, 12), begun_on=dt.date(2026, 1, 4), hours_left=2)
    build = build_of([begun], first_start="a")
    # The whole task takes 4 to 12 h round 8; a quarter is left: 1 to 3 h.
    found = forecast(build)
    assert 1 <= found.shop_hours(0.001) < found.shop_hours(1.0) <= 3


def test_without_a_first_start_there_is_no_forecast() -> None:
    aside = task("a", 1, set_aside_on=MONDAY.date())
    build = build_of([aside, task("z", 1)], [("a", "z")], first_start="z")
    assert forecast_of(build, Luck(10)) is None
    assert forecast_of(build_of([task("a", 1)]), Luck(10)) is None
    assert criticality_of(build, Luck(10)) == criticality_of(build_of([task("a", 1)])) == {}


def test_the_longest_draw_still_ends_on_the_calendar() -> None:
    tasks = [task("a", (1, 2, 900)), task("z", 1)]
    build = build_of(tasks, [("a", "z")], first_start="z", week=EVENINGS)
    assert forecast(build, factors=Factors(attendance=Attendance(mean=0.1, weeks=3)))


def test_the_forecast_of_one_run_with_the_path_is_the_forecast() -> None:
    build = build_of(UNSURE, CHAIN, first_start="z", week=EVENINGS)
    both, on_path = walked(build, Luck(200), factors=None)
    alone = forecast(build, draws=200)
    assert both is not None
    for one, other in ((both.draws.wall, alone.draws.wall), (both.draws.shop, alone.draws.shop)):
        assert (one == other).all()
    assert on_path == criticality_of(build, Luck(200), factors=None) == dict.fromkeys("abz", 1.0)


def test_two_paths_share_the_criticality_between_them() -> None:
    tasks = [task("a", (1, 4, 7)), task("b", (1, 4, 7)), task("z", 1)]
    build = build_of(tasks, [("a", "z"), ("b", "z")], first_start="z", people=2, week=ALWAYS)
    criticality = criticality_of(build, Luck(2000), factors=None)
    assert criticality["z"] == 1.0
    # Alike, so each is the later one in half of the draws; sd of the share 0.011.
    assert abs(criticality["a"] - 0.5) < 0.04
    assert abs(criticality["a"] + criticality["b"] - 1) < 0.01


def test_a_task_of_no_hours_before_a_closed_day_holds_nothing_back() -> None:
    tasks = [task("a", 0, people=0), task("z", 1)]
    closed = DayException(date=MONDAY.date(), sessions=())
    build = build_of(tasks, [("a", "z")], first_start="z", week=ALWAYS, days=(closed,))
    # It is over now, on the closed Monday: what z waits for is the Tuesday.
    assert {t.key for t in make_plan(build).tasks if t.on_path} == {"z"}
    assert criticality_of(build, Luck(10)) == {"a": 0.0, "z": 1.0}


@settings(derandomize=True, max_examples=120, deadline=None)
@given(build=builds())
def test_the_path_of_one_variant_is_the_path_of_the_plan(build: BuildInput) -> None:
    work = for_first_start_only(lay_out(build))
    plan = make_plan(build)
    if plan.first_start_at is None or build.shop.people != 1 or build.shop.stations:
        return
    on_path = {t.key for t in plan.tasks if t.on_path}
    times = times_on_path(work, simulate(work, as_it_is(work, HouseRules())), slice(0, 1))
    assert {key for key, count in zip(work.keys, times, strict=True) if count} == on_path
