"""The bridge between two builds: what must hold for any pair, and small ones worked by hand."""

import datetime as dt
import itertools
from dataclasses import replace
from random import Random
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.build.builds import EVENINGS, MONDAY, build_of, task
from tests.build.random_builds import SEEDS, builds
from tests.planning.bridge.small_bridges import changed, minutes_by_cause
from webapp.build.build_input import BuildInput, Dependency, LogEntry, Part, Task
from webapp.build.checks.input_checks import faults_of
from webapp.build.shop import DayException, Setup
from webapp.build.three_point import ThreePoint
from webapp.build.wish import Wish
from webapp.planning.bridge.bridge import (
    CAUSES,
    Bridge,
    bridge,
    turned_round,
)
from webapp.planning.bridge.items import OrderOfWork
from webapp.planning.order.first_start import first_start_at
from webapp.planning.order.job_order import make_plan

DAY = dt.timedelta(days=1)
HOURS = (0.0, 0.5, 1.0, 2.25, 3.0, 4.5)


# --- random pairs ---------------------------------------------------------------------------


def edited(chance: Random, build: BuildInput) -> BuildInput:
    """A build some time later: work done, estimates changed, work and links added and dropped,
    parts moved, shop days closed."""
    gone_by = chance.choice((0, 0, 90, 600, 1440, 3 * 1440, 12 * 1440))
    now = build.now + dt.timedelta(minutes=gone_by)
    tasks, log = [], [*build.log]
    for old in build.tasks:
        new, entries = edited_task(chance, old, build.now, now)
        tasks += new
        log += entries
    for i in range(chance.randint(0, 2)):
        tasks.append(task(f"new{i}", chance.choice(HOURS), subsystem="air"))
    tasks = tasks or [task("only", 1.0)]
    keys = [t.key for t in tasks]
    links = [d for d in build.dependencies if {d.before, d.after} <= set(keys)]
    first = build.first_start if build.first_start in keys else keys[-1]
    pairs = {(d.before, d.after) for d in links}
    for _ in range(chance.randint(0, 2)):
        before, after = chance.choice(keys), chance.choice([*keys, first])
        if before != after and (before, after) not in pairs:
            pairs.add((before, after))
            wait = chance.choice((0.0, 12.0))
            links.append(Dependency(before=before, after=after, wait_hours=wait))
    closed = set(chance.sample(range(15), chance.randint(0, 2)))
    dates = {build.now.date() + DAY * number for number in closed}
    days = [day for day in build.shop.days if day.date not in dates]
    return replace(
        build,
        now=now,
        first_start=first,
        tasks=tuple(tasks),
        log=tuple(log),
        dependencies=tuple(links),
        parts=tuple(edited_part(chance, p, build.now, set(keys)) for p in build.parts),
        shop=replace(
            build.shop,
            setups_out=chance.choice(((), build.shop.setups_out)),
            days=(*days, *(DayException(date=date) for date in sorted(dates))),
        ),
    )


def edited_task(
    chance: Random, old: Task, since: dt.datetime, now: dt.datetime
) -> tuple[list[Task], list[LogEntry]]:
    what = chance.choice(("same",) * 4 + ("hours", "worked", "done", "drop", "aside"))
    if what == "drop" or not old.is_open:
        return ([] if what == "drop" else [old]), []
    if what == "hours":
        hours = min(chance.choice(HOURS), 2 * old.hours.expected)
        return [replace(old, hours=ThreePoint.certain(hours))], []
    if what == "aside":
        return [replace(old, set_aside_on=now.date(), begun_on=None, hours_left=None)], []
    if what == "same":
        return [old], []
    day = since + (now - since) * chance.choice((0.0, 0.5, 1.0))
    entries = [LogEntry(task=old.key, on=day.date(), hours=chance.choice(HOURS))]
    begun = old.begun_on or day
    if what == "worked":
        left = None if old.outside_days is not None else min(1.0, old.hours.expected)
        return [replace(old, begun_on=begun, hours_left=left)], entries
    unlogged = chance.random() < 0.5
    done = replace(old, begun_on=begun, finished_on=day, hours_left=None)
    return [done], [] if unlogged else entries


def edited_part(chance: Random, old: Part, since: dt.datetime, keys: set[str]) -> Part:
    serves = tuple(key for key in old.serves if key in keys)
    moved = since + DAY * chance.randint(-1, 15)
    arrives = chance.choice((old.arrives_on, old.arrives_on, moved))
    arrived = chance.choice((old.arrived, True, False))
    return replace(old, serves=serves, arrives_on=arrives, arrived=arrived)


