"""Changes: any build becomes any other, by writing only what differs."""

import datetime as dt
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from sqlalchemy.exc import IntegrityError

from tests.build.random_builds import builds
from tests.storage.rich_build import NOW, RICH_BUILD
from tests.stored_files import opened_with, rich_file
from webapp.build.build_input import BuildInput, Dependency, Part, RunningClock, StationNeed, Task
from webapp.build.shop import DayHours
from webapp.storage.build_loader import load_build
from webapp.storage.builds import create_build, revision_of
from webapp.storage.changes import store_changes
from webapp.storage.database import Database
from webapp.storage.journal import JournalEntry, journal_of

Change = Callable[[BuildInput], BuildInput]


def change_stored(database: Database, slug: str, change: Change | BuildInput) -> BuildInput:
    """Change a stored build the way pages do; returns what is stored afterwards."""
    with database.writing() as session:
        before = load_build(session, slug, now=NOW)
        assert before is not None
        after = change(before) if callable(change) else change
        store_changes(session, slug, before, after)
    with database.reading() as session:
        found = load_build(session, slug, now=NOW)
        assert found is not None
        return found


def entries_of(database: Database, slug: str) -> list[JournalEntry]:
    """What the journal says of the last change, in the order it was written."""
    with database.reading() as session:
        revision = revision_of(session, slug)
        return [e for e in journal_of(session, slug)[::-1] if e.revision == revision]


@pytest.fixture
def database(tmp_path: Path) -> Iterator[Database]:
    """With the rich build in it."""
    with closing(opened_with(tmp_path / "keyturn.sqlite3", rich_file())) as opened:
        yield opened


@pytest.fixture
def slug() -> str:
    """The address of the rich build in the database."""
    return "the-heron"


def _with_field(thing: Any, name: str, value: Any) -> Any:
    return replace(thing, **{name: value})


def with_items(build: BuildInput, noun: str, items: tuple[Any, ...]) -> BuildInput:
    """The build with its things of one noun replaced; `shop.week` is a noun of the shop."""
    place, _, name = noun.rpartition(".")
    changed: BuildInput = (
        replace(build, shop=_with_field(build.shop, name, items))
        if place
        else _with_field(build, name, items)
    )
    return changed


def items_of(build: BuildInput, noun: str) -> tuple[Any, ...]:
    """The things of one noun of a build."""
    place, _, name = noun.rpartition(".")
    items: tuple[Any, ...] = getattr(build.shop if place else build, name)
    return items


NOUNS: dict[str, tuple[str, dict[str, Any], dict[str, Any]]] = {
    # noun: its table, a change to its last (spare) item, and what the journal says of that
    "subsystems": ("subsystems", {"order": 9}, {"working_order": 9}),
    "shop.setups": ("setups", {"hours": 0.1}, {"hours": 0.1}),
    "shop.stations": (
        "stations",
        {"name": "Big press", "count": 3},
        {"name": "Big press", "count": 3},
    ),
    "dependencies": ("dependencies", {"why": "trial fit"}, {"why": "trial fit"}),
    "parts": ("parts", {"arrives_on": NOW}, {"arrives_on": "2026-02-09T18:30:00"}),
    "shop.week": (
        "week_sessions",
        {"hours": DayHours(opens_minute=1320, closes_minute=1380)},
        {"closes_minute": 1380, "position": 2},
    ),
    "log": ("log_entries", {"left": 3.5}, {"hours_left": 3.5, "position": 2}),
    "looked_at": (
        "looked_at",
        {"on": NOW.date() - dt.timedelta(days=1)},
        {"looked_on": "2026-02-08"},
    ),
    "earlier_records": ("earlier_records", {"counts": True}, {"counts": True}),
    "wishes": ("wishes", {"text": "Two horns"}, {"text": "Two horns"}),
}
"""Tasks and day exceptions have children of their own and are looked at apart.

Of what may stand in a build twice under one name, the journal tells the position as well: it is
the last of three that is changed."""

OF_SEVERAL_TABLES = (
    *(*NOUNS, "tasks"),
    *("shop.days", "shop.later_weeks", "shop.ranges", "shop.given"),
)


@pytest.mark.parametrize("noun", NOUNS)
def test_a_changed_thing_is_written_with_what_was_there_before(
    database: Database, slug: str, noun: str
) -> None:
    table, change, said = NOUNS[noun]
    items = items_of(RICH_BUILD, noun)
    after = with_items(RICH_BUILD, noun, (*items[:-1], replace(items[-1], **change)))
    assert change_stored(database, slug, after) == after
    (entry,) = entries_of(database, slug)
    assert (entry.noun, entry.change, entry.after) == (table, "changed", said)
    assert entry.before is not None
    assert entry.before.keys() == said.keys()
    assert entry.before != said


