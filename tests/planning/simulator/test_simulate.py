"""The simulator: what holds a task, who goes first, and variants side by side."""

import datetime as dt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.build.builds import ALWAYS, ALWAYS_WITH_HELPER, EVENINGS, MONDAY, build_of, session, task
from tests.build.random_builds import builds
from webapp.build.build_input import BuildInput, Part, StationNeed
from webapp.build.shop import Setup, Station
from webapp.build.time.shop_calendar import NEVER
from webapp.planning.simulator.house_rules import HouseRules, rank_tasks
from webapp.planning.simulator.simulate import BLOCK_VARIANTS, simulate
from webapp.planning.simulator.variants import Variants, as_it_is
from webapp.planning.simulator.work_arrays import for_first_start_only, lay_out

HOUR = 3600
TIG = Setup(key="tig", name="TIG welder out", hours=0.75)
ROLLER = Setup(key="roller", name="Tube roller on the bench", hours=0.5)


def run(build: BuildInput, rules: HouseRules | None = None) -> dict[str, tuple[float, float]]:
    """Begin and end of each task in shop hours."""
    work = lay_out(build)
    schedule = simulate(work, as_it_is(work, rules or HouseRules()))
    return {
        key: (schedule.begin[i, 0] / HOUR, schedule.end[i, 0] / HOUR)
        for i, key in enumerate(work.keys)
    }


def test_one_pair_of_hands_does_one_task_at_a_time() -> None:
    times = run(build_of([task("a", 2), task("b", 3)], first_start="b"))
    assert times == {"b": (0, 3), "a": (3, 5)}


def test_two_people_work_side_by_side() -> None:
    times = run(build_of([task("a", 2), task("b", 3)], [("a", "c")], people=2))
    assert times["a"] == (0, 2)
    assert times["b"] == (0, 3)


def test_a_task_for_two_waits_until_both_pairs_of_hands_are_free() -> None:
    tasks = [task("a", 2), task("b", 3), task("c", 1, people=2), task("z", 0)]
    links = [("a", "c"), ("c", "z"), ("b", "z")]
    times = run(build_of(tasks, links, people=2, first_start="z"))
    assert times["c"] == (3, 4)


def test_the_setup_that_is_out_is_used_before_another_is_got_out() -> None:
    tasks = [task("a", 1, setup="tig"), task("b", 1, setup="roller"), task("c", 1, setup="tig")]
    # a: 0.75 h to get the welder out and 1 h; c needs none; b: 0.5 h for the roller and 1 h.
    links = [(t.key, "z") for t in tasks]
    times = run(build_of([*tasks, task("z", 0)], links, setups=(TIG, ROLLER)))
    assert times["a"] == (0, 1.75)
    assert times["c"] == (1.75, 2.75)
    assert times["b"] == (2.75, 4.25)


def test_without_that_rule_the_order_of_entry_changes_setups_to_and_fro() -> None:
    tasks = [task("a", 1, setup="tig"), task("b", 1, setup="roller"), task("c", 1, setup="tig")]
    rules = HouseRules().without("setup_out").without("longest_way")
    times = run(build_of(tasks, setups=(TIG, ROLLER)), rules)
    assert times["b"] == (1.75, 3.25)
    assert times["c"] == (3.25, 5.0)


def test_the_biggest_space_claim_goes_first() -> None:
    tasks = [task("small", 1, space_litres=2), task("big", 1, space_litres=40)]
    links = [("small", "z"), ("big", "z")]
    times = run(build_of([*tasks, task("z", 0)], links, first_start="z"))
    assert times["big"] == (0, 1)


def test_what_is_begun_is_finished_before_the_rest_of_its_rank() -> None:
    begun = task("b", 3, begun_on=dt.date(2026, 1, 4), hours_left=1.5)
    tasks = [task("a", 2, space_litres=99), begun, task("z", 0)]
    times = run(build_of(tasks, [("a", "z"), ("b", "z")], first_start="z"))
    assert times["b"] == (0, 1.5)


