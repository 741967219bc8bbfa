"""Copies by the command: made, put back, looked over."""

import datetime as dt
import sys
from contextlib import closing
from pathlib import Path

from webapp.command.database import announce_copy, open_database
from webapp.command.files import write_out
from webapp.command.refusal import RefusedError
from webapp.command.settings import settings_of
from webapp.pages.words import amounts
from webapp.services.copies import (
    BuildFound,
    Copies,
    last_good_copy,
    look_over,
)
from webapp.settings import Settings
from webapp.storage.copies import Copy, carry_over, copies_folder, copy_at
from webapp.storage.database import Database
from webapp.storage.putting_back import put_in_place
from webapp.storage.trouble import UnusableDatabaseError


def back_up(data: Path | None, to: Path | None) -> None:
    """Make a copy and print where it is. Raises RefusedError or UnusableDatabaseError."""
    settings = settings_of(data=data)
    with closing(open_database(settings)) as database:
        copies = Copies(settings, database)
        copy = copies.make()
    write_out(f"{copy.path}\n")
    if copies.elsewhere_trouble is not None:
        print(f"It is not in the other folder. {copies.elsewhere_trouble.text}", file=sys.stderr)
    if to is not None:
        try:
            write_out(f"{carry_over(copy, to.resolve()).path}\n")
        except OSError as error:
            raise RefusedError(
                [f"{to} does not take the copy ({error.strerror}). It is in {copy.path}."]
            ) from None


def restore(path: Path, data: Path | None) -> None:
    """Put a copy back and say where what was there before is kept.

    Raises RefusedError or UnusableDatabaseError; then the data file is as it was.
    """
    settings = settings_of(data=data)
    path = path.expanduser().resolve()
    look_over(path, now=settings.now())
    copy = copy_at(path) or Copy(path=path, made_at=dt.datetime.now(dt.UTC))
    try:
        kept = _restored(copy, settings)
    except UnusableDatabaseError as trouble:
        if trouble.kind != "damaged":
            raise
        kept = _in_place_of_damaged(copy, settings)
    write_out(f"{path} was put back in {settings.data_file}.\n")
    if kept is not None:
        write_out(f"What was there before is kept in {kept}.\n")


def check(path: Path | None) -> None:
    """Look a file over and print what is in it. Raises UnusableDatabaseError, RefusedError."""
    settings = settings_of(data=path)
    found = look_over(settings.data_file.expanduser().resolve(), now=settings.now())
    today = settings.now().date()
    faults = [f"{build.name}: {fault}" for build in found for fault in build.faults]
    if faults:
        raise RefusedError(faults)
    write_out(f"{settings.data_file} is whole: {amounts.count(len(found), 'build')}.\n")
    for build in found:
        write_out(f"{build.name}: {_told(build, today)}\n")


def copy_to_offer(settings: Settings) -> str:
    """What to say beside a data file that is damaged: which copy can be put back, and how."""
    path = settings.data_file.expanduser().resolve()
    copy = last_good_copy(path, now=settings.now())
    if copy is None:
        return f"There is no good copy of it in {copies_folder(path)}."
    made = amounts.moment(
        copy.made_at.astimezone().replace(tzinfo=None), today=settings.now().date()
    )
    return (
        f"The last good copy was made {made}. This puts it back and keeps the damaged file: "
        f"keyturn restore {copy.path} --data {path}"
    )


def _restored(copy: Copy, settings: Settings) -> Path | None:
    is_new = not settings.data_file.expanduser().exists()
    database = Database.open(settings.data_file)
    announce_copy(database)
    with closing(database):
        before = Copies(settings, database).put_back(copy)
    return None if is_new else before.path


def _in_place_of_damaged(copy: Copy, settings: Settings) -> Path | None:
    data_file = settings.data_file.expanduser().resolve()
    try:
        return put_in_place(copy, data_file, at=settings.moment())
    except OSError as error:
        raise RefusedError(
            [f"{data_file} can not be replaced ({error.strerror}). Nothing was changed."]
        ) from None


def _told(build: BuildFound, today: dt.date) -> str:
    first = build.first_start_at
    date = (
        "no date of first start"
        if first is None
        else (f"first start {amounts.day(first, today=today)} if every hour is worked")
    )
    return f"{amounts.count(build.tasks, 'task')}, {date}"
