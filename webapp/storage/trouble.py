"""What can stand in the way of the data file, each told in sentences that say what to do."""

import errno
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Literal

BUSY_SECONDS = 10
"""How long a program waits for another that holds the data file."""
FULL_BELOW_BYTES = 256 * 1024
"""With less room than this on the disk, what it does not take it does not take for want of it."""

TroubleKind = Literal["full", "held", "locked", "disk", "damaged", "gone", "foreign"]


class UnusableDatabaseError(Exception):
    """The data file can not be used, and nothing was stored; the message says what to do.

    `kind`: the disk is full, another program holds the file, it may not be written (locked), the
    disk does not answer, the file is damaged, it is gone or replaced, it is no file of this
    program (foreign).
    """

    def __init__(self, text: str, kind: TroubleKind) -> None:
        super().__init__(text)
        self.kind: TroubleKind = kind


@contextmanager
def told_of(path: Path, *, only_reading: bool = False) -> Iterator[None]:
    """Turn what the database says of trouble with the file into `UnusableDatabaseError`.

    What no person can mend (a mistake in a statement, a write in a session that only reads) is
    raised as it is.
    """
    try:
        yield
    except Exception as error:
        trouble = _trouble_with(path, error, only_reading)
        if trouble is None:
            raise
        raise trouble from error


@contextmanager
def trouble_with_file(path: Path) -> Iterator[None]:
    """Turn what the system says of a file or folder beside the database into the same."""
    try:
        yield
    except OSError as error:
        if error.errno in (errno.ENOSPC, errno.EDQUOT) or _has_no_room(path):
            raise _full(path) from error
        if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
            raise UnusableDatabaseError(
                f"{path} may not be written, so nothing was stored. Give yourself the right to "
                "write there, see that the disk is not locked, then try again.",
                "locked",
            ) from error
        raise UnusableDatabaseError(
            f"The disk does not take what belongs into {path} ({error.strerror}), so nothing was "
            "stored. See that it is connected and sound, and that nothing else stands in its "
            "place, then try again.",
            "disk",
        ) from error


def damaged(path: Path, found: str) -> UnusableDatabaseError:
    """The file holds what no program has written; `found` says where."""
    return UnusableDatabaseError(
        f"{path} is damaged ({found}), and nothing was changed in it. Keep it as it is, for "
        "whoever may still read it, and put back a copy.",
        "damaged",
    )


def _trouble_with(path: Path, error: Exception, only_reading: bool) -> UnusableDatabaseError | None:
    said = getattr(error, "orig", error)  # what SQLAlchemy wraps
    if not isinstance(said, sqlite3.Error):
        return None
    code = getattr(said, "sqlite_errorcode", None)
    if code is None:
        return damaged(path, str(said)) if "decode" in str(said) else None
    if only_reading and code == sqlite3.SQLITE_READONLY:
        return None
    return _trouble_of_code(path, code & 0xFF, str(said))


def _trouble_of_code(path: Path, code: int, said: str) -> UnusableDatabaseError | None:
    """The trouble behind a result code (https://www.sqlite.org/rescode.html)."""
    match code:
        case sqlite3.SQLITE_FULL:
            return _full(path)
        case sqlite3.SQLITE_IOERR | sqlite3.SQLITE_CANTOPEN if _has_no_room(path):
            return _full(path)
        case sqlite3.SQLITE_BUSY | sqlite3.SQLITE_LOCKED | sqlite3.SQLITE_PROTOCOL:
            return UnusableDatabaseError(
                f"Another program has held {path} for {BUSY_SECONDS} seconds, so nothing was "
                "stored. Find it (a backup, a viewer of databases, this program a second time), "
                "end it, then try again.",
                "held",
            )
        case sqlite3.SQLITE_READONLY:
            return UnusableDatabaseError(
                f"{path} may not be written, so nothing was stored. Give yourself the right to "
                f"write the file and the folder {path.parent}, see that the disk is not locked, "
                "then try again.",
                "locked",
            )
        case sqlite3.SQLITE_IOERR:
            return UnusableDatabaseError(
                f"The disk does not take or give what belongs to {path} ({said}), so nothing was "
                "stored. See that it is connected and sound, then try again.",
                "disk",
            )
        case sqlite3.SQLITE_CANTOPEN | sqlite3.SQLITE_PERM | sqlite3.SQLITE_AUTH:
            return UnusableDatabaseError(
                f"The database {path} can not be opened ({said}). Check that it is a file, that "
                f"you may write it and the folder {path.parent}, or name another.",
                "locked",
            )
        case sqlite3.SQLITE_NOTADB:
            return UnusableDatabaseError(
                f"{path} is not a database of this program, or its beginning is damaged. Name "
                "another file, or put back a copy.",
                "foreign",
            )
        case sqlite3.SQLITE_CORRUPT:
            return damaged(path, said)
    return None


def _full(path: Path) -> UnusableDatabaseError:
    return UnusableDatabaseError(
        f"The disk that holds {path} is full, so nothing was stored. Make room on it, then try "
        "again; what was stored before is safe.",
        "full",
    )


def _has_no_room(path: Path) -> bool:
    try:
        return shutil.disk_usage(path.parent).free < FULL_BELOW_BYTES
    except OSError:
        return False