def pairs() -> st.SearchStrategy[tuple[BuildInput, BuildInput]]:
    """A faultless build and itself some time later, each of a seed of its own."""

    def pair(earlier: BuildInput, seed: int) -> tuple[BuildInput, BuildInput]:
        return earlier, edited(Random(seed), earlier)

    def are_faultless(both: tuple[BuildInput, BuildInput]) -> bool:
        return not any(faults_of(one) for one in both)

    return st.builds(pair, builds(max_tasks=7), SEEDS).filter(are_faultless)


@settings(max_examples=50, deadline=None)
@given(pairs())
def test_the_shares_sum_to_the_move_and_turning_the_pair_round_changes_every_sign(
    pair: tuple[BuildInput, BuildInput],
) -> None:
    earlier, later = pair
    way, back = bridge(earlier, later), bridge(later, earlier)
    assert back == turned_round(way)
    for share, turned in zip(way.shares, back.shares, strict=True):
        assert (share.cause, share.minutes) == (turned.cause, -turned.minutes)
    sums_to_its_move(way)


def sums_to_its_move(way: Bridge) -> None:
    """To the minute, and each share is the sum of its items."""
    if way.no_answer:
        assert way.shares == ()
        assert way.move_minutes is None
        return
    assert way.from_at is not None
    assert way.to_at is not None
    assert way.from_at + dt.timedelta(minutes=way.move_minutes or 0) == way.to_at
    assert tuple(share.cause for share in way.shares) == CAUSES
    assert sum(share.minutes for share in way.shares) == way.move_minutes
    for share in way.shares:
        if share.items:
            assert sum(item.minutes for item in share.items) == share.minutes
        assert share.cause == "order" or bool(share.items) >= bool(share.minutes)


@settings(max_examples=40, deadline=None)
@given(builds())
def test_a_bridge_of_a_build_with_itself_is_empty(build: BuildInput) -> None:
    way = bridge(build, build)
    assert all(share.minutes == 0 and share.items == () for share in way.shares)
    assert way.no_answer or way.move_minutes == 0


@settings(max_examples=50, deadline=None)
@given(builds())
def test_the_date_is_that_of_the_plan(build: BuildInput) -> None:
    done = any(t.key == build.first_start and t.finished_on for t in build.tasks)
    if not done:
        assert first_start_at(build) == make_plan(build).first_start_at


@settings(max_examples=40, deadline=None)
@given(pairs())
def test_a_cause_that_did_not_change_gets_nothing(pair: tuple[BuildInput, BuildInput]) -> None:
    earlier, later = pair
    if earlier.now == later.now:
        # Outside work counts with late parts: where it came or was sent off, there is a change.
        if _outside_work(earlier) == _outside_work(later):
            same_parts = bridge(earlier, replace(later, parts=_parts_of(earlier, later)))
            assert same_parts.minutes_of("parts") == 0
        same_shop = bridge(earlier, replace(later, shop=earlier.shop))
        assert same_shop.minutes_of("shop_time") == 0
    same_work = replace(
        later, tasks=earlier.tasks, log=earlier.log, dependencies=earlier.dependencies
    )
    same_work = replace(same_work, first_start=earlier.first_start, parts=earlier.parts)
    way = bridge(earlier, same_work)
    assert way.minutes_of("scope") == 0
    # Outside work that is out already takes longer by the days it is not back.
    if not any(t.outside_days is not None and t.begun_on for t in earlier.tasks):
        assert way.minutes_of("estimates") == 0


def _outside_work(build: BuildInput) -> list[Task]:
    return [task for task in build.tasks if task.outside_days is not None]


def _parts_of(earlier: BuildInput, later: BuildInput) -> tuple[Part, ...]:
    keys = {t.key for t in later.tasks}
    return tuple(
        replace(part, serves=tuple(key for key in part.serves if key in keys))
        for part in earlier.parts
    )


# --- worked by hand -------------------------------------------------------------------------
# Evenings of 3 h from Monday to Friday. `a`, then `b`, then first start, 6 + 6 + 3 = 15 h: five
# evenings, first start on Friday 9 January at 21:00.

FRIDAY_9TH = dt.datetime(2026, 1, 9, 21)


def evenings(*more: Task, **facts: Any) -> BuildInput:
    tasks = [task("a", 6), task("b", 6), *more, task("start", 3)]
    chain = [t.key for t in tasks]
    links = [*itertools.pairwise(chain)]
    return build_of(tasks, links, first_start="start", week=EVENINGS, **facts)


def items_in(way: Bridge, cause: str) -> dict[str, int]:
    (share,) = (share for share in way.shares if share.cause == cause)
    return {item.key: item.minutes for item in share.items}


def worked(build: BuildInput, number: int, key: str, hours: float) -> BuildInput:
    """Hours logged `number` days after Monday 5 January."""
    entry = LogEntry(task=key, on=MONDAY.date() + number * DAY, hours=hours)
    begun = changed(build, key, begun_on=entry.on)
    return replace(begun, log=(*build.log, entry))


