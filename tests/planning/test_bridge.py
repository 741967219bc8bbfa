"""The bridge between two builds: what must hold for any pair, and small ones worked by hand."""

import datetime as dt
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.planning.builds import EVENINGS, MONDAY, build_of, builds, task
from webapp.planning.bridge import (
    CAUSES,
    Bridge,
    bridge,
    first_start_at,
    sentence_of,
    turned_round,
)
from webapp.planning.build_input import (
    BuildInput,
    DayException,
    Dependency,
    LogEntry,
    Part,
    Setup,
    Task,
    ThreePoint,
    Wish,
)
from webapp.planning.input_checks import faults_of
from webapp.planning.job_order import make_plan

DAY = dt.timedelta(days=1)
HOURS = st.sampled_from((0.0, 0.5, 1.0, 2.25, 3.0, 4.5))


# --- random pairs ---------------------------------------------------------------------------


@st.composite
def edited(draw: st.DrawFn, build: BuildInput) -> BuildInput:
    """A build some time later: work done, estimates changed, work and links added and dropped,
    parts moved, shop days closed."""
    gone_by = draw(st.sampled_from((0, 0, 90, 600, 1440, 3 * 1440, 12 * 1440)))
    now = build.now + dt.timedelta(minutes=gone_by)
    tasks, log = [], [*build.log]
    for old in build.tasks:
        new, entries = draw(edited_task(old, build.now, now))
        tasks += new
        log += entries
    for i in range(draw(st.integers(0, 2))):
        tasks.append(task(f"new{i}", draw(HOURS), subsystem="air"))
    keys = [t.key for t in tasks]
    links = [d for d in build.dependencies if {d.before, d.after} <= set(keys)]
    first = build.first_start if build.first_start in keys else keys[-1]
    pairs = {(d.before, d.after) for d in links}
    for _ in range(draw(st.integers(0, 2))):
        before, after = draw(st.sampled_from(keys)), draw(st.sampled_from([*keys, first]))
        if before != after and (before, after) not in pairs:
            pairs.add((before, after))
            wait = draw(st.sampled_from((0.0, 12.0)))
            links.append(Dependency(before=before, after=after, wait_hours=wait))
    closed = draw(st.sets(st.integers(0, 14), max_size=2))
    dates = {build.now.date() + DAY * number for number in closed}
    days = [day for day in build.shop.days if day.date not in dates]
    return replace(
        build,
        now=now,
        first_start=first,
        tasks=tuple(tasks),
        log=tuple(log),
        dependencies=tuple(links),
        parts=tuple(draw(edited_part(p, build.now, set(keys))) for p in build.parts),
        shop=replace(
            build.shop,
            setup_out=draw(st.sampled_from((None, build.shop.setup_out))),
            days=(*days, *(DayException(date=date) for date in sorted(dates))),
        ),
    )


@st.composite
def edited_task(
    draw: st.DrawFn, old: Task, since: dt.datetime, now: dt.datetime
) -> tuple[list[Task], list[LogEntry]]:
    what = draw(st.sampled_from(("same",) * 4 + ("hours", "worked", "done", "drop", "aside")))
    if what == "drop" or not old.is_open:
        return ([] if what == "drop" else [old]), []
    if what == "hours":
        hours = min(draw(HOURS), 2 * old.hours.expected)
        return [replace(old, hours=ThreePoint.certain(hours))], []
    if what == "aside":
        return [replace(old, set_aside_on=now.date(), begun_on=None, hours_left=None)], []
    if what == "same":
        return [old], []
    day = since + (now - since) * draw(st.sampled_from((0.0, 0.5, 1.0)))
    entries = [LogEntry(task=old.key, on=day.date(), hours=draw(HOURS))]
    begun = old.begun_on or day
    if what == "worked":
        left = None if old.outside_days is not None else min(1.0, old.hours.expected)
        return [replace(old, begun_on=begun, hours_left=left)], entries
    unlogged = draw(st.booleans())
    done = replace(old, begun_on=begun, finished_on=day, hours_left=None)
    return [done], [] if unlogged else entries


@st.composite
def edited_part(draw: st.DrawFn, old: Part, since: dt.datetime, keys: set[str]) -> Part:
    serves = tuple(key for key in old.serves if key in keys)
    moved = since + DAY * draw(st.integers(-1, 15))
    arrives = draw(st.sampled_from((old.arrives_on, old.arrives_on, moved)))
    arrived = draw(st.sampled_from((old.arrived, True, False)))
    return replace(old, serves=serves, arrives_on=arrives, arrived=arrived)


@st.composite
def pairs(draw: st.DrawFn) -> tuple[BuildInput, BuildInput]:
    earlier = draw(builds(max_tasks=7))
    later = draw(edited(earlier))
    assume(not faults_of(earlier) and not faults_of(later))
    return earlier, later


@settings(max_examples=150, deadline=None)
@given(pairs())
def test_the_shares_sum_to_the_move_to_the_minute(pair: tuple[BuildInput, BuildInput]) -> None:
    way = bridge(*pair)
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
    assert sentence_of(way).endswith(".")


@settings(max_examples=60, deadline=None)
@given(pairs())
def test_turning_the_pair_round_changes_every_sign(pair: tuple[BuildInput, BuildInput]) -> None:
    earlier, later = pair
    assert bridge(later, earlier) == turned_round(bridge(earlier, later))
    for share, back in zip(
        bridge(earlier, later).shares, bridge(later, earlier).shares, strict=True
    ):
        assert (share.cause, share.minutes) == (back.cause, -back.minutes)


@settings(max_examples=60, deadline=None)
@given(builds())
def test_a_bridge_of_a_build_with_itself_is_empty(build: BuildInput) -> None:
    way = bridge(build, build)
    assert all(share.minutes == 0 and share.items == () for share in way.shares)
    assert way.no_answer or way.move_minutes == 0


@settings(max_examples=100, deadline=None)
@given(builds())
def test_the_date_is_that_of_the_plan(build: BuildInput) -> None:
    done = any(t.key == build.first_start and t.finished_on for t in build.tasks)
    if not done:
        assert first_start_at(build) == make_plan(build).first_start_at


@settings(max_examples=100, deadline=None)
@given(pairs())
def test_a_cause_that_did_not_change_gets_nothing(pair: tuple[BuildInput, BuildInput]) -> None:
    earlier, later = pair
    same_parts = bridge(earlier, replace(later, parts=_parts_of(earlier, later)))
    if earlier.now == later.now and not any(p.arrived for p in later.parts):
        assert same_parts.minutes_of("parts") == 0
    same_shop = bridge(earlier, replace(later, shop=earlier.shop))
    if earlier.now == later.now:
        assert same_shop.minutes_of("shop_time") == 0
    same_work = replace(
        later, tasks=earlier.tasks, log=earlier.log, dependencies=earlier.dependencies
    )
    same_work = replace(same_work, first_start=earlier.first_start, parts=earlier.parts)
    way = bridge(earlier, same_work)
    assert way.minutes_of("scope") == way.minutes_of("estimates") == 0


def _parts_of(earlier: BuildInput, later: BuildInput) -> tuple[Part, ...]:
    keys = {t.key for t in later.tasks}
    return tuple(
        replace(part, serves=tuple(key for key in part.serves if key in keys))
        for part in earlier.parts
    )
