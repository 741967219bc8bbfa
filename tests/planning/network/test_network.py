import datetime as dt
import itertools
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.build.builds import ALWAYS, EVENINGS, MONDAY, build_of, session, stretch, task
from tests.build.random_builds import builds
from webapp.build.build_input import BuildInput, LogEntry, Part
from webapp.build.hours_to_go import planned_seconds
from webapp.build.precedence import loops_of, needed_for, topological_order
from webapp.build.shop import DayException
from webapp.build.time.shop_calendar import calendar_of
from webapp.planning.network.network import DependencyDates, dependency_dates
from webapp.planning.network.obstacles import Obstacle, Standing
from webapp.planning.network.standing import standing_in_the_way

HOUR = 3600
DAY = 24 * HOUR


def dates_of(build: BuildInput) -> dict[str, DependencyDates]:
    calendar = calendar_of(build, shop_hours=500, until=build.now + dt.timedelta(days=400))
    return {dates.key: dates for dates in dependency_dates(build, calendar)}


# --- loops, order, what is needed -----------------------------------------------------------


def test_a_loop_is_named_with_its_first_task_repeated_at_the_end() -> None:
    build = build_of([task(k, 1) for k in "abcd"], [("a", "b"), ("b", "c"), ("c", "a"), ("c", "d")])
    assert loops_of(build) == (("a", "b", "c", "a"),)


def test_a_dependency_of_a_task_on_itself_is_a_loop_of_one() -> None:
    build = build_of([task("a", 1), task("b", 1)], [("a", "b"), ("b", "b")])
    assert loops_of(build) == (("b", "b"),)


def test_every_group_of_tasks_in_a_loop_is_named_by_its_shortest_loop() -> None:
    """p -> q -> r -> s -> p is longer than p -> q -> p; x -> y -> x is another group."""
    links = [("p", "q"), ("q", "r"), ("r", "s"), ("s", "p"), ("q", "p"), ("x", "y"), ("y", "x")]
    assert loops_of(build_of([task(k, 1) for k in "xpqrsy"], links)) == (
        ("x", "y", "x"),
        ("p", "q", "p"),
    )


def test_a_build_without_a_loop_has_none_and_unknown_tasks_are_passed_over() -> None:
    build = build_of([task("a", 1), task("b", 1)], [("a", "b"), ("b", "ghost"), ("ghost", "a")])
    assert loops_of(build) == ()


def test_ten_thousand_tasks_in_a_row_are_walked_without_a_limit_of_depth() -> None:
    keys = [f"t{i}" for i in range(10_000)]
    links = list(itertools.pairwise(keys))
    build = build_of([task(k, 1) for k in keys], links)
    assert loops_of(build) == ()
    assert topological_order(build) == tuple(keys)
    assert len(needed_for(build, keys[-1])) == 10_000
    closed = build_of(build.tasks, [*links, (keys[-1], "t0")])
    assert loops_of(closed) == ((*keys, "t0"),)


def test_an_order_of_a_loop_is_refused() -> None:
    build = build_of([task("a", 1), task("b", 1)], [("a", "b"), ("b", "a")])
    with pytest.raises(ValueError, match="loop"):
        topological_order(build)


def test_what_a_task_needs_is_itself_and_all_before_it() -> None:
    links = [("a", "b"), ("b", "d"), ("c", "d"), ("d", "e")]
    build = build_of([task(k, 1) for k in "abcdef"], links)
    assert needed_for(build, "d") == frozenset("abcd")
    assert needed_for(build, "f") == frozenset("f")
    with pytest.raises(KeyError):
        needed_for(build, "ghost")


# --- what is left, what is in the way ---------------------------------------------------------


def test_the_work_left_of_a_begun_task_is_what_was_said_or_what_was_not_yet_logged() -> None:
    """(1 + 4 x 2 + 6) / 6 = 2.5 h; less 2 h logged 0.5 h; less 3 h logged at least 0.25 h."""
    begun = {"begun_on": MONDAY.date()}
    build = build_of(
        [
            task("new", (1, 2, 6)),
            task("said", (1, 2, 6), hours_left=4.0, **begun),
            task("logged", (1, 2, 6), **begun),
            task("over", (1, 2, 6), **begun),
            task("done", 3, finished_on=MONDAY.date()),
        ]
    )
    entries = [("logged", 1.5), ("logged", 0.5), ("over", 3.0), ("said", 1.0)]
    log = tuple(LogEntry(task=key, on=MONDAY.date(), hours=hours) for key, hours in entries)
    assert planned_seconds(replace(build, log=log)) == {
        "new": 9000,
        "said": 14400,
        "logged": 1800,
        "over": 900,
    }


