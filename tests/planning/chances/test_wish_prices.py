"""What a wish does each way, and deciding it."""

import datetime as dt
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.build.builds import ALWAYS, EVENINGS, MONDAY, build_of, session, task
from tests.build.random_builds import builds
from webapp.build.build_input import BuildInput
from webapp.build.checks.input_checks import faults_of
from webapp.build.three_point import ThreePoint
from webapp.build.verbs.wish_tasks import with_wish
from webapp.build.wish import Wish, WishPart, WishWay
from webapp.pages.words.moves import cost_words
from webapp.planning.chances.factors import Attendance, Factors, KindFactor, Level
from webapp.planning.chances.forecast import Forecast, forecast_of
from webapp.planning.chances.luck import Luck
from webapp.planning.chances.moves import move_between
from webapp.planning.chances.wish_prices import (
    PricedWish,
    move_without,
    price_wish,
)
from webapp.planning.order.job_order import make_plan

TODAY = MONDAY.date()
EXACT = Factors(
    level=Level(log_sd=0.0),
    kinds=(KindFactor(kind="", weight=1.0, count=9),),
    attendance=Attendance(sd=0.0, weeks=9),
)
"""A builder whose estimates and attendance are known to be right."""


def said_thrice(hours: float) -> ThreePoint:
    """Hours with a range below the second that is planned in: a single number would be spread."""
    return ThreePoint(optimistic=hours, most_likely=hours, pessimistic=hours + 1e-6)


def wish(hours: float = 4, **facts: object) -> Wish:
    said = {"hours": said_thrice(hours), "logged_on": TODAY, **facts}
    return Wish(key="w1", text="Second battery", **said)  # type: ignore[arg-type]


def chain(week: tuple = ALWAYS, **rest: object) -> BuildInput:  # type: ignore[type-arg]
    tasks = [task("a", (1, 2, 4)), task("b", (2, 3, 7)), task("z", 1)]
    return build_of(tasks, [("a", "b"), ("b", "z")], first_start="z", week=week, **rest)  # type: ignore[arg-type]


def priced(build: BuildInput, idea: Wish, *, draws: int) -> PricedWish:
    """Four ways, drawn from the three-point estimates alone."""
    return price_wish(build, idea, Luck(draws), factors=EXACT)


def test_fitting_a_certain_wish_now_moves_first_start_by_its_hours() -> None:
    # One pair of hands, shop always open, nothing to hide behind: 6 h are a quarter of a day.
    found = priced(chain(), wish(6), draws=400)
    now = found.way("fit now")
    assert now.move_days == pytest.approx(0.25)
    assert now.moved_share == 1
    assert now.hours == pytest.approx(6)


def test_fitting_later_and_letting_go_leave_first_start_where_it_is() -> None:
    build = chain()
    found = priced(build, wish(6), draws=200)
    for way in ("fit later", "let go"):
        assert (found.way(way).move_days, found.way(way).moved_share) == (0, 0)
    fitted_later = with_wish(build, wish(6), "fit later")
    assert make_plan(fitted_later).first_start_at == make_plan(build).first_start_at


def test_letting_go_is_the_present_plan() -> None:
    build = chain()
    assert with_wish(build, wish(), "let go") == build
    found = priced(build, wish(), draws=200)
    assert found.way("let go").hours == found.way("let go").cost == 0


def test_roughing_in_costs_first_start_only_the_roughing_in() -> None:
    found = priced(chain(), wish(6, rough_in_hours=said_thrice(1.5)), draws=200)
    rough = found.way("rough in")
    assert rough.move_days == pytest.approx(1.5 / 24)
    # 1.5 h now; 4.5 h and half of the 3 h that fitting later would take on top: 7.5 in all.
    assert rough.hours == pytest.approx(7.5)


def test_a_wish_of_no_hours_moves_nothing_to_the_minute() -> None:
    found = priced(chain(EVENINGS), wish(0), draws=300)
    assert {way.move_days for way in found.ways} == {0}
    assert {way.firm for way in found.ways} == {found.way("let go").firm}


def test_a_wish_that_fits_a_wait_moves_nothing() -> None:
    tasks = [task("seal", (1, 2, 3)), task("z", 1)]
    build = build_of(tasks, [("seal", "z", 24)], first_start="z")
    found = priced(build, wish(4, after="seal", before="z"), draws=300)
    assert found.way("fit now").move_days == 0


def test_the_part_of_a_wish_holds_it_until_it_is_there() -> None:
    parts = (WishPart(name="Battery", lead_days=10, cost=140),)
    now = priced(chain(), wish(2, parts=parts), draws=200).way("fit now")
    # From Monday 00:00 the part takes ten days; then 2 h of work and 1 h of first start.
    assert now.likely == dt.datetime(2026, 1, 15, 3)
    assert now.cost == 140


