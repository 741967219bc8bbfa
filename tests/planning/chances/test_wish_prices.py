"""What a wish does each way, and deciding it."""

import datetime as dt
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.build.builds import ALWAYS, EVENINGS, MONDAY, build_of, builds, task
from webapp.build.build_input import (
    BuildInput,
    ThreePoint,
    Wish,
    WishPart,
    WishWay,
)
from webapp.build.checks.input_checks import faults_of
from webapp.build.verbs.wish_tasks import with_wish
from webapp.planning.chances.wish_prices import PricedWish, price_wish
from webapp.planning.order.job_order import make_plan

TODAY = MONDAY.date()


def wish(hours: float = 4, **facts: object) -> Wish:
    said = {"hours": ThreePoint.certain(hours), "logged_on": TODAY, **facts}
    return Wish(key="w1", text="Second battery", **said)  # type: ignore[arg-type]


def chain(week: tuple = ALWAYS, **rest: object) -> BuildInput:  # type: ignore[type-arg]
    tasks = [task("a", (1, 2, 4)), task("b", (2, 3, 7)), task("z", 1)]
    return build_of(tasks, [("a", "b"), ("b", "z")], first_start="z", week=week, **rest)  # type: ignore[arg-type]


def priced(build: BuildInput, idea: Wish, *, draws: int) -> PricedWish:
    """Four ways, drawn from the three-point estimates alone."""
    return price_wish(build, idea, draws=draws, factors=None)


def test_fitting_a_certain_wish_now_moves_both_dates_by_its_hours() -> None:
    # One pair of hands, shop always open, nothing to hide behind: 6 h are a quarter of a day.
    found = priced(chain(), wish(6), draws=400)
    now = found.way("fit now")
    assert now.likely_days == pytest.approx(0.25)
    assert now.firm_days == pytest.approx(0.25)
    assert now.hours == 6


def test_fitting_later_and_letting_go_leave_first_start_where_it_is() -> None:
    build = chain()
    found = priced(build, wish(6), draws=200)
    for way in ("fit later", "let go"):
        assert (found.way(way).likely_days, found.way(way).firm_days) == (0, 0)
    fitted_later = with_wish(build, wish(6), "fit later")
    assert make_plan(fitted_later).first_start_at == make_plan(build).first_start_at


def test_letting_go_is_the_present_plan() -> None:
    build = chain()
    assert with_wish(build, wish(), "let go") == build
    found = priced(build, wish(), draws=200)
    assert found.way("let go").hours == found.way("let go").cost == 0


def test_roughing_in_costs_first_start_only_the_roughing_in() -> None:
    found = priced(chain(), wish(6, rough_in_hours=ThreePoint.certain(1.5)), draws=200)
    rough = found.way("rough in")
    assert rough.likely_days == pytest.approx(1.5 / 24)
    # 1.5 h now; 4.5 h and half of the 3 h that fitting later would take on top: 7.5 in all.
    assert rough.hours == 7.5


def test_a_wish_of_no_hours_moves_nothing_to_the_minute() -> None:
    found = priced(chain(EVENINGS), wish(0), draws=300)
    assert {way.likely_days for way in found.ways} == {0}
    assert {way.firm for way in found.ways} == {found.way("let go").firm}


def test_a_wish_that_fits_a_wait_moves_the_likely_date_by_nothing() -> None:
    tasks = [task("seal", (1, 2, 3)), task("z", 1)]
    build = build_of(tasks, [("seal", "z", 24)], first_start="z")
    found = priced(build, wish(4, after="seal", before="z"), draws=300)
    assert found.way("fit now").likely_days == 0


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
    assert price_wish(chain(), wish(), draws=50).way("fit now").headroom_hours is None


def test_a_build_without_first_start_prices_hours_and_money_alone() -> None:
    build = build_of([task("a", 1)], first_start=None)
    now = priced(build, wish(2, cost=30), draws=50).way("fit now")
    assert (now.likely, now.likely_days, now.hours, now.cost) == (None, None, 2, 30)


@settings(derandomize=True, max_examples=40, deadline=None)
@given(
    build=builds(),
    way=st.sampled_from(("fit now", "rough in", "fit later")),
    hours=st.sampled_from((0.0, 0.5, 3.0)),
)
def test_no_wish_ever_gains_time_and_every_build_with_one_is_faultless(
    build: BuildInput, way: WishWay, hours: float
) -> None:
    idea = wish(hours)
    build = replace(build, wishes=(idea,))
    changed = with_wish(build, idea, way)
    assert set(faults_of(changed)) <= set(faults_of(build))
    figures = priced(build, idea, draws=20).way(way)
    assert figures.likely_days is None or figures.likely_days >= 0
    if hours == 0:
        assert figures.likely_days in (None, 0)
