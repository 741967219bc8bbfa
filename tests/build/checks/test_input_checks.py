"""Every fault of a build is found, named and answered with a remedy, and nothing else is.

What counts as a fault is the list under "Bad input" of the project's first issue and the notes
on the build document's fields; the words are our own, so only the names in them are checked.
"""

import datetime as dt
import math
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings

from tests.build.builds import EVENINGS, build_of, session, stretch, task
from tests.build.random_builds import builds
from webapp.build.build_input import (
    BuildInput,
    Dependency,
    Fault,
    LogEntry,
    Part,
    StationNeed,
    Subsystem,
    Task,
)
from webapp.build.checks.input_checks import faults_of
from webapp.build.shop import DayException, DayRange, LaterWeek, Setup, Shop, Station, WeekSession
from webapp.build.wish import Wish

NOW = dt.datetime(2026, 2, 2, 9)  # a Monday
YESTERDAY = dt.date(2026, 2, 1)
TOMORROW = dt.date(2026, 2, 3)
ONE_TASK = build_of([task("a", 1)], first_start="a")


def small(*tasks: Task, **rest: object) -> BuildInput:
    """A build of these tasks and a first start, open in the evenings and on Saturday."""
    facts: dict[str, object] = {
        "now": NOW,
        "week": (*EVENINGS, session(5, 9, 17, helper=True)),
        "first_start": "start",
    }
    return build_of((*tasks, task("start", 0)), **facts | rest)  # type: ignore[arg-type]


def only_fault(build: BuildInput) -> Fault:
    faults = faults_of(build)
    assert len(faults) == 1, [fault.text for fault in faults]
    return faults[0]


def spots(build: BuildInput) -> set[tuple[str, str, str]]:
    return {(fault.kind, fault.key, fault.field) for fault in faults_of(build)}


@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(builds())
def test_a_build_made_to_have_no_fault_has_none(build: BuildInput) -> None:
    first = next(task for task in build.tasks if task.key == build.first_start)
    aside = first.set_aside_on is not None
    assert len(faults_of(build)) == aside


def test_a_new_build_lacks_a_first_start_and_a_shop_week_and_nothing_else() -> None:
    empty = BuildInput(name="The Heron", now=NOW, first_start=None)
    assert spots(empty) == {("build", "", "first_start"), ("shop", "", "week")}


def test_every_fault_comes_at_once() -> None:
    build = small(
        task("a", -1, subsystem="none"),
        task("b", 1, setup="none", stations=(StationNeed(station="none"),)),
        task("b", 1),
        dependencies=[("a", "b"), ("b", "a"), ("a", "none")],
        first_start="none",
        week=(),
    )
    assert spots(build) == {
        ("build", "", "first_start"),
        ("shop", "", "week"),
        ("task", "a", "hours"),
        ("task", "a", "subsystem"),
        ("task", "b", "setup"),
        ("task", "b", "stations"),
        ("task", "b", "key"),
        ("dependency", "a -> b", ""),
        ("dependency", "a -> none", "after"),
    }


def test_a_fault_names_the_thing_and_its_key() -> None:
    weld = replace(task("t5", -2), name="Weld bracket")
    assert only_fault(small(weld)).text.startswith("Task Weld bracket (t5): ")


def test_a_key_that_is_the_name_is_not_said_twice() -> None:
    assert only_fault(small(replace(task("weld", -2), name="weld"))).text.startswith("Task weld: ")


# --- dependencies ---------------------------------------------------------------------------


def test_a_loop_is_named_with_the_names_of_its_tasks() -> None:
    build = small(
        *(replace(task(key, 1), name=f"Step {key}") for key in "abc"),
        dependencies=[("a", "b"), ("b", "c"), ("c", "a")],
    )
    assert "Step a -> Step b -> Step c -> Step a" in only_fault(build).text


def test_a_loop_of_nineteen_hundred_tasks_is_named_in_a_short_line() -> None:
    keys = [f"t{i}" for i in range(1_900)]
    links = [*zip(keys, [*keys[1:], keys[0]], strict=True)]
    fault = only_fault(small(*(task(key, 1) for key in keys), dependencies=links))
    assert len(fault.text) < 500
    assert "more" in fault.text


def test_a_dependency_on_itself_is_one_fault_and_no_loop() -> None:
    fault = only_fault(small(task("a", 1), dependencies=[("a", "a")]))
    assert (fault.kind, fault.key) == ("dependency", "a -> a")
    assert "itself" in fault.text


