"""Tighten: the best order against every order there is, and what holds of any answer."""

import datetime as dt
import itertools
import threading
import time
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.benchmarks.workshop_builds import workshop_build
from tests.build.builds import EVENINGS, MONDAY, build_of, session, stretch, task
from tests.build.random_builds import builds
from tests.planning.order.test_kept_order import kept_build
from tests.planning.tighten.until_proved import tightened_until_proved
from webapp.build.build_input import BuildInput, Part, StationNeed
from webapp.build.shop import DayException, Setup, Station
from webapp.build.time.shop_calendar import NEVER
from webapp.planning.order.job_order import make_plan
from webapp.planning.order.kept_order import plan_in_sequence
from webapp.planning.order.run_orders import run_orders
from webapp.planning.proof.plan_checks import violations
from webapp.planning.simulator.work_arrays import WorkArrays, for_first_start_only, lay_out
from webapp.planning.tighten.bounds import EarliestDates
from webapp.planning.tighten.tighten import Progress, Tightened, tighten

TIG = Setup(key="tig", name="TIG welder out", hours=0.75)
ROLLER = Setup(key="roller", name="Tube roller on the bench", hours=0.5)
HOUR = 3600


def tightened(build: BuildInput) -> Tightened:
    """The answer where it can be proved: that ends the search, long before the limit."""
    return tightened_until_proved(build, seconds=20)


def best_of_all_orders(work: WorkArrays) -> int:
    """The wall second of first start in the best of all n! orders, run in sequence."""
    orders = np.array(list(itertools.permutations(range(len(work)))), np.int64)
    return int(run_orders(work, orders, in_sequence=True).end_wall(work.first_start).min())


# --- by hand --------------------------------------------------------------------------------


def test_the_best_order_waits_for_a_part_rather_than_change_setups_twice() -> None:
    # Rolling comes after the first weld. Weld, roll, weld: 0.75 + 1 + 0.5 + 1 + 0.75 + 1 = 5.
    # Weld both, the second at 2 h when its part is there, then roll: 2 + 1 + 0.5 + 1 = 4.5.
    tasks = [
        task("weld1", 1, setup="tig"),
        task("weld2", 1, setup="tig"),
        task("roll", 1, setup="roller"),
    ]
    part = Part(key="p", name="Tube", serves=("weld2",), arrives_on=MONDAY + dt.timedelta(hours=2))
    links = [("weld1", "roll"), *((t.key, "z") for t in tasks)]
    build = build_of(
        [*tasks, task("z", 0)], links, first_start="z", setups=(TIG, ROLLER), parts=(part,)
    )
    answer = tightened(build)
    assert make_plan(build).first_start_shop_hours == 5.0
    assert answer.plan.first_start_shop_hours == 4.5
    assert answer.proved_best
    assert answer.bound_shop_hours == 4.5
    assert violations(build, answer.plan) == ()


def test_a_long_cure_is_begun_first() -> None:
    # By space claim the rack goes first and the cure ends at 4 + 1 + 24; cure first: 1 + 24.
    tasks = [task("rack", 4, space_litres=50), task("seal", 1), task("z", 1)]
    build = build_of(tasks, [("seal", "z", 24), ("rack", "z")], first_start="z")
    answer = tightened(build)
    assert answer.house_rules.first_start_shop_hours == 30
    assert answer.plan.first_start_shop_hours == 26
    assert (answer.proved_best, answer.bound_at) == (True, MONDAY + dt.timedelta(hours=26))


def test_waits_run_over_closed_hours_exactly() -> None:
    # Evenings of 3 h. Seal first on Monday 18 to 19, cured 23 h later on Tuesday 18:00; fill takes
    # 1 h of it: Tuesday 19:00, with the rack (2 h) on Monday evening.
    tasks = [task("rack", 2, space_litres=9), task("seal", 1), task("fill", 1)]
    build = build_of(
        tasks, [("seal", "fill", 23), ("rack", "fill")], first_start="fill", week=EVENINGS
    )
    answer = tightened(build)
    assert answer.plan.first_start_at == dt.datetime(2026, 1, 6, 19)
    assert answer.proved_best


