"""The data file while it is open: told from others that come to stand in its place.

A file that is moved, deleted or replaced stays open under its old name, and so does the log
beside it; what is written then goes where nobody will look for it.
"""

import datetime as dt
import sqlite3
import threading
from contextlib import closing
from pathlib import Path

from webapp.storage.photograph_files import copy_photographs, remove_copied_photographs
from webapp.storage.trouble import BUSY_SECONDS, UnusableDatabaseError, told_of

Identity = tuple[int, int]
"""Device and number of a file: no other file has them as long as it is open."""


class DataFile:
    """One open data file. Safe to share between threads.

    A connection of its own, which is in no transaction, keeps the log in its place for as long as
    the file is open: SQLite deletes the log with the last connection.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self._lock = threading.Lock()
        self._kept: Path | None = None
        with told_of(path):
            self._connection = sqlite3.connect(
                path, timeout=BUSY_SECONDS, isolation_level=None, check_same_thread=False
            )
            self._connection.execute("PRAGMA journal_mode=WAL")
            self._connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
        self._opened = {each: _identity(each) for each in (path, *_beside(path))}

    def require_same(self) -> None:
        """Raises `UnusableDatabaseError` unless the file that was opened stands in its place."""
        for each, opened in self._opened.items():
            found = _identity(each)
            if found != opened:
                raise UnusableDatabaseError(self._what_happened(each, found), "gone")
        self._kept = None

    def version(self) -> int:
        """A number that is another one once anybody else has written, in whatever program."""
        return int(self._connection.execute("PRAGMA data_version").fetchone()[0])

    def close(self) -> None:
        """Let go of the file."""
        self._connection.close()

    def _what_happened(self, changed: Path, found: Identity | None) -> str:
        kept = self._keep()
        copy = f" All that was stored before is kept in {kept}." if kept else ""
        if changed != self.path:
            return (
                f"{changed.name}, which belongs to {self.path}, was moved or deleted while the "
                f"program ran, so nothing more was stored.{copy} End the program and start it "
                "again."
            )
        if found is None:
            return (
                f"{self.path} is gone: it was moved, renamed or deleted while the program ran, so "
                f"nothing more was stored.{copy} Put the file back, then try again; or end the "
                "program and start it with the copy in its place."
            )
        return (
            f"Another file stands in the place of {self.path}: it was replaced while the program "
            f"ran, so nothing more was stored.{copy} End the program and start it again to go on "
            "with the new file, or put the old one back and try again."
        )

    def _keep(self) -> Path | None:
        """Write what the program still holds beside the file, once; None where that fails."""
        with self._lock:
            if self._kept is None:
                stamp = dt.datetime.now(dt.UTC).strftime("%Y%m%dT%H%M%SZ")
                copy = self.path.with_name(f"{self.path.stem}.kept.{stamp}{self.path.suffix}")
                try:
                    with closing(sqlite3.connect(copy)) as target:
                        self._connection.backup(target)
                    copy_photographs(self.path, copy)
                    self._kept = copy
                except (sqlite3.Error, OSError):
                    copy.unlink(missing_ok=True)
                    remove_copied_photographs(copy)
            return self._kept


def _beside(path: Path) -> tuple[Path, ...]:
    """What SQLite keeps beside an open file: the log of changes, and its index."""
    return tuple(path.with_name(path.name + ending) for ending in ("-wal", "-shm"))


def _identity(path: Path) -> Identity | None:
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino
