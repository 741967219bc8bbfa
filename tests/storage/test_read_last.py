"""What a connection read last is at hand, and never where the file holds something else."""

import datetime as dt
import random
import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace

import pytest

from tests.storage.rich_build import NOW, RICH_BUILD
from webapp.build.build_input import BuildInput
from webapp.storage.build_loader import load_build
from webapp.storage.builds import build_row, create_build, delete_build
from webapp.storage.changes import store_changes
from webapp.storage.database import Database
from webapp.storage.read_last import MOST_BUILDS, read_last

SLUG = "the-heron"


@pytest.fixture
def heron(database: Database) -> Database:
    """A data file with the build in it."""
    with database.writing() as session:
        assert create_build(session, replace(RICH_BUILD, name="The Heron")) == SLUG
    return database


def read(database: Database, slug: str = SLUG, now: dt.datetime = NOW) -> BuildInput:
    with database.reading() as session:
        build = load_build(session, slug, now=now)
    assert build is not None
    return build


def renamed(database: Database, name: str) -> None:
    """Changed as the program changes it."""
    with database.writing() as session:
        before = load_build(session, SLUG, now=NOW)
        assert before is not None
        store_changes(session, SLUG, before, replace(before, vehicle=name))


def renamed_from_outside(database: Database, name: str) -> None:
    """Changed by another program, past the journal and the number of the last change."""
    with closing(sqlite3.connect(database.path)) as other, other:
        other.execute("UPDATE builds SET vehicle = ?", (name,))


def test_a_build_that_nobody_wrote_to_is_not_read_again(heron: Database) -> None:
    there = read(heron)
    assert read(heron) is there
    later = NOW + dt.timedelta(hours=1)
    assert read(heron, now=later) == replace(there, now=later)
    with heron.writing() as session:
        assert load_build(session, SLUG, now=NOW) is there


@pytest.mark.parametrize("rename", [renamed, renamed_from_outside])
def test_whoever_wrote_what_is_read_is_what_is_there(
    heron: Database, rename: Callable[[Database, str], None]
) -> None:
    for name in ("A van", "A lorry", "A van"):
        assert read(heron).vehicle != name
        rename(heron, name)
        assert read(heron).vehicle == name


def test_a_transaction_sees_what_it_wrote_and_nobody_what_it_took_back(heron: Database) -> None:
    before = read(heron)

    class TakenBackError(Exception):
        pass

    def written_and_taken_back() -> None:
        with heron.writing() as session:
            build_row(session, SLUG).vehicle = "A van"  # waits to be written
            seen = load_build(session, SLUG, now=NOW)
            assert seen is not None
            assert seen.vehicle == "A van"
            raise TakenBackError

    with pytest.raises(TakenBackError):
        written_and_taken_back()
    assert read(heron) == before


def test_one_that_reads_on_sees_one_state_while_another_writes(heron: Database) -> None:
    with heron.reading() as session:
        first = load_build(session, SLUG, now=NOW)
        renamed(heron, "A van")
        assert load_build(session, SLUG, now=NOW) == first
    assert read(heron).vehicle == "A van"


def test_a_file_that_is_put_back_is_read_anew(heron: Database) -> None:
    copy = heron.path.with_name("copy.sqlite3")
    with closing(sqlite3.connect(heron.path)) as here, closing(sqlite3.connect(copy)) as there:
        here.backup(there)
    before = read(heron)
    renamed(heron, "A van")
    assert read(heron) != before
    heron.take_whole(copy)
    assert read(heron) == before


def test_a_build_that_was_deleted_is_gone(heron: Database) -> None:
    read(heron)
    with heron.writing() as session:
        delete_build(session, SLUG)
    with heron.reading() as session:
        assert load_build(session, SLUG, now=NOW) is None


def test_no_more_than_a_few_are_kept(heron: Database) -> None:
    with heron.writing() as session:
        slugs = [
            create_build(session, replace(RICH_BUILD, name=f"Build {number}"))
            for number in range(MOST_BUILDS + 2)
        ]
    for slug in slugs:
        read(heron, slug)
        with heron.reading() as session:
            assert slug in (kept := read_last(session.connection()))
            assert len(kept) <= MOST_BUILDS


def test_whatever_is_written_by_whomever_no_reading_differs_from_the_file(heron: Database) -> None:
    """Three who write and read in any order, each time beside a connection that keeps nothing."""
    chance = random.Random("whoever reads")
    with closing(Database.open(heron.path)) as second:
        for number in range(120):
            database = chance.choice((heron, second))
            kind = chance.choice((renamed, renamed_from_outside, None, None))
            if kind is not None:
                kind(database, f"A van of {number}")
            seen = read(chance.choice((heron, second)))
            with closing(sqlite3.connect(heron.path)) as fresh:
                (vehicle,) = fresh.execute("SELECT vehicle FROM builds").fetchone()
            assert seen.vehicle == vehicle