def test_first_start_that_is_outside_work_is_tightened_on_the_wall_clock() -> None:
    tasks = [task("a", 2, space_litres=9), task("b", 1), task("back", 0, outside_days=2)]
    build = build_of([*tasks, task("c", 1)], [("b", "back"), ("c", "a")], first_start="back")
    answer = tightened(build)
    assert answer.plan.first_start_at == MONDAY + dt.timedelta(hours=49)
    assert answer.proved_best


def test_two_people_share_the_work() -> None:
    # 3 + 3 on one side, 4 + 2 on the other: 6, where the two longest first give 7.
    tasks = [task("a", 3), task("b", 3), task("c", 4), task("d", 2), task("z", 0)]
    build = build_of(tasks, [(k, "z") for k in "abcd"], first_start="z", people=2)
    answer = tightened(build)
    assert answer.plan.first_start_shop_hours == 6
    assert answer.proved_best
    assert violations(build, answer.plan) == ()


# --- against every order --------------------------------------------------------------------


def check_against_all_orders(build: BuildInput) -> None:
    work = for_first_start_only(lay_out(build))
    assume(work.first_start >= 0 and len(work) <= 6)
    best = best_of_all_orders(work)
    assume(best < NEVER)
    answer = tightened(build)
    assert answer.plan.first_start_at == work.calendar.minute(best)
    assert answer.proved_best
    assert violations(build, answer.plan) == ()


@settings(derandomize=True, max_examples=12, deadline=None)
@given(builds(max_tasks=6))
def test_what_is_proved_best_is_the_best_of_all_orders(build: BuildInput) -> None:
    check_against_all_orders(build)


@pytest.mark.parametrize("seed", range(12))
def test_small_workshop_builds_reach_the_best_of_all_orders(seed: int) -> None:
    # Seven tasks with setups, evenings and Saturdays, waits and arrivals: 5,040 orders.
    build = workshop_build(7, seed)
    work = for_first_start_only(lay_out(build))
    best = best_of_all_orders(work)
    answer = tightened(build)
    assert answer.plan.first_start_at == work.calendar.minute(best)
    assert answer.proved_best


# --- an enumeration written apart from the simulator ----------------------------------------


def least_hours_apart(
    work_hours: dict[str, tuple[int, str | None]],
    links: list[tuple[str, str]],
    wait: dict[tuple[str, str], int],
    arrives: dict[str, int],
) -> float:
    """First start in quarter hours by trying every begin, shop always open, one pair of hands.

    Depth first over the next task and every quarter hour it may begin at up to the best so far.
    """
    cost = {"tig": 3, "roller": 2, None: 0}
    best = [10_000]

    def go(ended: dict[str, int], free: int, out: str | None) -> None:
        left = [k for k in work_hours if k not in ended]
        if not left:
            best[0] = min(best[0], ended["z"])
            return
        if free >= best[0]:
            return
        for key in left:
            before = [a for a, b in links if b == key]
            if any(a not in ended for a in before):
                continue
            hours, setup = work_hours[key]
            ready = max(
                [arrives.get(key, 0), free, *(ended[a] + wait.get((a, key), 0) for a in before)]
            )
            extra = 0 if setup in (None, out) else cost[setup]
            end = ready + extra + hours
            go({**ended, key: end}, end, setup or out)

    go({}, 0, None)
    return best[0] / 4