def test_work_as_planned_moves_nothing() -> None:
    build = evenings()
    later = worked(worked(build, 0, "a", 3), 1, "a", 3)
    later = changed(later, "a", finished_on=MONDAY.date() + DAY)
    way = bridge(build, replace(later, now=MONDAY + 2 * DAY))
    assert way.from_at == way.to_at == FRIDAY_9TH
    assert minutes_by_cause(way) == {}


def test_a_lost_evening_moves_first_start_by_the_time_to_the_next() -> None:
    # Tuesday is lost: first start on Monday 12th at 21:00, three days of wall time later.
    build = evenings()
    later = replace(worked(build, 0, "a", 3), now=MONDAY + 2 * DAY)
    way = bridge(build, later)
    assert minutes_by_cause(way) == {"shop_time": 3 * 1440}
    assert items_in(way, "shop_time") == {"2026-01-06": 3 * 1440}


def test_an_estimate_that_did_not_hold() -> None:
    # `a` took 6 h and has 3 to go: an evening more.
    build = evenings()
    later = worked(worked(build, 0, "a", 3), 1, "a", 3)
    later = replace(changed(later, "a", hours_left=3.0), now=MONDAY + 2 * DAY)
    way = bridge(build, later)
    assert minutes_by_cause(way) == {"estimates": 3 * 1440}
    assert items_in(way, "estimates") == {"a": 3 * 1440}


def test_a_task_finished_early_wins_time() -> None:
    build = evenings()
    later = worked(build, 0, "a", 3)
    later = changed(later, "a", finished_on=MONDAY.date(), begun_on=MONDAY.date())
    way = bridge(build, replace(later, now=MONDAY + DAY))
    assert minutes_by_cause(way) == {"estimates": -1440}


def test_a_task_finished_with_no_hours_logged_took_what_was_to_go() -> None:
    build = evenings()
    later = changed(build, "a", begun_on=MONDAY.date(), finished_on=MONDAY.date() + DAY)
    assert minutes_by_cause(bridge(build, replace(later, now=MONDAY + 2 * DAY))) == {}


def test_a_wish_is_one_item_with_all_its_tasks() -> None:
    # Two tasks of 1.5 h from one wish: 3 h, an evening.
    later = evenings(task("lamp", 1.5, wish="w1"), task("switch", 1.5, wish="w1"))
    wish = Wish(key="w1", text="A lamp over the bench", logged_on=MONDAY.date())
    later = replace(later, wishes=(wish,))
    way = bridge(evenings(), later)
    assert minutes_by_cause(way) == {"scope": 3 * 1440}
    scope = way.shares[0].items
    assert [(item.kind, item.name, item.minutes) for item in scope if item.minutes] == [
        ("wish", "A lamp over the bench", 3 * 1440)
    ]


def test_tasks_with_no_wish_share_the_scope_alike() -> None:
    # 1.5 h each: the first to come costs the weekend to Monday 19:30, the second 90 minutes.
    later = evenings(task("lamp", 1.5), task("switch", 1.5))
    assert items_in(bridge(evenings(), later), "scope") == {"lamp": 2160, "switch": 2160}


def test_a_late_part_is_named() -> None:
    # `b` was to begin on Wednesday at 18:00; its part comes on Thursday instead of Monday.
    pump = Part(key="pump", name="Pump", serves=("b",), arrives_on=MONDAY.date())
    late = replace(pump, arrives_on=MONDAY.date() + 3 * DAY)
    way = bridge(evenings(parts=(pump,)), evenings(parts=(late,)))
    assert minutes_by_cause(way) == {"parts": 3 * 1440}
    assert items_in(way, "parts") == {"pump": 3 * 1440}


def test_a_part_that_has_not_come_on_its_day_is_late() -> None:
    # Promised for Wednesday; on Thursday at noon, with `a` done, it has not come.
    pump = Part(key="pump", name="Pump", serves=("b",), arrives_on=MONDAY.date() + 2 * DAY)
    build = evenings(parts=(pump,))
    later = changed(
        worked(worked(build, 0, "a", 3), 1, "a", 3), "a", finished_on=MONDAY.date() + DAY
    )
    later = replace(later, now=MONDAY + 3 * DAY + dt.timedelta(hours=12))
    # Nothing could be worked on Wednesday, so nothing of it was lost: from Wednesday 18:00 to
    # Thursday 18:00 at the earliest, and first start from Friday 21:00 to Monday 21:00.
    way = bridge(build, later)
    assert minutes_by_cause(way) == {"parts": 3 * 1440}
    (late,) = way.shares[3].items
    # Promised for Wednesday 00:00, not there on Thursday at noon: a day and a half.
    assert (late.days_late, late.hours) == (1.5, 0.0)


