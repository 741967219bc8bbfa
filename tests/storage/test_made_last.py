"""Things of rows that are as they were are not made again, and never where a row is another."""

import random
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from tests.storage.rich_build import RICH_BUILD
from tests.storage.test_changes import change_stored
from tests.storage.test_read_last import read
from tests.stored_files import opened_with, rich_file
from webapp.storage.builds import create_build, delete_build
from webapp.storage.database import Database

STEPPED = next(task for task in RICH_BUILD.tasks if task.steps)


@pytest.fixture
def rich(tmp_path: Path) -> Iterator[tuple[Database, str]]:
    """A database with the rich build, and what it is called there."""
    with closing(opened_with(tmp_path / "keyturn.sqlite3", rich_file())) as opened:
        with opened.reading() as session:
            slug = session.connection().exec_driver_sql("SELECT slug FROM builds").scalar_one()
        yield opened, slug


def from_outside(database: Database, statement: str, *given: object) -> None:
    """As another program writes, past the journal."""
    with closing(sqlite3.connect(database.path)) as other, other:
        other.execute(statement, given)


def test_after_a_change_only_what_it_touched_is_made_anew(rich: tuple[Database, str]) -> None:
    database, slug = rich
    first = read(database, slug)
    second = change_stored(database, slug, replace(first, parts=first.parts[::-1]))
    assert second.parts == first.parts[::-1]
    assert second.tasks is first.tasks
    assert second.plumbing.components is first.plumbing.components
    assert second.shop.week is first.shop.week


def test_what_belongs_to_a_thing_has_the_thing_made_anew(rich: tuple[Database, str]) -> None:
    database, slug = rich
    first = read(database, slug)
    was = STEPPED.steps[0].text
    from_outside(database, "UPDATE task_steps SET text = 'Anew' WHERE text = ?", was)
    texts = [step.text for task in read(database, slug).tasks for step in task.steps]
    assert "Anew" in texts
    assert was not in texts
    assert read(database, slug).parts is first.parts


def test_another_build_and_one_in_the_place_of_a_deleted_one_are_their_own(
    rich: tuple[Database, str],
) -> None:
    database, slug = rich
    first = read(database, slug)
    with database.writing() as session:
        second = create_build(session, replace(RICH_BUILD, name="The Gull", log=()))
    assert read(database, second).log == ()
    assert read(database, slug) == first
    with database.writing() as session:
        delete_build(session, second)
    with database.writing() as session:
        third = create_build(session, replace(RICH_BUILD, name="The Tern", photographs=()))
    assert read(database, third).photographs == ()
    assert read(database, third).log == first.log


def test_whatever_is_changed_by_whomever_is_what_a_new_connection_reads(
    rich: tuple[Database, str],
) -> None:
    database, slug = rich
    plumbing = RICH_BUILD.plumbing
    renamed = tuple(replace(each, name=f"{each.name}, anew") for each in plumbing.components)
    builds = (
        RICH_BUILD,
        replace(RICH_BUILD, log=()),
        replace(RICH_BUILD, log=RICH_BUILD.log[::-1], photographs=()),
        replace(RICH_BUILD, parts=tuple(replace(each, supplier="") for each in RICH_BUILD.parts)),
        replace(RICH_BUILD, plumbing=replace(plumbing, components=renamed)),
        replace(RICH_BUILD, wishes=RICH_BUILD.wishes[::-1]),
        replace(RICH_BUILD, tasks=RICH_BUILD.tasks[::-1]),
        replace(RICH_BUILD, tasks=tuple(replace(each, steps=()) for each in RICH_BUILD.tasks)),
    )
    outside = (
        ("UPDATE tasks SET name = ? WHERE key = ?", STEPPED.key),
        ("UPDATE task_steps SET text = ? WHERE task_key = ?", STEPPED.key),
        ("UPDATE builds SET vehicle = ? WHERE slug = ?", slug),
    )
    chance = random.Random("whoever changes")
    seen = set()
    for number in range(60):
        if chance.random() < 0.6:
            change_stored(database, slug, replace(chance.choice(builds), name=RICH_BUILD.name))
        else:
            statement, key = chance.choice(outside)
            from_outside(database, statement, f"Written {number}", key)
        here = read(database, slug)
        with closing(Database.open(database.path)) as fresh:
            assert here == read(fresh, slug)
        seen.add(here)
    assert len(seen) > 20