@pytest.mark.parametrize("noun", OF_SEVERAL_TABLES)
def test_a_thing_is_removed_and_added_again(database: Database, slug: str, noun: str) -> None:
    items = items_of(RICH_BUILD, noun)
    # the last is a spare, but for tasks, where it is the one before first start
    spare = items[-2] if noun == "tasks" else items[-1]
    less = with_items(RICH_BUILD, noun, tuple(item for item in items if item is not spare))
    assert change_stored(database, slug, less) == less
    gone = entries_of(database, slug)
    assert {entry.change for entry in gone} == {"removed"}
    assert change_stored(database, slug, RICH_BUILD) == RICH_BUILD
    back = entries_of(database, slug)
    assert {entry.change for entry in back if entry.noun == gone[-1].noun} >= {"added"}
    added = {(e.noun, e.key): _without_place(e.after) for e in back if e.change == "added"}
    removed = {(e.noun, e.key): _without_place(e.before) for e in gone}
    assert added == removed


def _without_place(values: Any) -> dict[str, Any]:
    return {name: value for name, value in values.items() if name != "position"}


@pytest.mark.parametrize("noun", OF_SEVERAL_TABLES)
def test_the_order_of_entry_is_kept(database: Database, slug: str, noun: str) -> None:
    items = items_of(RICH_BUILD, noun)
    for reordered in (items[::-1], (*items[1:], items[0]), items):
        after = with_items(RICH_BUILD, noun, reordered)
        assert change_stored(database, slug, after) == after


def test_a_thing_added_in_the_middle_stays_there(database: Database, slug: str) -> None:
    new = replace(RICH_BUILD.tasks[3], key="wheel", name="Wheel")
    after = replace(RICH_BUILD, tasks=(*RICH_BUILD.tasks[:1], new, *RICH_BUILD.tasks[1:]))
    assert change_stored(database, slug, after) == after


def test_a_thing_added_at_the_end_touches_no_other(database: Database, slug: str) -> None:
    new = replace(RICH_BUILD.tasks[3], key="wheel", name="Wheel")
    change_stored(database, slug, lambda build: replace(build, tasks=(*build.tasks, new)))
    assert [(e.noun, e.key, e.change) for e in entries_of(database, slug)] == [
        ("tasks", "wheel", "added")
    ]


def test_what_a_task_needs_and_what_a_part_serves_change_with_them(
    database: Database, slug: str
) -> None:
    mount = replace(RICH_BUILD.tasks[0], stations=(StationNeed(station="lift", count=7),))
    hose = replace(RICH_BUILD.parts[0], serves=("mount", "drain"))
    after = replace(
        RICH_BUILD,
        tasks=(mount, *RICH_BUILD.tasks[1:]),
        parts=(hose, *RICH_BUILD.parts[1:]),
    )
    assert change_stored(database, slug, after) == after
    said = {(e.noun, e.key, e.change) for e in entries_of(database, slug)}
    assert said >= {
        ("station_needs", "mount / oven", "removed"),
        ("station_needs", "mount / lift", "changed"),
        ("part_serves", "hose / start", "removed"),
        ("part_serves", "hose / drain", "added"),
    }


def test_the_sessions_of_one_date_change(database: Database, slug: str) -> None:
    days = RICH_BUILD.shop.days
    sessions = (DayHours(opens_minute=480, closes_minute=600),)
    after = with_items(RICH_BUILD, "shop.days", (days[0], replace(days[1], sessions=sessions)))
    assert change_stored(database, slug, after) == after


def test_of_two_log_entries_of_one_day_the_one_that_differs_is_changed(
    database: Database, slug: str
) -> None:
    first, second, *rest = RICH_BUILD.log
    after = replace(RICH_BUILD, log=(replace(second, hours=0.75), first, *rest))
    assert change_stored(database, slug, after) == after
    hours = [e.after for e in entries_of(database, slug) if e.after and "hours" in e.after]
    assert hours == [{"hours": 0.75, "position": 1}]  # it was the second, and its row stays


def test_the_heading_changes_and_the_address_stays(database: Database, slug: str) -> None:
    after = replace(
        RICH_BUILD,
        name="The Grey Heron",
        vehicle="",
        first_start="mount",
        starts_on=None,
        wanted_by=None,
        shop=replace(RICH_BUILD.shop, people=1, setups_out=()),
    )
    assert change_stored(database, slug, after) == after
    (entry,) = entries_of(database, slug)
    assert (entry.noun, entry.key) == ("builds", "the-heron")
    assert entry.before is not None
    assert entry.before["first_start_key"] == "start"