def test_the_headroom_left_shrinks_by_the_hours_of_the_wish() -> None:
    found = priced(chain(wanted_by=dt.date(2026, 1, 20)), wish(6), draws=400)
    left = [found.way(way).headroom_hours for way in ("let go", "fit now")]
    assert left[0] is not None
    assert left[1] == pytest.approx(left[0] - 6)


def test_without_a_wanted_by_date_there_is_no_headroom_to_show() -> None:
    assert price_wish(chain(), wish(), Luck(50)).way("fit now").headroom_hours is None


def test_a_build_without_first_start_prices_hours_and_money_alone() -> None:
    build = build_of([task("a", 1)], first_start=None)
    now = priced(build, wish(2, cost=30), draws=50).way("fit now")
    assert (now.likely, now.move_days, now.cost) == (None, None, 30)
    assert now.hours == pytest.approx(2)


@settings(derandomize=True, max_examples=40, deadline=None)
@given(
    build=builds(),
    way=st.sampled_from(("fit now", "rough in", "fit later")),
    hours=st.sampled_from((0.0, 0.5, 3.0)),
)
def test_no_wish_is_ever_told_to_gain_time_and_every_build_with_one_is_faultless(
    build: BuildInput, way: WishWay, hours: float
) -> None:
    idea = wish(hours)
    build = replace(build, wishes=(idea,))
    changed = with_wish(build, idea, way)
    assert set(faults_of(changed)) <= set(faults_of(build))
    figures = priced(build, idea, draws=20).way(way)
    assert figures.move_days is None or cost_words(figures.move_days)[0] in "n+"
    if hours == 0:
        assert figures.move_days in (None, 0)


def ends(build: BuildInput, draws: int = 400, factors: Factors = Factors()) -> Forecast:
    found = forecast_of(build, Luck(draws), factors=factors)
    assert found is not None
    return found


@pytest.mark.parametrize("week", [ALWAYS, EVENINGS])
def test_what_was_promised_is_what_is_seen_after_accepting(week: tuple) -> None:  # type: ignore[type-arg]
    """The same question asked on two days, nothing worked between: the same number."""
    build = chain(week)
    idea = replace(wish(), hours=ThreePoint(optimistic=3, most_likely=5, pessimistic=9))
    build = replace(build, wishes=(idea,))
    said = price_wish(build, idea, Luck(400)).way("fit now")
    accepted = with_wish(build, idea, "fit now")
    seen = move_without(accepted, ends(accepted), "w1", Factors(), Luck(400))
    assert seen is not None
    assert (seen.days, seen.error_days) == (said.move_days, said.move_error_days)


def test_the_price_of_more_hours_is_never_less_beyond_its_error() -> None:
    """Hours on Saturdays only, where percentiles jump from week to week."""
    build = chain((session(5, 9, 17),))
    before = None
    for hours in (0.0, 0.5, 1.0, 3.0, 4.0, 8.0, 14.0):
        now = price_wish(build, wish(hours), Luck(400)).way("fit now")
        assert now.move_days is not None
        assert now.move_error_days is not None
        if hours == 0:
            assert (now.move_days, now.move_error_days) == (0.0, 0.0)
        if before is not None:
            assert now.move_days >= before - 2 * now.move_error_days
        before = now.move_days


def test_a_price_is_the_mean_of_the_same_draws_planned_again_by_hand() -> None:
    build, idea = chain(EVENINGS), wish(4)
    without, with_it = ends(build), ends(with_wish(build, idea, "fit now"))
    days = [
        (after - before) / 86_400
        for before, after in zip(
            without.draws.wall.tolist(), with_it.draws.wall.tolist(), strict=True
        )
    ]
    mean = sum(days) / len(days)
    error = (sum((day - mean) ** 2 for day in days) / (len(days) - 1) / len(days)) ** 0.5
    said = price_wish(build, idea, Luck(400)).way("fit now")
    assert said.move_days == pytest.approx(mean)
    assert said.move_error_days == pytest.approx(error)
    assert move_between(without.draws.wall, without.draws.wall).days == 0.0


def test_a_kept_order_is_followed_on_both_sides_of_a_price() -> None:
    """Kept: the long task first, so that the cure runs at the end, and the wish is set in."""
    tasks = [task("rack", 4), task("seal", 1), task("z", 1)]
    build = build_of(tasks, [("seal", "z", 24), ("rack", "z")], first_start="z")
    kept = replace(build, kept_order=("rack", "seal", "z"))
    # The house rules seal first: 1 + 24 + 1, with 19 h to spare beside the cure for the wish.
    assert priced(build, wish(4), draws=20).way("fit now").move_days == 0
    # Kept: rack, seal, cure: 4 + 1 + 24 + 1; the wish is set in before z, beside the cure.
    assert priced(kept, wish(4), draws=20).way("fit now").move_days == 0
    # After the rack and before the seal it has to wait for nothing and delays the cure.
    between = wish(4, after="rack", before="seal")
    assert priced(kept, between, draws=20).way("fit now").move_days == pytest.approx(4 / 24)
