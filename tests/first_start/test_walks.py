"""Each list walked by its verbs alone, from the first check to the papers, over two days."""

import datetime as dt
from dataclasses import replace

from tests.first_start.lists import BOAT, DAY, ELECTRIC, ENGINE, start_build
from tests.first_start.walker import Walker, still, to_it_ran, to_the_hot_stop, type_all
from webapp.build.first_start import RunKind
from webapp.first_start.check_list import CheckList


def stages(checks: CheckList) -> tuple[str, ...]:
    return tuple(stage.key for stage in checks.stages)


def unmet(one: Walker) -> set[str]:
    return {each.check.key for each in one.standing.all if not each.is_met}


def watched(one: Walker, key: str) -> None:
    """Both looks after the last stop."""
    one.wait(minutes=30)
    assert one.sign(key), one.last
    one.wait(minutes=31)
    assert one.figures(key), one.last


def test_a_diesel_runs_on_its_day_and_is_looked_at_cold_on_the_next() -> None:
    one = Walker(start_build(ENGINE), ENGINE)
    to_it_ran(one)
    assert one.at < DAY + dt.timedelta(hours=1)
    to_the_hot_stop(one)
    one.sign_all("heat", only=lambda check: still(check) and check.key != "fire_watch")
    watched(one, "fire_watch")
    assert not one.sign("cold_now")  # eight hours first
    one.wait(days=1)
    done = one.sign_all("after", only=still)
    assert {"cold_now", "levels_again", "torque_again", "brakes_manual"} <= set(done)
    # What is left of the stage is driven: with the whole place signed anew (rule 4).
    assert one.standing.of("walking_pace").blocked_by  # type: ignore[union-attr]


def test_a_later_day_asks_the_place_the_helper_and_what_is_of_every_run_and_no_more() -> None:
    one = Walker(start_build(ENGINE), ENGINE)
    to_it_ran(one)
    one.wait(days=1)
    assert not one.begin("start")
    place = one.sign_all("place", only=still)
    assert {"gas_out", "extinguisher_out", "nobody_near", "opened_since"} <= set(place)
    assert not one.begin("start")
    one.sign_all("prime", "start", only=lambda check: check.key in ("helper_here", "posts_taken"))
    assert one.begin("start"), one.last


def test_a_boat_runs_afloat() -> None:
    one = Walker(start_build(BOAT), BOAT)
    to_it_ran(one)
    to_the_hot_stop(one)
    one.sign_all("heat", only=lambda check: still(check) and check.key != "fire_watch")
    assert not one.sign("no_siphon")  # an hour after the stop
    watched(one, "fire_watch")
    assert one.sign_all("heat", only=still) == ["no_siphon"]
    assert not [
        each.check.key
        for each in one.standing.all
        if each.check.stage in ("dry", "fluids") and not each.is_met
    ]
    assert one.standing.stage_of("gear").is_open


def test_an_electric_conversion_is_powered_up_turned_and_driven() -> None:
    one = Walker(start_build(ELECTRIC), ELECTRIC)
    one.sign_all(*stages(ELECTRIC), only=still)
    kinds: tuple[RunKind, ...] = ("power", "spin", "drive")
    for kind in kinds:
        one.wait(seconds=9)
        assert one.begin(kind), (kind, one.last)
        one.sign_all(*stages(ELECTRIC))
        one.wait(seconds=60)
        assert one.end()
        type_all(one)
        one.sign_all(
            *stages(ELECTRIC), only=lambda check: still(check) and check.key != "watch_pack"
        )
        if kind == "power":
            assert not one.sign("watched_after_charge")
            one.wait(minutes=60)
            assert one.sign("watched_after_charge"), one.last
    assert one.it_ran(), one.last
    watched(one, "watch_pack")
    one.wait(days=1)
    done = tuple(replace(task, finished_on=one.at) for task in one.build.tasks)
    assert {task.key for task in done} == {"cold_look", "firm_second_look"}
    one.build = replace(one.build, tasks=done)
    one.sign_all("after", only=still)
    assert not {"cold_look", "firm_second_look", "papers"} & unmet(one)