def test_work_in_one_go_waits_for_a_session_with_room_and_leaves_the_gap_to_others() -> None:
    # Evenings of 3 h: a 2 h first, then 1 h is left; the weld of 2 h takes the next evening.
    tasks = [task("a", 2, space_litres=9), task("weld", 2, in_one_go=True), task("c", 1)]
    links = [("a", "weld"), ("weld", "z"), ("c", "z")]
    times = run(build_of([*tasks, task("z", 0)], links, first_start="z", week=EVENINGS))
    assert times["a"] == (0, 2)
    assert times["c"] == (2, 3)
    assert times["weld"] == (3, 5)


def test_in_one_go_binds_the_work_but_not_the_getting_out() -> None:
    # 0.75 h of getting out and 2.5 h of weld do not fit one evening of 3 h: the welder is got
    # out at the end of the first evening, 20:15 to 21:00, the weld begins the next one.
    weld = task("weld", 2.5, in_one_go=True, setup="tig")
    times = run(build_of([weld], week=EVENINGS, setups=(TIG,)))
    assert times["weld"] == (2.25, 5.5)


def test_the_helper_is_waited_for_and_getting_out_needs_none() -> None:
    week = (*EVENINGS, session(5, 9, 13), session(5, 13, 17, helper=True))
    lift = task("lift", 2, helper=True, setup="tig")
    # Monday to Friday 15 h, Saturday 9 to 13 4 h: the helper comes at shop hour 19.
    times = run(build_of([lift], week=week, setups=(TIG,)))
    assert times["lift"] == (18.25, 21)


def test_the_helper_helps_with_one_task_at_a_time() -> None:
    tasks = [task("a", 2, helper=True), task("b", 2, helper=True)]
    times = run(build_of(tasks, people=2, week=ALWAYS_WITH_HELPER))
    assert sorted(times.values()) == [(0, 2), (2, 4)]


def test_outside_work_takes_days_on_the_wall_clock_and_no_hands() -> None:
    # Out on Monday 18:00 for two days: back on Wednesday 18:00, 6 shop hours later.
    tasks = [task("out", 0, outside_days=2), task("a", 2), task("z", 1)]
    now = MONDAY + dt.timedelta(hours=18)
    build = build_of(tasks, [("out", "z"), ("a", "z")], week=EVENINGS, first_start="z", now=now)
    assert run(build)["a"] == (0, 2)
    assert run(build)["z"] == (6, 7)


def test_a_wait_runs_over_closed_hours() -> None:
    # Sealed on Friday 18 to 20, cured 24 h later on Saturday 20:00; the shop opens on Monday.
    now = dt.datetime(2026, 1, 9, 18)
    tasks = [task("seal", 2), task("fill", 1), task("tidy", 1)]
    build = build_of(tasks, [("seal", "fill", 24)], week=EVENINGS, first_start="fill", now=now)
    assert run(build) == {"seal": (0, 2), "tidy": (2, 3), "fill": (3, 4)}


def test_a_task_of_no_hands_takes_its_station_and_leaves_the_hands_free() -> None:
    oven = Station(key="oven", name="Oven", count=1)
    needs = (StationNeed(station="oven"),)
    tasks = [
        task("bake", 2, people=0, stations=needs),
        task("bake2", 2, people=0, stations=needs),
        task("a", 3),
    ]
    times = run(build_of(tasks, stations=(oven,)))
    assert (times["bake"], times["bake2"], times["a"]) == ((0, 2), (2, 4), (0, 3))


def test_a_part_holds_its_tasks_until_it_is_there() -> None:
    part = Part(key="p", name="Hose", serves=("a", "b"), arrives_on=MONDAY.date().replace(day=6))
    times = run(build_of([task("a", 1), task("b", 1), task("c", 2)], parts=(part,)))
    assert times == {"c": (0, 2), "a": (24, 25), "b": (25, 26)}


def test_later_work_fills_only_gaps_that_it_fits_in() -> None:
    # First start waits 5 h for a cure: a later task of 4 h fits, one of 6 h would delay it.
    tasks = [task("seal", 1), task("z", 1), task("long", 6), task("short", 4)]
    times = run(build_of(tasks, [("seal", "z", 5)], first_start="z"))
    assert times == {"seal": (0, 1), "short": (1, 5), "z": (6, 7), "long": (7, 13)}