@pytest.mark.parametrize(("pair", "field"), [(("gone", "a"), "before"), (("a", "gone"), "after")])
def test_a_dependency_on_an_unknown_task_names_it(pair: tuple[str, str], field: str) -> None:
    fault = only_fault(small(task("a", 1), dependencies=[pair]))
    assert fault.field == field
    assert "no task gone" in fault.text


def test_the_same_pair_twice_is_a_fault_also_with_another_wait() -> None:
    build = small(task("a", 1), task("b", 1), dependencies=[("a", "b"), ("a", "b", 24)])
    assert "twice" in only_fault(build).text


@pytest.mark.parametrize("hours", [-1, math.nan, math.inf, 100_001])
def test_a_wait_must_be_a_number_within_reason(hours: float) -> None:
    build = small(task("a", 1), task("b", 1), dependencies=[("a", "b", hours)])
    assert only_fault(build).field == "wait_hours"


# --- hours ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "hours",
    [-1, math.nan, math.inf, -math.inf, 10_001, (1, math.nan, 3), (2, 1, 3), (1, 3, 2), (-1, 0, 1)],
)
def test_hours_must_be_numbers_in_order(hours: float | tuple[float, float, float]) -> None:
    assert only_fault(small(task("a", hours))).field == "hours"


@pytest.mark.parametrize("hours", [0, 0.25, (1, 1, 1), (0, 0, 10_000), (1, 2, 2)])
def test_hours_in_order_are_fine(hours: float | tuple[float, float, float]) -> None:
    assert faults_of(small(task("a", hours))) == ()


# --- in one go, with the helper -------------------------------------------------------------


def test_work_in_one_go_must_fit_the_longest_session_by_its_expected_hours() -> None:
    # Saturday 09:00 to 17:00 is 8 hours; (6 + 4 * 8 + 10) / 6 = 8, (6 + 4 * 8 + 10.6) / 6 = 8.1.
    assert faults_of(small(task("a", (6, 8, 10), in_one_go=True))) == ()
    fault = only_fault(small(task("a", (6, 8, 10.6), in_one_go=True)))
    assert fault.field == "in_one_go"
    assert "takes 8 h 6 min, but the longest session ahead has 8 h." in fault.text


def test_work_that_may_be_split_can_take_longer_than_any_session() -> None:
    assert faults_of(small(task("a", 80))) == ()


def test_of_begun_work_in_one_go_only_the_hours_left_must_fit() -> None:
    begun = task("a", 20, in_one_go=True, begun_on=YESTERDAY)
    assert faults_of(small(replace(begun, hours_left=8.0))) == ()
    # 20 hours less 12 logged leaves 8.
    logged = (LogEntry(task="a", on=YESTERDAY, hours=12.0),)
    assert faults_of(small(begun, log=logged)) == ()
    assert only_fault(small(begun)).field == "in_one_go"


@pytest.mark.parametrize("fact", [{"finished_on": YESTERDAY}, {"set_aside_on": YESTERDAY}])
def test_what_is_finished_or_set_aside_need_not_fit(fact: dict[str, dt.date]) -> None:
    needs = {"in_one_go": True, "people": 5}
    assert faults_of(small(task("a", 20, **needs, **fact))) == ()


def test_work_with_the_helper_must_fit_a_helper_session() -> None:
    week = (session(5, 8, 12), session(5, 12, 15, helper=True), session(6, 8, 18))
    assert faults_of(small(task("a", 3, helper=True), week=week)) == ()
    fault = only_fault(small(task("a", 3.5, helper=True), week=week))
    assert fault.field == "helper"
    assert "for 3 h 30 min, but" in fault.text
    assert "with the helper has 3 h." in fault.text


def test_hours_that_are_told_are_told_to_the_minute_a_minute_begun_counting_whole() -> None:
    # 3 h and a twelfth are 3 h 5 min; 3 h and 10 s do not fit into 3 h, and are not told as such
    week = (session(5, 8, 11, helper=True), session(6, 8, 18))
    for hours, told in ((3 + 1 / 12, "3 h 5 min"), (3 + 10 / 3600, "3 h 1 min")):
        fault = only_fault(small(task("a", hours, helper=True), week=week))
        assert f"for {told}, but" in fault.text


def test_without_a_helper_session_no_work_can_have_the_helper() -> None:
    fault = only_fault(small(task("a", 0.5, helper=True), week=EVENINGS))
    assert "no session with the helper" in fault.text