def test_a_change_of_the_shop_week_is_shop_time() -> None:
    later = evenings(days=(DayException(date=MONDAY.date() + 2 * DAY),))
    assert minutes_by_cause(bridge(evenings(), later)) == {"shop_time": 3 * 1440}


def test_a_start_that_was_put_off_is_shop_time() -> None:
    # Evenings from Monday 5 January on were promised; a day later the build starts a week after
    # that: its 3 h end on Monday 12 January at 21:00 and not on the 5th.
    build = build_of([task("a", 3)], first_start="a", week=EVENINGS, starts_on=MONDAY.date())
    later = replace(build, now=MONDAY + DAY, starts_on=MONDAY.date() + 7 * DAY)
    way = bridge(build, later)
    assert minutes_by_cause(way) == {"shop_time": 7 * 24 * 60}


def test_work_that_first_start_does_not_need_shows_under_order() -> None:
    build = evenings()
    build = replace(build, tasks=(*build.tasks, task("shelf", 3)))
    later = replace(worked(build, 0, "shelf", 3), now=MONDAY + DAY)
    way = bridge(build, later)
    assert minutes_by_cause(way) == {"order": 3 * 1440}
    order = way.shares[CAUSES.index("order")].order
    assert order is not None
    assert (order.aside_hours, order.early, order.left[0]) == (3, (), "A")


def test_work_before_its_turn_is_named() -> None:
    # `a` was to be done on Monday: its sealant cures for three days before `b`. `c`, which could
    # have filled the time, was done instead.
    tasks = [task("a", 3), task("b", 6), task("c", 3), task("start", 0)]
    links = [("a", "b", 72.0), ("b", "start", 0.0), ("c", "start", 0.0)]
    build = build_of(tasks, links, first_start="start", week=EVENINGS)
    later = replace(worked(build, 0, "c", 3), now=MONDAY + DAY)
    later = changed(later, "c", finished_on=MONDAY.date())
    way = bridge(build, later)
    # a on Monday, its wait to Thursday 21:00, b on Friday and Monday. With c first, a is done on
    # Tuesday, its wait over on Friday at 21:00, and b done on Monday and Tuesday.
    assert minutes_by_cause(way) == {"order": 1440}
    assert way.shares[CAUSES.index("order")].order == OrderOfWork(
        aside_hours=0, early=("C",), left=("A",)
    )


def test_logged_hours_hold_the_getting_out_of_a_setup() -> None:
    # 0.5 h to get the welder out and 2.5 h of work, logged as one evening of 3 h.
    welder = Setup(key="tig", name="TIG welder out", hours=0.5)
    tasks = [task("weld", 2.5, setup="tig"), task("more", 3, setup="tig"), task("start", 0)]
    links = [("weld", "more"), ("more", "start")]
    build = build_of(tasks, links, first_start="start", week=EVENINGS, setups=(welder,))
    later = changed(worked(build, 0, "weld", 3), "weld", finished_on=MONDAY.date())
    later = replace(later, now=MONDAY + DAY, shop=replace(build.shop, setups_out=("tig",)))
    assert minutes_by_cause(bridge(build, later)) == {}


@pytest.mark.parametrize("which", ["earlier", "later", "both"])
def test_a_build_without_a_first_start_date_has_no_bridge_and_says_so(which: str) -> None:
    build, held = evenings(), changed(evenings(), "a", set_aside_on=MONDAY.date())
    later = replace(build, now=MONDAY + DAY)
    held_later = replace(held, now=MONDAY + DAY)
    way = {
        "earlier": bridge(held, later),
        "later": bridge(build, held_later),
        "both": bridge(held, held_later),
    }[which]
    assert way.move_minutes is None
    assert way.shares == ()
    assert (
        way.no_answer
        == {
            "earlier": "earlier_undated",
            "later": "later_undated",
            "both": "neither_dated",
        }[which]
    )


def test_first_start_that_was_done_is_the_end_of_the_bridge() -> None:
    # Each evening worked, a day late at the end: finished on Monday instead of Friday.
    build = evenings()
    later = build
    for number, key in ((0, "a"), (1, "a"), (2, "b"), (3, "b"), (7, "start")):
        later = worked(later, number, key, 3)
    for key, number in (("a", 1), ("b", 3), ("start", 7)):
        later = changed(later, key, finished_on=MONDAY.date() + number * DAY)
    way = bridge(build, replace(later, now=MONDAY + 9 * DAY))
    assert way.to_at == FRIDAY_9TH + 3 * DAY
    assert minutes_by_cause(way) == {"shop_time": 3 * 1440}
    done = replace(later, now=MONDAY + 9 * DAY)
    assert bridge(done, replace(done, now=MONDAY + 10 * DAY)).no_answer == "already_done"