@pytest.mark.parametrize("seed", range(10))
def test_an_enumeration_apart_from_the_simulator_finds_nothing_earlier(seed: int) -> None:
    chance = np.random.default_rng(seed)
    keys = ["a", "b", "c", "d", "e", "f"]
    hours: dict[str, tuple[int, str | None]] = {
        k: (int(chance.integers(1, 12)), (None, "tig", "roller")[chance.integers(3)]) for k in keys
    }
    hours["z"] = 1, None
    links = [(a, b) for a, b in itertools.combinations(keys, 2) if chance.random() < 0.25]
    links += [(k, "z") for k in keys]
    wait = {link: int(chance.integers(1, 30)) for link in links if chance.random() < 0.2}
    arrives = {k: int(chance.integers(1, 40)) for k in keys if chance.random() < 0.25}
    expected = least_hours_apart(hours, links, wait, arrives)
    build = build_of(
        [task(k, quarters / 4, setup=setup) for k, (quarters, setup) in hours.items()],
        [(a, b, wait.get((a, b), 0) / 4) for a, b in links],
        first_start="z",
        setups=(TIG, ROLLER),
        parts=tuple(
            Part(
                key=f"p{k}", name="Part", serves=(k,), arrives_on=MONDAY + dt.timedelta(hours=q / 4)
            )
            for k, q in arrives.items()
        ),
    )
    answer = tightened(build)
    assert answer.plan.first_start_shop_hours == expected
    assert answer.proved_best


# --- what holds of any answer ---------------------------------------------------------------


@settings(derandomize=True, max_examples=12, deadline=None)
@given(builds(max_tasks=14))
def test_bound_tightened_and_house_rules_stand_in_that_order(build: BuildInput) -> None:
    answer = tighten(build, seconds=1)
    assert violations(build, answer.plan) == ()
    house = make_plan(build)
    assert answer.house_rules == house
    if answer.bound_at is None or answer.plan.first_start_at is None:
        return
    assert answer.bound_at <= answer.plan.first_start_at
    assert answer.bound_shop_hours is not None
    assert answer.plan.first_start_shop_hours is not None
    assert answer.bound_shop_hours <= answer.plan.first_start_shop_hours
    if house.first_start_at is not None:
        assert answer.plan.first_start_at <= house.first_start_at
    assert plan_in_sequence(build, answer.order) == answer.plan


@settings(derandomize=True, max_examples=12, deadline=None)
@given(builds(max_tasks=10))
def test_tightening_a_tightened_plan_changes_nothing(build: BuildInput) -> None:
    once = tightened_until_proved(build, seconds=4)
    again = tightened_until_proved(build, seconds=4, kept_order=once.order, seed=7)
    assert again.plan.first_start_at == once.plan.first_start_at
    assert again.proved_best == once.proved_best


@settings(derandomize=True, max_examples=8, deadline=None)
@given(builds(max_tasks=9), st.data())
def test_removing_a_dependency_never_makes_the_proved_best_later(
    build: BuildInput, data: st.DataObject
) -> None:
    assume(build.dependencies)
    gone = data.draw(st.integers(0, len(build.dependencies) - 1))
    left = build.dependencies[:gone] + build.dependencies[gone + 1 :]
    less = replace(build, dependencies=left)
    before, after = (tightened_until_proved(one, seconds=4) for one in (build, less))
    if not (before.proved_best and after.proved_best):
        return
    assert before.plan.first_start_at is not None
    assert after.plan.first_start_at is not None
    assert after.plan.first_start_at <= before.plan.first_start_at


@settings(derandomize=True, max_examples=12, deadline=None)
@given(builds(max_tasks=10))
def test_no_order_beats_the_bound(build: BuildInput) -> None:
    work = for_first_start_only(lay_out(build))
    assume(work.first_start >= 0)
    heads = EarliestDates(work).tightened(seconds=5)
    orders = np.array([np.random.default_rng(k).permutation(len(work)) for k in range(100)])
    schedule = run_orders(work, orders, in_sequence=True)
    assert (schedule.begin >= heads.begin_shop[:, np.newaxis]).all()
    assert (schedule.end >= heads.end_shop[:, np.newaxis]).all()


# --- a kept order ---------------------------------------------------------------------------


def test_the_answer_is_never_worse_than_the_kept_order() -> None:
    """Called off before it has looked for anything: all it has are the rules and what is kept."""
    over = threading.Event()
    over.set()
    later = 0
    for seed in range(4):
        build = workshop_build(7, seed)
        good = tightened(build)
        again = tighten(build, seconds=20, kept_order=good.order, stop=over)
        assert again.plan.first_start_at == good.plan.first_start_at
        without = tighten(build, seconds=20, stop=over).plan.first_start_at
        assert without is not None
        assert good.plan.first_start_at is not None
        later += without > good.plan.first_start_at
    assert later >= 2  # what is kept was worth keeping