def test_what_a_set_aside_task_and_a_part_without_a_date_hold_is_told() -> None:
    build = build_of(
        [
            task("aside", 1, set_aside_on=MONDAY.date()),
            task("b", 1),
            task("c", 1),
            task("d", 1),
            task("e", 1),
            task("free", 1),
        ],
        [("aside", "b"), ("b", "c"), ("c", "d")],
        parts=(
            Part(key="p", name="Oil cooler", serves=("e", "b")),
            Part(key="q", name="Bolts", serves=("free",), arrived=True),
            Part(key="r", name="Hose", serves=("free",), arrives_on=MONDAY.date()),
        ),
    )
    aside = Obstacle(kind="set_aside", what="aside")
    cooler = Obstacle(kind="undated_part", what="p")
    assert standing_in_the_way(build) == {
        "b": Standing(obstacles=(aside, cooler)),
        "c": Standing(obstacles=(aside, cooler), after="b", first="b"),
        "d": Standing(obstacles=(aside, cooler), after="c", first="b"),
        "e": Standing(obstacles=(cooler,)),
    }


def test_a_begun_task_is_not_held_by_a_part_and_a_finished_one_passes_nothing_on() -> None:
    build = build_of(
        [
            task("begun", 1, begun_on=MONDAY.date()),
            task("done", 1, finished_on=MONDAY.date()),
            task("after", 1),
            task("aside", 1, set_aside_on=MONDAY.date()),
        ],
        [("aside", "done"), ("done", "after")],
        parts=(Part(key="p", name="Oil cooler", serves=("begun", "done")),),
    )
    assert standing_in_the_way(build) == {}


# --- dates and floats -------------------------------------------------------------------------


def test_a_start_falls_in_an_open_session_and_an_end_at_a_closing() -> None:
    """Evenings of 3 h: A 3 h ends Monday 21:00, B 4 h runs Tuesday 18:00 to Wednesday 19:00.

    C 1 h beside them may begin up to 6 h later: Wednesday 18:00, the last hour before the end.
    """
    build = build_of([task("a", 3), task("b", 4), task("c", 1)], [("a", "b")], week=EVENINGS)
    dates = dates_of(build)
    assert (dates["a"].earliest_begin, dates["a"].earliest_end) == (18 * HOUR, 21 * HOUR)
    assert (dates["b"].earliest_begin, dates["b"].earliest_end) == (
        DAY + 18 * HOUR,
        2 * DAY + 19 * HOUR,
    )
    assert dates["c"].latest_begin == 2 * DAY + 18 * HOUR
    assert dates["c"].total_float_hours == 6
    assert dates["a"].latest_end == 21 * HOUR


def test_a_wait_runs_over_closed_hours_and_a_part_may_decide() -> None:
    """A ends Monday 21:00; 20 h of wait end Tuesday 17:00, before the opening at 18:00: no loss.

    The part for B comes on Wednesday 19:30. A may end as late as 20 h before that, Tuesday 23:30:
    it may begin up to the whole of Tuesday evening later, 3 h.
    """
    build = build_of([task("a", 3), task("b", 1)], [("a", "b", 20)], week=EVENINGS)
    assert dates_of(build)["b"].earliest_begin == DAY + 18 * HOUR
    part = Part(key="p", name="Flange", serves=("b",), arrives_on=MONDAY + dt.timedelta(hours=67.5))
    dates = dates_of(replace(build, parts=(part,)))
    assert dates["b"].earliest_begin == 2 * DAY + 19 * HOUR + HOUR // 2
    assert dates["a"].total_float_hours == dates["a"].free_float_hours == 3
    assert dates["a"].latest_end == DAY + 21 * HOUR


def test_outside_work_runs_on_the_wall_clock_and_begun_outside_work_is_never_back_before_now() -> (
    None
):
    """A ends Monday 21:00, two days outside until Wednesday 21:00, so B begins Thursday 18:00."""
    build = build_of(
        [
            task("a", 3),
            task("out", 0, outside_days=2.0),
            task("b", 1),
            task("late", 0, outside_days=2.0, begun_on=MONDAY.date() - dt.timedelta(days=9)),
            task("soon", 0, outside_days=2.0, begun_on=MONDAY - dt.timedelta(hours=20)),
        ],
        [("a", "out"), ("out", "b")],
        week=EVENINGS,
    )
    dates = dates_of(build)
    assert dates["out"].earliest_end == 2 * DAY + 21 * HOUR
    assert dates["b"].earliest_begin == 3 * DAY + 18 * HOUR
    assert dates["late"].earliest_end == 0
    assert dates["soon"].earliest_end == 28 * HOUR


