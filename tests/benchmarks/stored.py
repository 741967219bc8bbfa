"""How long a stored build takes to load and to change, in the process of the program."""

import tempfile
from contextlib import closing
from dataclasses import replace
from pathlib import Path

from tests.benchmarks.timing import Table, best_of
from tests.benchmarks.workshop_builds import NOW, workshop_build
from webapp.storage.build_loader import load_build
from webapp.storage.builds import create_build
from webapp.storage.changes import store_changes
from webapp.storage.database import Database

ASKED = 200


def stored_build(table: Table) -> None:
    """Load a build of 500 tasks, and store a change of one of them."""
    with (
        tempfile.TemporaryDirectory() as folder,
        closing(Database.open(Path(folder) / "builds.sqlite3")) as database,
    ):
        with database.writing() as session:
            slug = create_build(session, workshop_build(500))
        for what, work in (("load", _load), ("change one of", _change)):
            seconds = best_of(ASKED, lambda work=work: work(database, slug))  # type: ignore[misc]
            table.row(f"{what} 500 tasks", f"{seconds * 1e3:.1f} ms", seconds)


def _load(database: Database, slug: str) -> None:
    with database.reading() as session:
        load_build(session, slug, now=NOW)


def _change(database: Database, slug: str) -> None:
    with database.writing() as session:
        before = load_build(session, slug, now=NOW)
        assert before is not None
        first, *rest = before.tasks
        first = replace(first, notes=f"{first.notes}.")
        store_changes(session, slug, before, replace(before, tasks=(first, *rest)))
