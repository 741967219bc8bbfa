"""The scope history: told from the journal, task by task."""

import datetime as dt
import time
from dataclasses import replace

import pytest

from tests.storage.rich_build import NOW, RICH_BUILD
from webapp.build.build_input import BuildInput, Task
from webapp.build.three_point import ThreePoint
from webapp.storage.build_loader import load_build
from webapp.storage.builds import create_build, delete_build
from webapp.storage.changes import store_changes
from webapp.storage.database import Database
from webapp.storage.scope_history import ScopeChange, scope_history

LAMP = Task(
    key="fit-lamp",
    name="Fit the lamp",
    hours=ThreePoint(optimistic=1, most_likely=2, pessimistic=3),
    wish="lamp",
)


@pytest.fixture
def slug(database: Database) -> str:
    with database.writing() as session:
        return create_build(session, RICH_BUILD)


def change(database: Database, slug: str, **of: object) -> None:
    """Add, change or take out the lamp's task: `of` are its new fields, `gone` takes it out."""
    with database.writing() as session:
        before = load_build(session, slug, now=NOW)
        assert before is not None
        lamps = [t for t in before.tasks if t.key == LAMP.key] or [LAMP]
        others = tuple(t for t in before.tasks if t.key != LAMP.key)
        new = () if of.pop("gone", False) else (replace(lamps[0], **of),)  # type: ignore[arg-type]
        store_changes(session, slug, before, replace(before, tasks=(*others, *new)))


def history(database: Database, slug: str) -> tuple[ScopeChange, ...]:
    with database.reading() as session:
        return scope_history(session, slug)


def told(database: Database, slug: str) -> list[tuple[str, float, float]]:
    return [(c.kind, c.hours_before, c.hours_after) for c in history(database, slug)]


def test_the_build_itself_is_no_change(database: Database, slug: str) -> None:
    assert history(database, slug) == ()


def test_a_task_added_re_estimated_and_taken_out_is_told_in_that_order(
    database: Database, slug: str
) -> None:
    change(database, slug)
    change(database, slug, hours=ThreePoint(optimistic=1, most_likely=4, pessimistic=13))
    change(database, slug, gone=True)
    # (1 + 4*2 + 3)/6 = 2 h; (1 + 4*4 + 13)/6 = 5 h
    assert told(database, slug) == [
        ("added", 0.0, 2.0),
        ("re-estimated", 2.0, 5.0),
        ("dropped", 5.0, 0.0),
    ]
    first = history(database, slug)[0]
    assert (first.task, first.name, first.wish) == ("fit-lamp", "Fit the lamp", "lamp")
    assert abs(dt.datetime.now() - first.at) < dt.timedelta(minutes=1)


def test_a_task_of_the_first_plan_is_told_with_the_hours_it_came_with(
    database: Database, slug: str
) -> None:
    start = RICH_BUILD.tasks[-1]
    longer = replace(start, hours=ThreePoint.certain(4.0))
    after = replace(RICH_BUILD, tasks=(*RICH_BUILD.tasks[:-1], longer))
    with database.writing() as session:
        store_changes(session, slug, RICH_BUILD, after)
    assert told(database, slug) == [("re-estimated", 1.0, 4.0)]


def test_a_task_set_aside_is_dropped_and_taken_up_again_added(
    database: Database, slug: str
) -> None:
    change(database, slug)
    change(database, slug, set_aside_on=NOW.date())
    change(database, slug, hours=ThreePoint.certain(7.0))
    change(database, slug, set_aside_on=None)
    assert told(database, slug) == [
        ("added", 0.0, 2.0),
        ("dropped", 2.0, 0.0),
        ("added", 0.0, 7.0),
    ]


def test_what_is_no_estimate_is_no_change_of_scope(database: Database, slug: str) -> None:
    change(database, slug)
    change(database, slug, begun_on=NOW.date(), hours_left=1.0, notes="Slow.", name="Lamp")
    change(database, slug, finished_on=NOW, hours_left=None)
    assert told(database, slug) == [("added", 0.0, 2.0)]


def test_a_later_build_under_the_same_address_has_a_history_of_its_own(
    database: Database, slug: str
) -> None:
    change(database, slug)
    with database.writing() as session:
        delete_build(session, slug)
    assert history(database, slug) == ()
    with database.writing() as session:
        assert create_build(session, RICH_BUILD) == slug
    assert history(database, slug) == ()
    change(database, slug)
    assert told(database, slug) == [("added", 0.0, 2.0)]


def test_years_of_journal_take_no_time(database: Database) -> None:
    """Two and a half years of 20 new estimates every week, and 250 tasks: 0.05 s of processor.

    What this thread has of the processor is counted: on a busy machine the clock goes on.
    """
    tasks = tuple(Task(key=f"t{n}", name="x", hours=ThreePoint.certain(n)) for n in range(250))
    build = BuildInput(name="Long", now=NOW, first_start="t0", tasks=tasks)
    with database.writing() as session:
        slug = create_build(session, build)
        for turn in range(11):
            changed = tuple(replace(t, hours=ThreePoint.certain(turn + 0.5)) for t in tasks)
            after = replace(build, tasks=changed)
            store_changes(session, slug, build, after)
            build = after
    began = time.thread_time()
    changes = history(database, slug)
    assert time.thread_time() - began < 1
    assert len(changes) == 2750
