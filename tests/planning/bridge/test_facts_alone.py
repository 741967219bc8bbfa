"""A replay changes only facts: small bridges worked by hand, one for each rule.

The shop is open 18:00 to 21:00 from Monday to Friday; the builds begin on Monday 5 January 2026.
"""

import datetime as dt
from dataclasses import replace
from typing import Any

from tests.build.builds import EVENINGS, MONDAY, build_of, task
from tests.planning.bridge.small_bridges import changed, minutes_by_cause
from webapp.build.build_input import BuildInput, Dependency, LogEntry
from webapp.build.shop import Setup
from webapp.build.wish import Wish, WishDecision
from webapp.planning.bridge.bridge import bridge
from webapp.planning.bridge.getting_out import setups_left_out
from webapp.planning.bridge.worked import Worked, told_apart

DAY = dt.timedelta(days=1)
NOON = dt.timedelta(hours=12)
TUESDAY, WEDNESDAY, THURSDAY = MONDAY + DAY, MONDAY + 2 * DAY, MONDAY + 3 * DAY


def evenings(tasks: list[Any], links: list[Any], **facts: Any) -> BuildInput:
    return build_of(tasks, links, first_start="start", week=EVENINGS, **facts)


# `a` on Monday to 19:30, its sealant cures for a day; `b` on Tuesday from 19:30 and Wednesday to
# 19:30, first start on Wednesday at 21:00.
CURING = evenings(
    [task("a", 1.5), task("b", 3), task("start", 1.5)], [("a", "b", 24.0), ("b", "start")]
)
A_ON_MONDAY = LogEntry(task="a", on=MONDAY.date(), hours=1.5)


def with_a_done(build: BuildInput) -> BuildInput:
    done = changed(
        build,
        "a",
        begun_on=MONDAY + dt.timedelta(hours=18),
        finished_on=MONDAY + dt.timedelta(hours=19.5),
    )
    return replace(done, log=(A_ON_MONDAY,))


def test_a_cure_that_ends_within_a_session_lost_nothing_when_lived_as_planned() -> None:
    lived = with_a_done(CURING)
    lived = changed(lived, "b", begun_on=TUESDAY + dt.timedelta(hours=19.5), hours_left=1.5)
    on_tuesday = LogEntry(task="b", on=TUESDAY.date(), hours=1.5)
    lived = replace(lived, log=(*lived.log, on_tuesday), now=WEDNESDAY + NOON)
    assert minutes_by_cause(bridge(CURING, lived)) == {}


def test_of_an_evening_only_the_workable_hours_can_be_lost() -> None:
    # Nothing on Tuesday: of its three hours the last one and a half. `b` on Wednesday, first
    # start on Thursday at 19:30, 22.5 hours later.
    way = bridge(CURING, replace(with_a_done(CURING), now=WEDNESDAY + NOON))
    assert minutes_by_cause(way) == {"shop_time": 1350}
    (lost,) = way.shares[2].items
    assert (lost.key, lost.hours) == ("2026-01-06", 1.5)


def test_what_is_left_of_a_half_done_getting_out_is_not_spent_twice() -> None:
    # Half an hour to get the welder out and 2.5 of work, first start after three hours more, on
    # Tuesday at 21:00. On Monday only a quarter of an hour at the bench: 2.75 hours are lost and
    # left, the work ends on Tuesday at 20:45 and first start on Wednesday at 20:45.
    welder = Setup(key="tig", name="TIG welder out", hours=0.5)
    build = evenings(
        [task("weld", 2.5, setup="tig"), task("start", 3)], [("weld", "start")], setups=(welder,)
    )
    lived = changed(build, "weld", begun_on=MONDAY + dt.timedelta(hours=18), hours_left=2.75)
    entry = LogEntry(task="weld", on=MONDAY.date(), hours=0.25, left=2.75)
    shop = replace(lived.shop, setups_out=("tig",))
    lived = replace(lived, log=(entry,), shop=shop, now=TUESDAY + NOON)
    assert minutes_by_cause(bridge(build, lived)) == {"shop_time": 24 * 60 - 15}


def test_getting_out_stands_apart_where_the_log_has_it_among_the_hours() -> None:
    weld = task("weld", 2.5, setup="tig")
    entries = [Worked(task="weld", on=MONDAY.date(), hours=hours) for hours in (0.25, 1.0)]
    apart = told_apart(entries, {"weld": weld}, {"tig": 0.5}, out=(), people=1)
    # A quarter of an hour on the first evening, the other on the second, then work.
    assert [(one.setup_hours, one.hours) for one in apart] == [(0.25, 0.0), (0.25, 0.75)]
    out = told_apart(entries, {"weld": weld}, {"tig": 0.5}, out=("tig",), people=1)
    assert out == entries


def test_of_two_people_the_log_says_which_setups_were_left_out() -> None:
    kinds = (("weld", "tig"), ("roll", "roller"), ("cut", "saw"))
    tasks = {key: task(key, 2, setup=setup) for key, setup in kinds}
    log = [Worked(task=key, on=MONDAY.date(), hours=1) for key in ("weld", "roll", "weld")]
    assert setups_left_out(log, tasks, (), 2) == ("roller", "tig")
    assert setups_left_out(log, tasks, (), 1) == ("tig",)
    cut = Worked(task="cut", on=TUESDAY.date(), hours=1)
    assert setups_left_out([*log, cut], tasks, (), 2) == ("tig", "saw")
    assert setups_left_out(log[:1], tasks, ("saw", "roller"), 2) == ("roller", "tig")


def test_outside_work_that_is_not_back_counts_with_late_parts() -> None:
    # Away on Monday for two days, `b` on Wednesday to 21:00. On Thursday at noon it is not back.
    build = evenings(
        [task("coat", 0, outside_days=2.0), task("b", 3), task("start", 0)],
        [("coat", "b"), ("b", "start")],
    )
    lived = replace(changed(build, "coat", begun_on=MONDAY), now=THURSDAY + NOON)
    way = bridge(build, lived)
    assert minutes_by_cause(way) == {"parts": 24 * 60}
    (late,) = way.shares[3].items
    assert (late.kind, late.key, late.days_late, late.hours) == ("task", "coat", 1.5, 0.0)


def test_a_wish_fills_no_hours_from_before_it_was_accepted() -> None:
    # `a` on Monday, its cure to Thursday 21:00, `b` on Friday. A wish of an evening accepted on
    # Thursday takes Friday too: first start on Monday at 21:00. The idle evenings before do not
    # count, as if it had been known.
    build = evenings(
        [task("a", 3), task("b", 3), task("start", 0)], [("a", "b", 72.0), ("b", "start")]
    )
    nine = dt.timedelta(hours=21)
    lived = changed(build, "a", begun_on=MONDAY + dt.timedelta(hours=18), finished_on=MONDAY + nine)
    decision = WishDecision(way="fit now", decided_on=THURSDAY.date())
    wish = Wish(key="lamp", text="A lamp", logged_on=MONDAY.date(), decision=decision)
    lived = replace(
        lived,
        now=THURSDAY + dt.timedelta(hours=22),
        log=(LogEntry(task="a", on=MONDAY.date(), hours=3),),
        tasks=(*lived.tasks, task("lamp", 3, wish="lamp")),
        dependencies=(*lived.dependencies, Dependency(before="lamp", after="start")),
        wishes=(wish,),
    )
    assert minutes_by_cause(bridge(build, lived)) == {"scope": 3 * 24 * 60}