def test_a_longer_session_on_one_day_ahead_is_enough_and_one_gone_by_is_not() -> None:
    long_day = task("a", 10, in_one_go=True)
    ahead = DayException(date=TOMORROW, sessions=(stretch(8, 18),))
    assert faults_of(small(long_day, days=(ahead,))) == ()
    gone = replace(ahead, date=YESTERDAY)
    assert only_fault(small(long_day, days=(gone,))).field == "in_one_go"


# --- what the shop has ----------------------------------------------------------------------


def test_a_need_above_what_there_is_is_a_fault() -> None:
    stations = (Station(key="lift", name="Lift", count=2),)
    needs = (StationNeed(station="lift", count=3),)
    assert spots(small(task("a", 1, people=2, stations=needs), stations=stations)) == {
        ("task", "a", "people"),
        ("task", "a", "stations"),
    }
    needs = (StationNeed(station="lift", count=2),)
    assert faults_of(small(task("a", 1, stations=needs), stations=stations)) == ()


def test_outside_work_needs_nothing_of_the_shop() -> None:
    stations = (Station(key="lift", name="Lift"),)
    setups = (Setup(key="tig", name="TIG welder", hours=0.5),)
    away = task(
        "a",
        0,
        outside_days=5,
        people=0,
        setup="tig",
        helper=True,
        in_one_go=True,
        stations=(StationNeed(station="lift", count=9),),
    )
    assert faults_of(small(away, stations=stations, setups=setups, week=EVENINGS)) == ()


def test_a_setup_on_work_that_runs_by_itself_is_a_fault() -> None:
    setups = (Setup(key="tig", name="TIG welder", hours=0.5),)
    assert only_fault(small(task("a", 1, people=0, setup="tig"), setups=setups)).field == "setup"


def test_the_setup_that_is_out_must_be_a_setup() -> None:
    assert only_fault(small(setup_out="gone")).field == "setup_out"


def test_as_many_setups_can_be_out_as_there_are_people_each_once() -> None:
    setups = tuple(Setup(key=key, name=key, hours=0.5) for key in ("tig", "roller", "saw"))
    assert faults_of(small(people=2, setups=setups, setup_out=("saw", "tig"))) == ()
    too_many = only_fault(small(people=2, setups=setups, setup_out=("saw", "tig", "roller")))
    assert too_many.field == "setup_out"
    assert "3 setups are out, and the shop has 2 people" in too_many.text
    twice = only_fault(small(people=2, setups=setups, setup_out=("tig", "tig")))
    assert "is out 2 times" in twice.text


@pytest.mark.parametrize("count", [0, -1, 101])
def test_a_station_count_must_be_within_reason(count: int) -> None:
    stations = (Station(key="lift", name="Lift", count=count),)
    assert spots(small(stations=stations)) == {("station", "lift", "count")}


@pytest.mark.parametrize("people", [0, -1, 21])
def test_the_shop_has_one_to_twenty_people(people: int) -> None:
    assert spots(small(people=people)) == {("shop", "", "people")}


# --- shop week and day exceptions -----------------------------------------------------------


@pytest.mark.parametrize(
    "bad", [session(5, 12, 9), session(5, 9, 9), session(5, 24, 24), session(5, 9, 25)]
)
def test_a_session_closes_after_it_opens_and_on_the_same_day(bad: object) -> None:
    assert spots(small(week=(*EVENINGS, bad))) == {("shop", "sat", "week")}


def test_a_closing_at_midnight_is_told_to_be_written_as_24() -> None:
    assert "24:00" in only_fault(small(week=(session(4, 18, 0),))).text


def test_sessions_of_one_day_may_touch_but_not_overlap() -> None:
    assert faults_of(small(week=(session(5, 9, 12), session(5, 12, 17)))) == ()
    fault = only_fault(small(week=(session(5, 12, 17), session(5, 9, 12.5))))
    assert fault.text.startswith(
        "Shop Saturday: the session 12:00 to 17:00 overlaps the session 09:00 to 12:30"
    )
    assert faults_of(small(week=(session(5, 9, 12), session(6, 10, 11)))) == ()


def test_a_day_cannot_be_both_closed_and_open() -> None:
    days = (
        DayException(date=TOMORROW),
        DayException(date=TOMORROW, sessions=(stretch(9, 12),)),
    )
    assert "both closed and open" in only_fault(small(days=days)).text


def test_sessions_of_a_day_exception_are_looked_at_too() -> None:
    days = (DayException(date=TOMORROW, sessions=(stretch(9, 12), stretch(11, 10))),)
    assert spots(small(days=days)) == {("shop", "2026-02-03", "days")}