# --- limits, progress, stopping -------------------------------------------------------------


def test_the_time_limit_is_kept_and_progress_only_gets_better() -> None:
    told: list[Progress] = []
    began = time.monotonic()
    tighten(workshop_build(120, 2), seconds=3, progress=told.append)
    assert time.monotonic() - began < 4.5
    hours = [p.first_start_shop_hours for p in told if p.first_start_shop_hours is not None]
    bounds = [p.bound_shop_hours for p in told if p.bound_shop_hours is not None]
    assert len(hours) > 1
    assert hours == sorted(hours, reverse=True)
    assert bounds == sorted(bounds)
    assert bounds[-1] <= hours[-1]


def test_it_stops_when_told_and_still_answers() -> None:
    stop = threading.Event()
    threading.Timer(0.5, stop.set).start()
    began = time.monotonic()
    answer = tighten(workshop_build(120, 2), seconds=60, stop=stop)
    assert time.monotonic() - began < 10
    assert answer.plan.first_start_at is not None


def test_a_limit_of_no_time_is_a_programmers_mistake() -> None:
    with pytest.raises(ValueError, match="time limit"):
        tighten(kept_build(), seconds=0)


def test_a_build_that_cannot_reach_first_start_says_what_makes_it_so() -> None:
    aside = task("a", 1, set_aside_on=MONDAY.date())
    answer = tighten(build_of([aside, task("z", 1)], [("a", "z")], first_start="z"), seconds=1)
    assert answer.plan.first_start_at is None
    assert answer.bound_at is None
    assert not answer.proved_best
    (block,) = answer.blocked
    assert block.key == "z"
    assert block.standing is not None


def test_work_that_fits_alone_but_not_together_is_named() -> None:
    # One Saturday with the helper, 4 h long, and no other ever: 3 h and 2 h do not both fit.
    week = tuple(session(day, 18, 21) for day in (1, 3))
    saturday = DayException(date=dt.date(2026, 1, 10), sessions=(stretch(9, 13, helper=True),))
    tasks = [task("x", 3, helper=True), task("y", 2, helper=True), task("w", 2, in_one_go=True)]
    build = build_of(
        [*tasks, task("z", 0)],
        [(t.key, "z") for t in tasks],
        first_start="z",
        week=week,
        days=(saturday,),
    )
    answer = tightened(build)
    assert answer.plan.first_start_at is None
    assert [(b.key, b.hours, b.helper, b.together) for b in answer.blocked] == [
        ("x", 3, True, True),
        ("y", 2, True, True),
    ]


def test_work_that_finds_no_session_at_all_is_named_alone() -> None:
    tasks = [task("lift", 1, helper=True), task("z", 1)]
    answer = tightened(build_of(tasks, [("lift", "z")], first_start="z", week=EVENINGS))
    assert [(b.key, b.hours, b.together) for b in answer.blocked] == [("lift", 1, False)]


def test_a_build_without_first_start_is_left_as_it_is() -> None:
    build = build_of([task("a", 1), task("b", 1)], first_start=None)
    answer = tighten(build, seconds=1)
    assert answer.plan == make_plan(build)
    assert (answer.proved_best, answer.blocked) == (False, ())


def test_a_helper_comes_on_saturdays_only() -> None:
    # Two tasks of 3 h with the helper (Saturday 9 to 13) do not fit one Saturday; of 2 h they do.
    week = (session(5, 9, 13, helper=True), session(1, 18, 21))
    lift = (StationNeed(station="lift"),)
    for hours, ends in ((2, dt.datetime(2026, 1, 10, 13)), (3, dt.datetime(2026, 1, 17, 12))):
        tasks = [task("x", hours, helper=True), task("y", hours, helper=True, stations=lift)]
        build = build_of(
            [*tasks, task("z", 0)],
            [("x", "z"), ("y", "z")],
            first_start="z",
            week=week,
            stations=(Station(key="lift", name="Lift"),),
        )
        answer = tightened(build)
        assert (answer.plan.first_start_at, answer.proved_best) == (ends, True)
