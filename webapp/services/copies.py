"""Copies of the data file: one every day it is used, looked over, and put back when asked for."""

import datetime as dt
import logging
import threading
from dataclasses import dataclass
from pathlib import Path

from webapp.build.checks.input_checks import faults_of
from webapp.planning.order.kept_order import plan_that_holds
from webapp.settings import Settings
from webapp.storage.build_loader import load_build
from webapp.storage.builds import list_builds
from webapp.storage.copies import (
    Copy,
    carry_over,
    copies_folder,
    copies_in,
    make_copy,
    rotate,
)
from webapp.storage.database import Database
from webapp.storage.putting_back import opened_apart, take_back_whole
from webapp.storage.trouble import UnusableDatabaseError

FIRST_AFTER_SECONDS = 3.0
"""The first page after a start does not share the processor with a copy."""
LOOKED_EVERY_SECONDS = 600.0
MADE_AFTER = dt.timedelta(hours=1)
"""What changed since the last copy is copied again so long after it."""
_ELSEWHERE = "elsewhere.txt"


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildFound:
    """A build of a file that was looked over; `first_start_at` None where it has no date."""

    slug: str
    name: str
    tasks: int
    changed_at: dt.datetime
    first_start_at: dt.datetime | None
    faults: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CopyTrouble:
    """Why the last copy was not made, or not carried to the other folder; `at` in UTC."""

    at: dt.datetime
    text: str


def look_over(path: Path, *, now: dt.datetime) -> tuple[BuildFound, ...]:
    """The builds of a data file or copy: whole pages, references, and a plan made of each.

    The file is not changed, not even brought to the present schema. Raises
    `UnusableDatabaseError` where it can not be relied on.
    """
    with opened_apart(path) as database, database.reading() as session:
        found = []
        for heading in list_builds(session):
            build = load_build(session, heading.slug, now=now)
            if build is None:
                continue
            faults = tuple(fault.text for fault in faults_of(build))
            plan = None if faults else plan_that_holds(build)
            found.append(
                BuildFound(
                    slug=heading.slug,
                    name=heading.name,
                    tasks=len(build.tasks),
                    changed_at=heading.changed_at,
                    first_start_at=None if plan is None else plan.first_start_at,
                    faults=faults,
                )
            )
        return tuple(found)


