"""The files of photographs: beside the database, in a folder that is named after it.

A file is called by the digest of what is in it, so that it is never changed, and the same picture
is kept once. It is on disk before any row names it, and it stays for as long as a row or the
journal of a build that is there names it: Undo brings back what was removed.
"""

import hashlib
import os
import re
import shutil
import time
from collections.abc import Iterable, Iterator
from pathlib import Path

from sqlalchemy import select
from sqlmodel import Session, col

from webapp.build.build_input import Photograph
from webapp.storage.tables import BuildRow, JournalRow, PhotographRow
from webapp.storage.trouble import trouble_with_file

SWEPT_AFTER_SECONDS = 24 * 3600
"""A file that no row names is left alone so long: its row may be on its way."""
_DIGEST = re.compile(r"[0-9a-f]{64}")
_PART = ".part"
WHOLE, SMALL = ".jpg", ".small.jpg"


def folder_of(data_file: Path) -> Path:
    """Where the photographs of a data file are."""
    return data_file.with_name(f"{data_file.name}.photographs")


def digest_of(jpeg: bytes) -> str:
    """What a picture is called by: SHA-256, in hexadecimal digits."""
    return hashlib.sha256(jpeg).hexdigest()


class PhotographFiles:
    """The files of one data file. Safe to share between threads, and with other programs."""

    def __init__(self, data_file: Path) -> None:
        self.folder = folder_of(data_file)

    def keep(self, jpeg: bytes, small_jpeg: bytes) -> str:
        """Put a picture on disk, unless it is there, and return its digest.

        Raises `UnusableDatabaseError` where the disk does not take it; then there is no such file.
        """
        digest = digest_of(jpeg)
        with trouble_with_file(self.folder):
            if not self.folder.is_dir():
                self.folder.mkdir(exist_ok=True)
                to_disk(self.folder.parent)
            self._write(f"{digest}{SMALL}", small_jpeg)
            self._write(f"{digest}{WHOLE}", jpeg)
            to_disk(self.folder)
        return digest

    def read(self, digest: str, *, small: bool = False) -> bytes | None:
        """The JPEG of a digest, None where its file is not there; for a small one also the whole.

        What the digest stands for is what was kept: nothing else is looked for in the folder.
        """
        if not _DIGEST.fullmatch(digest):
            return None
        for ending in (SMALL, WHOLE) if small else (WHOLE,):
            try:
                return (self.folder / f"{digest}{ending}").read_bytes()
            except OSError:
                continue
        return None

    def has(self, digest: str) -> bool:
        """Whether the file of a picture is there."""
        return bool(_DIGEST.fullmatch(digest)) and (self.folder / f"{digest}{WHOLE}").is_file()

    def lost(self, photographs: Iterable[Photograph]) -> int:
        """How many of them have no file here."""
        return sum(not self.has(each.digest) for each in photographs)

    def _write(self, name: str, content: bytes) -> None:
        """A whole file under its name, or none: written beside it and put in its place on disk."""
        path = self.folder / name
        try:
            if path.stat().st_size == len(content) and path.read_bytes() == content:
                os.utime(path)  # somebody is about to name it
                return
        except OSError:
            pass
        beside = self.folder / f".{name}.{os.getpid()}-{os.urandom(6).hex()}{_PART}"
        try:
            with beside.open("wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
            beside.replace(path)
        finally:
            beside.unlink(missing_ok=True)

    def sweep(self, session: Session) -> int:
        """Remove what no build that is there names any more, and say how many files that were.

        `session` may only read: a file that a row is on its way to is younger than a day.
        """
        if not self.folder.is_dir():
            return 0
        named, before = _named_in(session), time.time() - SWEPT_AFTER_SECONDS
        removed = 0
        for path in self._files():
            is_named = not path.name.endswith(_PART) and path.name.split(".", 1)[0] in named
            try:
                if not is_named and path.stat().st_mtime < before:
                    path.unlink()
                    removed += 1
            except OSError:
                continue  # it goes another time
        return removed

    def _files(self) -> Iterator[Path]:
        """The files of this program in the folder; others that lie there are somebody's own."""
        for path in sorted(self.folder.iterdir()):
            digest, _, ending = path.name.removeprefix(".").partition(".")
            if _DIGEST.fullmatch(digest) and ending.endswith((WHOLE[1:], _PART)):
                yield path


def is_of_build(session: Session, slug: str, digest: str) -> bool:
    """Whether a task of the build has the picture."""
    found = session.execute(
        select(col(PhotographRow.id))
        .join(BuildRow, col(BuildRow.id) == col(PhotographRow.build_id))
        .where(col(BuildRow.slug) == slug, col(PhotographRow.digest) == digest)
        .limit(1)
    )
    return found.first() is not None


def _named_in(session: Session) -> set[str]:
    """The digests in rows, and in the journals of builds that are there."""
    rows = session.execute(select(col(PhotographRow.digest))).scalars()
    entries = session.execute(
        select(col(JournalRow.key))
        .where(col(JournalRow.noun) == str(PhotographRow.__tablename__))
        .where(col(JournalRow.slug).in_(select(col(BuildRow.slug))))
    ).scalars()
    return {*rows, *(key.rpartition(" / ")[2] for key in entries)}


def copy_photographs(data_file: Path, copy: Path) -> None:
    """Take the photographs of a data file along with a copy of it.

    By hard links where the disk has them: no file is ever written into, so each is as good as two.
    Raises OSError.
    """
    source, target = folder_of(data_file), folder_of(copy)
    if not source.is_dir():
        return
    target.mkdir(exist_ok=True)
    for path in source.iterdir():
        if path.name.endswith(_PART) or not path.is_file():
            continue
        there = target / path.name
        if there.exists():
            continue
        try:
            os.link(path, there)
        except FileExistsError:
            continue
        except OSError:
            shutil.copy2(path, there)
    to_disk(target)


def remove_copied_photographs(copy: Path) -> None:
    """Take away what went along with a copy that failed."""
    shutil.rmtree(folder_of(copy), ignore_errors=True)


def to_disk(path: Path) -> None:
    """See that a file, or the names in a folder, are on disk, where that can be asked for."""
    try:
        opened = os.open(path, os.O_RDONLY)
    except OSError:
        return  # Windows opens no folders
    try:
        os.fsync(opened)
    finally:
        os.close(opened)