# --- keys, names, texts ---------------------------------------------------------------------


def test_two_things_of_a_kind_with_one_key_are_a_fault_in_every_kind() -> None:
    build = small(
        task("a", 1),
        task("a", 2),
        setups=(Setup(key="a", name="One", hours=0), Setup(key="a", name="Two", hours=0)),
        stations=(Station(key="a", name="One"), Station(key="a", name="Two")),
        subsystems=(Subsystem(key="a", name="One"), Subsystem(key="a", name="Two")),
        parts=(Part(key="a", name="One"), Part(key="a", name="Two")),
        wishes=(
            Wish(key="a", text="One", logged_on=YESTERDAY),
            Wish(key="a", text="Two", logged_on=YESTERDAY),
        ),
    )
    kinds = ("setup", "station", "subsystem", "task", "part", "wish")
    assert spots(build) == {(kind, "a", "key") for kind in kinds}


@pytest.mark.parametrize("name", ["", "   ", "n" * 501, "two\nlines", "half \ud800", "nul \x00"])
def test_a_name_must_be_there_short_and_on_one_line(name: str) -> None:
    fault = only_fault(small(replace(task("a", 1), name=name)))
    assert fault.field == "name"
    assert fault.text.isprintable()


def test_a_name_of_a_hundred_thousand_characters_is_answered_in_a_short_line() -> None:
    build = small(replace(task("a", 1), name="x" * 100_000))
    assert len(only_fault(build).text) < 300
    assert "100,000" in only_fault(build).text


def test_notes_may_have_lines_but_not_more_than_ten_thousand_characters() -> None:
    assert faults_of(small(task("a", 1, notes="one\n\ttwo", caution="c" * 10_000))) == ()
    assert only_fault(small(task("a", 1, notes="n" * 10_001))).field == "notes"


def test_names_in_any_script_are_fine() -> None:
    names = ["Längsträger schweißen", "Сварка", "溶接", "لحام", "🔥 weld", "e\u0301"]
    tasks = [replace(task(f"t{i}", 1), name=name) for i, name in enumerate(names)]
    assert faults_of(small(*tasks)) == ()


# --- begun, finished, set aside -------------------------------------------------------------


def test_hours_left_or_logged_need_a_begin() -> None:
    log = (LogEntry(task="b", on=YESTERDAY, hours=1.0),)
    assert spots(small(task("a", 1, hours_left=1), task("b", 2), log=log)) == {
        ("task", "a", "hours_left"),
        ("task", "b", "begun_on"),
    }


def test_finished_work_may_have_hours_left_and_logged_without_a_begin() -> None:
    log = (LogEntry(task="a", on=YESTERDAY, hours=1.0),)
    done = task("a", 1, hours_left=0, finished_on=YESTERDAY)
    assert faults_of(small(done, log=log)) == ()


@pytest.mark.parametrize("field", ["begun_on", "finished_on"])
@pytest.mark.parametrize(
    "moment", [TOMORROW, dt.datetime(2026, 2, 2, 9, 1), dt.date(1949, 12, 31), dt.date(2151, 1, 1)]
)
def test_what_was_done_lies_between_1950_and_now(field: str, moment: dt.date) -> None:
    assert spots(small(task("a", 1, **{field: moment}))) == {("task", "a", field)}


@pytest.mark.parametrize("moment", [NOW, NOW.date(), dt.date(1950, 1, 1)])
def test_today_and_now_are_not_in_the_future(moment: dt.date) -> None:
    assert faults_of(small(task("a", 1, begun_on=moment))) == ()


def test_a_finish_comes_after_the_begin() -> None:
    build = small(task("a", 1, begun_on=dt.datetime(2026, 2, 1, 12), finished_on=YESTERDAY))
    assert faults_of(build) == ()  # a date alone may be any time of that day
    build = small(task("a", 1, begun_on=YESTERDAY, finished_on=dt.date(2026, 1, 31)))
    assert only_fault(build).field == "finished_on"


def test_finished_and_set_aside_at_once_is_a_fault() -> None:
    build = small(task("a", 1, finished_on=YESTERDAY, set_aside_on=YESTERDAY))
    assert only_fault(build).field == "set_aside_on"


# --- first start ----------------------------------------------------------------------------