def test_a_change_of_nothing_leaves_no_trace(database: Database, slug: str) -> None:
    with database.reading() as session:
        before = (revision_of(session, slug), len(journal_of(session, slug, 1000)))
    change_stored(database, slug, lambda build: replace(build, now=build.now.replace(year=2027)))
    with database.reading() as session:
        assert (revision_of(session, slug), len(journal_of(session, slug, 1000))) == before


def test_every_change_counts_the_revision_up(database: Database, slug: str) -> None:
    for number in (2, 3, 4):
        change_stored(database, slug, replace(RICH_BUILD, vehicle=f"Van {number}"))
        with database.reading() as session:
            assert revision_of(session, slug) == number


def test_a_build_that_was_changed_in_between_is_not_overwritten(
    database: Database, slug: str
) -> None:
    change_stored(database, slug, lambda build: replace(build, vehicle="Another"))
    stale = replace(RICH_BUILD, name="Stale")
    with pytest.raises(RuntimeError, match="the-heron"), database.writing() as session:
        store_changes(session, slug, RICH_BUILD, stale)


def test_a_change_reads_the_build_once(database: Database, slug: str) -> None:
    asked: list[str] = []
    with database.writing() as session:
        driver = session.connection().connection.driver_connection
    assert isinstance(driver, sqlite3.Connection)
    driver.set_trace_callback(asked.append)  # the one connection there is
    after = change_stored(database, slug, lambda build: replace(build, vehicle="Another"))
    driver.set_trace_callback(None)
    assert after.vehicle == "Another"
    # once for the change, once to see in the end what is stored
    assert len([each for each in asked if "FROM tasks" in each]) == 2


def test_what_was_loaded_before_another_change_is_outdated(database: Database, slug: str) -> None:
    with database.writing() as session:
        before = load_build(session, slug, now=NOW)
        assert before is not None
        store_changes(session, slug, before, replace(before, vehicle="Another"))
        with pytest.raises(RuntimeError, match="the-heron"):
            store_changes(session, slug, before, replace(before, name="Stale"))


def test_a_task_that_others_still_name_is_not_removed(database: Database, slug: str) -> None:
    less = replace(RICH_BUILD, tasks=RICH_BUILD.tasks[1:])
    with pytest.raises(IntegrityError):
        change_stored(database, slug, less)
    with database.reading() as session:
        assert load_build(session, slug, now=NOW) == RICH_BUILD


def test_what_is_on_the_bench_is_kept_and_its_change_is_a_revision(
    database: Database, slug: str
) -> None:
    on = replace(RICH_BUILD, on_bench=RunningClock(task="mount", since=NOW))
    for after in (on, replace(on, on_bench=RunningClock(task="start", since=NOW)), RICH_BUILD):
        with database.writing() as session:
            before = load_build(session, slug, now=NOW)
            revision = revision_of(session, slug)
            assert before is not None
            assert revision is not None
            store_changes(session, slug, before, after)
            assert load_build(session, slug, now=NOW) == after
            assert revision_of(session, slug) == revision + 1


@settings(
    max_examples=25,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(first=builds(), second=builds())
def test_any_build_becomes_any_other(
    database: Database, first: BuildInput, second: BuildInput
) -> None:
    second = replace(second, now=first.now)
    with database.writing() as session:
        slug = create_build(session, first)
        store_changes(session, slug, first, second)
    with database.reading() as session:
        assert load_build(session, slug, now=first.now) == second
        said = {
            (entry.key, entry.change)
            for entry in journal_of(session, slug, 10_000)
            if entry.noun == "tasks" and entry.revision == 2
        }
    was, now = _by_key(first.tasks), _by_key(second.tasks)
    assert {key for key, change in said if change == "added"} == now.keys() - was.keys()
    assert {key for key, change in said if change == "removed"} == was.keys() - now.keys()


def _by_key(things: tuple[Task, ...] | tuple[Part, ...]) -> dict[str, Any]:
    return {thing.key: thing for thing in things}


def test_everything_can_be_taken_out_and_put_in(database: Database, slug: str) -> None:
    empty = BuildInput(name="Empty", now=NOW, first_start=None)
    assert change_stored(database, slug, empty) == empty
    assert change_stored(database, slug, RICH_BUILD) == RICH_BUILD
    twice = replace(
        RICH_BUILD,
        dependencies=(*RICH_BUILD.dependencies, Dependency(before="spare", after="coat")),
    )
    assert change_stored(database, slug, twice) == twice
