"""Copies of a data file: made while the program runs, named by their moment, rotated.

They lie in a folder beside the data file, which is named after it, and may be carried to another
folder. Photographs lie beside one another in one folder for all copies: a file of a picture never
changes, so it is there once.
"""

import datetime as dt
import re
import shutil
import sqlite3
import time
from collections.abc import Callable, Iterable
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from webapp.storage.photograph_files import copy_photographs, folder_of, to_disk
from webapp.storage.soundness import require_sound
from webapp.storage.tables import INSTALLATION
from webapp.storage.trouble import (
    BUSY_SECONDS,
    UnusableDatabaseError,
    damaged,
    told_of,
    trouble_with_file,
)

DAYS_KEPT, WEEKS_KEPT, MONTHS_KEPT = 7, 4, 12
"""Of so many days, ISO weeks and months that have a copy, the newest copy is kept."""
KEPT_AT_LEAST = dt.timedelta(days=1)
"""No copy goes before it is so old, however many there are."""
_STAMP = "%Y%m%dT%H%M%S%fZ"
_NAME = re.compile(r"(?P<stem>.+)\.(?P<stamp>\d{8}T\d{12}Z)\.sqlite3")
_PART = ".part"


@dataclass(frozen=True, slots=True, kw_only=True)
class Copy:
    """A whole copy of a data file; `made_at` is in UTC."""

    path: Path
    made_at: dt.datetime

    @property
    def name(self) -> str:
        """What it is called, in the folder and in addresses."""
        return self.path.name


def copies_folder(data_file: Path) -> Path:
    """Where the copies of a data file are."""
    return data_file.with_name(f"{data_file.name}.copies")


def photographs_of_copies(folder: Path) -> Path:
    """The photographs of all copies in a folder, as if they were those of a data file there."""
    return folder_of(folder / "copies")


def copies_in(folder: Path) -> tuple[Copy, ...]:
    """The copies in a folder, the newest first; files of others are left out."""
    try:
        found = [copy for path in folder.iterdir() if (copy := copy_at(path)) is not None]
    except OSError:
        return ()
    return tuple(sorted(found, key=lambda copy: (copy.made_at, copy.name), reverse=True))


def copy_at(path: Path) -> Copy | None:
    """The copy that a file is by its name, None where it is none."""
    named = _NAME.fullmatch(path.name)
    if named is None or not path.is_file():
        return None
    try:
        made_at = dt.datetime.strptime(named["stamp"], _STAMP).replace(tzinfo=dt.UTC)
    except ValueError:
        return None
    return Copy(path=path, made_at=made_at)


def make_copy(
    data_file: Path, *, at: dt.datetime, is_good: Callable[[Path], None] = require_sound
) -> Copy:
    """Copy the data file as it is at this moment, look it over, then give it its name.

    Parameters
    ----------
    at : in UTC
    is_good : raises `UnusableDatabaseError` where the copy is not to be relied on

    Raises
    ------
    UnusableDatabaseError
        Where the data file or the disk does not allow it, or the copy is not good; then there is
        no such copy.
    """
    folder = copies_folder(data_file)
    with trouble_with_file(folder):
        folder.mkdir(exist_ok=True)
        _sweep_parts(folder)
    final = folder / f"{data_file.stem}.{at.strftime(_STAMP)}.sqlite3"
    part = folder / f".{final.name}{_PART}"
    try:
        with told_of(data_file), trouble_with_file(folder):
            if not data_file.is_file():
                raise UnusableDatabaseError(
                    f"There is no data file {data_file}, so there is nothing to copy.", "gone"
                )
            write_whole(data_file, part)
            is_good(part)
            copy_photographs(data_file, folder / "copies")
            to_disk(part)
            part.replace(final)
            to_disk(folder)
    finally:
        part.unlink(missing_ok=True)
    return Copy(path=final, made_at=at)


def carry_over(copy: Copy, folder: Path) -> Copy:
    """Have a copy in another folder too, its photographs with it. Raises OSError."""
    folder.mkdir(parents=True, exist_ok=True)
    _sweep_parts(folder)
    final = folder / copy.name
    if not final.exists():
        part = folder / f".{copy.name}{_PART}"
        try:
            shutil.copyfile(copy.path, part)
            to_disk(part)
            part.replace(final)
        finally:
            part.unlink(missing_ok=True)
    copy_photographs(copy.path.parent / "copies", folder / "copies")
    to_disk(folder)
    return Copy(path=final, made_at=copy.made_at)