def test_first_start_must_be_a_task_that_is_not_set_aside() -> None:
    assert only_fault(small(first_start=None)).field == "first_start"
    assert only_fault(small(first_start="gone")).field == "first_start"
    aside = small(task("a", 1, set_aside_on=YESTERDAY), first_start="a")
    assert only_fault(aside).field == "first_start"


def test_a_finished_first_start_is_no_fault() -> None:
    assert faults_of(small(task("a", 1, finished_on=YESTERDAY), first_start="a")) == ()


def test_a_first_start_that_can_not_be_reached_is_a_gap_and_no_fault() -> None:
    build = small(
        task("aside", 1, set_aside_on=YESTERDAY),
        task("waits", 1),
        dependencies=[("aside", "start"), ("waits", "start")],
        parts=(Part(key="p", name="Never comes", serves=("waits",)),),
    )
    assert faults_of(build) == ()


# --- parts, log, wishes, the build itself ---------------------------------------------------


def test_a_part_serves_tasks_that_are_there_each_once() -> None:
    parts = (Part(key="p", name="Pump", serves=("start", "gone", "start")),)
    faults = faults_of(small(parts=parts))
    assert [fault.field for fault in faults] == ["serves", "serves"]


def test_numbers_and_days_of_a_part_must_be_within_reason() -> None:
    part = Part(
        key="p",
        name="Pump",
        lead_days=-1,
        cost=math.nan,
        arrives_on=dt.date(2200, 1, 1),
        ordered_on=dt.date(1900, 1, 1),
    )
    fields = ("lead_days", "cost", "arrives_on", "ordered_on")
    assert spots(small(parts=(part,))) == {("part", "p", field) for field in fields}


def test_a_log_entry_names_a_task_a_day_gone_by_and_hours() -> None:
    log = (LogEntry(task="gone", on=TOMORROW, hours=-1, left=math.inf),)
    fields = ("task", "on", "hours", "left")
    assert spots(small(log=log)) == {("log", "gone", field) for field in fields}


def test_days_of_the_build_must_lie_between_1950_and_2150() -> None:
    build = small(wanted_by=dt.date(2151, 1, 1), starts_on=dt.date(1949, 1, 1))
    assert spots(build) == {("build", "", "wanted_by"), ("build", "", "starts_on")}


# --- size -----------------------------------------------------------------------------------


def test_a_dependency_with_a_long_reason_is_a_fault() -> None:
    build = small(task("a", 1), task("b", 1))
    link = Dependency(before="a", after="b", why="w" * 10_001)
    assert only_fault(replace(build, dependencies=(link,))).field == "why"


def test_a_shop_without_a_week_says_so_once_however_many_tasks_must_fit() -> None:
    build = small(*(task(key, 1, in_one_go=True, helper=True) for key in "abc"))
    assert spots(replace(build, shop=Shop())) == {("shop", "", "week")}


def test_ranges_and_later_weeks_that_can_not_be_are_faults_by_their_days() -> None:
    def days(first: str, last: str, *week: WeekSession) -> DayRange:
        return DayRange(
            first_on=dt.date.fromisoformat(first), last_on=dt.date.fromisoformat(last), week=week
        )

    first_of_may = dt.date(2026, 5, 1)
    shop = replace(
        ONE_TASK.shop,
        ranges=(
            days("2026-04-09", "2026-04-12"),
            days("2026-04-01", "2026-04-09"),
            days("2026-06-02", "2026-06-01"),
            days("2027-01-01", "2028-01-02"),  # 367 days
            days("2029-01-01", "2029-01-02", session(1, 12, 10)),
        ),
        later_weeks=(
            LaterWeek(from_on=first_of_may, week=(session(1, 18, 21),)),
            LaterWeek(from_on=first_of_may, week=(session(2, 18, 21),)),
            LaterWeek(from_on=first_of_may + dt.timedelta(days=1)),
        ),
    )
    texts = [fault.text for fault in faults_of(replace(ONE_TASK, shop=shop))]
    assert [text.split(". ")[0] for text in texts] == [
        "Shop week from 2026-05-01: another shop week has the same first day",
        "Shop week from 2026-05-02: it has no hours",
        "Shop range of days 2026-04-09 to 2026-04-12: it overlaps the range of days "
        "2026-04-01 to 2026-04-09",
        "Shop range of days 2026-06-02 to 2026-06-01: it ends before it begins",
        "Shop range of days 2027-01-01 to 2028-01-02: it is 367 days long, and 366 is the most",
        "Shop range of days 2029-01-01 to 2029-01-02, Tuesday: it closes at 10:00, before it "
        "opens at 12:00",
    ]