def test_a_task_of_no_hours_stands_where_the_last_wait_before_it_ends() -> None:
    build = build_of([task("a", 3), task("m", 0)], [("a", "m", 5)], week=EVENINGS)
    dates = dates_of(build)["m"]
    assert (dates.earliest_begin, dates.earliest_end) == (26 * HOUR, 26 * HOUR)


def test_a_wait_after_a_finished_task_counts_from_that_days_last_closing() -> None:
    """Finished on Friday 2 January, last closing 21:00; 60 h later is Monday 09:00."""
    friday = dt.date(2026, 1, 2)
    build = build_of(
        [task("done", 1, finished_on=friday), task("a", 1), task("b", 1)],
        [("done", "a", 60), ("done", "b")],
        week=EVENINGS[4:] + tuple(session(day, 0, 24) for day in range(2)),
    )
    dates = dates_of(build)
    assert dates["a"].earliest_begin == 9 * HOUR
    assert dates["b"].earliest_begin == 0


def test_what_leads_to_first_start_is_measured_against_it_and_the_rest_against_the_last_end() -> (
    None
):
    """First start ends at 4 + 1 = 5 h, the last end is that of trim at 2 + 9 = 11 h.

    A (2 h) has no float to the last end by way of trim, but 5 - 1 - 2 = 2 h to first start.
    Paint (4 h) is loose: 11 - 4 = 7 h.
    """
    build = build_of(
        [task("a", 2), task("b", 4), task("start", 1), task("trim", 9), task("paint", 4)],
        [("a", "start"), ("b", "start"), ("a", "trim")],
        first_start="start",
        week=ALWAYS,
    )
    floats = {key: dates.total_float_hours for key, dates in dates_of(build).items()}
    assert floats == {"a": 2, "b": 0, "start": 0, "trim": 0, "paint": 7}
    assert dates_of(build)["a"].free_float_hours == 0


def test_tasks_that_can_never_begin_are_left_out_and_hold_nothing_else_up() -> None:
    build = build_of(
        [task("a", 1), task("b", 1), task("c", 2)],
        [("a", "b")],
        parts=(Part(key="p", name="Flange", serves=("b",)),),
        first_start="b",
    )
    dates = dates_of(build)
    assert set(dates) == {"a", "c"}
    assert dates["a"].total_float_hours == dates["a"].free_float_hours == 1


@settings(derandomize=True, max_examples=80, deadline=None)
@given(builds(max_tasks=10))
def test_floats_are_never_negative_and_the_free_one_never_the_larger(build: BuildInput) -> None:
    for dates in dates_of(build).values():
        assert 0 <= dates.free_float_hours <= dates.total_float_hours
        assert 0 <= dates.earliest_begin <= dates.earliest_end <= dates.latest_end
        assert dates.earliest_begin <= dates.latest_begin


@settings(derandomize=True, max_examples=60, deadline=None)
@given(builds(max_tasks=8), st.data())
def test_a_task_begun_as_late_as_its_total_float_allows_moves_first_start_no_further(
    build: BuildInput, data: st.DataObject
) -> None:
    """A part that comes at the latest begin must not move first start; that is what float means."""
    dates = dates_of(build)
    if build.first_start not in dates:
        return
    first_start = dates[build.first_start]
    needed = needed_for(build, build.first_start)
    key = data.draw(st.sampled_from(sorted(dates)))
    late = build.now + dt.timedelta(seconds=dates[key].latest_begin)
    part = Part(key="late", name="Late part", serves=(key,), arrives_on=late)
    moved = dates_of(replace(build, parts=(*build.parts, part)))
    assert key not in needed or moved[build.first_start].earliest_end == first_start.earliest_end


def test_tasks_that_end_beyond_the_calendar_are_left_out_with_those_after_them() -> None:
    """One session of 3 h ever: A 2 h fits, B 2 h after it does not, nor what follows B.

    First start is among the left out, so A and C are measured against the last end, A's own.
    """
    days = (DayException(date=MONDAY.date(), sessions=(stretch(9, 12),)),)
    build = build_of(
        [task("a", 2), task("b", 2), task("start", 0), task("c", 1)],
        [("a", "b"), ("b", "start", 5)],
        first_start="start",
        week=(),
        days=days,
    )
    dates = dates_of(build)
    assert set(dates) == {"a", "c"}
    assert {key: d.total_float_hours for key, d in dates.items()} == {"a": 0, "c": 1}