def test_later_work_does_not_wait_for_first_starts_work_that_takes_no_hands() -> None:
    tasks = [task("mark", 0), task("bake", 4, people=0), task("z", 1), task("later", 3)]
    links = [("mark", "bake", 2.0), ("bake", "z", 0.0)]
    times = run(build_of(tasks, links, first_start="z"))
    assert times == {"mark": (0, 0), "bake": (2, 6), "z": (6, 7), "later": (0, 3)}


def test_later_work_does_not_put_away_a_setup_that_first_start_still_needs() -> None:
    tasks = [
        task("weld", 1, setup="tig"),
        task("z", 1, setup="tig"),
        task("roll", 1, setup="roller"),
    ]
    times = run(build_of(tasks, [("weld", "z", 9)], first_start="z", setups=(TIG, ROLLER)))
    assert times["z"] == (10.75, 11.75)
    assert times["roll"] == (11.75, 13.25)


def test_work_without_a_session_that_is_long_enough_never_begins() -> None:
    build = build_of([task("lift", 1, helper=True), task("a", 1)], [("lift", "a")], week=EVENINGS)
    assert run(build)["lift"] == (NEVER / HOUR, NEVER / HOUR)
    assert run(build)["a"] == (NEVER / HOUR, NEVER / HOUR)


def test_a_task_that_is_not_there_lets_order_through_and_takes_its_wait_away() -> None:
    tasks = [task("a", 1), task("paint", 2), task("z", 1)]
    build = build_of(tasks, [("a", "paint", 3), ("paint", "z", 48)], first_start="z")
    work = lay_out(build)
    absent = np.array([[False, False], [False, True], [False, False]])
    variants = Variants(count=2, rankings=(rank_tasks(work, HouseRules()),), absent=absent)
    schedule = simulate(work, variants)
    # With it: 1 + 3 wait + 2 + 48 wait + 1 = 55. Without: 1 + 3 wait + 1 = 5.
    assert (schedule.end[2] / HOUR).tolist() == [55, 5]


@settings(derandomize=True, max_examples=60, deadline=None)
@given(build=builds(), data=st.data())
def test_a_variant_run_alone_equals_the_same_variant_run_among_many(
    build: BuildInput, data: st.DataObject
) -> None:
    work = lay_out(build)
    if not len(work):
        return
    count = 5
    random = np.random.default_rng(data.draw(st.integers(0, 999)))
    factors = random.choice([0.5, 1.0, 1.7], (len(work), count))
    later = random.choice([0, 0, 90_000], (len(work), count))
    rules = HouseRules(), HouseRules().without("setup_out")
    variants = Variants(
        count=count,
        rankings=tuple(rank_tasks(work, each) for each in rules),
        ranking_of=random.integers(0, 2, count),
        work_seconds=(work.work_seconds[:, None] * factors).astype(np.int64),
        arrival=work.arrival[:, None] + later,
        absent=random.random((len(work), count)) < 0.1,
    )
    together = simulate(work, variants)
    for v in range(count):
        alone = simulate(work, variants.columns(slice(v, v + 1)))
        assert (alone.begin[:, 0] == together.begin[:, v]).all()
        assert (alone.end[:, 0] == together.end[:, v]).all()


@settings(derandomize=True, max_examples=60, deadline=None)
@given(build=builds())
def test_work_after_first_start_never_delays_it(build: BuildInput) -> None:
    work = lay_out(build)
    if work.first_start < 0:
        return
    whole = simulate(work, as_it_is(work, HouseRules())).end[work.first_start, 0]
    alone = for_first_start_only(work)
    assert simulate(alone, as_it_is(alone, HouseRules())).end[alone.first_start, 0] == whole


def test_more_variants_than_a_block_holds_come_back_in_their_order() -> None:
    work = lay_out(build_of([task("a", 1)], week=ALWAYS))
    count = BLOCK_VARIANTS + 3
    seconds = np.arange(1, count + 1, dtype=np.int64)[np.newaxis, :]
    ranking = rank_tasks(work, HouseRules())
    schedule = simulate(work, Variants(count=count, rankings=(ranking,), work_seconds=seconds))
    assert (schedule.end[0] == seconds[0]).all()


def test_an_unknown_house_rule_is_a_programmers_mistake() -> None:
    with pytest.raises(ValueError, match="no house rule"):
        HouseRules().without("lunch_first")