def kept_of(copies: Iterable[Copy], *, at: dt.datetime) -> frozenset[Copy]:
    """Which copies stay: the newest of the last days, weeks and months that have one.

    Days are those of the machine's own time, as the person counts them.
    """
    newest_first = sorted(copies, key=lambda copy: copy.made_at, reverse=True)
    kept = {copy for copy in newest_first if at - copy.made_at < KEPT_AT_LEAST}
    spans: tuple[tuple[int, Callable[[dt.date], object]], ...] = (
        (DAYS_KEPT, lambda day: day),
        (WEEKS_KEPT, lambda day: day.isocalendar()[:2]),
        (MONTHS_KEPT, lambda day: (day.year, day.month)),
    )
    for most, span_of in spans:
        newest: dict[object, Copy] = {}
        for copy in newest_first:
            newest.setdefault(span_of(copy.made_at.astimezone().date()), copy)
        kept.update(list(newest.values())[:most])
    return frozenset(kept)


def rotate(folder: Path, *, at: dt.datetime) -> tuple[Copy, ...]:
    """Remove the copies that are not kept any longer; what was removed. Raises OSError."""
    copies = copies_in(folder)
    kept = kept_of(copies, at=at)
    gone = tuple(copy for copy in copies if copy not in kept)
    for copy in gone:
        copy.path.unlink(missing_ok=True)
    if gone:
        _sweep_photographs(folder)
    return gone


def write_whole(data_file: Path, part: Path) -> None:
    """One moment of the data file, which is only read, as one file without a log beside it.

    What belongs to the machine (paired devices) stays behind: it is not to come back with a copy.

    Raises `UnusableDatabaseError` where one of its rows refers to nothing, and sqlite3.Error.
    """
    address = f"{data_file.resolve().as_uri()}?mode=ro"
    with (
        closing(sqlite3.connect(address, uri=True, timeout=BUSY_SECONDS)) as source,
        closing(sqlite3.connect(part)) as target,
    ):
        source.backup(target)
        target.execute("PRAGMA journal_mode=DELETE")
        _leave_installation_out(target)
        if broken := target.execute("PRAGMA foreign_key_check").fetchone():
            raise damaged(data_file, f"a row of its table {broken[0]} refers to nothing")


def _leave_installation_out(file: sqlite3.Connection) -> None:
    there = {name for (name,) in file.execute("SELECT name FROM sqlite_master")}
    for each in INSTALLATION:
        if each.__tablename__ in there:
            file.execute(f"DELETE FROM {each.__tablename__}")
    file.commit()


def _sweep_photographs(folder: Path) -> None:
    """Remove the pictures that none of the copies in a folder names."""
    named: set[str] = set()
    for copy in copies_in(folder):
        try:
            named |= _named_in(copy)
        except sqlite3.Error:
            return  # of a schema without photographs, or not to be read: nothing goes
    pictures = photographs_of_copies(folder)
    for path in pictures.iterdir() if pictures.is_dir() else ():
        if path.name.split(".", 1)[0] not in named:
            path.unlink(missing_ok=True)


def _named_in(copy: Copy) -> set[str]:
    """The digests of the photographs that a copy names, in its journal too."""
    with closing(sqlite3.connect(f"{copy.path.as_uri()}?mode=ro", uri=True)) as file:
        rows = {key for (key,) in file.execute("SELECT digest FROM photographs")}
        journaled = file.execute("SELECT key FROM journal WHERE noun = 'photographs'")
        return rows | {key.rpartition(" / ")[2] for (key,) in journaled}


def _sweep_parts(folder: Path) -> None:
    """Remove what a program left that was killed while it made a copy, an hour ago or more."""
    before = time.time() - 3600
    for path in folder.glob(f".*{_PART}*"):
        try:
            if path.stat().st_mtime < before:
                path.unlink()
        except FileNotFoundError:
            continue  # another program swept it
