"""The clock of the task on the bench."""

import datetime as dt

import pytest
from sqlalchemy.exc import IntegrityError

from tests.storage.rich_build import NOW, RICH_BUILD
from webapp.storage.bench_clock import RunningClock, running_clock, start_clock, stop_clock
from webapp.storage.builds import create_build, revision_of
from webapp.storage.database import Database
from webapp.storage.journal import journal_of


@pytest.fixture
def slug(database: Database) -> str:
    """The address of the rich build in the database."""
    with database.writing() as session:
        return create_build(session, RICH_BUILD)


def clock_of(database: Database, slug: str) -> RunningClock | None:
    """What runs, as another reader sees it."""
    with database.reading() as session:
        return running_clock(session, slug)


def test_a_clock_runs_from_start_to_stop(database: Database, slug: str) -> None:
    assert clock_of(database, slug) is None
    with database.writing() as session:
        start_clock(session, slug, "mount", NOW)
    assert clock_of(database, slug) == RunningClock(task_key="mount", since=NOW)
    with database.writing() as session:
        stop_clock(session, slug)
    assert clock_of(database, slug) is None


def test_beginning_twice_keeps_the_first_moment(database: Database, slug: str) -> None:
    for minutes in (0, 5):
        with database.writing() as session:
            start_clock(session, slug, "mount", NOW + dt.timedelta(minutes=minutes))
    assert clock_of(database, slug) == RunningClock(task_key="mount", since=NOW)


def test_another_task_takes_the_bench(database: Database, slug: str) -> None:
    for key in ("mount", "start"):
        with database.writing() as session:
            start_clock(session, slug, key, NOW)
    assert clock_of(database, slug) == RunningClock(task_key="start", since=NOW)
    with database.reading() as session:
        entries = [(e.key, e.change) for e in journal_of(session, slug, 3)[::-1]]
    assert entries == [("mount", "added"), ("mount", "removed"), ("start", "added")]


def test_the_revision_tells_of_the_clock(database: Database, slug: str) -> None:
    with database.writing() as session:
        stop_clock(session, slug)  # nothing runs: nothing changes
        assert revision_of(session, slug) == 1
        start_clock(session, slug, "mount", NOW)
        assert revision_of(session, slug) == 2
        stop_clock(session, slug)
        assert revision_of(session, slug) == 3


def test_a_task_of_another_build_can_not_be_on_the_bench(database: Database, slug: str) -> None:
    with pytest.raises(IntegrityError), database.writing() as session:
        start_clock(session, slug, "nobody", NOW)
    with pytest.raises(KeyError), database.writing() as session:
        start_clock(session, "no-such-build", "mount", NOW)
