"""A copy put back: made fit for the present program beside the data file, then taken whole."""

import datetime as dt
import shutil
from collections.abc import Iterator, Mapping
from contextlib import closing, contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory, gettempdir

from sqlalchemy import select
from sqlmodel import col

from webapp.build.openings import as_copied
from webapp.storage.build_loader import load_build
from webapp.storage.builds import list_builds
from webapp.storage.changes import store_changes
from webapp.storage.copies import Copy, write_whole
from webapp.storage.database import Database
from webapp.storage.devices import carry_installation
from webapp.storage.photograph_files import copy_photographs, to_disk
from webapp.storage.soundness import require_sound
from webapp.storage.tables import BuildRow
from webapp.storage.trouble import UnusableDatabaseError, told_of, trouble_with_file


@contextmanager
def opened_apart(path: Path) -> Iterator[Database]:
    """A data file or copy as the present program reads it, brought to its schema in a folder apart.

    The file itself is read only. Raises `UnusableDatabaseError`.
    """
    if not path.is_file():
        raise UnusableDatabaseError(f"There is no file {path}.", "gone")
    require_sound(path)
    with trouble_with_file(Path(gettempdir())):
        made = TemporaryDirectory(prefix="keyturn-")
    with made as folder:
        apart = Path(folder) / "keyturn.sqlite3"
        with told_of(path):
            write_whole(path, apart)
        with told_of(path), closing(Database.open(apart)) as database:
            yield database


def revisions_of(database: Database) -> dict[str, int]:
    """The number of the last change of each build, by its slug."""
    with database.reading() as session:
        rows = session.execute(select(col(BuildRow.slug), col(BuildRow.revision))).all()
    return {str(row.slug): int(row.revision) for row in rows}


def take_back_whole(database: Database, copy: Copy, *, at: dt.datetime) -> None:
    """Have the data file hold what the copy holds, its photographs with it, in one step.

    The changes of each build are counted on from the present, so that nothing that was shown of
    the present is taken for what the copy holds. `at` is the moment in naive local time: what was
    signed for the day of first start is asked anew from then. Who is paired with the machine
    stays as it is. Raises `UnusableDatabaseError`.
    """
    present = revisions_of(database)
    with opened_apart(copy.path) as apart:
        _count_on(apart, present, at)
        carry_installation(database, apart)
        apart.close()  # brings the log into the file
        with trouble_with_file(database.path):
            copy_photographs(copy.path.parent / "copies", database.path)
        database.take_whole(apart.path)


def put_in_place(copy: Copy, data_file: Path, *, at: dt.datetime) -> Path | None:
    """Have a copy for a data file that is damaged or gone; where the damaged one is kept.

    `at` is the moment in naive local time. Nobody may have the data file open. Raises
    `UnusableDatabaseError` or OSError.
    """
    with opened_apart(copy.path) as apart:
        _count_on(apart, {}, at)
        apart.close()
        copy_photographs(copy.path.parent / "copies", data_file)
        part = data_file.with_name(f".{data_file.name}.part")
        shutil.copyfile(apart.path, part)
        to_disk(part)
        aside = _set_aside(data_file)
        part.replace(data_file)
        to_disk(data_file.parent)
    return aside


def _set_aside(data_file: Path) -> Path | None:
    """Rename a damaged data file, and the log beside it, so that a good one can take its name.

    It is named with the time in UTC, as every file that is set aside.
    """
    stamp = dt.datetime.now(dt.UTC).strftime("%Y%m%dT%H%M%SZ")
    aside = data_file.with_name(f"{data_file.stem}.damaged.{stamp}{data_file.suffix}")
    found = False
    for ending in ("-wal", "-shm", "-journal", ""):
        path = data_file.with_name(data_file.name + ending)
        if path.exists():
            path.rename(aside.with_name(aside.name + ending))
            found = True
    return aside if found else None


def _count_on(apart: Database, present: Mapping[str, int], at: dt.datetime) -> None:
    with apart.writing() as session:
        for heading in list_builds(session):
            build = load_build(session, heading.slug, now=at)
            if build is not None:
                store_changes(session, heading.slug, build, as_copied(build, at=at))
        for row in session.execute(select(BuildRow)).scalars():
            row.revision = max(row.revision, present.get(row.slug, 0)) + 2