class Copies:
    """Keeps the copies of one data file. Safe to share between threads.

    `trouble` is what stood in the way of the last copy, None where nothing did; `elsewhere_trouble`
    the same of the other folder, `rotation_trouble` of removing copies that are kept no longer.
    """

    def __init__(self, settings: Settings, database: Database) -> None:
        self.folder = copies_folder(database.path)
        self.trouble: CopyTrouble | None = None
        self.elsewhere_trouble: CopyTrouble | None = None
        self.rotation_trouble: CopyTrouble | None = None
        self._settings, self._database = settings, database
        self._turn = threading.Lock()
        self._ended = threading.Event()
        self._thread: threading.Thread | None = None

    def start(self) -> None:
        """Look from now on, in the background, whether a copy is due."""
        self._thread = threading.Thread(target=self._look, name="copies", daemon=True)
        self._thread.start()

    def close(self) -> None:
        """Look no longer; a copy that is being made is finished first."""
        self._ended.set()
        if self._thread is not None:
            self._thread.join()

    def all(self) -> tuple[Copy, ...]:
        """The copies beside the data file, the newest first."""
        return copies_in(self.folder)

    def newest(self) -> Copy | None:
        """The last copy, None where there is none."""
        return next(iter(self.all()), None)

    def called(self, name: str) -> Copy | None:
        """The copy of a name, None where there is none."""
        return next((copy for copy in self.all() if copy.name == name), None)

    def make(self) -> Copy:
        """Make a copy now, look it over, carry it over and remove what is kept no longer.

        Raises `UnusableDatabaseError`; what stands in the way of the other folder or of removing
        is no fault of the copy and is told in `elsewhere_trouble` and `rotation_trouble`.
        """
        with self._turn:
            return self._make()

    def put_back(self, copy: Copy) -> Copy:
        """Have the data file hold what a copy holds; the copy of what it held before.

        That one put back takes this back. Raises `UnusableDatabaseError`; then the data file is
        as it was.
        """
        # What somebody stored behind the copy that is made first would be in neither of the two.
        with self._turn, self._database.held():
            before = self._make()
            take_back_whole(self._database, copy, at=self._settings.moment())
        return before

    def elsewhere(self) -> Path | None:
        """The other folder that copies are carried to, None where none is named."""
        try:
            text = (self.folder / _ELSEWHERE).read_text(encoding="utf-8").strip()
        except OSError:
            return None
        return Path(text) if text else None

    def carry_to(self, folder: Path | None) -> None:
        """Name another folder for the copies, or none. Raises OSError where it can not be used."""
        if folder is not None:
            newest = self.newest()
            if newest is not None:
                carry_over(newest, folder)
            else:
                folder.mkdir(parents=True, exist_ok=True)
        self.folder.mkdir(exist_ok=True)
        (self.folder / _ELSEWHERE).write_text(f"{folder or ''}\n", encoding="utf-8")
        self.elsewhere_trouble = None

    def is_due(self, now: dt.datetime) -> bool:
        """Whether no copy is of today, or what changed since the last one is an hour old."""
        newest = self.newest()
        if newest is None or newest.made_at.astimezone().date() != now.astimezone().date():
            return True
        return now - newest.made_at >= MADE_AFTER and self._changed_since(newest)

    def _make(self) -> Copy:
        at = dt.datetime.now(dt.UTC)
        try:
            copy = make_copy(self._database.path, at=at, is_good=self._looked_over)
            self.trouble = None
        except UnusableDatabaseError as trouble:
            self.trouble = CopyTrouble(at=at, text=str(trouble))
            raise
        self._carry_over(copy, at)
        self._rotate(at)
        return copy

    def _rotate(self, at: dt.datetime) -> None:
        try:
            rotate(self.folder, at=at)
            self.rotation_trouble = None
        except OSError as error:
            said = f"{error.filename or self.folder}: {error.strerror or error}"
            self.rotation_trouble = CopyTrouble(at=at, text=said)

    def _changed_since(self, copy: Copy) -> bool:
        data_file = self._database.path
        times = [
            path.stat().st_mtime
            for path in (data_file, data_file.with_name(f"{data_file.name}-wal"))
            if path.exists()
        ]
        return any(changed > copy.made_at.timestamp() for changed in times)

    def _carry_over(self, copy: Copy, at: dt.datetime) -> None:
        folder = self.elsewhere()
        if folder is None:
            return
        try:
            carry_over(copy, folder)
            rotate(folder, at=at)
            self.elsewhere_trouble = None
        except OSError as error:
            said = f"{folder}: {error.strerror or error}"
            self.elsewhere_trouble = CopyTrouble(at=at, text=said)

    def _looked_over(self, path: Path) -> None:
        look_over(path, now=self._settings.now())

    def _look(self) -> None:
        wait = FIRST_AFTER_SECONDS
        while not self._ended.wait(wait):
            wait = LOOKED_EVERY_SECONDS
            try:
                if self.is_due(dt.datetime.now(dt.UTC)):
                    self.make()
            except (UnusableDatabaseError, OSError) as trouble:
                logging.getLogger(__name__).warning("No copy was made: %s", trouble)


def last_good_copy(data_file: Path, *, now: dt.datetime) -> Copy | None:
    """The newest copy of a data file that can be relied on, None where there is none."""
    for copy in copies_in(copies_folder(data_file)):
        try:
            look_over(copy.path, now=now)
        except UnusableDatabaseError:
            continue
        return copy
    return None
